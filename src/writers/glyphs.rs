//! Letters as curves.

use ab_glyph::{Font as _, OutlineCurve, Point as Corner};

use crate::drawing::shape::Shape;
use crate::drawing::{Anchor, Point, type_face};
use crate::quantity::PaperLength;

/// One stroke of a letter, in place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stroke {
    /// Straight to a point.
    Line(Point, Point),
    /// Curved by one point between.
    Curve(Point, Point, Point),
}

/// The strokes round all letters of a text.
#[must_use]
pub fn strokes(shape: &Shape) -> Vec<Stroke> {
    let Shape::Text { at, size, turn, anchor, text } = shape else { return Vec::new() };
    let wide = type_face::width(text, *size);
    let mut pen = match anchor {
        Anchor::Start => PaperLength::ZERO,
        Anchor::Middle => -wide / 2.0,
        Anchor::End => -wide,
    };
    let (sin, cos) = turn.in_radians().sin_cos();
    let unit = *size / type_face::units();
    let mut strokes = Vec::new();
    for character in text.chars() {
        let glyph = type_face::glyph(character);
        let place = |corner: Corner| {
            let (x, y) = (pen + unit * f64::from(corner.x), unit * f64::from(corner.y));
            at.moved(Point::new(x * cos - y * sin, x * sin + y * cos))
        };
        let outline = type_face::font().outline(glyph);
        strokes.extend(outline.iter().flat_map(|outline| &outline.curves).map(
            |curve| match curve {
                OutlineCurve::Line(a, b) => Stroke::Line(place(*a), place(*b)),
                OutlineCurve::Quad(a, b, c) => Stroke::Curve(place(*a), place(*b), place(*c)),
                // The font is of quadratic curves; a cubic one would pass its
                // control points at their middle.
                OutlineCurve::Cubic(a, b, c, d) => {
                    let middle = Corner { x: (b.x + c.x) / 2.0, y: (b.y + c.y) / 2.0 };
                    Stroke::Curve(place(*a), place(middle), place(*d))
                }
            },
        ));
        pen += *size * type_face::advance(glyph);
    }
    strokes
}
