//! Fits, and shapes as they are drawn for a beam.

use crate::quantity::{Length, ModelLength, Space};

/// The opening cut for a casting: its frame and the fit on each side.
#[must_use]
pub fn casting_opening(
    (width, height): (ModelLength, ModelLength),
    fit: ModelLength,
) -> (ModelLength, ModelLength) {
    (width + fit * 2.0, height + fit * 2.0)
}

/// An outside shape as drawn for a beam of kerf `k` that runs on the line.
#[must_use]
pub fn drawn_outside<S: Space>(size: Length<S>, kerf: Length<S>) -> Length<S> {
    size + kerf
}

/// A hole as drawn for a beam of kerf `k` that runs on the line.
#[must_use]
pub fn drawn_hole<S: Space>(size: Length<S>, kerf: Length<S>) -> Length<S> {
    size - kerf
}
