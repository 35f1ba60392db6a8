//! Faces laid out: every element and opening at its place.
//!
//! The same types serve the prototype and the compressed building, so that
//! one drawing routine shows both and the compiler keeps them apart.

use crate::job::building::OpeningWhat;
use crate::quantity::{Length, Space};

/// One face, laid out from its left corner at ground level.
#[derive(Clone, Debug, PartialEq)]
pub struct Elevation<S: Space> {
    /// The face's short name.
    pub name: String,
    /// What it is called in drawings.
    pub title: String,
    /// From corner to corner.
    pub length: Length<S>,
    /// From the foot of the wall to the eave.
    pub height: Length<S>,
    /// Ridge above the foot of the wall; the eave for a level roof.
    pub ridge: Length<S>,
    /// Whether the gable triangle stands on this face.
    pub gable: bool,
    /// The elements, left to right, without gaps or overlaps.
    pub spans: Vec<Span<S>>,
    /// The doors and windows.
    pub holes: Vec<Hole<S>>,
}

/// One element of the row at its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Span<S: Space> {
    /// The element's name in the job, and its number when it is repeated:
    /// `bay#3`, `module#1/door-window`.
    pub label: String,
    /// The element's own name in the job, which all repeats share.
    pub element: String,
    /// Its left edge from the left corner.
    pub left: Length<S>,
    /// Its right edge from the left corner.
    pub right: Length<S>,
    /// What it is.
    pub kind: SpanKind,
}

/// What a span is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpanKind {
    /// Corner board or pier.
    Corner,
    /// Plain wall.
    Plain,
    /// Exactly an opening.
    Opening,
    /// One bay of a row of bays.
    Bay,
}

/// A door or window at its place, measured inside its trim.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole<S: Space> {
    /// Unique label on the face: the span's label, and the kind where a span
    /// holds two.
    pub label: String,
    /// Its kind: the name of an `[[opening]]`.
    pub kind: String,
    /// Door, window or hole.
    pub what: OpeningWhat,
    /// Left edge from the left corner.
    pub left: Length<S>,
    /// Foot above the foot of the wall.
    pub foot: Length<S>,
    /// Width.
    pub width: Length<S>,
    /// Height.
    pub height: Length<S>,
    /// Width of the trim round it; none is zero.
    pub trim: Length<S>,
}

impl<S: Space> Hole<S> {
    /// Right edge from the left corner.
    #[must_use]
    pub fn right(&self) -> Length<S> {
        self.left + self.width
    }

    /// Head above the foot of the wall.
    #[must_use]
    pub fn head(&self) -> Length<S> {
        self.foot + self.height
    }
}

/// The body that the faces enclose.
#[derive(Clone, Debug, PartialEq)]
pub struct Body<S: Space> {
    /// Length of the front.
    pub length: Length<S>,
    /// Depth behind the front, as built (half of it in half relief).
    pub depth: Length<S>,
    /// Eave above the foot of the wall.
    pub eave: Length<S>,
    /// Ridge above the foot of the wall.
    pub ridge: Length<S>,
    /// Rise over run of the main slope.
    pub pitch: f64,
    /// Level projection at the eaves.
    pub eave_overhang: Length<S>,
    /// Projection at the gables.
    pub rake_overhang: Length<S>,
}
