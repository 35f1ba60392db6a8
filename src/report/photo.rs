//! Lengths from one picture as JSON and as text.

use serde_json::{Value, json};

use super::Seen;
use super::table::{Mark, Row, Table, View};
use crate::finding::{Finding, Subject};
use crate::photo::blame::{Blamed, Suspect};
use crate::photo::doors::Worth;
use crate::photo::from_job::Shot;
use crate::photo::lengths::{Found, Measured};
use crate::photo::marked::{Marked, Span};
use crate::photo::refine::{Kept, Move, Refined};
use crate::quantity::Notation;

/// The lengths as JSON. Lengths are in the unit of the known lengths.
#[must_use]
pub fn json(marked: &Marked, measured: &Measured, findings: &[Finding]) -> Value {
    let asked = measured.lengths.iter().filter(|length| !length.known);
    let given = measured.lengths.iter().filter(|length| length.known);
    json!({
        "picture": marked.id,
        "unit": "that of the known lengths",
        "mark_sigma_px": marked.sigma(),
        "focal_px": measured.focal,
        "focal_determined": measured.focal_known,
        "radial_k1": measured.radial,
        "obliquity_deg": measured.obliquity,
        "chi_squared": measured.chi_squared.0,
        "degrees_of_freedom": measured.chi_squared.1,
        "checks": measured.checks,
        "passes": measured.passes,
        "uncertainties_multiplied_by": measured.spread,
        "worst_mark": measured.worst.map(|w| marked.marks[w.mark].id.clone()),
        "failed_draws": measured.failed_draws,
        "origin": marked.origin.word(),
        "suspects": suspects(measured),
        "suspects_alike": measured.verdict.alike,
        "lengths": asked.map(|length| one(marked, length)).collect::<Vec<_>>(),
        "known": given.map(|length| one(marked, length)).collect::<Vec<_>>(),
        "findings": findings,
    })
}

/// What may be wrong, the likeliest first.
fn suspects(measured: &Measured) -> Value {
    let one = |suspect: &Suspect| {
        json!({
            "kind": match suspect.blamed {
                Blamed::Mark(_) => "mark",
                Blamed::Known(_) => "known",
                Blamed::Alike(_) => "alike",
                Blamed::InFront(_) => "in-front",
                Blamed::Rect(_) => "rectangle",
                Blamed::Axis => "axis",
                Blamed::Stretch => "stretch",
                Blamed::Focal => "focal",
            },
            "name": suspect.name,
            "message": suspect.message,
            "hint": suspect.hint,
            "chance": suspect.ln_chance.exp(),
        })
    };
    measured.verdict.suspects.iter().map(one).collect()
}

fn one(marked: &Marked, length: &Found) -> Value {
    let [from, to] = marked.ends(length.span).map(|mark| marked.marks[mark].id.as_str());
    let (rect, side) = match length.span {
        Span::Width(r) => (Some(marked.rects[r].id.as_str()), "width"),
        Span::Height(r) => (Some(marked.rects[r].id.as_str()), "height"),
        Span::Level(..) => (None, "level"),
        Span::Plumb(..) => (None, "plumb"),
        Span::Straight(..) => (None, "straight"),
    };
    json!({
        "name": length.name,
        "rect": rect,
        "side": side,
        "from": from,
        "to": to,
        "value": if length.withheld.is_some() { Value::Null } else { json!(length.value) },
        "sigma": length.sigma,
        "low": length.interval.low,
        "high": length.interval.high,
        "interval": if length.by_draws { "drawn" } else { "first-order" },
        "checked": length.checked,
        "withheld": length.withheld,
    })
}

/// The lengths as a view.
#[must_use]
pub fn view(marked: &Marked, measured: &Measured, findings: &[Finding]) -> View {
    let mut table = Table::new("", &["length", ">value", ">from", ">to", "checked"]);
    for length in measured.lengths.iter().filter(|length| !length.known) {
        let digits = digits(length.sigma);
        let figure = |v: f64| format!("{v:.digits$}");
        let value =
            if length.withheld.is_some() { "withheld".to_owned() } else { figure(length.value) };
        let checked = if length.checked { "yes" } else { "unchecked" };
        let ends = [figure(length.interval.low), figure(length.interval.high)];
        let [low, high] = ends;
        let row = Row::about(
            Subject::Photo(marked.id.clone()),
            vec![length.name.clone(), value, low, high, checked.to_owned()],
        );
        table.push(if length.withheld.is_some() { row.marked(Mark::Refused) } else { row });
    }
    table
        .notes
        .push("from and to: the 95 percent interval, in the unit of the known lengths".to_owned());
    let focal = if measured.focal_known {
        format!("focal length {:.0} px", measured.focal)
    } else {
        "focal length undetermined".to_owned()
    };
    View {
        title: format!("Lengths on {}", marked.id),
        lead: vec![format!(
            "The wall is turned {:.0} degrees; {focal}; {} checks.",
            measured.obliquity,
            measured.checks.max(0)
        )],
        tables: vec![table],
        findings: findings.to_vec(),
        next: String::new(),
        ..View::default()
    }
}

/// Where refined marks were and are, as JSON.
#[must_use]
pub fn moves_json(refined: &Refined) -> Value {
    let one = |m: &Move| {
        json!({
            "mark": refined.marked.marks[m.mark].id,
            "old": m.old,
            "new": m.new.ok(),
            "kept": m.new.err().map(Kept::words),
        })
    };
    refined.moves.iter().map(one).collect()
}

