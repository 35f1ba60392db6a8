//! A small repeatable source of normal numbers.

/// Permuted congruential generator with 64 bits of state and 32 of output:
/// M. E. O'Neill, *PCG*, Harvey Mudd College report HMC-CS-2014-0905.
#[derive(Clone, Debug)]
pub struct Dice {
    state: u64,
    spare: Option<f64>,
}

const FACTOR: u64 = 6_364_136_223_846_793_005;
const ADDEND: u64 = 1_442_695_040_888_963_407;

impl Dice {
    /// A generator; the same seed gives the same numbers on every machine.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        let mut dice = Self { state: seed.wrapping_add(ADDEND), spare: None };
        dice.next();
        dice
    }

    fn next(&mut self) -> u32 {
        let old = self.state;
        self.state = old.wrapping_mul(FACTOR).wrapping_add(ADDEND);
        let shifted = (((old >> 18) ^ old) >> 27) as u32;
        shifted.rotate_right((old >> 59) as u32)
    }

    /// A number between zero and one, neither included.
    pub fn fraction(&mut self) -> f64 {
        (f64::from(self.next()) + 0.5) / 4_294_967_296.0
    }

    /// A normal number of mean zero and standard deviation one (polar method
    /// of Marsaglia).
    pub fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        loop {
            let (a, b) = (2.0 * self.fraction() - 1.0, 2.0 * self.fraction() - 1.0);
            let s = a * a + b * b;
            if s > 0.0 && s < 1.0 {
                let grown = (-2.0 * s.ln() / s).sqrt();
                self.spare = Some(b * grown);
                return a * grown;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn normal_numbers_have_the_right_moments() {
        let mut dice = Dice::new(7);
        let draws: Vec<f64> = (0..20_000).map(|_| dice.normal()).collect();
        let mean = draws.iter().sum::<f64>() / 20_000.0;
        let square = draws.iter().map(|d| d * d).sum::<f64>() / 20_000.0;
        let fourth = draws.iter().map(|d| d.powi(4)).sum::<f64>() / 20_000.0;
        assert!(mean.abs() < 0.02 && (square - 1.0).abs() < 0.03 && (fourth - 3.0).abs() < 0.2);
    }
}
