//! What was measured on the mock-up against the plan, as tables.
//!
//! JSON: `stop` where nothing is built, else `tolerance` (`mock_up_in`,
//! `mock_up_source`, `model_in`, `model_source`), `sizes[]` (`name`,
//! `planned_in`, `can_be_taken`, `why_not`, `where`, and for each of `mock_up` and
//! `model` null or `reads_in`, `off_in`, `standing`, `note`, `was_in`,
//! `reason`), `taken[]` (`name`, `was_in`, `reads_in`, `reason`, `note`) and
//! `findings[]`. Lengths are model inches.

use serde_json::{Value, json};

use super::Seen;
use super::faces::stopped;
use super::table::{Act, Mark, Row, Table, View};
use crate::finding::Subject;
use crate::job::mock_up::{Measured, On};
use crate::mockup::{Found, MockUp, Planned, Standing, Way, signed};
use crate::quantity::ModelLength;

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: mock-up", seen.job.about.name);
    let found = match (&seen.plan.mock_up, &seen.plan.compress) {
        (Some(found), _) => found,
        (None, Err(stop)) => return stopped(title, stop),
        (None, Ok(_)) => return View { title, ..View::default() },
    };
    let tables = [sizes(seen, found), model(seen, found), taken(seen)];
    View {
        title,
        lead: lead(seen, found),
        tables: tables.into_iter().filter(|table| !table.rows.is_empty()).collect(),
        next: "templates: the mock-up in card to print; record: what was changed, and why"
            .to_owned(),
        ..View::default()
    }
}

fn show(seen: Seen<'_>, length: ModelLength) -> String {
    seen.job.about.model_notation().show(&length)
}

fn lead(seen: Seen<'_>, found: &MockUp) -> Vec<String> {
    let measured: Vec<&Found> = found.sizes.iter().filter_map(|it| it.mock_up.as_ref()).collect();
    let first = if measured.is_empty() {
        "Nothing is measured yet: stand the card on the table, look, trim it, measure it."
            .to_owned()
    } else {
        let count = |standing| measured.iter().filter(|it| it.standing == standing).count();
        let (over, back) =
            (count(Standing::Over) + count(Standing::Left), count(Standing::TakenBack));
        format!("{} measured, {over} over tolerance, {back} taken back.", measured.len())
    };
    let tolerance = |on: On| {
        let tolerance = found.tolerance(on);
        format!("{} {}", on.word(), show(seen, tolerance.either_way))
    };
    let source = &found.mock_up.source;
    vec![
        first,
        format!("Left alone: {}, {} ({source}).", tolerance(On::MockUp), tolerance(On::Model)),
    ]
}

/// Every size, with what the mock-up measures.
fn sizes(seen: Seen<'_>, found: &MockUp) -> Table {
    let mut table = Table::new("Mock-up", &["size", ">planned", ">mock-up", ">off", "state"]);
    for size in &found.sizes {
        let cells = [size.name.clone(), show(seen, size.planned)];
        table.push(row(seen, size, cells, size.mock_up.as_ref()));
    }
    table
}

/// The finished model, as far as it was measured.
fn model(seen: Seen<'_>, found: &MockUp) -> Table {
    let heads = ["size", ">planned", ">model", ">off", "state"];
    let mut table = Table::new("Finished model", &heads);
    for size in found.sizes.iter().filter(|size| size.model.is_some()) {
        let cells = [size.name.clone(), show(seen, size.planned)];
        let row = row(seen, size, cells, size.model.as_ref());
        table.push(row.can(vec![Act::Measure(On::Model), Act::TakeBack]));
    }
    table
}

fn row(seen: Seen<'_>, size: &Planned, first: [String; 2], found: Option<&Found>) -> Row {
    let mut cells: Vec<String> = first.into();
    cells.extend(match found {
        Some(found) => {
            [show(seen, found.reads), signed(seen.job, found.off), state(seen, size, found)]
        }
        None => [String::new(), String::new(), String::new()],
    });
    Row::about(Subject::Measured(size.name.clone()), cells).marked(match found {
        Some(found) if found.standing.asks() => Mark::Look,
        Some(found) if found.standing == Standing::TakenBack => Mark::Chosen,
        _ => Mark::Plain,
    })
}

