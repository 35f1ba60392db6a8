//! Uncertainty of a quantity worked out from others, to first order.
//!
//! Source: JCGM 100:2008 (GUM), 5.1.2 equation (10) for the sum of squares
//! and G.4 equation (G.2b) for the degrees of freedom; clause numbers from
//! memory.

/// What one input adds to the uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contribution {
    /// Sensitivity by standard uncertainty, in the unit of the result.
    pub spread: f64,
    /// Degrees of freedom behind it; infinite where it is taken as known.
    pub degrees: f64,
}

/// A standard uncertainty and the degrees of freedom behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Combined {
    /// The combined standard uncertainty.
    pub sigma: f64,
    /// The effective degrees of freedom (Welch and Satterthwaite).
    pub degrees: f64,
}

/// Independent contributions taken together.
#[must_use]
pub fn combine(contributions: &[Contribution]) -> Combined {
    let variance: f64 = contributions.iter().map(|each| each.spread.powi(2)).sum();
    let fourth: f64 = contributions.iter().map(|each| each.spread.powi(4) / each.degrees).sum();
    let degrees = if fourth > 0.0 { variance * variance / fourth } else { f64::INFINITY };
    Combined { sigma: variance.sqrt(), degrees }
}

/// An input of a formula: its value and standard uncertainty.
pub type Input = (f64, f64);

/// Value and standard uncertainty of `formula` at independent inputs, with
/// the slopes taken over one standard uncertainty either side.
pub fn propagate<const N: usize>(
    inputs: [Input; N],
    formula: impl Fn([f64; N]) -> f64,
) -> (f64, f64) {
    let at = inputs.map(|(value, _)| value);
    let variance: f64 = (0..N)
        .map(|which| {
            let moved = |by: f64| {
                let mut point = at;
                point[which] += by;
                formula(point)
            };
            let sigma = inputs[which].1;
            ((moved(sigma) - moved(-sigma)) / 2.0).powi(2)
        })
        .sum();
    (formula(at), variance.sqrt())
}

/// Standard uncertainty of something known only to lie within `half` of its
/// value, all places alike (GUM 4.3.7, from memory).
#[must_use]
pub fn rectangular(half: f64) -> f64 {
    half / 3.0_f64.sqrt()
}

/// The same where the middle is likelier and the ends are not (GUM 4.3.9,
/// from memory).
#[must_use]
pub fn triangular(half: f64) -> f64 {
    half / 6.0_f64.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_product_adds_relative_squares() {
        let (value, sigma) = propagate([(40.0, 0.2), (14.0, 0.1)], |[a, b]| a * b);
        assert!((value - 560.0).abs() < 1e-12);
        assert!((sigma - (2.8_f64.powi(2) + 4.0_f64.powi(2)).sqrt()).abs() < 1e-9);
    }

    #[test]
    fn known_contributions_have_endless_degrees() {
        let known = Contribution { spread: 3.0, degrees: f64::INFINITY };
        assert!(combine(&[known]).degrees.is_infinite());
        let seen = Contribution { spread: 4.0, degrees: 5.0 };
        let both = combine(&[known, seen]);
        assert!((both.sigma - 5.0).abs() < 1e-12);
        assert!((both.degrees - 625.0 / (256.0 / 5.0)).abs() < 1e-9);
    }
}