/// Where refined marks were and are.
#[must_use]
pub fn moves_table(refined: &Refined) -> Table {
    let place = |[x, y]: [f64; 2]| format!("{x:.1}, {y:.1}");
    let mut table = Table::new("Marks moved to the edges", &["mark", ">old", ">new", "why not"]);
    for m in &refined.moves {
        let (new, why) = match m.new {
            Ok(at) => (place(at), String::new()),
            Err(kept) => (String::new(), kept.words()),
        };
        let id = refined.marked.marks[m.mark].id.clone();
        table.push(Row::plain(vec![id, place(m.old), new, why]));
    }
    table.notes.push(format!("{} of {} moved", refined.count(), refined.moves.len()));
    table
}

/// Lengths by a plain map, with those of the adjustment beside them.
#[must_use]
pub fn plain_json(
    marked: &Marked,
    found: &[(Span, Worth)],
    adjusted: impl Fn(Span) -> Option<f64>,
) -> Value {
    let one = |(span, worth): &(Span, Worth)| {
        let [low, high] = worth.ends();
        json!({
            "name": marked.name(*span),
            "value": worth.value,
            "sigma": worth.sigma,
            "low": low,
            "high": high,
            "adjusted": adjusted(*span),
        })
    };
    json!({ "picture": marked.id, "lengths": found.iter().map(one).collect::<Vec<_>>() })
}

/// The same as a view.
#[must_use]
pub fn plain_view(
    marked: &Marked,
    found: &[(Span, Worth)],
    adjusted: impl Fn(Span) -> Option<f64>,
) -> View {
    let mut table = Table::new("", &["length", ">value", ">from", ">to", ">adjusted"]);
    for (span, worth) in found {
        let digits = digits(worth.sigma);
        let figure = |v: f64| format!("{v:.digits$}");
        let [low, high] = worth.ends().map(figure);
        let beside = adjusted(*span).map_or_else(|| "-".to_owned(), figure);
        table.push(Row::plain(vec![marked.name(*span), figure(worth.value), low, high, beside]));
    }
    table.notes.push("by the plain map of four corners; nothing checks it".to_owned());
    View {
        title: format!("Lengths on {}", marked.id),
        lead: vec![],
        tables: vec![table],
        findings: vec![],
        next: String::new(),
        ..View::default()
    }
}

/// Decimals that show two figures of an uncertainty.
fn digits(sigma: f64) -> usize {
    if sigma > 0.0 && sigma.is_finite() {
        (1.0 - sigma.log10().floor()).clamp(0.0, 6.0) as usize
    } else {
        3
    }
}

/// The photographs of a job as JSON; lengths in metres.
#[must_use]
pub fn job_json(shots: &[Shot], findings: &[Finding]) -> Value {
    let one = |shot: &Shot| {
        let mut value = json(&shot.marked, &shot.measured, &shot.findings);
        value["unit"] = json!("m");
        let readings = shot.readings.iter().map(|reading| {
            json!({
                "of": reading.of.to_string(),
                "value": reading.value,
                "sigma": reading.sigma,
                "on": reading.on,
            })
        });
        value["readings"] = readings.collect();
        value
    };
    json!({ "photographs": shots.iter().map(one).collect::<Vec<_>>(), "findings": findings })
}

/// The view of a plan.
#[must_use]
pub fn plan_view(seen: Seen<'_>) -> View {
    let photos = &seen.plan.photos;
    let mut view = job_view(&photos.value, &photos.findings, &seen.job.about.full_notation());
    let counted = seen.job.photos.len();
    if counted > 0 && photos.value.is_empty() {
        let noun = if counted == 1 { "photograph has" } else { "photographs have" };
        view.lead = vec![format!(
            "{counted} {noun} no lengths yet: mark a rectangle, or level and plumb edges with a known length."
        )];
    }
    view
}

/// The same as JSON.
#[must_use]
pub fn plan_json(seen: Seen<'_>) -> Value {
    job_json(&seen.plan.photos.value, &seen.plan.photos.findings)
}

/// The photographs of a job as a view.
#[must_use]
pub fn job_view(shots: &[Shot], findings: &[Finding], notation: &Notation) -> View {
    let tables = shots.iter().map(|shot| shot_table(shot, notation)).collect();
    let lead =
        if shots.is_empty() { vec!["No photograph has marks yet.".to_owned()] } else { vec![] };
    View {
        title: "Lengths from photographs".to_owned(),
        lead,
        tables,
        findings: findings.to_vec(),
        next: if shots.is_empty() {
            "take one squarely from where you may stand, add it to the job and mark its corners"
        } else {
            "notes: switch on among the readings the lengths that you trust"
        }
        .to_owned(),
        ..View::default()
    }
}

fn shot_table(shot: &Shot, notation: &Notation) -> Table {
    let mut table =
        Table::new(&shot.marked.id, &["length", ">value", ">from", ">to", "reads", "checked"]);
    for (row, length) in shot.measured.lengths.iter().enumerate().filter(|(_, l)| !l.known) {
        let [low, value, high] = Shot::ends(length).map(|l| notation.show(&l));
        let reading = shot.readings.iter().find(|reading| reading.row == row);
        let reads = reading.map_or(String::new(), |reading| reading.of.to_string());
        let checked = if length.checked { "yes" } else { "unchecked" }.to_owned();
        let value = if length.withheld.is_some() { "withheld".to_owned() } else { value };
        let line = Row::about(
            Subject::Photo(shot.marked.id.clone()),
            vec![length.name.clone(), value, low, high, reads, checked],
        );
        let off = reading.is_some_and(|reading| !reading.on);
        table.push(if off { line.marked(Mark::Off) } else { line });
    }
    table.notes.push(format!(
        "wall turned {:.0} degrees; from and to: the 95 percent interval",
        shot.measured.obliquity
    ));
    table
}
