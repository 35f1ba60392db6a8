//! Alternatives in words.

use super::build::build;
use super::case::Case;
use super::kind::{Along, AlternativeKind, Beside};
use super::tally::{Counts, Item};
use super::{Decision, Shape};
use crate::elevation::{Body, Elevation};
use crate::job::body::RoofKind;
use crate::job::building::OpeningWhat;
use crate::job::face::Times;
use crate::job::place::RoofFollows;
use crate::quantity::slack::{NOTHING, TOUCH, WHOLE};
use crate::quantity::{Compressed, CompressedLength, FullSize, Length, ModelLength, Space};

fn show<S: Space + FullSize>(case: &Case<'_>, length: Length<S>) -> String {
    case.job.about.full_notation().show(&length)
}

/// A name of the job as words: `freight-door` as `freight door`.
fn plain(name: &str) -> String {
    name.replace(['-', '_'], " ")
}

pub(crate) fn plural(count: usize, name: &str) -> String {
    let name = plain(name);
    if count == 1 { format!("1 {name}") } else { format!("{count} {name}s") }
}

/// A kind in words.
pub(crate) fn kind(case: &Case<'_>, kind: &AlternativeKind) -> String {
    let several = case.slots().len() > 1;
    let bays = case.originals.iter().flat_map(|t| &t.repeats).any(|r| r.bays);
    let repeats = if bays && !several { "bays" } else { "repeats" };
    let wall = if bays { "bays and plain wall" } else { "plain wall" };
    let length = match &kind.along {
        Along::Full => "keep the full length".to_owned(),
        Along::Trim => format!("keep all {repeats}, trim {wall}"),
        Along::TrimAlike => "keep all, trim all plain wall alike".to_owned(),
        Along::TrimOnly(group) => format!("keep all, trim only the wall of \"{group}\""),
        Along::Drop => format!("drop {repeats}, keep widths"),
        Along::DropAndTrim => format!("drop {repeats} and trim {wall}"),
        Along::WholeBoards => "the first choice in whole boards".to_owned(),
        Along::WholeSheets => "the first choice in whole sheets".to_owned(),
        Along::Uniform => "reduce everything evenly".to_owned(),
        Along::Own(text) => plain(text),
    };
    let rest = match kind.beside {
        None => "",
        Some(Beside::KeepPitch) => ", shallower at the same pitch",
        Some(Beside::KeepRidge) => ", shallower under the same ridge",
        Some(Beside::HalfRelief) => ", half relief",
        Some(Beside::Flat) => ", front alone",
        Some(Beside::FewerStoreys) => ", storeys left out",
        Some(Beside::SceneEdge) => ", run off the edge of the scene",
        Some(Beside::SmallerBehind) => ", smaller ratio behind",
        Some(Beside::Wedge) => ", one end slanted to the edge of the ground",
    };
    format!("{length}{rest}")
}

/// The words for a kind the person named.
pub(crate) fn own(kind: &str) -> String {
    if kind.is_empty() { "as chosen".to_owned() } else { format!("as chosen: {}", plain(kind)) }
}

