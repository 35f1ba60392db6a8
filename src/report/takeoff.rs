//! The parts as tables, and why each has its size.
//!
//! JSON: `stop` where the stage could not go on, else `parts[]` (`label`,
//! `face`, `kind`, `count`, `length_full_in`, `width_full_in`, `length_in`,
//! `width_in`, `form`, `section`, `stock`, `runs`, `ends_deg`, `note`, `state`),
//! `cover[]` (`wall`, `wanted_sqft`, `covered_sqft`), `boxes[]` (`name`,
//! `long_in`, `short_in`, `diagonal_in`, `slack_in`), and `findings[]`.

use serde_json::{Value, json};

use super::Seen;
use super::faces::{Sizes, stopped};
use super::table::{Mark, Row, Table, View};
use crate::finding::{Finding, Stop, Subject};
use crate::job::Job;
use crate::job::model::Done;
use crate::takeoff::{Kind, Part, Runs, Square, Step, Takeoff, why};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: take-off", seen.job.about.name);
    let takeoff = match &seen.plan.takeoff {
        Ok(takeoff) => takeoff,
        Err(stop) => return stopped(title, stop),
    };
    let sizes = Sizes::of(seen);
    let mut tables: Vec<Table> = Vec::new();
    for face in faces(takeoff) {
        let parts = takeoff.parts.iter().filter(|part| part.face == face);
        tables.push(parts_table(seen, face, parts, &sizes));
    }
    tables.push(cover(takeoff));
    tables.push(boxes(seen, takeoff));
    tables.retain(|table| !table.rows.is_empty());
    View {
        title,
        lead: lead(takeoff),
        tables,
        findings: strangers(seen.job, takeoff),
        next: "layout: sticks and sheets to cut; takeoff --why PART: where a size comes from"
            .to_owned(),
        ..View::default()
    }
}

fn lead(takeoff: &Takeoff) -> Vec<String> {
    let count: u64 = takeoff.parts.iter().map(|part| u64::from(part.count)).sum();
    vec![
        format!("{count} parts of {} sizes.", takeoff.parts.len()),
        "A label is the face, the kind and a number; the longest of a kind is number 1.".to_owned(),
        "Write it on the back of the part with an arrow up; `runs` says which way its length and grain lie."
            .to_owned(),
    ]
}

/// The faces in the order of the take-off.
fn faces(takeoff: &Takeoff) -> Vec<&str> {
    let mut faces: Vec<&str> = takeoff.parts.iter().map(|part| part.face.as_str()).collect();
    faces.dedup();
    faces
}

fn parts_table<'a>(
    seen: Seen<'_>,
    face: &str,
    parts: impl Iterator<Item = &'a Part>,
    sizes: &Sizes,
) -> Table {
    let heads = [
        "part", ">count", ">length", ">model", ">width", ">model", "runs", "ends", "stock",
        "state", "note",
    ];
    let mut table = Table::new(face, &heads);
    for part in parts {
        let state = seen.job.done.get(&part.label).copied();
        let ends = part.ends.map(|angle| format!("{:.1}°", angle.in_degrees()));
        let row = Row::about(
            part.subject(),
            vec![
                part.label.clone(),
                part.count.to_string(),
                sizes.full(part.length),
                sizes.model(part.length),
                sizes.full(part.width),
                sizes.model(part.width),
                runs(part).to_owned(),
                ends.unwrap_or_default(),
                stock(seen, part),
                state_word(state).to_owned(),
                part.note.clone(),
            ],
        );
        table.push(if state.is_some() { row.marked(Mark::Chosen) } else { row });
    }
    table
}

/// Which way the length of a part that stands on a face lies.
fn runs(part: &Part) -> &'static str {
    match part.runs {
        _ if part.places.is_empty() && part.kind != Kind::Roof => "",
        Runs::Up => "up",
        Runs::Across => "across",
    }
}

/// The stock a part is cut from.
fn stock(seen: Seen<'_>, part: &Part) -> String {
    let choice = seen.plan.stock.as_ref().ok().and_then(|stock| stock.of(&part.section));
    choice.map_or_else(|| part.section.clone(), |choice| choice.stock_name())
}

/// How far a part is, in words.
pub(super) fn state_word(state: Option<Done>) -> &'static str {
    match state {
        None => "to cut",
        Some(Done::Cut) => "cut",
        Some(Done::Stained) => "stained",
        Some(Done::Fitted) => "fitted",
    }
}

