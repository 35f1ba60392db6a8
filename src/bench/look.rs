//! How the person reads lengths at the bench.

use crate::quantity::{Denominator, Notation, Unit};

/// How the person reads lengths at the bench.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Full-size lengths.
    pub full: Notation,
    /// Model lengths.
    pub model: Notation,
    /// What an inch is divided into on the model.
    pub parts: Denominator,
}

impl Look {
    /// Feet and inches to sixteenths, and inches on the model to a part.
    #[must_use]
    pub fn inches(parts: Denominator) -> Self {
        Self { full: Notation::BUILDING, model: Notation::Inches(parts), parts }
    }

    /// Metres to the millimetre, and millimetres with hundredths on the model.
    #[must_use]
    pub fn metric(parts: Denominator) -> Self {
        Self { full: Notation::Decimal(Unit::Metre, 3), model: Notation::HUNDREDTHS, parts }
    }

    /// Whether lengths on the model are in millimetres.
    #[must_use]
    pub fn is_metric(self) -> bool {
        matches!(self.model, Notation::Decimal(Unit::Millimetre, _))
    }

    /// The unit errors on the model are told in, and its places.
    #[must_use]
    pub fn fine(self) -> (Unit, usize) {
        if self.is_metric() { (Unit::Millimetre, 2) } else { (Unit::Thou, 1) }
    }

    /// The unit errors at full size are told in, and its places.
    #[must_use]
    pub fn coarse(self) -> (Unit, usize) {
        if self.is_metric() { (Unit::Millimetre, 0) } else { (Unit::Inch, 2) }
    }
}

impl Default for Look {
    fn default() -> Self {
        Self::inches(Denominator::SIXTY_FOURTHS)
    }
}