/// What an alternative is, in one line.
pub(crate) fn words(case: &Case<'_>, decision: &Decision, body: &Body<Compressed>) -> String {
    let mut parts = Vec::new();
    for at in 0..case.originals.len() {
        let tally = case.tally(at, &decision.counts, false);
        for repeat in &tally.repeats {
            let width = (tally.groups.iter().flat_map(|group| &group.items))
                .find(|item| item.key == repeat.key)
                .map(|item| CompressedLength::inches(decision.width(item)));
            let counted = plural(repeat.count as usize, &repeat.key);
            parts.push(match width {
                Some(width) => format!("{counted} of {}", show(case, width)),
                None if repeat.count == repeat.times.count => counted,
                None => format!(
                    "{} of {}",
                    repeat.count,
                    plural(repeat.times.count as usize, &repeat.key)
                ),
            });
        }
        for group in tally.groups.iter().filter(|group| group.feature != "bay") {
            let factor = group.sum(|item| decision.width(item)) / group.sum(|item| item.original);
            if (factor - 1.0).abs() > TOUCH {
                let name =
                    if group.name == "plain" { "plain wall".into() } else { plain(&group.name) };
                parts.push(format!("{name} x {factor:.2}"));
            }
        }
    }
    if parts.is_empty() {
        parts.push("the row as it is".to_owned());
    }
    parts.extend(depth(case, decision, body));
    if !decision.storeys.is_empty() {
        parts.push(storeys(Some(decision)));
    }
    let set = [("eave", decision.set.eave), ("ridge", decision.set.ridge)];
    let set = set.into_iter().filter_map(|(what, height)| Some((what, height?)));
    parts.extend(set.map(|(what, height)| format!("{what} set at {}", show(case, height))));
    parts.join(", ")
}

fn depth(case: &Case<'_>, decision: &Decision, body: &Body<Compressed>) -> Option<String> {
    let full = CompressedLength::kept(case.faces.body.depth);
    match decision.roof {
        _ if decision.is_wedge() => Some("one end slanted".to_owned()),
        _ if matches!(decision.shape, Shape::SceneEdge(_)) => {
            Some(format!("cut at {}", show(case, body.length)))
        }
        _ if decision.shape == Shape::SmallerBehind => Some("smaller ratio behind".to_owned()),
        RoofFollows::HalfRelief => Some("half relief".to_owned()),
        RoofFollows::Flat => Some("front alone".to_owned()),
        _ if body.depth.agrees(full, super::roof::slack()) => None,
        RoofFollows::KeepPitch => Some(format!("{} deep, same pitch", show(case, body.depth))),
        RoofFollows::KeepRidge => Some(format!("{} deep, same ridge", show(case, body.depth))),
    }
}

/// What is lost, item by item.
pub(crate) fn lost(case: &Case<'_>, decision: &Decision, body: &Body<Compressed>) -> Vec<String> {
    let mut lost = Vec::new();
    for (key, times) in case.slots() {
        let count = decision.counts.get(&key).copied().unwrap_or(times.count);
        if count != times.count {
            lost.push(format!("{} to {count}", plural(times.count as usize, &key)));
        }
    }
    let (built, _) = build(case, decision);
    if let Some(front) = built.faces.get(case.faces.front) {
        lost.extend(openings(case.faces.front(), front));
    }
    let full = CompressedLength::kept(case.faces.body.length);
    if body.length < full - super::roof::slack() {
        lost.push(format!("{:.0} percent of the length kept", 100.0 * (body.length / full)));
    }
    lost.extend(fewer(case, decision));
    lost.extend(ridge(case, body));
    lost.extend(hip(case, body));
    if let Some(car) = case.job.space.as_ref().and_then(|space| space.car.as_ref()) {
        let car = CompressedLength::kept(car.length());
        if car > CompressedLength::ZERO {
            let cars = |length: CompressedLength| length / car;
            let spotted = |length| (cars(length) + WHOLE).floor();
            let (was, is) = (spotted(full), spotted(body.length));
            if is < was {
                lost.push(format!("platform {was:.0} cars to {is:.0}"));
            }
        }
    }
    lost
}

fn openings<A: Space, B: Space>(before: &Elevation<A>, after: &Elevation<B>) -> Vec<String> {
    let mut kinds: Vec<&str> = Vec::new();
    for hole in &before.holes {
        if !kinds.contains(&hole.kind.as_str()) {
            kinds.push(&hole.kind);
        }
    }
    let lost = kinds.into_iter().filter_map(|kind| {
        let was = before.holes.iter().filter(|hole| hole.kind == kind).count();
        let is = after.holes.iter().filter(|hole| hole.kind == kind).count();
        (is < was).then(|| format!("{} fewer", plural(was - is, kind)))
    });
    lost.collect()
}

