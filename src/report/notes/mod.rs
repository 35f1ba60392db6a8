//! The field notes: every reading with its residual, and what they come to.
//!
//! The keys of the JSON stand in `as_json`.

mod as_json;
pub(super) mod marks;
mod next;

pub use as_json::json;

use super::Seen;
use super::faces::Sizes;
use super::table::{Mark, Row, Table, View};
use crate::finding::Subject;
use crate::job::model::Reading;
use crate::quantity::{PrototypeLength, Scale, Unit, significant, spread};
use crate::survey::{Checked, DimensionFound, Network, ReadingFound, Standing, WhatRead};

use marks::{bar, worth};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let tables =
        vec![dimensions(seen), readings(seen), rejected(seen), networks(seen), next::table(seen)];
    View {
        title: format!("{}: notes", seen.job.about.name),
        lead: lead(seen),
        tables: tables.into_iter().filter(|table| !table.rows.is_empty()).collect(),
        next: next_step(seen),
        ..View::default()
    }
}

fn lead(seen: Seen<'_>) -> Vec<String> {
    let survey = &seen.plan.survey;
    let count = |checked| survey.dimensions.iter().filter(|d| d.checked == checked).count();
    let kept = survey.readings.iter().filter(|r| r.standing == Standing::Kept).count();
    let mut lead = vec![format!(
        "{kept} readings in, {} set aside; {} dimensions: {} checked, {} weakly, {} unchecked, {} not fixed.",
        survey.rejected.len(),
        survey.dimensions.len(),
        count(Checked::Checked),
        count(Checked::Weakly),
        count(Checked::Unchecked),
        count(Checked::Unfixed),
    )];
    lead.extend(survey.rejected.iter().map(|r| format!("{} is set aside: {}.", r.id, r.why)));
    lead
}

fn next_step(seen: Seen<'_>) -> String {
    let survey = &seen.plan.survey;
    if survey.readings.is_empty() {
        return "add a reading".to_owned();
    }
    if let Some(unfixed) = survey.dimensions.iter().find(|d| d.checked == Checked::Unfixed) {
        return format!("nothing fixes {}: read it", unfixed.name);
    }
    match &seen.plan.measure_next {
        Some(next) if next.stop => "stop measuring; faces: lay the face out".to_owned(),
        Some(next) => match next.candidates.first() {
            Some(best) => format!("{}, or faces: lay the face out from what there is", best.how),
            None => "faces: lay the face out from these dimensions".to_owned(),
        },
        None => "faces: lay the face out from these dimensions".to_owned(),
    }
}

fn dimensions(seen: Seen<'_>) -> Table {
    let heads = [
        "dimension",
        ">measured",
        ">\u{b1} full size",
        ">\u{b1} model",
        ">adopted",
        "checked",
        "how",
        "what",
    ];
    let mut table = Table::new("Dimensions", &heads);
    for dimension in &seen.plan.survey.dimensions {
        table.push(dimension_row(seen, dimension));
    }
    let proposed = |d: &&DimensionFound| d.adopted.is_none() && d.proposal.is_some();
    if seen.plan.survey.dimensions.iter().any(|dimension| proposed(&dimension)) {
        let note = "?: a round figure within one standard deviation; to adopt it is an assumption";
        table.notes.push(note.to_owned());
    }
    table
}

fn dimension_row(seen: Seen<'_>, dimension: &DimensionFound) -> Row {
    let sizes = Sizes::of(seen);
    let (value, full, model) = match &dimension.measured {
        Some(found) => {
            (sizes.full(found.value), worth(found.sigma), model_spread(seen, found.sigma))
        }
        None => ("-".to_owned(), String::new(), String::new()),
    };
    let adopted = match (&dimension.adopted, &dimension.proposal) {
        (Some(adopted), _) => sizes.full(*adopted),
        (None, Some(proposal)) => format!("{} ?", sizes.full(proposal.figure)),
        (None, None) => String::new(),
    };
    let mark = match dimension.checked {
        Checked::Unfixed | Checked::Unchecked => Mark::Look,
        _ if dimension.adopted.is_some() => Mark::Chosen,
        _ => Mark::Plain,
    };
    let kinds: Vec<&str> = dimension.kinds.iter().map(|kind| marks::kind(*kind)).collect();
    Row::about(
        Subject::Dimension(dimension.name.clone()),
        vec![
            dimension.name.clone(),
            value,
            full,
            model,
            adopted,
            dimension.checked.word().to_owned(),
            kinds.join(", "),
            dimension.what.clone(),
        ],
    )
    .marked(mark)
}

/// What a full-size sigma is on the model: `±8.4 thou`.
pub(super) fn model_spread(seen: Seen<'_>, sigma: PrototypeLength) -> String {
    let unit = match seen.job.about.units {
        crate::job::model::Units::FeetInches => Unit::Thou,
        crate::job::model::Units::Metric => Unit::Millimetre,
    };
    let reduce = |scale: &Scale| spread(scale.reduce(sigma), unit);
    seen.plan.scale.as_ref().map_or(String::new(), reduce)
}