fn cover(takeoff: &Takeoff) -> Table {
    let heads = ["wall", ">less openings, sq ft", ">cladding, sq ft"];
    let mut table = Table::new("Wall area against cladding", &heads);
    for cover in &takeoff.cover {
        table.push(Row::plain(vec![
            cover.wall.clone(),
            format!("{:.1}", cover.wanted.in_square_feet()),
            format!("{:.1}", cover.covered.in_square_feet()),
        ]));
    }
    table
}

/// Box by box, what its diagonals must be before anything is glued on.
fn boxes(seen: Seen<'_>, takeoff: &Takeoff) -> Table {
    let heads = ["box", ">core long", ">across", ">both diagonals", ">may differ"];
    let mut table = Table::new("Square: measure before the glue sets", &heads);
    let show = |length| seen.job.about.model_notation().show(length);
    for square in &takeoff.boxes {
        table.push(Row::plain(vec![
            square.name.clone(),
            show(&square.long),
            show(&square.short),
            show(&square.diagonal),
            show(&square.slack),
        ]));
    }
    table
}

/// Labels in the job that no part has any more.
fn strangers(job: &Job, takeoff: &Takeoff) -> Vec<Finding> {
    let gone = job.done.keys().filter(|label| takeoff.part(label).is_none());
    gone.map(|label| {
        Finding::look(
            Subject::Part(label.clone()),
            format!("{label} is ticked, but no part is called so any more"),
            "the building changed after it was cut; untick it or keep it for another",
        )
    })
    .collect()
}

/// Why a part has its size, from the model back to the readings.
///
/// # Errors
///
/// When no part has that label: the nearest labels.
pub fn why_text(seen: Seen<'_>, label: &str) -> Result<String, Stop> {
    let steps = why_steps(seen, label)?;
    let line = |step: &Step| format!("{}{}\n", "  ".repeat(usize::from(step.depth)), step.text);
    Ok(steps.iter().map(line).collect())
}

/// The chain of [`why_text`] as JSON: `steps[]` with `depth`, `text`,
/// `subject`.
///
/// # Errors
///
/// As [`why_text`].
pub fn why_json(seen: Seen<'_>, label: &str) -> Result<Value, Stop> {
    Ok(json!({ "part": label, "steps": why_steps(seen, label)? }))
}

fn why_steps(seen: Seen<'_>, label: &str) -> Result<Vec<Step>, Stop> {
    let takeoff = seen.plan.takeoff.as_ref().map_err(Clone::clone)?;
    let scale = seen.plan.scale.as_ref().map_err(Clone::clone)?;
    let part = takeoff.part(label).ok_or_else(|| {
        let labels = takeoff.parts.iter().map(|part| part.label.as_str());
        let near = crate::catalog::nearest_names(label, labels);
        let hint = if near.is_empty() { "see `takeoff`".to_owned() } else { near.join(", ") };
        Stop::new(format!("finding the part \"{label}\""), "there is none", hint)
    })?;
    let mut steps = why(part, seen.job, &seen.plan.survey, scale);
    steps.extend(super::taken::for_section(&part.section, seen).into_iter().map(|taken| Step {
        depth: 0,
        text: format!("taken, not given: {} {} ({})", taken.key, taken.value, taken.source),
        subject: part.subject(),
    }));
    Ok(steps)
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    match &seen.plan.takeoff {
        Ok(takeoff) => json!({
            "parts": takeoff.parts.iter().map(|part| part_json(seen, part)).collect::<Vec<_>>(),
            "cover": takeoff.cover.iter().map(|cover| json!({
                "wall": cover.wall,
                "wanted_sqft": cover.wanted.in_square_feet(),
                "covered_sqft": cover.covered.in_square_feet(),
            })).collect::<Vec<_>>(),
            "boxes": takeoff.boxes.iter().map(box_json).collect::<Vec<_>>(),
        }),
        Err(stop) => json!({ "stop": stop }),
    }
}

fn box_json(square: &Square) -> Value {
    json!({
        "name": square.name,
        "long_in": square.long.in_inches(),
        "short_in": square.short.in_inches(),
        "diagonal_in": square.diagonal.in_inches(),
        "slack_in": square.slack.in_inches(),
    })
}

fn part_json(seen: Seen<'_>, part: &Part) -> Value {
    json!({
        "label": part.label,
        "face": part.face,
        "kind": part.kind,
        "count": part.count,
        "length_full_in": part.length.in_inches(),
        "width_full_in": part.width.in_inches(),
        "length_in": part.model_length.in_inches(),
        "width_in": part.model_width.in_inches(),
        "form": part.form,
        "section": part.section,
        "stock": stock(seen, part),
        "runs": part.runs,
        "ends_deg": part.ends.map(crate::quantity::Angle::in_degrees),
        "note": part.note,
        "state": state_word(seen.job.done.get(&part.label).copied()),
    })
}
