//! The opening for each kind of casting, as it is cut in the core.

use super::{casting_hole, heading, notes};
use crate::drawing::shape::{Area, Drawing, Layer, Point, Run};
use crate::drawing::template::{Bench, Figure};

/// A figure for every kind of opening that is filled by a casting.
#[must_use]
pub fn figures(bench: &Bench<'_>) -> Vec<Figure> {
    bench.job.openings.iter().filter_map(|opening| figure(bench, &opening.name)).collect()
}

fn figure(bench: &Bench<'_>, kind: &str) -> Option<Figure> {
    let (wide, high) = casting_hole(bench, kind)?;
    let holes = bench.walls();
    let count = holes.iter().flat_map(|wall| &wall.holes).filter(|hole| hole.kind == kind).count();
    if count == 0 {
        return None;
    }
    let mut drawing = Drawing::default();
    let area = Area::new(Point::default(), wide, high);
    drawing.closed(Layer::Through, &area.corners(), Run::Hole);
    heading(&mut drawing, &format!("{kind}: {count} of these"));
    let notation = bench.job.about.model_notation();
    let size =
        format!("{} by {}: frame and fit, after paint", notation.show(&wide), notation.show(&high));
    notes(&mut drawing, &[size]);
    Some(Figure::new(format!("opening/{kind}"), kind, drawing))
}
