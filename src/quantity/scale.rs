//! Scales as exact ratios.

use std::fmt;

use super::space::{FullSize, Length, Model, ModelLength, PaperLength};

/// An exact ratio of whole numbers, greater than zero, in lowest terms.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Ratio {
    numerator: u64,
    denominator: u64,
}

impl Ratio {
    /// The ratio `numerator : denominator`; nothing when either is zero.
    #[must_use]
    pub fn new(numerator: u64, denominator: u64) -> Option<Self> {
        if numerator == 0 || denominator == 0 {
            return None;
        }
        let common = gcd(numerator, denominator);
        Some(Self { numerator: numerator / common, denominator: denominator / common })
    }

    /// The number above the line.
    #[must_use]
    pub fn numerator(self) -> u64 {
        self.numerator
    }

    /// The number below the line.
    #[must_use]
    pub fn denominator(self) -> u64 {
        self.denominator
    }

    /// The nearest floating point value.
    #[must_use]
    pub fn value(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// A scale: how many full-size units one model unit stands for, exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scale {
    /// The name it was asked for by, or its ratio as text.
    pub name: String,
    /// Full size divided by model size: 48 for 1:48, 3048/35 for 3.5 mm to the foot.
    pub ratio: Ratio,
}

impl Scale {
    /// A scale of that name and ratio.
    pub fn new(name: impl Into<String>, ratio: Ratio) -> Self {
        Self { name: name.into(), ratio }
    }

    /// A full-size length on the model.
    ///
    /// ```compile_fail
    /// use scantling::quantity::{ModelLength, Ratio, Scale};
    /// let scale = Scale::new("O", Ratio::new(48, 1).unwrap());
    /// let twice = scale.reduce(scale.reduce(ModelLength::inches(1.0)));
    /// ```
    #[must_use]
    pub fn reduce<S: FullSize>(&self, full: Length<S>) -> ModelLength {
        Length::metres(full.in_metres() / self.ratio.value())
    }

    /// A model length at full size, in the full-size space the caller names.
    #[must_use]
    pub fn enlarge<S: FullSize>(&self, model: Length<Model>) -> Length<S> {
        Length::metres(model.in_metres() * self.ratio.value())
    }

    /// A model length on a page printed at 1:1; the printer's own stretch is
    /// corrected later by the print calibration.
    #[must_use]
    pub fn to_paper(model: ModelLength) -> PaperLength {
        Length::metres(model.in_metres())
    }

    /// The factor that redraws a drawing of scale `self` to scale `to`.
    #[must_use]
    pub fn redraw(&self, to: &Self) -> f64 {
        self.ratio.value() / to.ratio.value()
    }
}

impl fmt::Display for Scale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.name)
    }
}
