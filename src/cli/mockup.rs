//! `scantling mockup JOB`: what the mock-up measures, and sizes taken back
//! from it.

use clap::{Arg, ArgAction, ArgMatches, Command};

use super::open::{change, no_file, open};
use super::output::{Failure, printed};
use crate::catalog::Catalog;
use crate::finding::Stop;
use crate::job::edit::{Edit, MeasuredText};
use crate::job::mock_up::On;
use crate::job::open::Read;
use crate::mockup::{Planned, TAKEN, take_back};
use crate::plan::plan;
use crate::report::{Seen, ViewId};

/// The options beside those of every view.
pub(super) fn with_options(command: Command) -> Command {
    let option = |name: &'static str, what: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name(what).help(help)
    };
    command
        .arg(
            option(
                "measure",
                "SIZE=LENGTH",
                "What a size measures, such as \"depth=4 1/4 in\"; kept in the job",
            )
            .action(ArgAction::Append),
        )
        .arg(
            option("on", "THING", "What it was measured on; the mock-up when absent")
                .value_parser(On::ALL.iter().map(|on| on.word()).collect::<Vec<_>>())
                .requires("measure"),
        )
        .arg(option("note", "TEXT", "What was seen").requires("measure"))
        .arg(
            option(
                "take",
                "SIZE",
                "Take a size back into the job; `all` takes those over tolerance",
            )
            .action(ArgAction::Append),
        )
        .arg(option("reason", "TEXT", "Why, for the record").requires("take"))
}

/// Prints the mock-up against the plan, after what is to be written down.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let named = matches.get_one::<String>("job").map(String::as_str);
    let opened = if matches.contains_id("measure") || matches.contains_id("take") {
        change(named, catalog, |opened| written_down(opened, matches))?.0
    } else {
        open(named, catalog)?
    };
    let (job, catalog) = (opened.document.job(), &opened.catalog);
    let plan = plan(job, catalog);
    let seen = Seen { job, catalog, plan: &plan };
    printed(&ViewId::MockUp.kind().shown(seen), matches.get_flag("json"))
}

/// What was measured, and what is taken back, into the job.
fn written_down(opened: &mut Read, matches: &ArgMatches) -> Result<(), Failure> {
    let catalog = &opened.catalog.clone();
    let before = opened.document.text().to_owned();
    for said in matches.get_many::<String>("measure").into_iter().flatten() {
        let edit = measured(said, matches)?;
        opened.document.apply(&edit, catalog).map_err(Failure::failed)?;
    }
    if let Some(names) = matches.get_many::<String>("take") {
        let names: Vec<String> = names.cloned().collect();
        let edit = taken(opened, names, matches, catalog)?;
        opened.document.apply(&edit, catalog).map_err(Failure::failed)?;
    }
    if opened.path.is_none() && opened.document.text() != before {
        return Err(no_file());
    }
    Ok(())
}

fn measured(said: &str, matches: &ArgMatches) -> Result<Edit, Failure> {
    let (of, reads) = said.split_once('=').ok_or_else(|| {
        Failure::wrong_use(format!("--measure {said}: write the size, `=` and what it measures"))
    })?;
    let word = |name: &str| matches.get_one::<String>(name).cloned().unwrap_or_default();
    Ok(Edit::Measure(MeasuredText {
        of: of.trim().to_owned(),
        on: On::from_word(&word("on")).unwrap_or_default(),
        reads: reads.trim().to_owned(),
        note: word("note"),
    }))
}

fn taken(
    opened: &Read,
    mut names: Vec<String>,
    matches: &ArgMatches,
    catalog: &Catalog,
) -> Result<Edit, Stop> {
    let job = opened.document.job();
    let plan = plan(job, catalog);
    let (faces, scale, compress) = (plan.faces?, plan.scale?, plan.compress?);
    let mock_up = plan.mock_up.unwrap_or_default();
    if names.iter().any(|name| name == "all") {
        let over = mock_up.sizes.iter().filter(|size| size.is_to_take());
        names = over.map(|size: &Planned| size.name.clone()).collect();
    }
    let reason = matches.get_one::<String>("reason").map_or(TAKEN, String::as_str);
    take_back(job, catalog, (&faces, &scale), (&compress, &mock_up), (&names, reason))
}