/// Storeys kept in words: `2 of upper`.
pub(crate) fn storeys(decision: Option<&Decision>) -> String {
    let kept = decision.into_iter().flat_map(|decision| &decision.storeys);
    kept.map(|(name, count)| format!("{count} of {}", plain(name))).collect::<Vec<_>>().join(", ")
}

fn fewer(case: &Case<'_>, decision: &Decision) -> Option<String> {
    let taken = case.heights(decision).taken();
    (taken > CompressedLength::ZERO).then(|| {
        let out: u32 = (case.faces.storeys.iter())
            .map(|it| {
                it.count
                    - decision.storeys.get(&it.name).map_or(it.count, |kept| *kept.min(&it.count))
            })
            .sum();
        let model = case.job.about.model_notation().show(&case.scale.reduce(taken));
        let word = if out == 1 { "storey" } else { "storeys" };
        format!("{out} {word} fewer: {} lower, {model} on the model", show(case, taken))
    })
}

/// A hip roof's ridge shortens with the difference of length and depth.
fn hip(case: &Case<'_>, body: &Body<Compressed>) -> Option<String> {
    if case.roof != RoofKind::Hip {
        return None;
    }
    let original = &case.faces.body;
    let was = CompressedLength::kept(original.length - original.depth).max(CompressedLength::ZERO);
    let is = (body.length - body.depth).max(CompressedLength::ZERO);
    (!was.agrees(is, CompressedLength::inches(1.0)))
        .then(|| format!("hip ridge {} to {} long", show(case, was), show(case, is)))
}

/// The plan of a building whose right end follows the ground.
pub(crate) fn wedge(case: &Case<'_>, decision: &Decision, body: &Body<Compressed>) -> String {
    let square = "parts are laid out square";
    let Some(survey) = &case.ground else {
        return format!("one end slants to the edge of the ground: {square}");
    };
    let depth = case.scale.reduce(decision.depth).in_inches();
    let front = case.scale.reduce(body.length).in_inches();
    let back = survey.ground.longest_front(depth).map_or(0.0, |placed| placed.front.min(front));
    let slant = (front - back).hypot(depth);
    let full = |inches: f64| {
        let length: CompressedLength = case.scale.enlarge(ModelLength::inches(inches));
        show(case, length)
    };
    format!(
        "front {}, back {}, the slanted end {} at {:.1} degrees; its roof ends on the slant: simple \
         with a parapet or a shed roof, crooked with a gable; {square}",
        full(front),
        full(back),
        full(slant),
        ((front - back) / depth.max(NOTHING)).atan().to_degrees(),
    )
}

/// What a smaller ratio behind the front comes to.
pub(crate) fn behind(case: &Case<'_>) -> String {
    let full = CompressedLength::kept(case.faces.body.depth);
    let share = case.deepest(RoofFollows::KeepPitch).map_or(1.0, |depth| depth / full);
    format!(
        "behind the front at 1:{:.0}: it works from one viewpoint only, and no face seen whole may \
         mix the two; parts are laid out at one ratio",
        case.scale.ratio.value() / share.max(NOTHING),
    )
}

fn ridge(case: &Case<'_>, body: &Body<Compressed>) -> Option<String> {
    let before = CompressedLength::kept(case.faces.body.ridge);
    let drop = before - body.ridge - (CompressedLength::kept(case.faces.body.eave) - body.eave);
    if drop > CompressedLength::inches(0.01) {
        let model = case.job.about.model_notation().show(&case.scale.reduce(drop));
        return Some(format!("ridge {} lower, {model} on the model", show(case, drop)));
    }
    let degrees = body.pitch.atan().to_degrees() - case.faces.body.pitch.atan().to_degrees();
    (degrees.abs() > 0.05).then(|| {
        // At the old pitch the ridge would stand lower by the difference in rise.
        let run = crate::elevation::body::run(case.roof, body.depth);
        let rise = run * (body.pitch - case.faces.body.pitch);
        let model = case.job.about.model_notation().show(&case.scale.reduce(rise));
        format!("pitch {degrees:.1} degrees steeper: the slope rises {model} more on the model")
    })
}

