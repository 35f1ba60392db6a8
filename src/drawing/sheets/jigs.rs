//! Framing jigs: what a stick is laid on to be cut and glued.

use super::{heading, notes};
use crate::drawing::shape::{Area, Drawing, Layer, Point, Run, mm};
use crate::drawing::template::{Bench, Figure};
use crate::job::body::RoofKind;
use crate::job::building::Member;
use crate::job::said::Size;
use crate::quantity::{CompressedLength, PaperLength};
use crate::takeoff::Kind;

type Full = CompressedLength;

/// Ridge board, full size, where the job names none: the take-off's.
const RIDGE_INCHES: f64 = 1.5;

/// A jig for the rafters, and one for every member.
#[must_use]
pub fn figures(bench: &Bench<'_>) -> Vec<Figure> {
    let rafters = rafters(bench);
    rafters
        .into_iter()
        .chain(bench.job.members.iter().filter_map(|one| member(bench, one)))
        .collect()
}

fn size(size: Option<&Size>) -> Option<Full> {
    size.and_then(|size| size.take.as_ref()).map(|said| Full::kept(said.length()))
}

/// Width and thickness of a member's stick at full size.
fn section(bench: &Bench<'_>, key: &str) -> Option<Full> {
    let choice = bench.stock.of(key)?;
    Some(choice.wanted.full.width).filter(|width| *width > Full::ZERO)
}

/// A pair of rafters on their plate: plumb cuts at ridge and tail.
fn rafters(bench: &Bench<'_>) -> Option<Figure> {
    let roof = bench.job.main_roof()?;
    roof.rafters.as_ref()?;
    let body = &bench.built.body;
    if !matches!(roof.kind, RoofKind::Gable | RoofKind::Monitor) || body.pitch <= 0.0 {
        return None;
    }
    let count = bench.takeoff.parts.iter().find(|part| part.kind == Kind::Rafter)?.count;
    let depth = section(bench, "rafter").unwrap_or(Full::inches(6.0));
    let (half, over) = (bench.paper(body.depth / 2.0), bench.paper(body.eave_overhang));
    let board = bench.paper(Full::inches(RIDGE_INCHES)) / 2.0;
    let upright = bench.paper(depth) * body.pitch.hypot(1.0);
    let at = |x: PaperLength| Point::new(x, (half - x.abs()) * body.pitch);
    let low = |point: Point| Point::new(point.x, point.y - upright);
    let mut drawing = Drawing::default();
    for side in [-1.0, 1.0] {
        let (tail, top) = (at((half + over) * side), at(board * side));
        drawing.closed(Layer::Through, &[tail, top, low(top), low(tail)], Run::Outside);
        let wall = half * side;
        drawing.dashed(Layer::Mark, &[Point::new(wall, mm(-12.0) - upright), at(wall)]);
    }
    drawing.dashed(Layer::Mark, &[Point::new(-half, -upright), Point::new(half, -upright)]);
    let ridge =
        Area::new(Point::new(-board, at(board).y - upright * 1.2), board * 2.0, upright * 1.2);
    drawing.closed(Layer::Mark, &ridge.corners(), Run::Outside);
    heading(
        &mut drawing,
        &format!("frame/rafters: {count} rafters and tails, on the faces of the walls"),
    );
    let plumb = body.pitch.atan().to_degrees();
    let words =
        format!("plumb cuts {plumb:.1} degrees from square; broken lines: wall faces and plate");
    notes(&mut drawing, &[words, format!("span {}", bench.both(body.depth))]);
    Some(Figure::new("frame/rafters", "Rafters", drawing))
}

fn member(bench: &Bench<'_>, member: &Member) -> Option<Figure> {
    match &member.legs {
        Some([level, upright]) => brace(bench, member, size(Some(level))?, size(Some(upright))?),
        None => straight(bench, member),
    }
}

/// A brace between an upright and a level timber, both drawn to lay it on.
fn brace(bench: &Bench<'_>, member: &Member, level: Full, upright: Full) -> Option<Figure> {
    let depth = bench.paper(section(bench, &member.name).unwrap_or(Full::inches(4.0)));
    let (x, y) = (bench.paper(level), bench.paper(upright));
    if x <= mm(0.1) || y <= mm(0.1) {
        return None;
    }
    let length = PaperLength::millimetres(x.in_millimetres().hypot(y.in_millimetres()));
    // The outer side runs from the post's face to the beam's; the inner side
    // is one depth nearer the corner, its ends flat on both.
    let (inner_x, inner_y) = (x - depth * (length / y), y - depth * (length / x));
    let mut drawing = Drawing::default();
    let corner = Point::default();
    let long = [Point::new(corner.x, -y), Point::new(x, corner.y)];
    let closed = if inner_x > mm(0.1) && inner_y > mm(0.1) {
        vec![long[0], long[1], Point::new(inner_x, mm(0.0)), Point::new(mm(0.0), -inner_y)]
    } else {
        vec![long[0], long[1], corner]
    };
    drawing.closed(Layer::Through, &closed, Run::Outside);
    let beyond = mm(6.0);
    drawing.line(Layer::Mark, &[corner, Point::new(x + beyond, mm(0.0))]);
    drawing.line(Layer::Mark, &[corner, Point::new(mm(0.0), -y - beyond)]);
    let angle = y.in_millimetres().atan2(x.in_millimetres()).to_degrees();
    heading(&mut drawing, &format!("frame/{}: {}", member.name, words(bench, member)));
    let full = Full::inches(level.in_inches().hypot(upright.in_inches()));
    let cuts = format!(
        "{angle:.1} degrees from level, {:.1} at the post; long side {}",
        90.0 - angle,
        bench.both(full)
    );
    notes(&mut drawing, &[cuts]);
    Some(Figure::new(format!("frame/{}", member.name), member.name.clone(), drawing))
}

/// A post or beam: its length between two stops.
fn straight(bench: &Bench<'_>, member: &Member) -> Option<Figure> {
    let length = size(member.length.as_ref())?;
    let width = section(bench, &member.name).unwrap_or(Full::inches(6.0));
    let mut drawing = Drawing::default();
    let (long, wide) = (bench.paper(length), bench.paper(width));
    drawing.part(Area::new(Point::default(), long, wide));
    for x in [mm(0.0), long] {
        let stop = [Point::new(x, mm(-4.0)), Point::new(x, wide + mm(4.0))];
        drawing.line(Layer::Mark, &stop);
    }
    heading(&mut drawing, &format!("frame/{}: {}", member.name, words(bench, member)));
    notes(&mut drawing, &[format!("{} long", bench.both(length))]);
    Some(Figure::new(format!("frame/{}", member.name), member.name.clone(), drawing))
}

/// What it is and how many are wanted.
fn words(bench: &Bench<'_>, member: &Member) -> String {
    let parts = bench.takeoff.parts.iter().filter(|part| part.section == member.name);
    let count: u32 = parts.map(|part| part.count).sum();
    let what = if member.what.is_empty() { "timber" } else { &member.what };
    format!("{what}, {count} of these")
}
