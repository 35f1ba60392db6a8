//! Parts of the take-off, in sets alike and as groups.

use std::collections::BTreeMap;

use scantling::quantity::CompressedLength;
use scantling::takeoff::{Kind, Part, Place, Takeoff};

use super::out::Out;
use super::{Work, labels};

/// Centres nearer than this at full size, in inches, are one.
const ONE: f64 = 0.01;

pub(crate) fn say(work: &Work<'_>, out: &mut Out) {
    let Ok(takeoff) = &work.plan.takeoff else { return };
    super::courses::say(work, takeoff, out);
    super::stiff::say(work, takeoff, out);
    super::trim::say(work, takeoff, out);
    let mut groups: BTreeMap<String, Vec<&Part>> = BTreeMap::new();
    for part in &takeoff.parts {
        groups.entry(label(work, part)).or_default().push(part);
    }
    for (label, parts) in &groups {
        group(parts, label, out);
    }
    for plane in &takeoff.planes {
        let group = plane.label.rsplit_once('-').map_or(plane.label.as_str(), |it| it.0);
        out.say(group, "strips", plane.strips);
    }
    leaves(work, out);
}

/// What a part is called without its number.
fn label(work: &Work<'_>, part: &Part) -> String {
    let face = &part.face;
    match part.kind {
        Kind::Board | Kind::Clapboard | Kind::Iron | Kind::Brick | Kind::Scribed => {
            let name = part.section.rsplit_once(' ').map_or(part.section.as_str(), |it| it.0);
            let said = work.job.claddings.iter().find(|it| it.name == name);
            let word = said.map_or(part.kind.word(), labels::cladding);
            format!("{face}/{word}")
        }
        Kind::Casing => {
            let name = part.section.trim_end_matches(" casing");
            let said = work.job.openings.iter().find(|it| it.name == name);
            format!("{face}/{}-casing", said.map_or(name, |it| super::bill::word(it.what)))
        }
        Kind::Shingle => format!("{face}/shingle-strip"),
        Kind::Roof => format!("{face}/plane-sheet"),
        Kind::Plank => format!("{face}/deck/plank"),
        Kind::LeafBoard => format!("{face}/door-leaf/board"),
        Kind::LeafLedge => format!("{face}/door-leaf/ledge"),
        Kind::LeafBrace => format!("{face}/door-leaf/brace"),
        Kind::Base => face.clone(),
        Kind::Member => {
            // Its own name stands before the number.
            let own = part.label.rsplit_once('-').map_or(part.label.as_str(), |it| it.0);
            own.to_owned()
        }
        kind => format!("{face}/{}", kind.word()),
    }
}

fn group(parts: &[&Part], label: &str, out: &mut Out) {
    let count: u32 = parts.iter().map(|part| part.count).sum();
    // A plate is counted by its strips, a layer by its boards: those are said
    // where they are known.
    if matches!(parts[0].kind, Kind::Floor | Kind::Base) {
        return plate(parts, label, out);
    }
    out.say(label, "count", count);
    let sum: f64 = parts.iter().map(|part| part.total().in_inches()).sum();
    out.inches(label, "sum", sum);
    if let Some(angle) = parts.iter().find_map(|part| part.ends) {
        let field = if parts[0].kind == Kind::LeafBrace { "angle" } else { "end_cut" };
        out.degrees(label, field, angle);
    }
    sizes(parts[0], label, out);
    for (number, set) in labels::sets(parts.iter(), |part| part.length).iter().enumerate() {
        let name = format!("{label}-{}", number + 1);
        out.say(&name, "count", set.iter().map(|part| part.count).sum::<u32>());
        sizes(set[0], &name, out);
        if let Some(angle) = set[0].ends {
            out.degrees(&name, "end_cut", angle);
        }
    }
}

fn sizes(part: &Part, label: &str, out: &mut Out) {
    out.full(label, "length", part.length);
    out.full(label, "width", part.width);
    // What stands is as high as it is long.
    if matches!(part.kind, Kind::CornerBlock | Kind::CornerPost | Kind::Doubler) {
        out.full(label, "height", part.length);
    }
}

/// A plate in strips.
fn plate(parts: &[&Part], label: &str, out: &mut Out) {
    let strips: u32 = parts.iter().map(|part| part.count).sum();
    out.say(label, "strips", strips);
    out.full(label, "strip_width", parts[0].width);
    out.full(label, "piece_length", parts[0].length);
    out.full(label, "piece_width", parts[0].width);
}

/// Leaves of doors, wall by wall.
fn leaves(work: &Work<'_>, out: &mut Out) {
    for leaf in work.building.leaves.iter().filter(|leaf| !leaf.braces.is_empty()) {
        let part = format!("{}/door-leaf/brace", leaf.wall);
        out.say(&part, "foot_at", leaf.foot_at());
        out.degrees(&part, "angle", leaf.braces[0].angle);
    }
}

/// The places of parts of a kind on a wall, each piece by itself.
pub(crate) fn places(takeoff: &Takeoff, wall: &str, kind: Kind) -> Vec<Place> {
    takeoff.of(wall, kind).flat_map(|part| part.places.iter().copied()).collect()
}

/// The centre lines of upright pieces from the left, each once.
pub(crate) fn centres(places: &[Place]) -> Vec<CompressedLength> {
    let mut centres: Vec<CompressedLength> =
        places.iter().map(|place| place.left + place.wide / 2.0).collect();
    centres.sort_by(CompressedLength::total_cmp);
    centres.dedup_by(|a, b| a.agrees(*b, CompressedLength::inches(ONE)));
    centres
}
