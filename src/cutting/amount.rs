//! What a plan costs and what no plan can beat, in the unit that is shown.

use std::fmt;

use crate::catalog::rack::coins;

/// What costs are counted in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Unit {
    /// Pieces of one size.
    #[default]
    Count,
    /// Hundredths of an inch of stick.
    Length,
    /// Hundredths of a square inch of sheet.
    Area,
    /// The smallest coin.
    Money,
}

/// A cost in its unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Amount {
    /// What it is counted in.
    pub unit: Unit,
    /// How much of it.
    pub value: i64,
}

impl Amount {
    /// So much of a unit.
    #[must_use]
    pub const fn new(unit: Unit, value: i64) -> Self {
        Self { unit, value }
    }

    /// The number as shown: pieces, inches, square inches, whole coins.
    #[must_use]
    pub fn number(self) -> f64 {
        match self.unit {
            Unit::Count => self.value as f64,
            Unit::Length | Unit::Area | Unit::Money => self.value as f64 / 100.0,
        }
    }

    /// The same unit with less in it, not below nothing.
    #[must_use]
    pub fn less(self, other: Self) -> Self {
        Self { value: (self.value - other.value).max(0), ..self }
    }

    /// "fewest", "shortest", "least" or "cheapest".
    #[must_use]
    pub fn best_word(self) -> &'static str {
        match self.unit {
            Unit::Count => "fewest",
            Unit::Length | Unit::Area => "least",
            Unit::Money => "cheapest",
        }
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.unit {
            Unit::Count => write!(f, "{}", self.value),
            Unit::Length => write!(f, "{:.1} in", self.number()),
            Unit::Area => write!(f, "{:.1} sq in", self.number()),
            Unit::Money => f.write_str(&coins(self.value)),
        }
    }
}

/// A cost and what no plan can beat: in pieces where all that is bought costs
/// the same, else in the unit of the prices.
#[must_use]
pub fn in_pieces(
    unit: Unit,
    cost: i64,
    bound: i64,
    prices: impl Iterator<Item = i64>,
) -> [Amount; 2] {
    let mut prices = prices.peekable();
    let each = prices.peek().copied().unwrap_or(0);
    if each > 0 && prices.all(|price| price == each) {
        let bound = bound / each + i64::from(bound % each > 0);
        return [Amount::new(Unit::Count, cost / each), Amount::new(Unit::Count, bound)];
    }
    [Amount::new(unit, cost), Amount::new(unit, bound)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_price_is_counted_and_several_are_not() {
        let one = in_pieces(Unit::Area, 28_800, 10_000, [9_600, 9_600].into_iter());
        assert_eq!(one, [Amount::new(Unit::Count, 3), Amount::new(Unit::Count, 2)]);
        let two = in_pieces(Unit::Area, 28_800, 10_000, [9_600, 7_200].into_iter());
        assert_eq!(two[0].to_string(), "288.0 sq in");
        assert_eq!(two[0].less(two[1]).to_string(), "188.0 sq in");
        assert_eq!(Amount::new(Unit::Money, 450).to_string(), "4.50");
    }
}
