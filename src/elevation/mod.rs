//! Faces laid out: every element and opening at its place.
//!
//! The same types serve the prototype and the compressed building, so that
//! one drawing routine shows both and the compiler keeps them apart.
//! [`lay_out`] goes from the job to the prototype: [`sized`] finds what each
//! size comes to, [`body`] works out walls and roof, [`place`] stands the
//! elements side by side.

pub mod body;
pub(crate) mod built;
mod check;
pub mod place;
pub mod sized;
#[cfg(test)]
pub(crate) mod tests;

pub use built::{Built, Heights, SetHeights};

use crate::finding::{Outcome, Staged, Stop};
use crate::job::Job;
use crate::job::building::OpeningWhat;
use crate::job::said::Size;
use crate::quantity::{Length, Prototype, Space};
use crate::survey::{SizeFound, Survey};

/// There is nothing to lay out yet: no stage behind this one failed.
fn no_building(doing: &str) -> Stop {
    Stop::idle(
        doing,
        "the job has no [[body]]",
        "[[body]] with name and eave is one wall alone, with its depth a building; then [[wall]] with a row",
    )
}

/// The prototype's faces.
#[derive(Clone, Debug, PartialEq)]
pub struct Faces {
    /// The body they enclose.
    pub body: Body<Prototype>,
    /// The faces laid out, in the order of the job.
    pub faces: Vec<Elevation<Prototype>>,
    /// The same faces as rows of sized elements, in the same order.
    pub rows: Vec<sized::Face>,
    /// Which of them is the front.
    pub front: usize,
    /// The storeys, from the foot of the wall up; none where the job names none.
    pub storeys: Vec<sized::Storey>,
}

impl Faces {
    /// The front, laid out.
    #[must_use]
    pub fn front(&self) -> &Elevation<Prototype> {
        &self.faces[self.front]
    }

    /// The front as a row of sized elements.
    #[must_use]
    pub fn front_row(&self) -> &sized::Face {
        &self.rows[self.front]
    }
}

/// Lays out the faces of the prototype.
///
/// # Errors
///
/// When the job has no building, names a front it does not have, or an element
/// has no size that can be built: the element is named.
pub fn lay_out(job: &Job, survey: &Survey) -> Staged<Faces> {
    lay_out_with(job, &|size| survey.size(size))
}

/// [`lay_out`] with another source of sizes.
///
/// # Errors
///
/// As [`lay_out`].
pub fn lay_out_with(job: &Job, sizes: &dyn Fn(&Size) -> Result<SizeFound, Stop>) -> Staged<Faces> {
    let mut reader = sized::Reader::new(job, sizes);
    let read = reader.faces()?;
    let body = body::prototype(&mut reader, &read)?;
    let storeys = reader.storeys(body.eave)?;
    let faces: Vec<_> = (read.rows.iter())
        .map(|row| place::lay(row, &body, row.role(&read.front), &place::AsFound))
        .collect();
    let mut findings = reader.findings;
    for (row, face) in read.rows.iter().zip(&faces) {
        findings.extend(check::face(job, row, row.role(&read.front), face, &body));
    }
    let value = Faces { body, faces, front: read.front.index, rows: read.rows, storeys };
    Ok(Outcome { value, findings })
}

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
#[derive(Clone, Copy, Debug, PartialEq)]
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
