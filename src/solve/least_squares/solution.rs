//! What a least squares problem comes to.

use std::collections::BTreeMap;

use super::exact::Eliminated;
use super::group::{Whitener, combined};
use super::order;
use super::spread::{Spread, spread, spreads};
use super::triangle::{Triangle, dot};
use super::{Observation, Problem, Terms};

/// Redundancy below this is rounding dust: the observation is unchecked.
const NO_REDUNDANCY: f64 = 1e-8;
/// Share of a free direction, over its largest part, that counts as none.
const NOT_FREE: f64 = 1e-7;

/// How one observation fits.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Fit {
    /// Observed less adjusted, in the unit of the observation.
    pub residual: f64,
    /// The share of an error in this observation that shows in its residual,
    /// from 0 (unchecked) to 1.
    pub redundancy: f64,
    /// `residual / (sigma sqrt(redundancy))`; nothing where unchecked.
    pub standardized: Option<f64>,
}

/// The best values, how the observations fit them, and how they hang together.
#[derive(Clone, Debug)]
pub struct Solution {
    values: Vec<f64>,
    fits: Vec<Fit>,
    chi_square: f64,
    degrees: usize,
    eliminated: Eliminated,
    /// Place and scale of each free unknown in the triangle.
    columns: Vec<(usize, f64)>,
    inverse: Vec<Vec<f64>>,
    free_directions: Vec<Vec<f64>>,
    /// Each observation's row, weighted, scaled and placed, as an error in it
    /// enters: in groups, made of the independent rows in which it shows.
    rows: Vec<Terms>,
    whitener: Whitener,
}

pub(super) fn solve(problem: &Problem, eliminated: Eliminated, whitener: Whitener) -> Solution {
    let reduced: Vec<(f64, Terms)> =
        problem.observations.iter().map(|seen| eliminated.reduce(&seen.terms)).collect();
    let columns = columns(problem, &reduced, eliminated.free);
    let mut rows: Vec<(Terms, f64)> = problem
        .observations
        .iter()
        .zip(&reduced)
        .map(|(seen, (constant, terms))| {
            (placed(terms, &columns, seen.sigma), (seen.value - constant) / seen.sigma)
        })
        .collect();
    for (at, row) in whitener.rows(&rows) {
        rows[at] = row;
    }
    let mut sorted = rows.clone();
    sorted.sort_by_key(|(terms, _)| terms.first().map_or(usize::MAX, |(at, _)| *at));
    let triangle = Triangle::new(eliminated.free, &sorted);
    let scaled = triangle.solve();
    let free: Vec<f64> = columns.iter().map(|(place, scale)| scaled[*place] * scale).collect();
    let inverse = triangle.inverse();
    let mut solution = Solution {
        values: values(&eliminated, problem.unknowns, &free),
        fits: Vec::new(),
        chi_square: 0.0,
        degrees: (rows.len() + triangle.dependent.len()).saturating_sub(eliminated.free),
        rows: as_they_enter(rows, &whitener),
        whitener,
        eliminated,
        columns,
        inverse,
        free_directions: triangle.free_directions(),
    };
    solution.fit(problem);
    solution
}

/// The rows of the triangle as those of the observations.
fn as_they_enter(rows: Vec<(Terms, f64)>, whitener: &Whitener) -> Vec<Terms> {
    let mut rows: Vec<Terms> = rows.into_iter().map(|(terms, _)| terms).collect();
    let new: BTreeMap<usize, Terms> =
        whitener.shows().map(|(at, shows)| (at, combined(shows, |row| &rows[row]))).collect();
    for (at, row) in new {
        rows[at] = row;
    }
    rows
}

/// Place of each free unknown, and the scale that makes its column of length
/// one.
fn columns(problem: &Problem, reduced: &[(f64, Terms)], free: usize) -> Vec<(usize, f64)> {
    let terms: Vec<Terms> = reduced.iter().map(|(_, terms)| terms.clone()).collect();
    let places = order::places(free, &terms);
    let mut squares = vec![0.0; free];
    for (seen, (_, terms)) in problem.observations.iter().zip(reduced) {
        for (at, factor) in terms {
            squares[*at] += (factor / seen.sigma).powi(2);
        }
    }
    let scale = |square: f64| if square > 0.0 { 1.0 / square.sqrt() } else { 1.0 };
    places.into_iter().zip(squares).map(|(place, square)| (place, scale(square))).collect()
}

/// Terms in free unknowns, weighted, scaled and put in their places.
fn placed(terms: &[(usize, f64)], columns: &[(usize, f64)], sigma: f64) -> Terms {
    let mut placed: Terms = terms
        .iter()
        .map(|(at, factor)| (columns[*at].0, factor * columns[*at].1 / sigma))
        .collect();
    placed.sort_unstable_by_key(|(place, _)| *place);
    placed
}

fn values(eliminated: &Eliminated, unknowns: usize, free: &[f64]) -> Vec<f64> {
    let value = |at: usize| {
        let (constant, terms) = eliminated.reduce(&[(at, 1.0)]);
        constant + terms.iter().map(|(at, factor)| factor * free[*at]).sum::<f64>()
    };
    (0..unknowns).map(value).collect()
}

impl Solution {
    /// The same solution counted from another origin: the values move, nothing
    /// else.
    pub(super) fn moved(mut self, origin: &[f64]) -> Self {
        self.values.iter_mut().zip(origin).for_each(|(value, by)| *value += by);
        self
    }