fn state(seen: Seen<'_>, size: &Planned, found: &Found) -> String {
    // First, since the end of the column is cut where the screen is narrow.
    let was = found.was.map(|was| format!("was {}, ", show(seen, was)));
    let stays = match &size.way {
        Err(_) if found.standing == Standing::Over => ", not to be taken back",
        _ => "",
    };
    let note = if found.note.is_empty() { String::new() } else { format!(": {}", found.note) };
    format!("{}{}{stays}{note}", was.unwrap_or_default(), found.standing.word())
}

/// What was taken back, in the order it was done.
pub(super) fn taken(seen: Seen<'_>) -> Table {
    let heads = ["size", ">was planned", ">mock-up", "why"];
    let mut table = Table::new("Taken back from the mock-up", &heads);
    for (said, was) in taken_rows(seen) {
        let mut why = said.reason.clone();
        if !said.note.is_empty() {
            why = format!("{why}: {}", said.note);
        }
        let cells = vec![said.of.clone(), show(seen, was), show(seen, said.reads.length()), why];
        table.push(Row::about(Subject::Measured(said.of.clone()), cells));
    }
    table
}

fn taken_rows<'a>(seen: Seen<'a>) -> impl Iterator<Item = (&'a Measured, ModelLength)> {
    let rows = seen.job.measured.iter();
    rows.filter_map(|said| Some((said, said.was.as_ref()?.length())))
}

/// What the mock-up and the model measure otherwise than planned, for the
/// record.
pub(super) fn as_built(seen: Seen<'_>) -> Table {
    let heads = ["size", "on", ">planned", ">measured", ">off", "state"];
    let mut table = Table::new("As measured", &heads);
    let Some(found) = &seen.plan.mock_up else { return table };
    for size in &found.sizes {
        for on in On::ALL.iter().copied() {
            let Some(found) = size.found(on) else { continue };
            let cells = vec![
                size.name.clone(),
                on.word().to_owned(),
                show(seen, size.planned),
                show(seen, found.reads),
                signed(seen.job, found.off),
                state(seen, size, found),
            ];
            let row = Row::about(Subject::Measured(size.name.clone()), cells);
            table.push(if found.standing.asks() { row.marked(Mark::Look) } else { row });
        }
    }
    table
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    let Some(found) = &seen.plan.mock_up else {
        let stop = seen.plan.compress.as_ref().err().map(ToString::to_string);
        return json!({ "stop": stop });
    };
    json!({
        "tolerance": {
            "mock_up_in": found.mock_up.either_way.in_inches(),
            "mock_up_source": found.mock_up.source,
            "model_in": found.model.either_way.in_inches(),
            "model_source": found.model.source,
        },
        "sizes": found.sizes.iter().map(|size| json!({
            "name": size.name,
            "planned_in": size.planned.in_inches(),
            "can_be_taken": size.way.is_ok(),
            "why_not": size.way.as_ref().err(),
            "where": size.way.as_ref().ok().map(|way| match way {
                Way::Choice(_) => "choice",
                Way::Space(_) => "space",
            }),
            "mock_up": size.mock_up.as_ref().map(found_json),
            "model": size.model.as_ref().map(found_json),
        })).collect::<Vec<_>>(),
        "taken": taken_json(seen),
    })
}

fn found_json(found: &Found) -> Value {
    json!({
        "reads_in": found.reads.in_inches(),
        "off_in": found.off.in_inches(),
        "standing": found.standing,
        "note": found.note,
        "was_in": found.was.map(|was| was.in_inches()),
        "reason": found.reason,
    })
}

pub(super) fn taken_json(seen: Seen<'_>) -> Value {
    taken_rows(seen)
        .map(|(said, was)| json!({
            "name": said.of, "was_in": was.in_inches(), "reads_in": said.reads.length().in_inches(),
            "reason": said.reason, "note": said.note,
        }))
        .collect()
}

pub(super) fn as_built_json(seen: Seen<'_>) -> Value {
    let sizes = seen.plan.mock_up.iter().flat_map(|found| &found.sizes);
    let each = sizes.flat_map(|size| {
        On::ALL.iter().copied().filter_map(move |on| Some((size, on, size.found(on)?)))
    });
    each.map(|(size, on, found)| {
        json!({
            "name": size.name, "on": on, "planned_in": size.planned.in_inches(),
            "reads_in": found.reads.in_inches(), "off_in": found.off.in_inches(),
            "standing": found.standing,
        })
    })
    .collect()
}
