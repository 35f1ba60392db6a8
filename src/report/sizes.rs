//! Full size and model size in the person's notation.

use super::Seen;
use super::column::{self, Column};
use crate::job::model::Units;
use crate::quantity::{
    FullSize, Length, ModelLength, Notation, PrototypeLength, Scale, Unit, spread,
};

/// Full size and model size in the person's notation.
pub(super) struct Sizes {
    full: Notation,
    model: Notation,
    fine: Unit,
    scale: Option<Scale>,
}

impl Sizes {
    pub(super) fn of(seen: Seen<'_>) -> Self {
        Self {
            full: seen.job.about.full_notation(),
            model: seen.job.about.model_notation(),
            fine: match seen.job.about.units {
                Units::FeetInches => Unit::Thou,
                Units::Metric => Unit::Millimetre,
            },
            scale: seen.plan.scale.as_ref().ok().cloned(),
        }
    }

    pub(super) fn full<S: FullSize>(&self, length: Length<S>) -> String {
        self.full.show(&length)
    }

    pub(super) fn model<S: FullSize>(&self, length: Length<S>) -> String {
        match &self.scale {
            Some(scale) => self.model.show(&scale.reduce(length)),
            None => "-".to_owned(),
        }
    }

    /// A model length by itself.
    pub(super) fn model_alone(&self, length: ModelLength) -> String {
        self.model.show(&length)
    }

    /// A model length, and what it is at full size.
    pub(super) fn at_full(&self, length: ModelLength) -> String {
        let model = self.model.show(&length);
        match &self.scale {
            Some(scale) => {
                let full: PrototypeLength = scale.enlarge(length);
                format!("{model} ({})", self.full.show(&full))
            }
            None => model,
        }
    }

    /// A column of full-size lengths in the person's notation.
    pub(super) fn full_size(&self, id: &str, head: &str) -> Column {
        column::length(id, head, self.full)
    }

    /// A column of lengths on the model in the person's notation.
    pub(super) fn on_model(&self, id: &str, head: &str) -> Column {
        column::length(id, head, self.model).blank("-")
    }

    /// A column of uncertainties on the model.
    pub(super) fn spread(&self, id: &str, head: &str) -> Column {
        column::uncertainty(id, head, self.fine)
    }

    /// An uncertainty on the model: `±8.4 thou`.
    pub(super) fn fine(&self, sigma: ModelLength) -> String {
        spread(sigma, self.fine)
    }

    /// A full-size length on the model, where there is a scale.
    pub(super) fn reduce<S: FullSize>(&self, length: Length<S>) -> Option<ModelLength> {
        self.scale.as_ref().map(|scale| scale.reduce(length))
    }

    /// A length of the model at full size, where there is a scale.
    pub(super) fn enlarge(&self, length: ModelLength) -> Option<PrototypeLength> {
        self.scale.as_ref().map(|scale| scale.enlarge(length))
    }
}