    fn fit(&mut self, problem: &Problem) {
        let residual = |seen: &Observation| {
            seen.value - seen.terms.iter().map(|(at, f)| f * self.values[*at]).sum::<f64>()
        };
        let residuals: Vec<f64> = problem.observations.iter().map(residual).collect();
        let weighted: Vec<f64> =
            residuals.iter().zip(&problem.observations).map(|(v, seen)| v / seen.sigma).collect();
        self.chi_square = self.whitener.figures(weighted.clone()).iter().map(|v| v * v).sum();
        let weighed = self.whitener.weighed(weighted);
        let explained = spreads(&self.rows, &self.inverse);
        let fit = |at: usize| {
            let weight = self.whitener.overlap(at, at);
            let redundancy = ((weight - explained[at]) / weight).clamp(0.0, 1.0);
            let redundancy = if redundancy < NO_REDUNDANCY { 0.0 } else { redundancy };
            let standardized =
                (redundancy > 0.0).then(|| weighed[at] / (weight * redundancy).sqrt());
            Fit { residual: residuals[at], redundancy, standardized }
        };
        self.fits = (0..residuals.len()).map(fit).collect();
    }

    /// The values of the unknowns. Those that nothing fixes hold some value
    /// that fits; see [`Self::is_fixed`].
    #[must_use]
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// How each observation fits.
    #[must_use]
    pub fn fits(&self) -> &[Fit] {
        &self.fits
    }

    /// The sum of the squared residuals over their sigmas.
    #[must_use]
    pub fn chi_square(&self) -> f64 {
        self.chi_square
    }

    /// Observations less unknowns that they fix.
    #[must_use]
    pub fn degrees(&self) -> usize {
        self.degrees
    }

    /// Whether the observations fix a sum of unknowns.
    #[must_use]
    pub fn is_fixed(&self, terms: &[(usize, f64)]) -> bool {
        if self.free_directions.is_empty() {
            return true;
        }
        let row = placed(&self.eliminated.reduce(terms).1, &self.columns, 1.0);
        let size = row.iter().map(|(_, factor)| factor.abs()).fold(0.0, f64::max);
        self.free_directions.iter().all(|direction| {
            let along: f64 = row.iter().map(|(at, factor)| factor * direction[*at]).sum();
            along.abs() <= NOT_FREE * size
        })
    }

    /// The value of a sum of unknowns; nothing where nothing fixes it.
    #[must_use]
    pub fn value(&self, terms: &[(usize, f64)]) -> Option<f64> {
        let value = || terms.iter().map(|(at, factor)| factor * self.values[*at]).sum();
        self.is_fixed(terms).then(value)
    }

    /// The standard uncertainty of a sum of unknowns; nothing where nothing
    /// fixes it.
    #[must_use]
    pub fn sigma(&self, terms: &[(usize, f64)]) -> Option<f64> {
        self.is_fixed(terms).then(|| {
            let spread = self.spread_of(terms);
            spread.square().sqrt()
        })
    }

    /// The covariance of two sums of unknowns; nothing where one is not fixed.
    #[must_use]
    pub fn covariance(&self, one: &[(usize, f64)], other: &[(usize, f64)]) -> Option<f64> {
        (self.is_fixed(one) && self.is_fixed(other))
            .then(|| self.spread_of(one).product(&self.spread_of(other)))
    }

    /// The covariance of a sum of unknowns with each unknown; nothing where the
    /// sum is not fixed. Figures for unknowns that are not fixed mean nothing.
    #[must_use]
    pub fn covariance_with_all(&self, terms: &[(usize, f64)]) -> Option<Vec<f64>> {
        if !self.is_fixed(terms) {
            return None;
        }
        let spread = self.spread_of(terms);
        let with_place: Vec<f64> = (0..self.inverse.len())
            .map(|place| {
                let first = place.max(spread.first);
                dot(&self.inverse[place][first - place..], &spread.figures[first - spread.first..])
            })
            .collect();
        let with = |at: usize| {
            let (_, terms) = self.eliminated.reduce(&[(at, 1.0)]);
            terms
                .iter()
                .map(|(free, factor)| {
                    let (place, scale) = self.columns[*free];
                    factor * scale * with_place[place]
                })
                .sum()
        };
        Some((0..self.values.len()).map(with).collect())
    }

    fn spread_of(&self, terms: &[(usize, f64)]) -> Spread {
        let row = placed(&self.eliminated.reduce(terms).1, &self.columns, 1.0);
        spread(&row, &self.inverse)
    }

    /// How much a sum of unknowns moves when an observation moves by one: the
    /// weight with which it enters, given that observation's sigma.
    #[must_use]
    pub fn influence(&self, terms: &[(usize, f64)], observation: usize, sigma: f64) -> f64 {
        self.rows
            .get(observation)
            .map_or(0.0, |row| self.spread_of(terms).product(&spread(row, &self.inverse)) / sigma)
    }

    /// How much of the variance of a sum of unknowns comes from each
    /// observation, given the covariance of that sum with what each observes,
    /// over the observation's sigma. In groups a part may come out under zero.
    #[must_use]
    pub fn shares(&self, with: Vec<f64>) -> Vec<f64> {
        let entering = self.whitener.weighed(with.clone());
        entering.iter().zip(with).map(|(a, b)| a * b).collect()
    }

    /// Correlation of the test figures of two observations; nothing where one
    /// is unchecked.
    #[must_use]
    pub fn residual_correlation(&self, one: usize, other: usize) -> Option<f64> {
        let left = |at: usize| {
            let redundancy = self.fits.get(at).map(|fit| fit.redundancy)?;
            Some(redundancy * self.whitener.overlap(at, at))
        };
        let scale = (left(one)? * left(other)?).sqrt();
        let with = spread(self.rows.get(one)?, &self.inverse)
            .product(&spread(self.rows.get(other)?, &self.inverse));
        let with = self.whitener.overlap(one, other) - with;
        (one != other && scale > 0.0).then(|| (with / scale).clamp(-1.0, 1.0))
    }
}
