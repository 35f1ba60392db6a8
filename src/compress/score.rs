//! The look cost of stated dimensions, line by line.

use super::case::Case;
use super::look::Line;
use super::tally::{Repeat, Tally, length};
use super::{Decision, Lines};
use crate::elevation::Body;
use crate::job::building::RoofKind;
use crate::job::place::RoofFollows;
use crate::quantity::{Compressed, Prototype};

/// The cost of a decision, line by line.
pub(crate) fn score(case: &Case<'_>, decision: &Decision) -> Lines {
    let mut lines = Vec::new();
    for (at, original) in case.originals.iter().enumerate() {
        let now = case.tally(at, &decision.counts, false);
        lines.extend(face(case, at, original, &now, decision));
    }
    let body = case.body(decision);
    lines.extend(roof(case, &case.faces.body, &body, decision.roof));
    if decision.wedge {
        lines.extend(case.rules.holds("wedge", ""));
    }
    Lines(lines)
}

/// The lines of one face along the building.
fn face(
    case: &Case<'_>,
    at: usize,
    original: &Tally,
    now: &Tally,
    decision: &Decision,
) -> Vec<Line> {
    let rules = &case.rules;
    let mut lines = Vec::new();
    for group in &now.groups {
        let was = group.sum(|item| item.original);
        let is = group.sum(|item| decision.width(item));
        lines.extend(rules.ratio(&group.feature, &group.name, 1.0, is / was));
    }
    let name = case.face_name(at);
    let (was, is) =
        (length(original, |item| item.original), length(now, |item| decision.width(item)));
    let height = case.height(at);
    lines.extend(rules.ratio(
        "void",
        name,
        original.area / (was * height),
        now.area / (is * height),
    ));
    if at == 0 {
        let eave = case.faces.body.eave.in_inches();
        lines.extend(rules.ratio("length", "", was, is));
        lines.extend(rules.ratio("aspect", "", was / eave, is / eave));
        lines.extend(rules.ratio(
            "openings",
            "",
            f64::from(original.openings),
            f64::from(now.openings),
        ));
        lines.extend(silhouette(case, was, is, decision));
        lines.extend(spacing(case, original, now, decision));
    }
    for repeat in &now.repeats {
        lines.extend(repeated(case, repeat));
    }
    lines
}

/// The lines of one repeated element: they depend on its count alone.
pub(crate) fn repeated(case: &Case<'_>, repeat: &Repeat) -> Vec<Line> {
    let rules = &case.rules;
    let times = &repeat.times;
    let mut lines = Vec::new();
    if repeat.cycle.is_some() {
        let (was, is) = (f64::from(times.count), f64::from(repeat.count));
        lines.extend(rules.ratio("count", &repeat.key, was, is));
    }
    if repeat.count == times.count {
        return lines;
    }
    if times.parity && repeat.count % 2 != times.count % 2 {
        lines.extend(rules.holds("parity", &repeat.key));
    }
    if times.period.is_some_and(|period| period > 0 && !repeat.count.is_multiple_of(period)) {
        lines.extend(rules.holds("period", &repeat.key));
    }
    if lost_centre(repeat) || lost_mirror(repeat) {
        lines.extend(rules.holds("centre", &repeat.key));
    }
    lines
}

/// What stands in bay `number`, counted from 0.
fn stack(repeat: &Repeat, number: u32) -> &[String] {
    let cycle = repeat.cycle.as_deref().unwrap_or_default();
    cycle.get(number as usize % cycle.len().max(1)).map_or(&[], Vec::as_slice)
}

fn lost_centre(repeat: &Repeat) -> bool {
    repeat.times.centre.as_ref().is_some_and(|centre| {
        repeat.count.is_multiple_of(2) || !stack(repeat, repeat.count / 2).contains(centre)
    })
}

fn lost_mirror(repeat: &Repeat) -> bool {
    let last = repeat.count.saturating_sub(1);
    repeat.times.mirror && (0..repeat.count).any(|n| stack(repeat, n) != stack(repeat, last - n))
}

/// The silhouettes at equal height: two rectangles that share a height.
fn silhouette(case: &Case<'_>, was: f64, is: f64, decision: &Decision) -> Option<Line> {
    let before = was / case.faces.body.ridge.in_inches();
    let after = is / case.body(decision).ridge.in_inches();
    case.rules.apart("silhouette", 0.0, 1.0 - before.min(after) / before.max(after))
}

/// How uneven the plain walls of the row are, over what they were.
fn spacing(case: &Case<'_>, original: &Tally, now: &Tally, decision: &Decision) -> Option<Line> {
    let was = uneven(original, |item| item.original);
    let is = uneven(now, |item| decision.width(item));
    case.rules.apart("spacing", was, is.max(was))
}

fn uneven(tally: &Tally, width: impl Fn(&super::tally::Item) -> f64) -> f64 {
    let items = || tally.groups.iter().flat_map(|group| &group.items);
    let times: f64 = items().map(|item| item.times).sum();
    if times < 1.0 {
        return 0.0;
    }
    let mean = items().map(|item| item.times * width(item)).sum::<f64>() / times;
    let square = items().map(|item| item.times * (width(item) - mean).powi(2)).sum::<f64>() / times;
    square.sqrt() / mean
}

/// The lines of the roof and the depth.
fn roof(
    case: &Case<'_>,
    original: &Body<Prototype>,
    body: &Body<Compressed>,
    follows: RoofFollows,
) -> Vec<Line> {
    let rules = &case.rules;
    let mut lines = Vec::new();
    lines.extend(rules.ratio("ridge", "", original.ridge / original.eave, body.ridge / body.eave));
    match follows {
        RoofFollows::HalfRelief => lines.extend(rules.holds("half-relief", "")),
        RoofFollows::Flat => lines.extend(rules.holds("flat", "")),
        RoofFollows::KeepPitch | RoofFollows::KeepRidge => lines.extend(rules.ratio(
            "gable",
            "",
            original.depth / original.ridge,
            body.depth / body.ridge,
        )),
    }
    if case.roof != RoofKind::Flat && follows == RoofFollows::KeepRidge {
        let degrees = |pitch: f64| pitch.atan().to_degrees();
        lines.extend(rules.apart("pitch", degrees(original.pitch), degrees(body.pitch)));
    }
    lines
}
