//! A picture of which it is not known what it is: measured as a camera's whole
//! file and as a print, and both believed in proportion.
//!
//! With one known length the marks seldom tell the two apart: where the axis
//! lies and how the picture is stretched act like another shape of the wall.
//! The value lies between the two, weighed by what most pictures are and by how
//! well each fits; the interval holds both.

use nalgebra::DMatrix;

use super::marked::{Marked, Origin, Span};
use super::wiring::{measure, network};
use crate::solve::camera::monte_carlo::{Interval, draw, interval};
use crate::solve::camera::network::Measure;
use crate::solve::camera::solution::{Solution, adjust};

/// How many pictures of unknown kind are whole files of a camera after all:
/// what a person adds has mostly lost its data on the way, not its sides
/// (common practice, no source).
const WHOLE: f64 = 0.67;

/// What one way of taking the picture says.
pub(super) struct Said {
    weight: f64,
    values: Vec<f64>,
    covariance: DMatrix<f64>,
    draws: Vec<Vec<f64>>,
    /// Draws without an answer.
    pub(super) failed: usize,
}

/// The lengths as one way of taking the picture has them.
pub(super) fn said(
    marked: &Marked,
    (solution, weight): (&Solution, f64),
    spans: &[Span],
    spread: f64,
    (draws, seed): (usize, u64),
) -> Said {
    let measures: Vec<Measure> =
        spans.iter().map(|&span| measure(&solution.network, marked, span)).collect();
    let values = measures.iter().map(|&of| solution.measure(of).abs()).collect();
    let covariance = solution.covariance(&measures) * (spread * spread);
    let drawn = draw(solution, &measures, draws, spread, seed);
    Said { weight, values, covariance, draws: drawn.values, failed: drawn.failed }
}

/// The other way to take a picture of unknown kind, with the weight of each:
/// that of `open`, in which anything may be, first. Nothing where the kind is
/// said, or the marks are no camera's.
pub(super) fn other(marked: &Marked, open: &Solution, spread: f64) -> Option<(Solution, [f64; 2])> {
    (marked.origin == Origin::Unknown && marked.frame.is_none()).then_some(())?;
    let camera = Marked { origin: Origin::Camera, ..marked.clone() };
    let whole = adjust(network(&camera).ok()?).ok()?;
    let worse = (whole.chi_squared - open.chi_squared) / (spread * spread);
    let odds = WHOLE / (1.0 - WHOLE) * (-0.5 * worse).clamp(-700.0, 0.0).exp();
    let weight = odds / (1.0 + odds);
    (weight > 0.01).then_some((whole, [1.0 - weight, weight]))
}

/// Values and covariance of the lengths, all ways taken together.
pub(super) fn together(all: &[Said]) -> (Vec<f64>, DMatrix<f64>) {
    let n = all.first().map_or(0, |one| one.values.len());
    let value = |i: usize| all.iter().map(|one| one.weight * one.values[i]).sum::<f64>();
    let values: Vec<f64> = (0..n).map(value).collect();
    let covariance = DMatrix::from_fn(n, n, |i, j| {
        let one = |one: &Said| {
            let off = (one.values[i] - values[i]) * (one.values[j] - values[j]);
            one.weight * (one.covariance[(i, j)] + off)
        };
        all.iter().map(one).sum()
    });
    (values, covariance)
}

/// The most by which two ways differ on a length, relative to it.
pub(super) fn differ(all: &[Said]) -> f64 {
    let [one, other] = all else { return 0.0 };
    let pairs = one.values.iter().zip(&other.values).filter(|(a, _)| **a > 0.0);
    pairs.map(|(a, b)| (b / a - 1.0).abs()).fold(0.0, f64::max)
}

/// The 95 percent interval of a length whatever the picture is: from the least
/// to the greatest end of all ways, each first order, or its draws where they
/// differ by more than a fifth of a standard uncertainty, which chance alone
/// does not make of 2,000 draws (after JCGM 101:2008, clause 8); and whether
/// draws decided.
pub(super) fn ends(all: &mut [Said], length: usize) -> (Interval, bool) {
    let mut whole: Option<(Interval, bool)> = None;
    for one in all {
        let (own, drawn) = own_ends(one, length);
        whole = Some(whole.map_or((own, drawn), |(so_far, by_draws)| {
            let (low, high) = (so_far.low.min(own.low), so_far.high.max(own.high));
            (Interval { low, high }, by_draws || drawn)
        }));
    }
    whole.unwrap_or((Interval { low: 0.0, high: 0.0 }, false))
}

fn own_ends(said: &mut Said, length: usize) -> (Interval, bool) {
    let (value, sigma) = (said.values[length], said.covariance[(length, length)].sqrt());
    let plain = Interval { low: value - 1.96 * sigma, high: value + 1.96 * sigma };
    match interval(&mut said.draws[length]) {
        Some(drawn) => {
            let off = (drawn.low - plain.low).abs().max((drawn.high - plain.high).abs());
            if off > 0.2 * sigma { (drawn, true) } else { (plain, false) }
        }
        None => (plain, false),
    }
}
