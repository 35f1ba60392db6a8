//! Sections: what a stick measures across.

use crate::quantity::{CompressedLength, Length, Model, Scale, Space};

/// The section of a stick, or the thickness and cover of a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section<S: Space> {
    /// The smaller way across.
    pub thickness: Length<S>,
    /// The other way across.
    pub width: Length<S>,
}

impl<S: Space> Section<S> {
    /// A section, however its two sides are given.
    #[must_use]
    pub fn new(one: Length<S>, other: Length<S>) -> Self {
        Self { thickness: one.min(other), width: one.max(other) }
    }
}

impl Section<crate::quantity::Compressed> {
    /// The section on the model.
    #[must_use]
    pub fn reduce(self, scale: &Scale) -> Section<Model> {
        Section { thickness: scale.reduce(self.thickness), width: scale.reduce(self.width) }
    }

    /// Whether both sides have a size.
    #[must_use]
    pub fn is_solid(self) -> bool {
        self.thickness > CompressedLength::ZERO && self.width > CompressedLength::ZERO
    }
}
