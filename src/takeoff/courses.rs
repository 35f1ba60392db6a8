//! Rows of equal pieces: boards across a wall, courses up it, planks along a
//! deck, posts along a front, stairs.
//!
//! The rules on plain lengths stand in [`crate::sums`]; here is what needs the
//! words of a job.

use crate::job::building::Remainder;
use crate::quantity::{Length, Space};
use crate::sums::rows::{SLACK, nearest_whole};

pub use crate::sums::rows::{
    CourseRun, Stairs, at_centres, between_lines, hypotenuse, pieces_over, planks, sheets_across,
    slate_exposure, slope_courses, spaced, stairs, stairs_by_code, tiers,
};

/// Whole pieces and the edges between them.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardRow<S: Space> {
    /// Edges of the boards from the left, first and last included.
    pub edges: Vec<Length<S>>,
    /// The pitch used.
    pub pitch: Length<S>,
}

/// Lays vertical boards of pitch `q` on a width.
///
/// Leave: `ceil(W / q)` boards, the last what is left. Centre: two end boards
/// of `(W - (k - 1) q) / 2`. Adjust: `q' = W / round(W / q)`, where that is
/// within 2 percent of `q`; else as centre.
#[must_use]
pub fn boards<S: Space>(width: Length<S>, pitch: Length<S>, rest: Remainder) -> BoardRow<S> {
    if pitch <= Length::ZERO || width <= pitch {
        return BoardRow { edges: vec![Length::ZERO, width], pitch: width };
    }
    let whole = (width / pitch + SLACK).floor();
    let left_over = width - pitch * whole;
    let even = left_over.abs() <= pitch * (2.0 * SLACK);
    let adjusted = width / nearest_whole(width / pitch).max(1.0);
    let close = (adjusted / pitch - 1.0).abs() <= 0.02;
    match rest {
        _ if even => stepped(width, Length::ZERO, width / whole),
        Remainder::Leave => stepped(width, Length::ZERO, pitch),
        Remainder::Adjust if close => stepped(width, Length::ZERO, adjusted),
        Remainder::Centre | Remainder::Adjust => {
            stepped(width, (width - pitch * (whole - 1.0)) / 2.0, pitch)
        }
    }
}

/// Edges at 0, `first`, then every `pitch`, then the width.
fn stepped<S: Space>(width: Length<S>, first: Length<S>, pitch: Length<S>) -> BoardRow<S> {
    let mut edges = vec![Length::ZERO];
    let mut at = if first > Length::ZERO { first } else { pitch };
    let mut number = 0.0;
    let start = at;
    while at < width - pitch * SLACK {
        edges.push(at);
        number += 1.0;
        at = start + pitch * number;
    }
    edges.push(width);
    BoardRow { edges, pitch }
}

#[cfg(test)]
mod tests;
