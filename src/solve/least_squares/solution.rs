//! What a least squares problem comes to.

use super::exact::Eliminated;
use super::order;
use super::triangle::{Triangle, dot};
use super::{Problem, Terms};

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
    /// Each observation's row, weighted, scaled and placed.
    rows: Vec<Terms>,
}

pub(super) fn solve(problem: &Problem, eliminated: Eliminated) -> Solution {
    let reduced: Vec<(f64, Terms)> =
        problem.observations.iter().map(|seen| eliminated.reduce(&seen.terms)).collect();
    let columns = columns(problem, &reduced, eliminated.free);
    let rows: Vec<(Terms, f64)> = problem
        .observations
        .iter()
        .zip(&reduced)
        .map(|(seen, (constant, terms))| {
            (placed(terms, &columns, seen.sigma), (seen.value - constant) / seen.sigma)
        })
        .collect();
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
        rows: rows.into_iter().map(|(terms, _)| terms).collect(),
        eliminated,
        columns,
        inverse,
        free_directions: triangle.free_directions(),
    };
    solution.fit(problem);
    solution
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

/// A placed row times the inverse triangle. The square of its length is the
/// row's variance; the product of two is their covariance.
fn spread(terms: &[(usize, f64)], inverse: &[Vec<f64>]) -> (usize, Vec<f64>) {
    let first = terms.first().map_or(inverse.len(), |(at, _)| *at);
    let mut out = vec![0.0; inverse.len() - first];
    for (at, factor) in terms {
        for (to, value) in out[at - first..].iter_mut().zip(&inverse[*at]) {
            *to += factor * value;
        }
    }
    (first, out)
}

fn product(a: &(usize, Vec<f64>), b: &(usize, Vec<f64>)) -> f64 {
    let first = a.0.max(b.0);
    let (a, b) = (a.1.get(first - a.0..), b.1.get(first - b.0..));
    a.zip(b).map_or(0.0, |(a, b)| dot(a, b))
}

impl Solution {
    /// The same solution counted from another origin: the values move, nothing
    /// else.
    pub(super) fn moved(mut self, origin: &[f64]) -> Self {
        self.values.iter_mut().zip(origin).for_each(|(value, by)| *value += by);
        self
    }

    fn fit(&mut self, problem: &Problem) {
        let fits = problem.observations.iter().zip(&self.rows).map(|(seen, row)| {
            let spread = spread(row, &self.inverse);
            let adjusted: f64 = seen.terms.iter().map(|(at, f)| f * self.values[*at]).sum();
            let redundancy = (1.0 - product(&spread, &spread)).clamp(0.0, 1.0);
            let redundancy = if redundancy < NO_REDUNDANCY { 0.0 } else { redundancy };
            let residual = seen.value - adjusted;
            let standardized =
                (redundancy > 0.0).then(|| residual / (seen.sigma * redundancy.sqrt()));
            Fit { residual, redundancy, standardized }
        });
        self.fits = fits.collect();
        let squares = self.fits.iter().zip(&problem.observations);
        self.chi_square = squares.map(|(fit, seen)| (fit.residual / seen.sigma).powi(2)).sum();
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
            product(&spread, &spread).sqrt()
        })
    }

    /// The covariance of two sums of unknowns; nothing where one is not fixed.
    #[must_use]
    pub fn covariance(&self, one: &[(usize, f64)], other: &[(usize, f64)]) -> Option<f64> {
        (self.is_fixed(one) && self.is_fixed(other))
            .then(|| product(&self.spread_of(one), &self.spread_of(other)))
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
                let first = place.max(spread.0);
                dot(&self.inverse[place][first - place..], &spread.1[first - spread.0..])
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

    fn spread_of(&self, terms: &[(usize, f64)]) -> (usize, Vec<f64>) {
        let row = placed(&self.eliminated.reduce(terms).1, &self.columns, 1.0);
        spread(&row, &self.inverse)
    }

    /// How much a sum of unknowns moves when an observation moves by one: the
    /// weight with which it enters, given that observation's sigma.
    #[must_use]
    pub fn influence(&self, terms: &[(usize, f64)], observation: usize, sigma: f64) -> f64 {
        self.rows
            .get(observation)
            .map_or(0.0, |row| product(&self.spread_of(terms), &spread(row, &self.inverse)) / sigma)
    }

    /// Correlation of the residuals of two observations; nothing where one is
    /// unchecked.
    #[must_use]
    pub fn residual_correlation(&self, one: usize, other: usize) -> Option<f64> {
        let redundancy = |at: usize| self.fits.get(at).map(|fit| fit.redundancy);
        let scale = (redundancy(one)? * redundancy(other)?).sqrt();
        let with = product(
            &spread(self.rows.get(one)?, &self.inverse),
            &spread(self.rows.get(other)?, &self.inverse),
        );
        (one != other && scale > 0.0).then(|| (-with / scale).clamp(-1.0, 1.0))
    }
}
