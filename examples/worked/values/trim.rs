//! Battens by their place, and casings of walls that have none.

use scantling::building::Wall;
use scantling::quantity::CompressedLength;
use scantling::takeoff::{Kind, Takeoff};

use super::Work;
use super::out::Out;
use super::parts::{centres, places};

pub(crate) fn say(work: &Work<'_>, takeoff: &Takeoff, out: &mut Out) {
    for wall in &work.building.walls {
        battens(takeoff, wall, out);
        casings(work, takeoff, wall, out);
    }
}

/// Each batten by its centre line, and how many stand clear of a roof that
/// abuts or stop on it.
fn battens(takeoff: &Takeoff, wall: &Wall, out: &mut Out) {
    let mut places = places(takeoff, &wall.name, Kind::Batten);
    if places.is_empty() {
        return;
    }
    let part = format!("{}/batten", wall.name);
    let lines = centres(&places);
    let over = |line: &&CompressedLength| {
        wall.behind.iter().any(|it| **line > it.across.0 && **line < it.across.1 && it.walled)
    };
    let stopped = lines.iter().filter(over).count();
    out.say(&part, "full_count", lines.len() - stopped);
    out.say(&part, "over_roof_count", stopped);
    // The longest piece of a line stands for it.
    places.sort_by(|a, b| b.high.total_cmp(&a.high));
    for place in &places {
        let line = place.left + place.wide / 2.0;
        out.full(&format!("{part}@{}", out.in_label(line)), "length", place.high);
    }
}

/// How many casing sticks each kind of opening of a wall has, none included.
fn casings(work: &Work<'_>, takeoff: &Takeoff, wall: &Wall, out: &mut Out) {
    for hole in &wall.holes {
        let word = super::bill::word(hole.what);
        let of = takeoff.of(&wall.name, Kind::Casing).filter(|part| {
            let name = part.section.trim_end_matches(" casing");
            work.job.openings.iter().any(|it| it.name == name && it.what == hole.what)
        });
        let count: u32 = of.map(|part| part.count).sum();
        out.say(&format!("{}/{word}-casing", wall.name), "count", count);
    }
}
