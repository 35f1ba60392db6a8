//! Outlines as a beam has to run: it eats half its kerf on each side, so
//! outsides are drawn half a kerf larger all round and holes half smaller
//! (laser service pages, READ; see `data/fits.toml` for kerfs).

use super::shape::{Area, Drawing, Item, Layer, Point, Run, Shape, mm};
use crate::finding::Stop;
use crate::quantity::{ModelLength, PaperLength};

/// The drawing with every closed line that is cut through moved by half the
/// kerf.
///
/// # Errors
/// When a shape is so small that the kerf would eat it.
pub fn compensated(drawing: &Drawing, kerf: PaperLength) -> Result<Drawing, Stop> {
    if kerf <= PaperLength::ZERO {
        return Ok(drawing.clone());
    }
    let items = drawing.items.iter().map(|item| match (&item.shape, item.layer) {
        (Shape::Line { points, run, dashed }, Layer::Through) if *run != Run::Open => {
            let by = if *run == Run::Outside { kerf / 2.0 } else { -kerf / 2.0 };
            let points = offset(points, by)?;
            let shape = Shape::Line { points, run: *run, dashed: *dashed };
            Ok(Item { layer: item.layer, shape })
        }
        _ => Ok(item.clone()),
    });
    Ok(Drawing { items: items.collect::<Result<_, Stop>>()? })
}

/// A closed line moved outwards by a distance, or inwards where it is
/// negative; corners stay corners.
///
/// # Errors
/// When an edge would turn round: the shape is smaller than the move.
pub fn offset(points: &[Point], by: PaperLength) -> Result<Vec<Point>, Stop> {
    let corners: Vec<[f64; 2]> = points.iter().map(|point| point.in_mm()).collect();
    let count = corners.len();
    let turning = signed_area(&corners).signum();
    let distance = by.in_millimetres() * turning;
    let edge = |at: usize| {
        let ([x0, y0], [x1, y1]) = (corners[at % count], corners[(at + 1) % count]);
        let (dx, dy) = (x1 - x0, y1 - y0);
        let length = dx.hypot(dy);
        (dx / length, dy / length)
    };
    let moved: Vec<[f64; 2]> = (0..count)
        .map(|at| {
            let (before, after) = (edge(at + count - 1), edge(at));
            // Both edges move by the distance along their outward normals; the
            // corner goes where they meet.
            let (nx, ny) = (before.1 + after.1, -before.0 - after.0);
            let along = 1.0 + before.0 * after.0 + before.1 * after.1;
            [corners[at][0] + nx * distance / along, corners[at][1] + ny * distance / along]
        })
        .collect();
    let turned = (0..count).any(|at| {
        let ([x0, y0], [x1, y1]) = (moved[at], moved[(at + 1) % count]);
        let (dx, dy) = edge(at);
        let ahead = (x1 - x0) * dx + (y1 - y0) * dy;
        ahead.is_nan() || ahead <= 0.0
    });
    if turned || count < 3 {
        return Err(Stop::new(
            "allowing for the kerf",
            "a shape is smaller than the kerf, or doubles back on itself",
            "cut it with a knife, or make it larger",
        ));
    }
    Ok(moved.into_iter().map(Point::of_mm).collect())
}

/// Area of a closed line, positive where it runs against the clock.
#[must_use]
pub fn signed_area(corners: &[[f64; 2]]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>() / 2.0
}

/// Whether a point lies inside a closed line.
#[must_use]
pub fn inside(outline: &[Point], at: Point) -> bool {
    let next = outline.iter().cycle().skip(1);
    let crossings = outline.iter().zip(next).filter(|(a, b)| {
        (a.y > at.y) != (b.y > at.y) && at.x < a.x + (b.x - a.x) * ((at.y - a.y) / (b.y - a.y))
    });
    crossings.count() % 2 == 1
}

/// The piece that measures a kerf: a square of 2.000 in with a hole of half
/// that. Cut it with the kerf set to nothing: what the square is short by is
/// the kerf, and so is what the hole is too large by.
#[must_use]
pub fn test_square() -> Drawing {
    let side = Area::new(Point::default(), PaperLength::inches(2.0), PaperLength::inches(2.0));
    let quarter = Point::new(PaperLength::inches(0.5), PaperLength::inches(0.5));
    let hole = Area::new(quarter, PaperLength::inches(1.0), PaperLength::inches(1.0));
    let mut drawing = Drawing::default();
    drawing.part(side);
    drawing.closed(Layer::Through, &hole.corners(), Run::Hole);
    let size = mm(3.0);
    let at = Point::of_mm([3.0, 5.0]);
    drawing.text(Layer::Mark, at, size, super::Anchor::Start, "test 2.000 in, hole 1.000 in");
    drawing
}

/// The kerf on paper.
#[must_use]
pub fn on_paper(kerf: ModelLength) -> PaperLength {
    super::shape::on_paper(kerf)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn size(points: &[Point]) -> (f64, f64) {
        let mut drawing = Drawing::default();
        drawing.closed(Layer::Through, points, Run::Outside);
        let area = drawing.extent().expect("a shape");
        (area.width().in_inches(), area.height().in_inches())
    }

    /// A 2.000 part is drawn 2.007, an opening of 0.448 by 0.602 is drawn
    /// 0.441 by 0.595 with a kerf of 7 thou (COMPUTED, trade reference 4.8).
    #[test]
    fn half_a_kerf_goes_outside_and_inside() {
        let kerf = PaperLength::thou(7.0);
        let square =
            Area::new(Point::default(), PaperLength::inches(2.0), PaperLength::inches(2.0));
        let (wide, high) = size(&offset(&square.corners(), kerf / 2.0).expect("large enough"));
        assert!((wide - 2.007).abs() < 1e-9 && (high - 2.007).abs() < 1e-9);
        let hole =
            Area::new(Point::default(), PaperLength::inches(0.448), PaperLength::inches(0.602));
        let mut turned = hole.corners();
        turned.reverse();
        for corners in [hole.corners(), turned] {
            let (wide, high) = size(&offset(&corners, -kerf / 2.0).expect("large enough"));
            assert!((wide - 0.441).abs() < 1e-9 && (high - 0.595).abs() < 1e-9);
        }
    }

    #[test]
    fn a_gable_keeps_its_slopes() {
        let gable = [[0.0, 0.0], [40.0, 0.0], [40.0, 20.0], [20.0, 30.0], [0.0, 20.0]];
        let points: Vec<Point> = gable.into_iter().map(Point::of_mm).collect();
        let moved = offset(&points, mm(0.1)).expect("large enough");
        let slope = |a: Point, b: Point| (b.y - a.y) / (b.x - a.x);
        assert!((slope(moved[3], moved[4]) - 0.5).abs() < 1e-9);
        // A slope of 1 in 2 rises by the move times sqrt(5) / 2.
        assert!(moved[3].y.agrees(mm(30.0 + 0.1 * 5.0_f64.sqrt() / 2.0), mm(1e-9)));
    }

    #[test]
    fn a_sliver_is_refused() {
        let sliver = Area::new(Point::default(), mm(0.1), mm(20.0));
        assert!(offset(&sliver.corners(), mm(-0.1)).is_err());
    }
}
