//! Exact rational numbers, so that a size stays what was written.

use std::cmp::Ordering;
use std::fmt;

use super::Ratio;

/// A fraction of whole numbers in lowest terms, of either sign.
///
/// Arithmetic is checked: it gives nothing where the parts outgrow 127 bits,
/// which no size on a building comes near.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rational {
    numerator: i128,
    denominator: i128,
}

impl Rational {
    /// Nothing at all.
    pub const ZERO: Self = Self::whole(0);

    /// A whole number.
    #[must_use]
    pub const fn whole(value: i64) -> Self {
        Self { numerator: value as i128, denominator: 1 }
    }

    /// `numerator / denominator`; nothing when the denominator is zero.
    #[must_use]
    pub fn new(numerator: i128, denominator: i128) -> Option<Self> {
        // The one value without a twin of the other sign is kept out.
        if denominator == 0 || numerator == i128::MIN || denominator == i128::MIN {
            return None;
        }
        if denominator == 1 {
            return Some(Self { numerator, denominator });
        }
        let common = gcd(numerator.unsigned_abs(), denominator.unsigned_abs());
        let common = i128::try_from(common).ok()? * denominator.signum();
        Some(Self { numerator: numerator / common, denominator: denominator / common })
    }

    /// The number above the line, with the sign.
    #[must_use]
    pub const fn numerator(self) -> i128 {
        self.numerator
    }

    /// The number below the line, above zero.
    #[must_use]
    pub const fn denominator(self) -> i128 {
        self.denominator
    }

    /// The sum.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        let left = self.numerator.checked_mul(other.denominator)?;
        let right = other.numerator.checked_mul(self.denominator)?;
        Self::new(left.checked_add(right)?, self.denominator.checked_mul(other.denominator)?)
    }

    /// The difference.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        self.plus(other.negated())
    }

    /// The product.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        let above = self.numerator.checked_mul(other.numerator)?;
        Self::new(above, self.denominator.checked_mul(other.denominator)?)
    }

    /// The quotient; nothing when `other` is zero.
    #[must_use]
    pub fn over(self, other: Self) -> Option<Self> {
        self.times(Self::new(other.denominator, other.numerator)?)
    }

    /// The same size with the other sign.
    #[must_use]
    pub fn negated(self) -> Self {
        Self { numerator: -self.numerator, denominator: self.denominator }
    }

    /// The size without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        Self { numerator: self.numerator.abs(), denominator: self.denominator }
    }

    /// Whether it is below zero.
    #[must_use]
    pub fn is_negative(self) -> bool {
        self.numerator < 0
    }

    /// The nearest floating point value: one division, rounded once, wherever
    /// both parts are below 2^53.
    #[must_use]
    pub fn value(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }

    /// The nearest whole number, an exact half going to the even one (ASTM E29;
    /// ISO 80000-1 Annex B rule A), and how the true value stands to it.
    #[must_use]
    pub fn nearest_whole(self) -> (i128, Ordering) {
        let below = self.numerator.div_euclid(self.denominator);
        let rest = self.numerator.rem_euclid(self.denominator);
        match (rest, rest.cmp(&(self.denominator - rest))) {
            (0, _) => (below, Ordering::Equal),
            (_, Ordering::Less) => (below, Ordering::Greater),
            (_, Ordering::Greater) => (below + 1, Ordering::Less),
            (_, Ordering::Equal) if below % 2 == 0 => (below, Ordering::Greater),
            (_, Ordering::Equal) => (below + 1, Ordering::Less),
        }
    }

    /// As the ratio of a scale; nothing unless it is above zero and its parts
    /// fit 64 bits.
    #[must_use]
    pub fn to_ratio(self) -> Option<Ratio> {
        Ratio::new(self.numerator.try_into().ok()?, self.denominator.try_into().ok()?)
    }
}

impl From<Ratio> for Rational {
    fn from(ratio: Ratio) -> Self {
        Self {
            numerator: i128::from(ratio.numerator()),
            denominator: i128::from(ratio.denominator()),
        }
    }
}

impl PartialOrd for Rational {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Rational {
    /// Exact where the cross products fit, else by their floating point values.
    fn cmp(&self, other: &Self) -> Ordering {
        let left = self.numerator.checked_mul(other.denominator);
        let right = other.numerator.checked_mul(self.denominator);
        match (left, right) {
            (Some(left), Some(right)) => left.cmp(&right),
            _ => self.value().total_cmp(&other.value()),
        }
    }
}

impl fmt::Display for Rational {
    /// `7`, `1/2`, `6 1/2`, `-6 1/2`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.numerator < 0 { "-" } else { "" };
        let (above, below) = (self.numerator.unsigned_abs(), self.denominator.unsigned_abs());
        match (above / below, above % below) {
            (whole, 0) => write!(f, "{sign}{whole}"),
            (0, rest) => write!(f, "{sign}{rest}/{below}"),
            (whole, rest) => write!(f, "{sign}{whole} {rest}/{below}"),
        }
    }
}

fn gcd(a: u128, b: u128) -> u128 {
    match (u64::try_from(a), u64::try_from(b)) {
        // Dividing 64-bit numbers is several times quicker, and nearly all are.
        (Ok(mut a), Ok(mut b)) => {
            while b != 0 {
                (a, b) = (b, a % b);
            }
            u128::from(a)
        }
        _ if b == 0 => a,
        _ => gcd(b, a % b),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rational(numerator: i128, denominator: i128) -> Rational {
        Rational::new(numerator, denominator).unwrap()
    }

    #[test]
    fn lowest_terms_with_the_sign_above() {
        assert_eq!(rational(8, -16), rational(-1, 2));
        assert_eq!(rational(-8, -16).denominator(), 2);
        assert_eq!(Rational::new(1, 0), None);
        assert_eq!(Rational::new(i128::MIN, 1), None, "2^127 has no twin below");
    }

    #[test]
    fn arithmetic_is_exact_and_checked() {
        assert_eq!(rational(1, 3).plus(rational(1, 6)), Some(rational(1, 2)));
        assert_eq!(rational(1, 3).over(Rational::ZERO), None);
        assert_eq!(rational(i128::MAX, 1).plus(Rational::whole(1)), None);
    }

    #[test]
    fn halves_go_to_even_on_both_sides_of_zero() {
        let nearest = |n, d| rational(n, d).nearest_whole();
        assert_eq!(nearest(1, 2), (0, Ordering::Greater));
        assert_eq!(nearest(3, 2), (2, Ordering::Less));
        assert_eq!(nearest(-1, 2), (0, Ordering::Less));
        assert_eq!(nearest(-3, 2), (-2, Ordering::Greater));
        assert_eq!(nearest(-7, 3), (-2, Ordering::Less));
    }
}
