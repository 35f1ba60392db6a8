//! Shapes cut from one another.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay as _;

use super::shape::{Area, Drawing, Layer, Point, Run};

/// One piece: its outside and the holes in it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Piece {
    /// Round it.
    pub outside: Vec<Point>,
    /// In it.
    pub holes: Vec<Vec<Point>>,
}

impl Piece {
    /// Draws it to be cut through.
    pub fn draw(&self, drawing: &mut Drawing) {
        drawing.closed(Layer::Through, &self.outside, Run::Outside);
        for hole in &self.holes {
            drawing.closed(Layer::Through, hole, Run::Hole);
        }
    }
}

type Corners = Vec<[f64; 2]>;

fn corners(points: &[Point]) -> Corners {
    points.iter().map(|point| point.in_mm()).collect()
}

fn pieces(shapes: Vec<Vec<Corners>>) -> Vec<Piece> {
    let points = |corners: Corners| corners.into_iter().map(Point::of_mm).collect::<Vec<_>>();
    shapes
        .into_iter()
        .filter_map(|shape| {
            let mut contours = shape.into_iter().map(points);
            Some(Piece { outside: contours.next()?, holes: contours.collect() })
        })
        .collect()
}

/// What is left of an outline within a window when rectangles are cut out of
/// it: a door that stands on the foot becomes a notch, a window a hole.
#[must_use]
pub fn cut(outline: &[Point], window: Area, holes: &[Area]) -> Vec<Piece> {
    let inside = corners(outline).overlay(
        &corners(&window.corners()),
        OverlayRule::Intersect,
        FillRule::NonZero,
    );
    if holes.is_empty() {
        return pieces(inside);
    }
    let holes: Vec<Corners> = holes.iter().map(|hole| corners(&hole.corners())).collect();
    pieces(inside.overlay(&holes, OverlayRule::Difference, FillRule::NonZero))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::kerf::signed_area;
    use crate::drawing::shape::mm;

    #[test]
    fn doors_are_notches_and_windows_are_holes() {
        let wall = Area::new(Point::default(), mm(100.0), mm(40.0));
        let door = Area::new(Point::of_mm([10.0, 0.0]), mm(12.0), mm(25.0));
        let window = Area::new(Point::of_mm([50.0, 15.0]), mm(10.0), mm(15.0));
        let left = cut(&wall.corners(), wall, &[door, window]);
        assert_eq!(left.len(), 1);
        assert_eq!(left[0].holes.len(), 1);
        let area = |points: &[Point]| signed_area(&corners(points)).abs();
        let outside = area(&left[0].outside);
        assert!((outside - (4000.0 - 300.0)).abs() < 1e-3, "{outside}");
        assert!((area(&left[0].holes[0]) - 150.0).abs() < 1e-3);
    }

    #[test]
    fn a_door_as_high_as_a_strip_leaves_two_pieces() {
        let strip = Area::new(Point::default(), mm(100.0), mm(20.0));
        let door = Area::new(Point::of_mm([40.0, -1.0]), mm(12.0), mm(30.0));
        assert_eq!(cut(&strip.corners(), strip, &[door]).len(), 2);
    }
}
