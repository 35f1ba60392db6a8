//! The verb that lists the keys of a job file.

use clap::builder::PossibleValuesParser;
use clap::{Arg, ArgAction, ArgMatches, Command};

use super::output::{Failure, pretty};
use super::views::json_arg;
use crate::catalog::Catalog;
use crate::job::demo::DEMOS;
use crate::job::grammar::tables;
use crate::job::read::read;
use crate::plan::plan;
use crate::report::json::{self, Told};
use crate::report::{Seen, VIEWS, keys};

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
        .arg(
            Arg::new("view")
                .long("view")
                .value_name("VIEW")
                .conflicts_with_all(["table", "page"])
                .value_parser(PossibleValuesParser::new(VIEWS.iter().map(|kind| kind.name)))
                .hide_possible_values(true)
                .help("The keys of what a view prints with --json"),
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

pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    if let Some(view) = matches.get_one::<String>("view") {
        return of_view(view, matches.get_flag("json"), catalog);
    }
    let table = matches.get_one::<String>("table").map(String::as_str);
    if matches.get_flag("page") {
        return Ok(keys::markdown());
    }
    if matches.get_flag("json") {
        return pretty(&keys::as_json(table)?);
    }
    Ok(keys::text(table)?)
}

/// The keys of a view's JSON, as its tables describe themselves for the built-in
/// jobs.
fn of_view(name: &str, as_json: bool, catalog: &Catalog) -> Result<String, Failure> {
    let mut told: Vec<Told> = Vec::new();
    for demo in DEMOS {
        let job = read(demo.name, demo.text, catalog).map_err(Failure::failed)?;
        let plan = plan(&job, catalog);
        let seen = Seen { job: &job, catalog, plan: &plan };
        let kinds = VIEWS.iter().filter(|kind| kind.name == name);
        told.extend(kinds.flat_map(|kind| json::keys(&kind.shown(seen))));
    }
    told.sort();
    told.dedup();
    if as_json {
        return pretty(&told);
    }
    let widest = told.iter().map(|one| one.path.len()).max().unwrap_or(0);
    Ok(told.iter().map(|one| format!("{:<widest$}  {}\n", one.path, one.holds)).collect())
}
