//! The verb that lists the keys of a job file.

use clap::builder::PossibleValuesParser;
use clap::{Arg, ArgAction, ArgMatches, Command};

use super::output::{Failure, pretty};
use super::views::json_arg;
use crate::job::grammar::tables;
use crate::report::keys;

pub(super) fn command() -> Command {
    let names = tables().into_iter().map(|listed| listed.shape.head.name);
    Command::new("keys")
        .about("List the keys a job file may have: what each is, its range, default and an example")
        .arg(
            Arg::new("table")
                .value_name("TABLE")
                .value_parser(PossibleValuesParser::new(names))
                .hide_possible_values(true)
                .help("One table with all its keys, such as roof or photo.rect"),
        )
        .arg(json_arg())
        .arg(
            Arg::new("page")
                .long("page")
                .action(ArgAction::SetTrue)
                .conflicts_with_all(["json", "table"])
                .help("Print the whole reference as Markdown"),
        )
}

pub(super) fn run(matches: &ArgMatches) -> Result<String, Failure> {
    let table = matches.get_one::<String>("table").map(String::as_str);
    if matches.get_flag("page") {
        return Ok(keys::markdown());
    }
    if matches.get_flag("json") {
        return pretty(&keys::as_json(table)?);
    }
    Ok(keys::text(table)?)
}
