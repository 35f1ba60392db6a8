//! A length that is exact where it can be.

use crate::quantity::{Exact, FullSize, Length, Model, Scale, Space, Stepped, Steps, Unit};

/// A length that stays exact while it came from what was written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size<S: Space> {
    exact: Option<Exact<S>>,
    length: Length<S>,
}

impl<S: Space> Size<S> {
    /// An exact one.
    #[must_use]
    pub fn exact(exact: Exact<S>) -> Self {
        Self { exact: Some(exact), length: exact.length() }
    }

    /// One that was worked out from readings.
    #[must_use]
    pub fn float(length: Length<S>) -> Self {
        Self { exact: None, length }
    }

    /// The nearest floating point length.
    #[must_use]
    pub fn length(&self) -> Length<S> {
        self.length
    }

    /// The amount in a unit, rounded once.
    #[must_use]
    pub fn amount(&self, unit: Unit) -> f64 {
        match self.exact.and_then(|exact| exact.in_unit(unit)) {
            Some(amount) => amount.value(),
            None => self.length.in_inches() / unit.in_inches(),
        }
    }
}

impl<S: FullSize> Size<S> {
    /// On the model.
    #[must_use]
    pub fn reduce(&self, scale: &Scale) -> Size<Model> {
        match self.exact.and_then(|exact| scale.reduce_exact(exact)) {
            Some(exact) => Size::exact(exact),
            None => Size::float(scale.reduce(self.length)),
        }
    }
}

impl Size<Model> {
    /// At full size.
    #[must_use]
    pub fn enlarge<S: FullSize>(&self, scale: &Scale) -> Size<S> {
        match self.exact.and_then(|exact| scale.enlarge_exact(exact)) {
            Some(exact) => Size::exact(exact),
            None => Size::float(scale.enlarge(self.length)),
        }
    }
}

impl<S: Space> Stepped for Size<S> {
    fn steps(&self, unit: Unit, parts: u64) -> Option<Steps> {
        let exact = self.exact.and_then(|exact| exact.steps(unit, parts));
        exact.or_else(|| self.length.steps(unit, parts))
    }
}
