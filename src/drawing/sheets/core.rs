//! Core walls and floor, each piece with its openings.

use super::{Face, grain, heading, hole_area, label, layer_holes, notes, wall_outline};
use crate::drawing::outline::cut;
use crate::drawing::shape::{Area, Drawing, Layer, Point, Run};
use crate::drawing::template::{Bench, Figure};
use crate::quantity::{Compressed, ModelLength};
use crate::takeoff::{Kind, Part, Place, Wall};

/// A figure for every core piece of every wall, and the floor.
#[must_use]
pub fn figures(bench: &Bench<'_>) -> Vec<Figure> {
    let mut figures = Vec::new();
    for wall in bench.walls() {
        for part in bench.takeoff.of(&wall.name, Kind::Core) {
            for (at, place) in part.places.iter().enumerate() {
                let letter = if part.places.len() > 1 { letter(at) } else { String::new() };
                figures.push(piece(bench, wall, part, place, &letter));
            }
        }
    }
    let floors = bench.takeoff.parts.iter().filter(|part| part.kind == Kind::Floor);
    figures.extend(floors.map(|part| floor(bench, part)));
    figures
}

/// `a`, `b` and so on for pieces alike; numbers once the letters are spent.
fn letter(at: usize) -> String {
    match u8::try_from(at) {
        Ok(at) if at < 26 => char::from(b'a' + at).to_string(),
        _ => format!(".{}", at + 1),
    }
}

fn piece(bench: &Bench<'_>, wall: &Wall, part: &Part, place: &Place, letter: &str) -> Figure {
    let window = area(bench, place);
    let holes: Vec<Area> = layer_holes(bench, wall, &part.section);
    let mut drawing = Drawing::default();
    for left in cut(&wall_outline(bench, wall), window, &holes) {
        left.draw(&mut drawing);
    }
    let name = format!("{}{letter}", part.label);
    let outline = wall_outline(bench, wall);
    let face = Face { outline: &outline, window, holes: &holes };
    label(&mut drawing, face, &name);
    let written: Vec<Area> = drawing.extent_of(&[Layer::Mark]).into_iter().collect();
    let holes: Vec<Area> = holes.iter().copied().chain(written).collect();
    grain(&mut drawing, Face { holes: &holes, ..face }, true);
    let title = format!("{name}: {}, seen from outside", wall.title);
    heading(&mut drawing, &title);
    let size = format!("{} by {}", bench.both(part.length), bench.both(part.width));
    notes(&mut drawing, &[size, part.note.clone()]);
    Figure::new(name, wall.title.clone(), drawing)
}

fn area(bench: &Bench<'_>, place: &Place) -> Area {
    let corner = Point::new(bench.paper(place.left), bench.paper(place.foot));
    Area::new(corner, bench.paper(place.wide), bench.paper(place.high))
}

fn floor(bench: &Bench<'_>, part: &Part) -> Figure {
    let window = Area::new(Point::default(), bench.paper(part.length), bench.paper(part.width));
    let mut drawing = Drawing::default();
    drawing.part(window);
    let outline = window.corners();
    let face = Face { outline: &outline, window, holes: &[] };
    label(&mut drawing, face, &format!("{}, front at the foot", part.label));
    grain(&mut drawing, face, true);
    diagonal(&mut drawing, bench, part);
    Figure::new(part.label.clone(), "Floor", drawing)
}

/// The box is square when both diagonals are equal: this is what they should
/// measure.
fn diagonal(drawing: &mut Drawing, bench: &Bench<'_>, part: &Part) {
    let (x, y) = (part.model_length.in_inches(), part.model_width.in_inches());
    let diagonal = ModelLength::inches(x.hypot(y));
    let show = bench.job.about.model_notation().show(&diagonal);
    heading(drawing, &format!("{}: floor", part.label));
    let size = format!("{} by {}", bench.both(part.length), bench.both(part.width));
    notes(drawing, &[size, format!("both diagonals {show}; equal within 1/64 in up to 12 in")]);
}

/// The openings of a wall as marks, where nothing is to be cut.
pub(super) fn mark_openings(drawing: &mut Drawing, bench: &Bench<'_>, wall: &Wall, by: Point) {
    let holes = wall
        .holes
        .iter()
        .map(|hole: &crate::elevation::Hole<Compressed>| hole_area(bench, hole).moved(by));
    for hole in holes {
        drawing.closed(Layer::Mark, &hole.corners(), Run::Hole);
    }
}
