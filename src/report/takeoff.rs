//! The parts as tables, and why each has its size.

use serde::Serialize;

use super::Seen;
use super::cell::Cell;
use super::column::{angle, count, number, only, text};
use super::draft::rows;
use super::sizes::Sizes;
use super::table::{Mark, Table, View};
use crate::finding::{Finding, Stop, Subject};
use crate::job::Job;
use crate::job::model::Done;
use crate::takeoff::{self, Kind, Part, Runs, Step, Takeoff};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: take-off", seen.job.about.name);
    let takeoff = match &seen.plan.takeoff {
        Ok(takeoff) => takeoff,
        Err(stop) => return View::stopped(title, stop),
    };
    let sizes = Sizes::of(seen);
    let faces = takeoff.parts.chunk_by(|a, b| a.face == b.face);
    // Where there are no parts the list is empty.
    let faces = std::iter::once(&[][..]).chain(faces);
    let mut tables: Vec<Table> = faces.map(|face| parts(seen, face, &sizes)).collect();
    tables.extend([cover(takeoff), boxes(takeoff, &sizes)]);
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

/// The parts of a face.
fn parts(seen: Seen<'_>, parts: &[Part], sizes: &Sizes) -> Table {
    let state = |it: &Part| seen.job.done.get(&it.label).copied();
    let face = parts.first().map_or("", |it| &it.face);
    rows("parts", face, parts)
        .named(face)
        .about(Part::subject)
        .marked(|it| if state(it).is_some() { Mark::Chosen } else { Mark::Plain })
        .col(text("label", "part"), |it| &it.label)
        .col(only("face"), |it| &it.face)
        .col(only("kind"), |it| Cell::data(it.kind))
        .col(count("count", "count"), |it| it.count)
        .col(sizes.full_size("length_full_in", "length"), |it| it.length)
        .col(sizes.on_model("length_in", "model"), |it| it.model_length)
        .col(sizes.full_size("width_full_in", "width"), |it| it.width)
        .col(sizes.on_model("width_in", "model"), |it| it.model_width)
        .col(only("form"), |it| Cell::data(it.form))
        .col(only("section"), |it| &it.section)
        .col(text("runs", "runs"), |it| Cell::said(runs(it), Cell::data(it.runs)))
        .col(angle("ends_deg", "ends", 1), |it| it.ends)
        .col(text("stock", "stock"), |it| stock(seen, it))
        .col(text("state", "state"), |it| state_word(state(it)))
        .col(text("note", "note"), |it| &it.note)
        .table()
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
    rows("cover", "Wall area against cladding", &takeoff.cover)
        .col(text("wall", "wall"), |it| &it.wall)
        .col(number("wanted_sqft", "less openings, sq ft", 1), |it| it.wanted.in_square_feet())
        .col(number("covered_sqft", "cladding, sq ft", 1), |it| it.covered.in_square_feet())
        .table()
}

/// Box by box, what its diagonals must be before anything is glued on.
fn boxes(takeoff: &Takeoff, sizes: &Sizes) -> Table {
    rows("boxes", "Square: measure before the glue sets", &takeoff.boxes)
        .col(text("name", "box"), |it| &it.name)
        .col(sizes.on_model("long_in", "core long"), |it| it.long)
        .col(sizes.on_model("short_in", "across"), |it| it.short)
        .col(sizes.on_model("diagonal_in", "both diagonals"), |it| it.diagonal)
        .col(sizes.on_model("slack_in", "may differ"), |it| it.slack)
        .table()
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
#[derive(Serialize, Clone, Debug, PartialEq)]
pub struct Why<'a> {
    part: &'a str,
    steps: Vec<Step>,
}

impl std::fmt::Display for Why<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.steps.iter().try_for_each(|step| {
            writeln!(f, "{}{}", "  ".repeat(usize::from(step.depth)), step.text)
        })
    }
}

/// Why a part has its size.
///
/// # Errors
///
/// When no part has that label: the nearest labels.
pub fn why<'a>(seen: Seen<'_>, label: &'a str) -> Result<Why<'a>, Stop> {
    let takeoff = seen.plan.takeoff.as_ref().map_err(Clone::clone)?;
    let scale = seen.plan.scale.as_ref().map_err(Clone::clone)?;
    let part = takeoff.part(label).ok_or_else(|| {
        let labels = takeoff.parts.iter().map(|part| part.label.as_str());
        let near = crate::catalog::nearest_names(label, labels);
        let hint = if near.is_empty() { "see `takeoff`".to_owned() } else { near.join(", ") };
        Stop::new(format!("finding the part \"{label}\""), "there is none", hint)
    })?;
    let mut steps = takeoff::why(part, seen.job, &seen.plan.survey, scale);
    steps.extend(super::taken::for_section(&part.section, seen).into_iter().map(|taken| Step {
        depth: 0,
        text: format!("taken, not given: {} {} ({})", taken.key, taken.value, taken.source),
        subject: part.subject(),
    }));
    Ok(Why { part: label, steps })
}
