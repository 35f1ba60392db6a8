//! Small differences that add up over many pieces.

use crate::quantity::{CompressedLength, ModelLength, Scale};

pub use crate::sums::rows::redistribute;

/// What an error in each of `n` pieces comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accumulated {
    /// How many pieces stand beside each other.
    pub count: u32,
    /// Error of each, stock less wanted.
    pub each: ModelLength,
    /// Error of all.
    pub sum: ModelLength,
    /// The same at full size.
    pub sum_full: CompressedLength,
    /// Whether the sum stays within half a piece, so that the row may be left
    /// as it comes.
    pub within_half: bool,
}

/// Adds up the error of a repeated piece.
#[must_use]
pub fn accumulate(count: u32, each: ModelLength, unit: ModelLength, scale: &Scale) -> Accumulated {
    let sum = each * f64::from(count);
    Accumulated {
        count,
        each,
        sum,
        sum_full: scale.enlarge(sum),
        within_half: sum.abs() <= unit * 0.5,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Ratio;

    /// 56 courses each 2 thou wide of true are 0.112 in on the model, 9.8 in
    /// at 1:87.1 (COMPUTED).
    #[test]
    fn two_thou_over_fifty_six_courses() {
        let scale = Scale::new("1:87.1", Ratio::new(871, 10).expect("a ratio"));
        let unit = scale.reduce(CompressedLength::inches(5.0));
        let all = accumulate(56, ModelLength::thou(2.0), unit, &scale);
        assert!((all.sum.in_inches() - 0.112).abs() < 1e-9);
        assert!((all.sum_full.in_inches() - 9.8).abs() < 0.05);
        assert!(!all.within_half);
        assert!(accumulate(10, ModelLength::thou(2.0), unit, &scale).within_half);
    }

    #[test]
    fn a_row_without_a_nominal_is_one_piece() {
        let (count, pitch) = redistribute(CompressedLength::feet(3.0), CompressedLength::ZERO);
        assert_eq!(count, 1);
        assert!(pitch.agrees(CompressedLength::feet(3.0), CompressedLength::inches(1e-9)));
    }
}
