//! The look cost of stated dimensions, line by line.

use super::case::Case;
use super::look::Line;
use super::tally::{Repeat, Tally, length};
use super::{Decision, Lines, Shape};
use crate::elevation::Body;
use crate::job::body::RoofKind;
use crate::job::place::RoofFollows;
use crate::quantity::{Compressed, Prototype};

/// The cost of a decision, line by line.
pub(crate) fn score(case: &Case<'_>, decision: &Decision) -> Lines {
    let mut lines = Vec::new();
    let cut = Cut::of(case, decision);
    for (at, original) in case.originals.iter().enumerate() {
        let mut now = case.tally(at, &decision.counts, false);
        cut.openings(at, &mut now);
        lines.extend(face(case, at, (original, &now), decision, &cut));
    }
    let body = case.body(decision);
    lines.extend(roof(case, &case.faces.body, &body, decision));
    match decision.shape {
        Shape::Square => {}
        Shape::Wedge => lines.extend(case.rules.holds("wedge", "")),
        Shape::SceneEdge(_) => lines.extend(case.rules.holds("edge", "")),
        Shape::SmallerBehind => lines.extend(case.rules.holds("behind", "")),
    }
    if !decision.storeys.is_empty() {
        lines.extend(case.rules.holds("storey", ""));
    }
    Lines(lines)
}

/// What storeys left out and the edge of the scene take from the faces.
struct Cut {
    /// Prototype eave over the eave as built.
    slender: f64,
    /// Height taken out of the walls, inches; less than nothing where the eave
    /// was set higher.
    taken: f64,
    /// The edge of the scene, inches from the left corner.
    length: Option<f64>,
    /// The openings left on each face along the building: area, and share of
    /// their number; nothing where none are taken.
    left: Option<Vec<(f64, f64)>>,
}

impl Cut {
    fn of(case: &Case<'_>, decision: &Decision) -> Self {
        let eave = case.faces.body.eave.in_inches();
        let taken = match decision.set.eave {
            Some(set) => eave - set.in_inches(),
            None => case.heights(decision).taken().in_inches(),
        };
        let length = match decision.shape {
            Shape::SceneEdge(edge) => Some(edge.in_inches()),
            _ => None,
        };
        let left = (taken > 0.0 || length.is_some()).then(|| left(case, decision));
        Self { slender: eave / (eave - taken).max(1.0), taken, length, left }
    }

    fn openings(&self, at: usize, now: &mut Tally) {
        if let Some((area, share)) = self.left.as_ref().and_then(|left| left.get(at)) {
            now.area = *area;
            // A share of a small number.
            now.openings = (f64::from(now.openings) * share).round() as u32;
        }
    }
}

/// Area and share of the openings that are left on each face along the building.
fn left(case: &Case<'_>, decision: &Decision) -> Vec<(f64, f64)> {
    let whole = Decision { shape: Shape::Square, storeys: Default::default(), ..decision.clone() };
    let (before, _) = super::build::build(case, &whole);
    let (after, _) = super::build::build(case, decision);
    let of = |name: &str, built: &crate::elevation::Built| {
        let face = built.faces.iter().find(|face| face.name == name);
        face.map_or((0.0, 0.0), |face| {
            let areas = face.holes.iter().map(|hole| (hole.width * hole.height).in_square_inches());
            (areas.sum::<f64>(), face.holes.len() as f64)
        })
    };
    let faces = case.along_names();
    let each = faces.iter().map(|name| {
        let ((_, was), (area, is)) = (of(name, &before), of(name, &after));
        (area, if was > 0.0 { is / was } else { 1.0 })
    });
    each.collect()
}

/// The lines of one face along the building.
fn face(
    case: &Case<'_>,
    at: usize,
    (original, now): (&Tally, &Tally),
    decision: &Decision,
    cut: &Cut,
) -> Vec<Line> {
    let rules = &case.rules;
    let mut lines = Vec::new();
    for group in &now.groups {
        let was = group.sum(|item| item.original);
        // Bays are judged by their slenderness: a lower eave makes them wider.
        let wider = if group.feature == "bay" { cut.slender } else { 1.0 };
        let is = group.sum(|item| decision.width(item)) * wider;
        lines.extend(rules.ratio(&group.feature, &group.name, 1.0, is / was));
    }
    let name = case.face_name(at);
    let (was, is) =
        (length(original, |item| item.original), length(now, |item| decision.width(item)));
    let is = cut.length.map_or(is, |edge| is.min(edge));
    let height = case.height(at);
    let lower = (height - cut.taken).max(1.0);
    lines.extend(rules.ratio(
        "void",
        name,
        original.area / (was * height),
        now.area / (is * lower),
    ));
    if at == 0 {
        let eave = case.faces.body.eave.in_inches();
        lines.extend(rules.ratio("length", "", was, is));
        lines.extend(rules.ratio("aspect", "", was / eave, is / eave * cut.slender));
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
    decision: &Decision,
) -> Vec<Line> {
    let (rules, follows) = (&case.rules, decision.roof);
    let mut lines = Vec::new();
    if case.job.main().is_some_and(crate::job::body::Body::is_one_wall) {
        return lines;
    }
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
    let turned = follows == RoofFollows::KeepRidge || decision.set.ridge.is_some();
    if case.roof != RoofKind::Flat && turned {
        let degrees = |pitch: f64| pitch.atan().to_degrees();
        lines.extend(rules.apart("pitch", degrees(original.pitch), degrees(body.pitch)));
    }
    lines
}