/// A pinned opening that would not stand at its place.
pub(crate) fn off_its_pin(case: &Case<'_>, decision: &Decision) -> Option<String> {
    for at in 0..case.originals.len() {
        let tally = case.tally(at, &decision.counts, false);
        for (number, segment) in tally.segments.iter().enumerate() {
            let Some(total) = segment.total else { continue };
            let groups = tally.groups.iter().filter(|group| group.segment == number);
            let sum = groups.map(|group| group.sum(|item| decision.width(item))).sum::<f64>();
            let off = segment.fixed + sum - total;
            if off.abs() > 1.0 / 16.0 {
                return Some(format!(
                    "\"{}\" is pinned and would stand {} off its place",
                    segment.pin,
                    show(case, CompressedLength::inches(off.abs())),
                ));
            }
        }
    }
    None
}

/// Given counts by what stands in them: `3 freight doors`.
pub(crate) fn counted(case: &Case<'_>, counts: &Counts) -> String {
    let decision = case.decision(counts, &super::fit::Widths::new(), case.as_found());
    let (built, _) = build(case, &decision);
    let holes = built.faces.get(case.faces.front).map(|front| front.holes.as_slice());
    let holes = holes.unwrap_or_default();
    let first =
        (holes.iter()).find(|hole| hole.what == OpeningWhat::Door).or_else(|| holes.first());
    match first {
        Some(first) => {
            let count = holes.iter().filter(|hole| hole.kind == first.kind).count();
            plural(count, &first.kind)
        }
        None => "all of them".to_owned(),
    }
}

/// Why an element is too short, and how short the row can be.
pub(crate) fn under_bound(case: &Case<'_>, decision: &Decision, item: &Item) -> String {
    let tally = case.tally(0, &decision.counts, false);
    let trimmed = |item: &Item| (decision.width(item) - item.original).abs() > TOUCH;
    let shortest = tally.fixed
        + (tally.groups.iter())
            .map(|group| {
                let free = group.items.iter().any(trimmed);
                group.sum(|item| if free { item.least } else { item.original })
            })
            .sum::<f64>();
    format!(
        "with {}: shortest is {}; \"{}\" would be {}, and may not be under {}",
        counted(case, &decision.counts),
        show(case, CompressedLength::inches(shortest)),
        item.key,
        show(case, CompressedLength::inches(decision.width(item))),
        show(case, CompressedLength::inches(item.least)),
    )
}

/// Why an element is too long.
pub(crate) fn over_bound(case: &Case<'_>, decision: &Decision, item: &Item) -> String {
    format!(
        "\"{}\" would be {}, and may not be over {}",
        item.key,
        show(case, CompressedLength::inches(decision.width(item))),
        show(case, CompressedLength::inches(item.most)),
    )
}

/// Why a number of repeats is not allowed.
pub(crate) fn miscounted(key: &str, count: u32, times: &Times) -> String {
    let Times { at_least, at_most, .. } = times;
    let range = if at_least == at_most {
        format!("{at_least}")
    } else {
        format!("between {at_least} and {at_most}")
    };
    format!("there would be {}, and there must be {range}", plural(count as usize, key))
}

/// What an even reduction does to what people touch.
pub(crate) fn shrunk(case: &Case<'_>, factor: f64) -> String {
    let front = case.faces.front();
    let door = (front.holes.iter())
        .find(|hole| hole.what == OpeningWhat::Door)
        .or_else(|| front.holes.first());
    match door {
        Some(hole) => format!(
            "a {} would be {} by {}: no figure or casting fits it",
            plain(&hole.kind),
            show(case, hole.width * factor),
            show(case, hole.height * factor),
        ),
        None => format!("steps, rails and boards would be {factor:.2} of their size"),
    }
}