fn readings(seen: Seen<'_>) -> Table {
    let heads = [
        "reading",
        "of",
        ">read",
        ">\u{b1}",
        ">residual",
        ">z",
        "fit",
        ">redundancy",
        "method",
        "source",
        "note",
    ];
    let mut table = Table::new("Readings", &heads);
    for (said, found) in seen.plan.survey.said(seen.job).zip(&seen.plan.survey.readings) {
        let (read, sigma, residual) = figures(found);
        let cells = vec![
            said.id.clone(),
            said.of.to_string(),
            said.value.clone().unwrap_or(read),
            sigma,
            residual,
            found.z.map_or(String::new(), |z| format!("{z:+.1}")),
            fit(seen, found),
            found.redundancy.map_or(String::new(), |share| format!("{share:.2}")),
            said.method.clone(),
            said.source.clone().unwrap_or_default(),
            noted(said),
        ];
        let row = Row::about(Subject::Reading(said.id.clone()), cells);
        table.push(row.marked(reading_mark(found)));
    }
    table.notes.push("fit: left of the bar under, right of it over, in standard deviations".into());
    table
}

/// What the person wrote beside a reading: when, on which pull, what else.
fn noted(said: &Reading) -> String {
    let pull = said.pull.as_ref().map(|pull| format!("pull {pull}"));
    let off = (said.off && !said.off_reason.is_empty()).then(|| said.off_reason.clone());
    let parts = [Some(said.date.clone()), pull, off, Some(said.note.clone())];
    let parts: Vec<String> = parts.into_iter().flatten().filter(|it| !it.is_empty()).collect();
    parts.join("; ")
}

/// What was read, its sigma and its residual, in the unit of the reading.
fn figures(found: &ReadingFound) -> (String, String, String) {
    let Some((value, sigma)) = found.read else { return Default::default() };
    let (unit, factor) = match found.what {
        WhatRead::Length => (" in", 1.0),
        WhatRead::Ratio => ("", 1.0),
        WhatRead::Area => (" sq ft", 144.0),
    };
    let residual =
        found.residual.map_or(String::new(), |residual| format!("{:+.2}{unit}", residual / factor));
    (
        format!("{}{unit}", significant(value / factor, 5)),
        format!("\u{b1}{}{unit}", significant(sigma / factor, 2)),
        residual,
    )
}

fn fit(seen: Seen<'_>, found: &ReadingFound) -> String {
    match found.standing {
        Standing::Off => "off".to_owned(),
        Standing::LeftOut => "left out".to_owned(),
        _ if found.checked == Some(Checked::Unchecked) => "unchecked".to_owned(),
        _ => {
            let limit = found.network.map_or(3.29, |at| seen.plan.survey.networks[at].limit);
            found.z.map_or(String::new(), |z| bar(z, limit))
        }
    }
}

fn reading_mark(found: &ReadingFound) -> Mark {
    match found.standing {
        Standing::Off => Mark::Off,
        Standing::Rejected | Standing::LeftOut => Mark::Refused,
        Standing::Kept if found.checked == Some(Checked::Unchecked) => Mark::Look,
        Standing::Kept => Mark::Plain,
    }
}

fn rejected(seen: Seen<'_>) -> Table {
    let mut table = Table::new("Set aside", &["reading", ">z", ">the others say", "why"]);
    let sizes = Sizes::of(seen);
    for rejected in &seen.plan.survey.rejected {
        let what = |at: usize| seen.plan.survey.readings[at].what;
        let what = rejected.reading.map_or(WhatRead::Length, what);
        let expected = match what {
            WhatRead::Length => sizes.full(PrototypeLength::inches(rejected.expected)),
            WhatRead::Ratio => significant(rejected.expected, 4),
            WhatRead::Area => format!("{} sq ft", significant(rejected.expected / 144.0, 4)),
        };
        let cells = vec![
            rejected.id.clone(),
            format!("{:+.1}", rejected.z),
            expected,
            rejected.why.clone(),
        ];
        let row = match rejected.reading {
            Some(_) => Row::about(Subject::Reading(rejected.id.clone()), cells),
            None => Row::plain(cells),
        };
        table.push(row.marked(Mark::Refused));
    }
    table
}

fn networks(seen: Seen<'_>) -> Table {
    let heads = ["network of", ">readings", ">chi-square, all", ">on", ">kept", ">on", "verdict"];
    let mut table = Table::new("What hangs together", &heads);
    let all: Vec<&Network> = seen.plan.survey.networks.iter().collect();
    for network in all.iter().filter(|network| network.degrees_of_all > 0) {
        table.push(Row::plain(vec![
            marks::names(&network.names),
            network.readings.len().to_string(),
            format!("{:.1}", network.chi_square_of_all),
            network.degrees_of_all.to_string(),
            format!("{:.1}", network.chi_square),
            network.degrees.to_string(),
            marks::verdict(network),
        ]));
    }
    let alone: Vec<&str> = all
        .iter()
        .filter(|network| network.degrees_of_all == 0)
        .filter_map(|network| network.names.first().map(String::as_str))
        .collect();
    if !alone.is_empty() {
        let plural = if alone.len() == 1 { "it" } else { "them" };
        table.notes.push(format!(
            "nothing checks {}: one more reading of {plural} would",
            alone.join(", ")
        ));
    }
    table
}
