//! `scantling layout JOB`: the plan to buy and cut, with the time given.

use std::path::Path;

use clap::{Arg, ArgAction, ArgMatches, Command};

use super::layout_problem;
use super::open::open;
use super::output::Failure;
use super::until::{self, Until};
use super::views;
use crate::catalog::Catalog;
use crate::finding::Stop;
use crate::job::Job;
use crate::job::building::CutBy;
use crate::plan::long::{Kind, Known};
use crate::plan::{Plan, plan, plan_with};
use crate::report::templates::files::Format;
use crate::report::{Seen, ViewId, layout};
use crate::solve::watch::Watch;
use crate::writers::save;

/// The options beside those of every view.
pub(super) fn with_options(command: Command) -> Command {
    layout_problem::with_problem(command)
        .arg(until::arg())
        .arg(
            Arg::new("method").long("method").value_parser(["knife", "laser"]).help(
                "How sheets are cut: edge to edge, or round each part; the job's when absent",
            ),
        )
        .arg(views::csv_arg())
        .arg(
            Arg::new("by")
                .long("by")
                .value_parser(["stock", "wall"])
                .default_value("stock")
                .help("Set-ups for a stock at a time, or for each wall or group of parts"),
        )
        .arg(
            Arg::new("write")
                .long("write")
                .value_name("FOLDER")
                .conflicts_with("problem")
                .help("Write a file a sheet for the laser"),
        )
        .arg(
            Arg::new("format")
                .long("format")
                .value_name("FORMAT")
                .requires("write")
                .help("svg, dxf or dxf-2000; svg when absent"),
        )
        .arg(
            Arg::new("over")
                .long("over")
                .action(ArgAction::SetTrue)
                .requires("write")
                .help("Write over files that are there"),
        )
}

/// Prints the plan of a job or a problem file, or writes what a laser needs.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    if matches.contains_id("problem") {
        return layout_problem::run(matches);
    }
    let named = matches.get_one::<String>("job").map(String::as_str);
    let opened = open(named, catalog)?;
    let mut job = opened.document.job().clone();
    match matches.get_one::<String>("method").map(String::as_str) {
        Some("laser") => job.cutting.method = CutBy::Laser,
        Some(_) => job.cutting.method = CutBy::Knife,
        None => {}
    }
    let catalog = &opened.catalog;
    let plan = with_time(&job, catalog, &Until::said(matches));
    let seen = Seen { job: &job, catalog, plan: &plan };
    if let Some(folder) = matches.get_one::<String>("write") {
        return write(seen, Path::new(folder), matches);
    }
    if matches.get_flag("csv") {
        return Ok(layout::csv(seen)?);
    }
    let by_wall = matches.get_one::<String>("by").is_some_and(|by| by == "wall");
    let view = if by_wall { layout::view_by_wall(seen) } else { ViewId::Layout.kind().shown(seen) };
    views::printed(&view, matches)
}

/// The plan, its layout searched on as long as there is time and something to
/// gain.
fn with_time(job: &Job, catalog: &Catalog, until: &Until) -> Plan {
    let quick = plan(job, catalog);
    let asked = quick.questions.iter().find(|question| question.kind == Kind::Layout);
    let Some(question) = asked.filter(|_| !until.is_over()) else { return quick };
    let stop = || until.is_over();
    let answer = question.work(&mut Watch { stop: &stop, tell: &mut |_| {} });
    let mut known = Known::default();
    known.learn(question.input, answer);
    plan_with(job, catalog, &known)
}

fn write(seen: Seen<'_>, folder: &Path, matches: &ArgMatches) -> Result<String, Failure> {
    let format = matches.get_one::<String>("format").map_or("svg", String::as_str);
    let made = layout::laser::files(seen, Format::find(format)?)?;
    if made.is_empty() {
        let stop = Stop::new(
            "writing files for the laser",
            "no sheet is laid out",
            "give the job parts that are cut from sheet",
        );
        return Err(stop.into());
    }
    let paths = save::into_folder(folder, &made, matches.get_flag("over"))?;
    let wrote = paths.iter().map(|path| format!("wrote {}\n", path.display()));
    let told = layout::laser::cautioned(seen).into_iter().map(|says| format!("caution: {says}\n"));
    Ok(wrote.chain(told).collect())
}
