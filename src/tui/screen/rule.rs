//! A steel rule laid along the length: inches on one edge, millimetres on the
//! other, so that the eye sees the mark to cut at and how far off it is.

use crate::quantity::ModelLength;

/// A piece of the rule: where it begins, and how many dots an inch is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Its left end, in inches from zero.
    pub from: f64,
    /// Dots to the inch.
    pub dots: f64,
    /// Dots in all.
    pub wide: usize,
}

/// A tick: its dot, and how long it is, 0 the shortest to 6 the inch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tick {
    /// The dot.
    pub at: usize,
    /// How long.
    pub rank: u8,
}

impl Piece {
    /// The piece that shows the end of a length: from zero where two inches
    /// hold it, else the last inch and a half of it.
    #[must_use]
    pub fn showing(length: ModelLength, wide: usize) -> Self {
        let inches = length.in_inches().max(0.0);
        let dots = (wide as f64 / 2.15).max(1.0);
        let from = if inches <= 2.0 { 0.0 } else { (inches - 1.5).floor() };
        // Past 1.5 in of the next inch the end would fall off the right edge.
        let from = if inches - from > 2.05 { inches.floor() - 1.0 } else { from };
        Self { from, dots, wide }
    }

    /// The dot of a place on the rule; nothing off the piece.
    #[must_use]
    pub fn dot(&self, inches: f64) -> Option<usize> {
        let dot = ((inches - self.from) * self.dots).round();
        (dot >= 0.0 && dot < self.wide as f64).then_some(dot as usize)
    }

    /// The ticks of the inch edge, down to the finest division that leaves a
    /// dot free between two.
    #[must_use]
    pub fn inches(&self) -> Vec<Tick> {
        let finest = (0..=6).rev().find(|power| self.dots / f64::from(1 << power) >= 2.0);
        let Some(finest) = finest else { return Vec::new() };
        let parts = 1_u32 << finest;
        let last = (self.wide as f64 / self.dots * f64::from(parts)) as u32;
        (0..=last)
            .filter_map(|n| {
                let at = self.dot(self.from + f64::from(n) / f64::from(parts))?;
                // A whole inch is longest; each halving is shorter by one.
                let rank = 6_u32.saturating_sub(finest - n.trailing_zeros().min(finest));
                Some(Tick { at, rank: if n == 0 { 6 } else { rank as u8 } })
            })
            .collect()
    }

    /// The ticks of the millimetre edge: 6 a centimetre, 4 five, 2 one.
    #[must_use]
    pub fn millimetres(&self) -> Vec<Tick> {
        let first = (self.from * 25.4).ceil() as u32;
        let last = ((self.from + self.wide as f64 / self.dots) * 25.4).floor() as u32;
        (first..=last)
            .filter_map(|mm| {
                let at = self.dot(f64::from(mm) / 25.4)?;
                let rank = match mm {
                    mm if mm % 10 == 0 => 6,
                    mm if mm % 5 == 0 => 4,
                    _ => 2,
                };
                Some(Tick { at, rank })
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_end_of_any_length_is_on_the_piece() {
        for thou in (0..40_000).step_by(37) {
            let length = ModelLength::thou(f64::from(thou));
            for wide in [60, 140, 280] {
                let piece = Piece::showing(length, wide);
                assert!(piece.dot(length.in_inches()).is_some(), "{thou} on {wide}");
            }
        }
    }

    #[test]
    fn an_inch_has_its_halves_and_quarters_by_length() {
        let piece = Piece { from: 0.0, dots: 64.0, wide: 138 };
        let ticks = piece.inches();
        let rank = |at: usize| ticks.iter().find(|tick| tick.at == at).map(|tick| tick.rank);
        assert_eq!(rank(0), Some(6));
        assert_eq!(rank(64), Some(6));
        assert_eq!(rank(32), Some(5));
        assert_eq!(rank(16), Some(4));
        assert_eq!(rank(8), Some(3));
        assert_eq!(rank(2), Some(1));
        assert_eq!(rank(1), None);
    }

    #[test]
    fn a_centimetre_is_longest_on_the_other_edge() {
        let piece = Piece { from: 0.0, dots: 254.0, wide: 300 };
        let ticks = piece.millimetres();
        assert_eq!(ticks.len(), 30);
        assert_eq!(ticks[10], Tick { at: 100, rank: 6 });
        assert_eq!(ticks[5], Tick { at: 50, rank: 4 });
    }
}
