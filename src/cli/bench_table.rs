//! `scantling bench --table`: a page for the wall above the bench.

use std::path::Path;

use clap::{Arg, ArgAction, ArgMatches};

use super::output::Failure;
use super::settings::Settings;
use crate::bench::Look;
use crate::catalog::Catalog;
use crate::drawing::{Paper, PrintCheck, Setup};
use crate::finding::Stop;
use crate::quantity::{Paper as OnPage, Reading, Scale, parse};
use crate::report::bench_tables::{TABLES, WallTable, view};
use crate::report::paper::wall;
use crate::report::text;
use crate::writers::{pdf, save};

/// The scales of the page where none is named.
const USUAL: &str = "O,S,HO,N";

/// The options of the page.
pub(super) fn options() -> Vec<Arg> {
    let option = |name: &'static str, value: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name(value).help(help)
    };
    vec![
        option(
            "table",
            "TABLES",
            "Tables for the wall: lumber,courses,slopes,resistors,inches, or all",
        )
        .num_args(0..=1)
        .default_missing_value("all")
        .require_equals(false)
        .conflicts_with("known"),
        option("scales", "SCALES", "The scales of the tables, such as O,HO").requires("table"),
        option(
            "write",
            "FILE",
            "Write the page at 1:1 as PDF, with a rule of each scale along its edge",
        )
        .requires("table"),
        option("paper", "SIZE", "letter, a4 or a larger size").requires("table"),
        option(
            "bars",
            "LENGTH",
            "What the two bars of a printed page measure, such as 3.98in 99.6mm",
        )
        .num_args(2)
        .value_names(["ACROSS", "UP"])
        .requires("table"),
        Arg::new("over")
            .long("over")
            .action(ArgAction::SetTrue)
            .requires("write")
            .help("Write over a file that is there"),
    ]
}

/// Prints the tables, or writes the page.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog, look: Look) -> Result<String, Failure> {
    let word = |name: &str| matches.get_one::<String>(name).map(String::as_str);
    let tables = tables(word("table").unwrap_or("all"))?;
    let scales = scales(matches, catalog)?;
    let year = word("year").and_then(|year| year.parse().ok());
    let views: Vec<_> =
        tables.iter().map(|table| view(table, &scales, catalog, year, look)).collect();
    let Some(path) = word("write") else {
        return Ok(views.iter().map(text::view).collect::<Vec<_>>().join("\n"));
    };
    let names: Vec<&str> = scales.iter().map(|scale| scale.name.as_str()).collect();
    let setup = Setup {
        paper: word("paper")
            .map(Paper::find)
            .transpose()?
            .unwrap_or(Paper::ALL[usize::from(look.is_metric())]),
        check: check(matches)?,
        job: "the desk book".to_owned(),
        scale: names.join(", "),
    };
    let pages = wall::pages(&views, &scales, look, &setup);
    save::one(
        Path::new(path),
        &pdf::write(&pages, "Tables for the wall"),
        matches.get_flag("over"),
    )?;
    Ok(format!(
        "wrote {path}: {} pages at 1:1; print at 100 percent, then measure both bars\n",
        pages.len()
    ))
}

fn tables(words: &str) -> Result<Vec<&'static WallTable>, Failure> {
    if words == "all" {
        return Ok(TABLES.iter().collect());
    }
    let find = |word: &str| {
        TABLES.iter().find(|table| table.key == word.trim()).ok_or_else(|| {
            let keys: Vec<&str> = TABLES.iter().map(|table| table.key).collect();
            Failure::wrong_use(format!(
                "there is no table \"{word}\"\nhint: the tables are {}",
                keys.join(", ")
            ))
        })
    };
    words.split(',').map(find).collect()
}

/// The scales named, else the one set, else the usual ones.
fn scales(matches: &ArgMatches, catalog: &Catalog) -> Result<Vec<Scale>, Failure> {
    let settings = Settings::kept()?.with(matches);
    let said = matches.get_one::<String>("scales").cloned().or(settings.scale);
    let words = said.unwrap_or_else(|| USUAL.to_owned());
    let found: Result<Vec<Scale>, Stop> =
        words.split(',').map(|word| catalog.scales.find(word.trim())).collect();
    Ok(found?)
}

fn check(matches: &ArgMatches) -> Result<PrintCheck, Failure> {
    let Some(bars) = matches.get_many::<String>("bars") else { return Ok(PrintCheck::default()) };
    let read = |text: &String| {
        parse::<OnPage>(text, &Reading::default())
            .map(|said| said.length())
            .map_err(Failure::failed)
    };
    let bars: Vec<_> = bars.map(read).collect::<Result<_, _>>()?;
    match bars.as_slice() {
        [across, up] => Ok(PrintCheck::measured(*across, *up, false)?),
        _ => Err(Failure::wrong_use("measure both bars")),
    }
}
