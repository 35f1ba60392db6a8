//! What a shell and `man` want to know, from the definition of the command line.

use std::io::Write as _;

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

/// The manual page: the command, then each verb with its options, all from
/// what `--help` prints.
pub(super) fn manual(mut all: Command) -> Result<String, Failure> {
    all.build();
    let mut out = Vec::new();
    clap_mangen::Man::new(all.clone()).render(&mut out).map_err(Failure::failed)?;
    for verb in all.get_subcommands().filter(|verb| verb.get_name() != "help") {
        writeln!(out, ".SH \"{}\"", verb.get_name().to_uppercase()).map_err(Failure::failed)?;
        let about = verb.get_about().map(ToString::to_string).unwrap_or_default();
        writeln!(out, "{}", escaped(&about)).map_err(Failure::failed)?;
        let page = clap_mangen::Man::new(verb.clone());
        page.render_synopsis_section(&mut out).map_err(Failure::failed)?;
        page.render_options_section(&mut out).map_err(Failure::failed)?;
    }
    String::from_utf8(out).map_err(Failure::failed)
}

/// Text that the formatter of manual pages takes as it is.
fn escaped(text: &str) -> String {
    let text = text.replace('\\', "\\\\").replace('-', "\\-");
    if text.starts_with(['.', '\'']) { format!("\\&{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every verb and every option of `--help` stands in the manual page, in
    /// the same words.
    #[test]
    fn the_manual_speaks_of_what_help_speaks_of() {
        let page = manual(super::super::command()).unwrap_or_default();
        let plain = page.replace('\\', "");
        for verb in super::super::command().get_subcommands() {
            let about = verb.get_about().map(ToString::to_string).unwrap_or_default();
            assert!(plain.contains(&about), "{about}");
            for option in verb.get_arguments().filter_map(clap::Arg::get_long) {
                assert!(plain.contains(&format!("--{option}")), "{} --{option}", verb.get_name());
            }
        }
    }
}
