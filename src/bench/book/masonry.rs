//! Courses by their name, and how many bricks or blocks a wall takes.

use super::above_zero;
use crate::bench::answer::{Answer, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Line, any, named};
use crate::finding::Stop;
use crate::quantity::Piece;

/// A course by its name, with its source.
pub(super) struct Named {
    pub(super) words: &'static [&'static str],
    pub(super) course: f64,
    /// The face of one along the wall with its joint; 0 for what is no masonry.
    along: f64,
    pub(super) name: &'static str,
    pub(super) source: &'static str,
}

const BIA: &str = "Brick Industry Association Technical Notes 10, read in public tables";

/// Courses of brick and the like, in inches; the first that fits counts.
pub(super) const COURSES: [Named; 11] = [
    Named {
        words: &["uk brick", "metric brick", "uk metric", "british"],
        course: 75.0 / 25.4,
        along: 225.0 / 25.4,
        name: "UK metric brick, 75 mm",
        source: "UK metric coordinating size: 4 courses are 300 mm, read",
    },
    Named {
        words: &["roman"],
        course: 2.0,
        along: 12.0,
        name: "Roman brick, 1 course = 2 in",
        source: BIA,
    },
    Named {
        words: &["engineer"],
        course: 3.2,
        along: 8.0,
        name: "engineer brick, 5 courses = 16 in",
        source: BIA,
    },
    Named {
        words: &["economy"],
        course: 4.0,
        along: 8.0,
        name: "economy brick, 1 course = 4 in",
        source: BIA,
    },
    Named {
        words: &["utility"],
        course: 4.0,
        along: 12.0,
        name: "utility brick, 1 course = 4 in",
        source: BIA,
    },
    Named {
        words: &["norman"],
        course: 8.0 / 3.0,
        along: 12.0,
        name: "Norman brick, 3 courses = 8 in",
        source: BIA,
    },
    Named {
        words: &["block", "blocks"],
        course: 8.0,
        along: 16.0,
        name: "concrete block, 8 in",
        source: "trade knowledge, from memory",
    },
    Named {
        words: &["brick", "bricks", "modular"],
        course: 8.0 / 3.0,
        along: 8.0,
        name: "modular brick, 3 courses = 8 in",
        source: BIA,
    },
    Named {
        words: &["tar paper", "felt", "roofing paper"],
        course: 34.0,
        along: 0.0,
        name: "roofing paper 36 in wide, lapped 2 in",
        source: "common practice, no source",
    },
    Named {
        words: &["clapboard", "clapboards"],
        course: 4.25,
        along: 0.0,
        name: "clapboard, 4 1/4 in",
        source: "common practice, 4 to 4 1/2 in, no source",
    },
    Named {
        words: &["siding"],
        course: 4.5,
        along: 0.0,
        name: "siding, 4 1/2 in",
        source: "common practice, no source",
    },
];

/// Whether a line asks for the number of pieces in a wall of two sides.
pub(super) fn is_counted(line: &Line<'_>) -> bool {
    let masonry = COURSES.iter().any(|known| known.along > 0.0 && line.has(known.words));
    let many = line.has(&["how many", "number of", "count"]);
    let area = line.count(|piece| matches!(piece, Piece::Area(_))) > 0;
    masonry && (area || (many && line.lengths_left() > 1))
}

/// How many bricks or blocks a wall takes, openings not counted.
pub(super) fn laid(line: &mut Line<'_>, _: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "counting bricks";
    let example = "how many bricks in a wall 20 ft by 8 ft";
    let called = COURSES.iter().find(|known| known.along > 0.0 && line.has(known.words));
    let called = called.ok_or_else(|| line.missing(doing, "the kind of brick", example))?;
    let area = line.next(|piece| matches!(piece, Piece::Area(_))).map(|given| given.number());
    let sides = line.group(true).unwrap_or_default();
    let inches = match (area, sides.as_slice()) {
        (Some(area), _) => area,
        (None, [(one, true), (two, true)]) => one.number() * two.number(),
        _ => {
            let [high, long] = line.lengths([
                named(&["high", "height", "tall", "up"]),
                any(&["long", "wide", "length", "width", "wall"]),
            ]);
            let other = line.length(any(&[]));
            let (Some(one), Some(two)) = (long, high.or(other)) else {
                return Err(line.missing(doing, "the length or the height of the wall", example));
            };
            one.number() * two.number()
        }
    };
    above_zero("wall", inches)?;
    let square = 144.0 / (called.along * called.course);
    let count = square * inches / 144.0;
    Ok(Answer::new("courses", format!("{} of {}", plain(inches / 144.0), called.name))
        .says(format!(
            "{} of {}, {:.2} to a square foot; openings and breakage are not counted.",
            (count - 1e-6).ceil(),
            called.name,
            square
        ))
        .number("pieces", (count - 1e-6).ceil(), "")
        .number("to a square foot", square, "")
        .number("wall", inches / 144.0, "sq ft")
        .by(
            "area over the face of one with its joints",
            called.source,
            format!(
                "144 / ({} x {}) = {}",
                plain(called.along),
                plain(called.course),
                plain(square)
            ),
        )
        .beside(["courses 8 ft modular brick", "area 20 x 8 ft"]))
}
