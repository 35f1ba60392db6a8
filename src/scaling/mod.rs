//! Compressed dimensions -> model sizes, and what their uncertainty is worth
//! on the bench.

mod sizes;

pub use sizes::{Sized, Sizes, run};

use crate::quantity::{CompressedLength, ModelLength, PrototypeLength, Scale};

/// A size on the model with what is known of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModelSize {
    /// The size to cut to.
    pub value: ModelLength,
    /// One standard uncertainty the survey leaves in it, on the model; nothing
    /// where the size is only written down.
    pub sigma: Option<ModelLength>,
    /// The uncertainty held against the hand.
    pub worth: Worth,
}

/// What a survey uncertainty is worth to the hand that cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Worth {
    /// Nothing was measured: the size is a written figure.
    Stated,
    /// The uncertainty is finer than the hand cuts.
    BelowCutting,
    /// The survey, not the hand, limits the model here.
    Limits,
}

impl Worth {
    /// The verdict in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Stated => "as stated",
            Self::BelowCutting => "below your cutting: stop measuring",
            Self::Limits => "this one limits the model",
        }
    }
}

/// A full-size length on the model.
///
/// `sigma` is the standard uncertainty at full size, `hand` what the hand can
/// cut to on the model. A shortened length keeps the relative uncertainty of
/// the length it was shortened from: pass it through [`shortened_sigma`] first.
#[must_use]
pub fn model_size(
    value: CompressedLength,
    sigma: Option<CompressedLength>,
    scale: &Scale,
    hand: ModelLength,
) -> ModelSize {
    let sigma = sigma.map(|sigma| scale.reduce(sigma));
    let worth = match sigma {
        None => Worth::Stated,
        Some(sigma) if sigma <= hand => Worth::BelowCutting,
        Some(_) => Worth::Limits,
    };
    ModelSize { value: scale.reduce(value), sigma, worth }
}

/// The uncertainty a length keeps through shortening: in proportion, because
/// what was decided is a share of what was measured.
#[must_use]
pub fn shortened_sigma(
    sigma: PrototypeLength,
    from: PrototypeLength,
    to: CompressedLength,
) -> CompressedLength {
    let share = if from > PrototypeLength::ZERO { to.in_metres() / from.in_metres() } else { 1.0 };
    CompressedLength::shortened(sigma, share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Ratio;

    fn o_scale() -> Scale {
        Scale::new("1:48", Ratio::new(48, 1).expect("a ratio"))
    }

    /// Half a foot at 1:48 is 125 thou (COMPUTED: 6/48).
    #[test]
    fn an_uncertainty_is_held_against_the_hand() {
        let hand = ModelLength::thou(10.0);
        let at = |sigma: f64| {
            let sigma = CompressedLength::inches(sigma);
            model_size(CompressedLength::feet(8.0), Some(sigma), &o_scale(), hand)
        };
        assert_eq!(at(0.41).worth, Worth::BelowCutting);
        assert_eq!(at(6.0).worth, Worth::Limits);
        let sigma = at(6.0).sigma.expect("measured");
        assert!(sigma.agrees(ModelLength::thou(125.0), ModelLength::thou(1e-6)));
        let stated = model_size(CompressedLength::feet(8.0), None, &o_scale(), hand);
        assert_eq!(stated.worth, Worth::Stated);
        assert!(stated.value.agrees(ModelLength::inches(2.0), ModelLength::thou(1e-6)));
    }

    #[test]
    fn shortening_keeps_the_relative_uncertainty() {
        let kept = shortened_sigma(
            PrototypeLength::feet(1.5),
            PrototypeLength::feet(212.0),
            CompressedLength::feet(106.0),
        );
        assert!(kept.agrees(CompressedLength::feet(0.75), CompressedLength::inches(1e-9)));
    }
}
