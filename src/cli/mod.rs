//! The command line: one file a verb.
//!
//! Exit status: 0 good, 1 failed, 2 wrong use. Errors go to standard error; a
//! reader that goes away early is no error.

mod bench;
mod bench_table;
mod keys;
mod layout;
mod layout_parts;
mod layout_problem;
mod layout_problem_sheets;
mod mockup;
mod new;
mod open;
mod output;
mod own;
mod photo;
mod rack;
mod record;
mod set;
mod settings;
mod shell;
mod templates;
mod until;
mod views;

use std::io::IsTerminal as _;
use std::process::ExitCode;

use clap::{ArgMatches, Command};

use crate::catalog::Catalog;
use crate::tui;
use crate::tui::view::palette::Look;
use output::Failure;
use settings::{Ground, Settings, Signs, Switch};

/// Runs the command line and says how it ended.
#[must_use]
pub fn main() -> ExitCode {
    match command().try_get_matches() {
        Ok(matches) => output::finish(run(&matches)),
        Err(error) => {
            let status = if error.use_stderr() { 2 } else { 0 };
            // Nobody is left to tell when even this cannot be printed.
            let _ = error.print();
            ExitCode::from(status)
        }
    }
}

/// The whole command line, for parsing, help, completions and the manual page.
#[must_use]
pub fn command() -> Command {
    Command::new("scantling")
        .about("A terminal workbench for people who build scale model structures from scratch")
        .after_help("Without a verb the job opens in the terminal, or its record is printed.")
        .version(env!("CARGO_PKG_VERSION"))
        .args_conflicts_with_subcommands(true)
        .arg(views::job_arg())
        .args(settings::looks())
        .subcommand(bench::command())
        .subcommand(new::command())
        .subcommand(keys::command())
        .subcommand(rack::command())
        .subcommands(views::commands().map(|command| match command.get_name() {
            "photo" => photo::command(),
            "layout" => layout_parts::with_parts(layout::with_options(command)),
            "templates" => templates::with_options(command),
            "mockup" => mockup::with_options(command),
            "record" => record::with_options(command),
            _ => command,
        }))
        .subcommands(set::commands())
        .subcommand(settings::command())
        .subcommands(shell::commands())
}

fn run(matches: &ArgMatches) -> Result<String, Failure> {
    let catalog = own::catalog()?;
    match matches.subcommand() {
        None => workbench(matches, &catalog),
        Some(("bench", matches)) => bench::run(matches, &catalog),
        Some(("photo", matches)) => photo::run(matches, &catalog),
        Some(("rack", matches)) => rack::run(matches, &catalog),
        Some(("new", matches)) => new::run(matches, &catalog),
        Some(("keys", matches)) => keys::run(matches, &catalog),
        Some((verb @ ("set" | "add" | "remove"), matches)) => set::run(verb, matches, &catalog),
        Some(("settings", matches)) => settings::run(matches, &catalog),
        Some(("completions", matches)) => shell::completions(matches, command()),
        Some(("manual", _)) => shell::manual(command()),
        Some(("layout", matches)) if matches.contains_id("parts") => {
            layout_parts::run(matches, &catalog)
        }
        Some(("layout", matches)) => layout::run(matches, &catalog),
        Some(("templates", matches)) => templates::run(matches, &catalog),
        Some(("mockup", matches)) => mockup::run(matches, &catalog),
        Some(("record", matches)) => record::run(matches, &catalog),
        Some((name, matches)) => match views::find(name) {
            Some(kind) => views::run(kind, matches, &catalog),
            None => Err(Failure::wrong_use(format!("there is no verb {name}"))),
        },
    }
}

/// No verb: the terminal program where there is a terminal, else the record.
fn workbench(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let job = matches.get_one::<String>("job").map(String::as_str);
    if std::io::stdin().is_terminal() && std::io::stdout().is_terminal() {
        return in_terminal(job, &Settings::kept()?.with(matches), catalog);
    }
    match views::find("record") {
        Some(record) => views::show(record, job, None, catalog),
        None => open::open(job, catalog).map(|opened| opened.document.text().to_owned()),
    }
}

fn in_terminal(
    job: Option<&str>,
    settings: &Settings,
    catalog: &Catalog,
) -> Result<String, Failure> {
    let read = open::open(job, catalog)?;
    let plain = settings.signs == Some(Signs::Plain);
    let light = settings.ground == Some(Ground::Light);
    let look = Look::of_environment(|name| std::env::var(name).ok(), light, plain);
    let options = tui::Options {
        read,
        own: catalog.clone(),
        offer: job.is_none(),
        look,
        ask_ground: settings.ground.is_none_or(|ground| ground == Ground::Ask),
        mouse: settings.mouse != Some(Switch::Off),
    };
    tui::run(options).map(|()| String::new()).map_err(Failure::failed)
}
