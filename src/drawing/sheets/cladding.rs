//! Walls with every board, course or sheet, for scribing a sheet or laying
//! single pieces.

use super::{heading, hole_area, label_beside, notes, stretches, wall_outline};
use crate::drawing::outline::cut;
use crate::drawing::shape::{Area, Drawing, Layer, Point, mm};
use crate::drawing::template::{Bench, Figure};
use crate::job::building::{Cladding, CladdingKind};
use crate::quantity::{CompressedLength, PaperLength};
use crate::takeoff::{Kind, Wall};

/// A figure for every wall that is clad.
#[must_use]
pub fn figures(bench: &Bench<'_>) -> Vec<Figure> {
    let walls = bench.walls();
    let clad = walls.iter().filter(|wall| wall.claddings().next().is_some());
    clad.filter_map(|wall| figure(bench, wall)).collect()
}

fn figure(bench: &Bench<'_>, wall: &Wall) -> Option<Figure> {
    let holes: Vec<Area> = wall.holes.iter().map(|hole| hole_area(bench, hole)).collect();
    let outline = wall_outline(bench, wall);
    let whole = Area::new(Point::default(), bench.paper(wall.width), bench.paper(wall.height()));
    let mut drawing = Drawing::default();
    for left in cut(&outline, whole, &holes) {
        left.draw(&mut drawing);
    }
    let lines = lines(bench, wall);
    if lines.is_empty() {
        return None;
    }
    for line in &lines {
        line.draw(&mut drawing, &holes);
    }
    let name = format!("{}/cladding", wall.name);
    // Nothing is marked on a face that will be seen.
    label_beside(&mut drawing, whole, &name);
    let title = format!(
        "{name}: {}, {}, seen from outside",
        wall.title,
        wall.claddings().collect::<Vec<_>>().join(" and ")
    );
    heading(&mut drawing, &title);
    notes(&mut drawing, &[joints(bench, wall, lines.len())]);
    Some(Figure::new(name, wall.title.clone(), drawing))
}

fn joints(bench: &Bench<'_>, wall: &Wall, count: usize) -> String {
    format!(
        "{count} lines to scribe; {} long, to the faces of the cladding",
        bench.both(wall.width)
    )
}

/// A line to scribe.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Line {
    /// At an `x`, from a height to another.
    Upright(PaperLength, PaperLength, PaperLength),
    /// At a height, from an `x` to another.
    Level(PaperLength, PaperLength, PaperLength),
}

impl Line {
    /// Draws it outside the holes.
    fn draw(self, drawing: &mut Drawing, holes: &[Area]) {
        let (at, from, to, upright) = match self {
            Self::Upright(x, low, high) => (x, low, high, true),
            Self::Level(y, left, right) => (y, left, right, false),
        };
        let hair = mm(0.01);
        let meets = holes.iter().filter_map(|hole| {
            let (low, high) = (hole.least, hole.most);
            let ((a, b), span) = if upright {
                ((low.x, high.x), (low.y, high.y))
            } else {
                ((low.y, high.y), (low.x, high.x))
            };
            (at > a - hair && at < b + hair).then_some(span)
        });
        for (from, to) in stretches((from, to), meets) {
            let point = |along| if upright { Point::new(at, along) } else { Point::new(along, at) };
            drawing.line(Layer::Scribe, &[point(from), point(to)]);
        }
    }

    fn key(self) -> (bool, i64, i64, i64) {
        let micron = |length: PaperLength| (length.in_millimetres() * 1000.0).round() as i64;
        match self {
            Self::Upright(a, b, c) => (false, micron(a), micron(b), micron(c)),
            Self::Level(a, b, c) => (true, micron(a), micron(b), micron(c)),
        }
    }
}

/// The joints between the pieces of the cladding, each once.
fn lines(bench: &Bench<'_>, wall: &Wall) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for part in bench.takeoff.parts.iter().filter(|part| part.face == wall.name) {
        for place in &part.places {
            match part.kind {
                Kind::Board => {
                    lines.extend(upright(bench, wall, place.left, (place.foot, place.high)));
                }
                Kind::Clapboard => lines.extend(level(bench, wall, place.foot)),
                Kind::Iron => {
                    lines.extend(upright(bench, wall, place.left, (place.foot, place.high)));
                    lines.extend(level(bench, wall, place.foot));
                }
                Kind::Brick => {
                    for foot in courses(bench, wall, place.foot, place.high) {
                        lines.extend(level(bench, wall, foot));
                    }
                }
                _ => {}
            }
        }
    }
    lines.sort_by_key(|line| line.key());
    lines.dedup_by_key(|line| line.key());
    lines
}

fn upright(
    bench: &Bench<'_>,
    wall: &Wall,
    x: CompressedLength,
    (foot, high): (CompressedLength, CompressedLength),
) -> Option<Line> {
    let edge = x < CompressedLength::inches(0.1) || x > wall.width - CompressedLength::inches(0.1);
    let top = (foot + high).min(wall.top_at(x));
    let line = Line::Upright(bench.paper(x), bench.paper(foot), bench.paper(top));
    (!edge && top > foot).then_some(line)
}

fn level(bench: &Bench<'_>, wall: &Wall, y: CompressedLength) -> Option<Line> {
    if y < CompressedLength::inches(0.1) {
        return None;
    }
    let (left, right) = wall.width_at(y)?;
    Some(Line::Level(bench.paper(y), bench.paper(left), bench.paper(right)))
}

/// Brick courses between two heights, made whole.
fn courses(
    bench: &Bench<'_>,
    wall: &Wall,
    foot: CompressedLength,
    high: CompressedLength,
) -> Vec<CompressedLength> {
    let brick = |cladding: &&Cladding| {
        cladding.kind == CladdingKind::Brick && wall.is_clad_with(&cladding.name)
    };
    let said = bench.job.claddings.iter().find(brick).and_then(|cladding| cladding.unit.as_ref());
    let unit = said
        .and_then(|unit| unit.take.as_ref())
        .map_or(CompressedLength::inches(8.0 / 3.0), |take| CompressedLength::kept(take.length()));
    let (count, each) = crate::stock::redistribute(high, unit);
    (0..count).map(|number| foot + each * f64::from(number)).collect()
}
