//! Each degenerate case by name, with what to do about it.

use super::marked::{Known, Marked, Rect};
use crate::finding::Stop;
use crate::solve::camera::quad::Fault;
use crate::solve::camera::solution::Trouble;

fn stop(marked: &Marked, trouble: impl Into<String>, hint: &str) -> Stop {
    Stop::new(format!("measuring on the picture {}", marked.id), trouble, hint)
}

/// Corners that are no rectangle.
#[must_use]
pub fn corners(marked: &Marked, rect: &Rect, fault: Fault) -> Stop {
    let name = |corner: usize| marked.marks[rect.corners[corner]].id.as_str();
    let (what, hint) = match fault {
        Fault::Duplicate(a, b) => (
            format!("duplicate corners: {} and {} are one place", name(a), name(b)),
            "mark each corner where it is, or leave the rectangle out",
        ),
        Fault::Collinear(k) => (
            format!("collinear corners: {} lies on the line of its neighbours", name(k)),
            "a rectangle seen edge-on says nothing: choose another, or mark it again",
        ),
        Fault::Crossed => (
            "crossed order: the outline crosses itself".to_owned(),
            "give the corners in the order top left, top right, bottom right, bottom left",
        ),
        Fault::Mirrored => (
            "mirrored order: the corners run the wrong way round".to_owned(),
            "start at the top left and go to the top right; if the picture is printed \
             the wrong way round, flip it first",
        ),
        Fault::Dented(k) => (
            format!("{} points inward, which no rectangle in a picture does", name(k)),
            "mark that corner again",
        ),
    };
    stop(marked, format!("rectangle {}: {what}", rect.id), hint)
}

/// A rectangle turned by a quarter or more against the others.
#[must_use]
pub fn turned(marked: &Marked, rect: &Rect) -> Stop {
    let first = marked.marks[rect.corners[0]].id.as_str();
    stop(
        marked,
        format!(
            "rectangle {}: turned order: its first corner {first} is not the top left one, as in \
             the other rectangles",
            rect.id
        ),
        "start at the top left and go to the top right",
    )
}

/// A known length of zero or less.
#[must_use]
pub fn no_length(marked: &Marked, known: &Known) -> Stop {
    let name = marked.name(known.span);
    stop(
        marked,
        format!("the known length {name} is zero or negative ({})", known.value),
        "give a length greater than zero",
    )
}

/// No known length at all.
#[must_use]
pub fn nothing_known(marked: &Marked) -> Stop {
    stop(
        marked,
        "no known length, so nothing has a size",
        "give one known length, better two: one level and one plumb",
    )
}

/// The adjustment could not be done.
#[must_use]
pub fn unsolved(marked: &Marked, trouble: Trouble) -> Stop {
    match trouble {
        Trouble::BeyondHorizon => stop(
            marked,
            "a mark lies beyond the horizon of the wall, where no point of it can be seen",
            "look for a corner marked on the wrong line, or a mark that is not on this wall",
        ),
        Trouble::Undetermined => stop(
            marked,
            "the marks do not fix the wall",
            "mark a rectangle with level and plumb sides on it",
        ),
        Trouble::Unsettled => stop(
            marked,
            "the adjustment does not settle",
            "look for a mark on the wrong corner, or a known length on the wrong side",
        ),
    }
}

/// Camera level, turned, and no focal length.
#[must_use]
pub fn level_and_turned(marked: &Marked) -> Stop {
    stop(
        marked,
        "camera level and turned with no focal length: how far the wall is turned cannot be \
         told from how wide it is",
        "give a known length in the other direction (one level and one plumb), or the focal \
         length of the picture",
    )
}

/// The squared focal length came out zero or negative and the marks disagree.
#[must_use]
pub fn impossible_focal(marked: &Marked, worst: &str) -> Stop {
    stop(
        marked,
        format!(
            "the squared focal length is not positive: these corners are no rectangles on one \
             wall (the mark that fits worst is {worst})"
        ),
        "mark it again; see that all rectangles lie on one wall with level and plumb sides; \
         a print cut on one side is said to be a print",
    )
}
