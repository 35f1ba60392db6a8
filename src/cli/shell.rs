//! What a shell and `man` want to know, from the definition of the command line.

use clap::{Arg, ArgMatches, Command, value_parser};
use clap_complete::Shell;

use super::output::Failure;

/// The two verbs.
pub(super) fn commands() -> [Command; 2] {
    [
        Command::new("completions")
            .about("Print completions for a shell, to be put where that shell looks")
            .arg(Arg::new("shell").required(true).value_parser(value_parser!(Shell))),
        Command::new("manual").about("Print the manual page, for `man`"),
    ]
}

/// Completions of the whole command line for one shell.
pub(super) fn completions(matches: &ArgMatches, mut all: Command) -> Result<String, Failure> {
    let Some(shell) = matches.get_one::<Shell>("shell").copied() else {
        return Err(Failure::wrong_use("no shell was named"));
    };
    let mut out = Vec::new();
    clap_complete::generate(shell, &mut all, "scantling", &mut out);
    String::from_utf8(out).map_err(Failure::failed)
}

/// The manual page.
pub(super) fn manual(all: Command) -> Result<String, Failure> {
    let mut out = Vec::new();
    clap_mangen::Man::new(all).render(&mut out).map_err(Failure::failed)?;
    String::from_utf8(out).map_err(Failure::failed)
}
