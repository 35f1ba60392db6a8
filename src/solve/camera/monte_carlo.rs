//! Propagation of distributions by drawing (JCGM 101:2008).

use super::adjust::{BRISK, Problem};
use super::network::Measure;
use super::random::Dice;
use super::rows::{observed, visit};
use super::solution::Solution;

/// Draws of some distances.
#[derive(Clone, Debug, PartialEq)]
pub struct Draws {
    /// One list a distance, each in the order drawn.
    pub values: Vec<Vec<f64>>,
    /// Draws for which no answer was found.
    pub failed: usize,
}

/// Ends of an interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// Draws every observation from its distribution, adjusts again from the
/// answer, and notes the distances.
///
/// `spread` multiplies all uncertainties (1 as they stand). Pure: the same
/// seed gives the same draws.
#[must_use]
pub fn draw(solution: &Solution, of: &[Measure], draws: usize, spread: f64, seed: u64) -> Draws {
    let problem = Problem::new(&solution.network, &solution.state);
    let centre = observed(&solution.network);
    let mut sigmas = vec![0.0; centre.len()];
    visit(&solution.network, &problem.layout, &solution.state, |i, row| {
        sigmas[i] = row.sigma * spread;
    });
    let (mut dice, mut desk) = (Dice::new(seed), problem.desk());
    let mut out = Draws { values: vec![Vec::with_capacity(draws); of.len()], failed: 0 };
    let mut drawn = centre.clone();
    for _ in 0..draws {
        for ((value, mean), sigma) in drawn.iter_mut().zip(&centre).zip(&sigmas) {
            *value = mean + sigma * dice.normal();
        }
        let settled = problem.search(&solution.state, &drawn, BRISK, &mut desk);
        if !settled.converged {
            out.failed += 1;
            continue;
        }
        let scale = settled.state.scale();
        for (list, measure) in out.values.iter_mut().zip(of) {
            list.push(measure.of(&settled.state.coordinates).abs() * scale);
        }
    }
    out
}

/// The probabilistically symmetric 95 percent interval of some draws; nothing
/// for fewer than forty. Reorders them.
#[must_use]
pub fn interval(draws: &mut [f64]) -> Option<Interval> {
    if draws.len() < 40 {
        return None;
    }
    draws.sort_by(f64::total_cmp);
    let at = |p: f64| {
        let place = p * (draws.len() - 1) as f64;
        let (k, part) = (place.floor() as usize, place.fract());
        let next = draws[(k + 1).min(draws.len() - 1)];
        draws[k] + part * (next - draws[k])
    };
    Some(Interval { low: at(0.025), high: at(0.975) })
}
