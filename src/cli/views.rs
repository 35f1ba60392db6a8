//! The verbs that print a view of a job.

use clap::{Arg, ArgAction, ArgMatches, Command};

use super::open::open;
use super::output::{Failure, pretty};
use crate::catalog::Catalog;
use crate::plan::{plan, whole};
use crate::report::table::View;
use crate::report::{Seen, VIEWS, ViewId, ViewKind, csv, json, takeoff, text};

/// The argument that names the job.
pub(super) fn job_arg() -> Arg {
    Arg::new("job")
        .value_name("JOB")
        .help("A job file, or the name of a built-in job; grain-store when absent")
}

/// The switch that asks for JSON.
pub(super) fn json_arg() -> Arg {
    Arg::new("json").long("json").action(ArgAction::SetTrue).help("Print JSON with stable keys")
}

/// The switch that asks for CSV.
pub(super) fn csv_arg() -> Arg {
    Arg::new("csv").long("csv").action(ArgAction::SetTrue).help("Print the cut list as CSV")
}

/// A subcommand for each view.
pub(super) fn commands() -> impl Iterator<Item = Command> {
    VIEWS.iter().map(|kind| {
        let command = Command::new(kind.name).about(kind.about).arg(job_arg()).arg(json_arg());
        match kind.id {
            ViewId::MockUp | ViewId::Record => command,
            ViewId::Takeoff => command.arg(table_arg()).arg(why_arg()),
            _ => command.arg(table_arg()),
        }
    })
}

/// The option that asks for one table.
fn table_arg() -> Arg {
    Arg::new("table")
        .long("table")
        .value_name("NAME")
        .conflicts_with("json")
        .help("Print one of its tables as CSV, by the key it has in JSON")
}

/// A view as it is asked for: one table as CSV, JSON or text.
pub(super) fn printed(view: &View, matches: &ArgMatches) -> Result<String, Failure> {
    match matches.get_one::<String>("table") {
        Some(name) => Ok(csv::named(view, name)?),
        None if matches.get_flag("json") => pretty(&json::view(view)),
        None => Ok(text::view(view)),
    }
}

/// The option that asks where the size of a part comes from.
fn why_arg() -> Arg {
    Arg::new("why")
        .long("why")
        .value_name("PART")
        .help("Say where the size of one part comes from, back to the readings")
}

/// The view of that name.
pub(super) fn find(name: &str) -> Option<&'static ViewKind> {
    VIEWS.iter().find(|kind| kind.name == name)
}

/// Prints a view as text or JSON.
pub(super) fn run(
    kind: &ViewKind,
    matches: &ArgMatches,
    catalog: &Catalog,
) -> Result<String, Failure> {
    let job = matches.get_one::<String>("job").map(String::as_str);
    if kind.name == "takeoff"
        && let Some(part) = matches.get_one::<String>("why")
    {
        return why(part, job, matches.get_flag("json"), catalog);
    }
    show(kind, job, Some(matches), catalog)
}

/// Where the size of a part comes from.
fn why(part: &str, job: Option<&str>, json: bool, catalog: &Catalog) -> Result<String, Failure> {
    let opened = open(job, catalog)?;
    let catalog = &opened.catalog;
    let plan = plan(opened.document.job(), catalog);
    let seen = Seen { job: opened.document.job(), catalog, plan: &plan };
    let why = takeoff::why(seen, part).map_err(Failure::failed)?;
    if json { pretty(&why) } else { Ok(why.to_string()) }
}

/// A view of the job named, as it is asked for or as text.
pub(super) fn show(
    kind: &ViewKind,
    job: Option<&str>,
    matches: Option<&ArgMatches>,
    catalog: &Catalog,
) -> Result<String, Failure> {
    let opened = open(job, catalog)?;
    let catalog = &opened.catalog;
    let worked = if kind.id == ViewId::Compress { whole } else { plan };
    let plan = worked(opened.document.job(), catalog);
    let seen = Seen { job: opened.document.job(), catalog, plan: &plan };
    let view = kind.shown(seen);
    let shown = match matches {
        Some(matches) if matches.get_flag("json") => pretty(&kind.told(seen))?,
        Some(matches) => printed(&view, matches)?,
        None => text::view(&view),
    };
    // A stage that has nothing to do did not fail.
    match view.stop.filter(|stop| !stop.idle) {
        Some(stop) => Err(Failure::after(shown, stop.told())),
        None => Ok(shown),
    }
}
