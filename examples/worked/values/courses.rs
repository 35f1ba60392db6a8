//! Boards, clapboards, engraved lines and courses of shingles.

use scantling::quantity::CompressedLength;
use scantling::takeoff::{Engraved, Kind, Part, Takeoff};

use super::out::Out;
use super::{Work, labels};

pub(crate) fn say(work: &Work<'_>, takeoff: &Takeoff, out: &mut Out) {
    for wall in &work.building.walls {
        for layer in &wall.layers {
            for (kind, cladding) in labels::kinds(work.job, layer) {
                let Some(cladding) = cladding else { continue };
                let part = format!("{}/{kind}", wall.name);
                match kind {
                    "boards" => boards(takeoff, &wall.name, &cladding.name, &part, out),
                    "clapboard" => bands(takeoff, &wall.name, &cladding.name, &part, out),
                    _ => {}
                }
            }
        }
    }
    for sheet in &takeoff.engraved {
        engraved(work, takeoff, sheet, out);
    }
    for courses in &takeoff.courses {
        for part in [
            format!("{}/shingles", courses.roof),
            format!("{}/shingles-{}", courses.roof, courses.over),
        ] {
            out.say(&part, "count", courses.count);
            out.full(&part, "exposure", courses.exposure);
            out.full(&part, "last", courses.last);
        }
    }
}

/// How many boards stand side by side, and what the last one shows.
fn boards(takeoff: &Takeoff, wall: &str, cladding: &str, part: &str, out: &mut Out) {
    let section = format!("{cladding} board");
    let row = takeoff.runs.iter().find(|run| run.face == wall && run.section == section);
    let Some(row) = row else { return };
    out.say(part, "count", row.count);
    let of = takeoff.of(wall, Kind::Board).filter(|it| it.section == section);
    let places = of.flat_map(|it| &it.places);
    let last = places.max_by(|a, b| a.left.total_cmp(&b.left));
    if let Some(last) = last {
        out.full(part, "last", last.wide);
    }
}

/// Courses of clapboards between fixed lines, from the foot up.
fn bands(takeoff: &Takeoff, wall: &str, cladding: &str, part: &str, out: &mut Out) {
    let section = format!("{cladding} strip");
    let runs = takeoff.runs.iter().filter(|run| run.face == wall && run.section == section);
    for (number, run) in runs.enumerate() {
        let band = format!("{part}/band-{}", number + 1);
        out.say(&band, "count", run.count);
        out.full(&band, "exposure", run.used);
    }
}

/// An engraved sheet, and its pieces from the left.
fn engraved(work: &Work<'_>, takeoff: &Takeoff, sheet: &Engraved, out: &mut Out) {
    let part = format!("{}/engraved", sheet.wall);
    out.say(&part, "boards", sheet.lines.len() + 1);
    out.say(&part, "lines", sheet.lines.len());
    out.full(&part, "pitch", sheet.pitch);
    for (number, line) in sheet.lines.iter().enumerate() {
        out.full(&part, &format!("line_{}", number + 1), *line);
    }
    if let Some(first) = sheet.splices.first() {
        out.say(&part, "splice_line", first);
    }
    if let Some(leg) = sheet.leg {
        let leg = out.scale().reduce(leg);
        out.model(&part, "leg", leg);
    }
    let flanges = work.building.flanges.iter().filter(|it| it.wall.to_string() == sheet.wall);
    if let Some(flange) = flanges.min_by(|a, b| a.clear.length.total_cmp(&b.clear.length)) {
        out.model(&part, "flange_clear", flange.clear.length);
    }
    pieces(takeoff, sheet, &part, out);
}

/// The pieces between the splices.
fn pieces(takeoff: &Takeoff, sheet: &Engraved, part: &str, out: &mut Out) {
    let section = format!("{} sheet", sheet.layer);
    let mut pieces: Vec<(CompressedLength, &Part)> = takeoff
        .of(&sheet.wall, Kind::Scribed)
        .filter(|it| it.section == section)
        .flat_map(|it| it.places.iter().map(move |place| (place.left, it)))
        .collect();
    pieces.sort_by(|a, b| a.0.total_cmp(&b.0));
    let Some(first) = pieces.first().map(|(left, _)| *left) else { return };
    for (number, (left, piece)) in pieces.iter().enumerate() {
        let name = format!("{part}-{}", number + 1);
        out.full(&name, "width", piece.width);
        out.full(&name, "height", piece.length);
        let hair = CompressedLength::inches(0.01);
        let (from, to) = (*left - first + hair, *left - first + piece.width - hair);
        let scribed = sheet.lines.iter().filter(|line| **line > from && **line < to).count();
        out.say(&name, "scribe_lines", scribed);
    }
}
