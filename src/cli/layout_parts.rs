//! `scantling layout --parts FILE`: a list of parts cut from sticks and sheets,
//! without a building.

use std::path::Path;

use clap::{Arg, ArgMatches, Command};

use super::output::Failure;
use super::settings::Settings;
use super::views;
use crate::catalog::Catalog;
use crate::cutting::listed::{Stocked, read};
use crate::cutting::parts::{Steps, lay_out};
use crate::finding::Stage;
use crate::job::document::Document;
use crate::job::new::{Answers, text as job_text};
use crate::plan::plan;
use crate::quantity::{Model, ModelLength, Reading, parse};
use crate::report::{Seen, ViewId, layout};

/// Adds what `layout` takes when it cuts a list of parts.
pub(super) fn with_parts(layout: Command) -> Command {
    let option = |name: &'static str, value: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name(value).help(help)
    };
    layout
        .arg(
            option(
                "parts",
                "FILE",
                "Cut a list of parts: CSV with part, length, width, count, stock",
            )
            .conflicts_with_all(["job", "problem"]),
        )
        .arg(option("stick", "LENGTH", "Length of a stick; 24 in when absent").requires("parts"))
        .arg(
            option(
                "sheet",
                "LENGTH",
                "A sheet, across its grain and along it; 4 in 24 in when absent",
            )
            .num_args(2)
            .value_names(["ACROSS", "ALONG"])
            .requires("parts"),
        )
        .arg(option("kerf", "LENGTH", "Width of a cut; none when absent").requires("parts"))
        .arg(
            option(
                "full-size",
                "SCALE",
                "The lengths of the list are full size, of a model at this scale",
            )
            .requires("parts"),
        )
}

/// Cuts the list named on the command line.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let word = |name: &str| matches.get_one::<String>(name).map(String::as_str);
    let file = word("parts").unwrap_or_default();
    let list = crate::job::store::open(Path::new(file)).map_err(Failure::failed)?;
    let size = |name: &str, usual: f64| {
        word(name).map_or(Ok(ModelLength::inches(usual)), |text| length(name, text))
    };
    let sheet: Vec<&String> = matches.get_many("sheet").unwrap_or_default().collect();
    let sheet = match sheet.as_slice() {
        [across, along] => (length("sheet", across)?, length("sheet", along)?),
        _ => (ModelLength::inches(4.0), ModelLength::inches(24.0)),
    };
    let stocked = Stocked {
        stick: size("stick", 24.0)?,
        sheet,
        kerf: size("kerf", 0.0)?,
        full_size_at: word("full-size").map(|name| catalog.scales.find(name)).transpose()?,
    };
    let wanted = read(&list, &stocked)?;
    let found = lay_out(&wanted, Steps::QUICK);
    let scale = Settings::kept()?.scale.unwrap_or_else(|| "HO".to_owned());
    let answers = Answers { name: file.to_owned(), scale, ..Answers::default() };
    let document = Document::read(file, &job_text(&answers)?, catalog).map_err(Failure::failed)?;
    let mut plan = plan(document.job(), catalog);
    plan.layout = Ok(found.value);
    plan.findings = Stage::Cutting.noticed(found.findings).collect();
    let seen = Seen { job: document.job(), catalog, plan: &plan };
    if matches.get_flag("csv") {
        return Ok(layout::csv(seen)?);
    }
    let mut view = ViewId::Layout.kind().shown(seen);
    // There is no job to go on with.
    view.next = String::new();
    views::printed(&view, matches)
}

fn length(name: &str, text: &str) -> Result<ModelLength, Failure> {
    parse::<Model>(text, &Reading::default())
        .map(|said| said.length())
        .map_err(|error| Failure::failed(format!("reading the {name}: {error}")))
}
