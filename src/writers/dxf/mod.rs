//! A drawing as DXF for a laser: R12 with POLYLINE and VERTEX, or R2000 with
//! LWPOLYLINE and its unit in `$INSUNITS`.
//!
//! Layers are named by what is done to the part; colours are left to the one
//! who cuts. R12 has no field for the unit: it stands in a text of the drawing
//! and in the file's name.

mod groups;
mod r12;
mod r2000;

use groups::Groups;

use crate::drawing::shape::{Item, Shape};
use crate::drawing::{Drawing, Layer, Point, Run, type_face};
use crate::quantity::PaperLength;

/// Layers that are cut, in order; what is for paper alone is left out.
const LAYERS: [Layer; 3] = Layer::CUT;

/// Which form of the format.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Version {
    /// AC1009: read by nearly everything.
    R12,
    /// AC1015: knows its unit.
    R2000,
}

/// The unit of the coordinates.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DxfUnit {
    /// Inches.
    Inches,
    /// Millimetres.
    Millimetres,
}

impl DxfUnit {
    /// Its value of `$INSUNITS` (the format owner's variable reference, READ).
    #[must_use]
    pub fn code(self) -> i16 {
        match self {
            Self::Inches => 1,
            Self::Millimetres => 4,
        }
    }

    /// The word in file names and texts.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Inches => "inches",
            Self::Millimetres => "mm",
        }
    }

    fn of(self, length: PaperLength) -> f64 {
        match self {
            Self::Inches => length.in_inches(),
            Self::Millimetres => length.in_millimetres(),
        }
    }

    fn point(self, at: Point) -> [f64; 2] {
        [self.of(at.x), self.of(at.y)]
    }
}

/// The drawing as the text of a DXF file; `words` travel with it as comments.
#[must_use]
pub fn write(drawing: &Drawing, version: Version, unit: DxfUnit, words: &[String]) -> String {
    let words = words.iter().map(|line| plain(line));
    let notes: Vec<String> = std::iter::once(note(unit)).chain(words).collect();
    match version {
        Version::R12 => r12::write(drawing, unit, &notes),
        Version::R2000 => r2000::write(drawing, unit, &notes),
    }
}

/// A line as a writer of either form wants it.
struct Line<'a> {
    layer: Layer,
    points: &'a [Point],
    closed: bool,
}

/// The items that are cut, lines and texts apart.
fn lines(drawing: &Drawing) -> impl Iterator<Item = Line<'_>> {
    cut(drawing).filter_map(|item| match &item.shape {
        Shape::Line { points, run, .. } => {
            Some(Line { layer: item.layer, points, closed: *run != Run::Open })
        }
        Shape::Text { .. } => None,
    })
}

fn cut(drawing: &Drawing) -> impl Iterator<Item = &Item> {
    drawing.in_cutting_order().into_iter()
}

/// A text as both forms write it: groups 10 to 50, anchored at its start.
fn text_groups(out: &mut Groups, item: &Item, unit: DxfUnit) {
    let Shape::Text { at, size, turn, anchor, text } = &item.shape else { return };
    let wide = type_face::width(text, *size);
    let back = match anchor {
        crate::drawing::Anchor::Start => PaperLength::ZERO,
        crate::drawing::Anchor::Middle => wide / 2.0,
        crate::drawing::Anchor::End => wide,
    };
    let (sin, cos) = turn.in_radians().sin_cos();
    let [x, y] = unit.point(at.moved(Point::new(-back * cos, -back * sin)));
    out.number(10, x).number(20, y).number(30, 0.0);
    out.number(40, unit.of(*size) * type_face::CAPITAL);
    out.text(1, &plain(text));
    out.number(50, turn.in_degrees());
}

/// A text without what DXF reads as its own signs (`%%`, `^`, `\`), other
/// letters by their number.
fn plain(text: &str) -> String {
    let mut out = String::new();
    for character in type_face::printable(text).chars() {
        match character {
            '%' if out.ends_with('%') => out.push_str(" %"),
            '^' => out.push_str("^ "),
            '\\' => out.push('/'),
            ' '..='~' => out.push(character),
            other => {
                for unit in other.encode_utf16(&mut [0; 2]) {
                    out.push_str(&format!("\\U+{unit:04X}"));
                }
            }
        }
    }
    out
}

/// Corners of everything that is cut.
fn extent(drawing: &Drawing, unit: DxfUnit) -> [[f64; 2]; 2] {
    let area = drawing.extent_of(&LAYERS).unwrap_or_default();
    [unit.point(area.least), unit.point(area.most)]
}

/// What a file says of itself.
fn note(unit: DxfUnit) -> String {
    format!("unit: {}; layers: through, scribe, mark", unit.word())
}
