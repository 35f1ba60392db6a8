//! The command line: one file a verb.
//!
//! Exit status: 0 good, 1 failed, 2 wrong use. Errors go to standard error; a
//! reader that goes away early is no error.

mod output;

pub mod layout_problem;
pub mod layout_problem_sheets;

use std::process::ExitCode;

use clap::{Arg, ArgAction, ArgMatches, Command};

use crate::catalog::Catalog;
use crate::report::{VIEWS, ViewKind};
use output::Failure;

/// Runs the command line and says how it ended.
#[must_use]
pub fn main() -> ExitCode {
    match command().try_get_matches() {
        Ok(matches) => output::finish(run(&matches)),
        Err(error) => {
            let wrong_use = error.use_stderr();
            let _ = error.print();
            ExitCode::from(if wrong_use { 2 } else { 0 })
        }
    }
}

/// The whole command line, for parsing, help, completions and the manual page.
#[must_use]
pub fn command() -> Command {
    Command::new("scantling")
        .about("A terminal workbench for people who build scale model structures from scratch")
        .version(env!("CARGO_PKG_VERSION"))
        .subcommands(VIEWS.iter().map(view_command))
}

fn view_command(kind: &ViewKind) -> Command {
    Command::new(kind.name)
        .about(kind.about)
        .arg(Arg::new("job").value_name("JOB").help("The job file; the built-in demo when absent"))
        .arg(
            Arg::new("json")
                .long("json")
                .action(ArgAction::SetTrue)
                .help("Print JSON with stable keys"),
        )
}

fn run(matches: &ArgMatches) -> Result<String, Failure> {
    let _catalog = Catalog::built_in().map_err(Failure::failed)?;
    match matches.subcommand() {
        Some(_) => Ok(String::new()),
        None => Ok(String::new()),
    }
}
