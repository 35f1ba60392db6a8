//! The search for readings that do not belong.
//!
//! Source: W. Baarda, *A Testing Procedure for Use in Geodetic Networks*
//! (1968), from memory: the standardized residual of one reading against
//! 3.29 (one in a thousand). Where a network has so many readings that one in
//! a hundred such networks would lose a good one, the limit is raised to keep
//! that level for the network as a whole. A job may set another level.

use std::cmp::Ordering;

use crate::solve::least_squares::{Fit, Solution, Trouble};
use crate::solve::special::two_sided_normal;

use super::network::Part;
use super::observed::Observed;

/// How often a network of good readings may lose one.
pub(super) const LEVEL: f64 = 0.01;
/// Baarda's limit for one reading: one in a thousand, on either side.
pub(super) const ONE_READING: f64 = 3.290_526_731_491_925;
/// Residuals more alike than this cannot be told apart.
pub(super) const ALIKE: f64 = 0.9;
/// Redundancy under which a reading is not tested at all.
pub(super) const UNCHECKED: f64 = 1e-3;

/// A network after the search.
#[derive(Clone, Debug)]
pub(super) struct Searched {
    pub(super) part: Part,
    /// The adjustment of everything.
    pub(super) all: Solution,
    /// The adjustment of what is kept.
    pub(super) solution: Solution,
    /// Whether each observation is kept.
    pub(super) kept: Vec<bool>,
    /// The observations set aside, in that order.
    pub(super) rejected: Vec<Found>,
    pub(super) limit: f64,
}

/// An observation set aside.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    pub(super) observation: usize,
    /// Its standardized residual when it was.
    pub(super) z: f64,
    /// Its redundancy when it was.
    pub(super) redundancy: f64,
    /// Observations whose residuals are too much alike to tell from it.
    pub(super) alike: Vec<usize>,
}

/// Beyond which size a standardized residual is none of a good reading's. The
/// limit for one reading holds where the job sets no level.
pub(super) fn limit(tested: usize, level: Option<f64>) -> f64 {
    let all = level.unwrap_or(LEVEL);
    let each = -((-all).ln_1p() / tested.max(1) as f64).exp_m1();
    let least = if level.is_some() { 0.0 } else { ONE_READING };
    two_sided_normal(each).max(least)
}

/// Sets aside, one at a time, the observation that fits worst.
pub(super) fn search(part: &Part) -> Result<Searched, Trouble> {
    let mut kept = vec![true; part.observed.len()];
    let all = part.solve(&kept)?;
    let mut solution = all.clone();
    let mut rejected: Vec<Found> = Vec::new();
    let limit = limit(tested(&all), part.level);
    while let Some(found) = worst(&solution, &kept, limit) {
        let found = weakest_of_alike(part, &kept, found, limit)?;
        kept[found.observation] = false;
        rejected.push(found);
        solution = part.solve(&kept)?;
    }
    take_back(part, &mut kept, &mut rejected, &mut solution, limit)?;
    Ok(Searched { part: part.clone(), all, solution, kept, rejected, limit })
}

fn tested(solution: &Solution) -> usize {
    solution.fits().iter().filter(|fit| fit.redundancy > UNCHECKED).count()
}

/// The observation with the largest standardized residual, when that is
/// beyond the limit.
fn worst(solution: &Solution, kept: &[bool], limit: f64) -> Option<Found> {
    let places: Vec<usize> = (0..kept.len()).filter(|at| kept[*at]).collect();
    let size = |fit: &Fit| {
        let tested = fit.redundancy > UNCHECKED;
        fit.standardized.filter(|_| tested).map_or(0.0, f64::abs)
    };
    let fits = solution.fits().iter().enumerate();
    let (at, fit) = fits.max_by(|a, b| size(a.1).total_cmp(&size(b.1)))?;
    let alike =
        |other: &usize| solution.residual_correlation(at, *other).is_some_and(|r| r.abs() > ALIKE);
    (size(fit) > limit).then(|| Found {
        observation: places[at],
        z: fit.standardized.unwrap_or_default(),
        redundancy: fit.redundancy,
        alike: (0..places.len()).filter(alike).map(|other| places[other]).collect(),
    })
}

/// Of observations whose residuals are too much alike, those are to blame
/// without which the others agree; where that is one alone, it is. Of several
/// a reading is set aside before what is known beforehand, and among those the
/// one with the largest sigma: it costs the least.
fn weakest_of_alike(
    part: &Part,
    kept: &[bool],
    mut found: Found,
    limit: f64,
) -> Result<Found, Trouble> {
    if found.alike.is_empty() {
        return Ok(found);
    }
    let all: Vec<usize> = found.alike.iter().copied().chain([found.observation]).collect();
    let left: Result<Vec<f64>, Trouble> =
        all.iter().map(|at| left_without(part, kept, *at, &all)).collect();
    let left = left?;
    let least = left.iter().copied().fold(f64::INFINITY, f64::min);
    // Where nothing alone heals it, the one that leaves the least.
    let heals = |left: f64| left <= limit.max(least);
    let to_blame: Vec<usize> =
        all.iter().zip(&left).filter(|(_, left)| heals(**left)).map(|(at, _)| *at).collect();
    let order = |at: usize| (part.observed[at].reading.is_some(), part.observed[at].sigma);
    let weaker =
        |a: &usize, b: &usize| order(*a).partial_cmp(&order(*b)).unwrap_or(Ordering::Equal);
    // The last of several equals is the one found: it fits worst.
    let aside = to_blame.iter().copied().max_by(weaker).unwrap_or(found.observation);
    found.observation = aside;
    found.alike = to_blame.into_iter().filter(|at| *at != aside).collect();
    Ok(found)
}

/// The largest standardized residual that is left among `all` without one of
/// them.
fn left_without(part: &Part, kept: &[bool], at: usize, all: &[usize]) -> Result<f64, Trouble> {
    let mut without = kept.to_vec();
    without[at] = false;
    let solution = part.solve(&without)?;
    let places = (0..kept.len()).filter(|at| without[*at]);
    let of_all = places.zip(solution.fits()).filter(|(at, _)| all.contains(at));
    let tested = of_all.filter(|(_, fit)| fit.redundancy > UNCHECKED);
    Ok(tested.filter_map(|(_, fit)| fit.standardized).map(f64::abs).fold(0.0, f64::max))
}

/// Takes back what fits after all, now that others are set aside.
fn take_back(
    part: &Part,
    kept: &mut [bool],
    rejected: &mut Vec<Found>,
    solution: &mut Solution,
    limit: f64,
) -> Result<(), Trouble> {
    if rejected.len() < 2 {
        return Ok(());
    }
    for found in rejected.clone() {
        kept[found.observation] = true;
        let with = part.solve(kept)?;
        let place = (0..found.observation).filter(|at| kept[*at]).count();
        let z = with.fits()[place].standardized.map_or(0.0, f64::abs);
        if z < limit && worst(&with, kept, limit).is_none() {
            rejected.retain(|other| other.observation != found.observation);
            *solution = with;
        } else {
            kept[found.observation] = false;
        }
    }
    Ok(())
}

impl Searched {
    /// The fit of an observation among what is kept.
    pub(super) fn fit(&self, observation: usize) -> Option<Fit> {
        let place = self.place(observation)?;
        self.solution.fits().get(place).copied()
    }

    /// The place of an observation among what is kept.
    fn place(&self, observation: usize) -> Option<usize> {
        let kept = *self.kept.get(observation)?;
        kept.then(|| self.kept[..observation].iter().filter(|kept| **kept).count())
    }

    /// The readings that bear on a sum of unknowns, each with its share of
    /// the variance; what is known beforehand is left out.
    pub(super) fn shares(&self, terms: &[(usize, f64)]) -> Vec<(usize, f64)> {
        let Some(sigma) = self.solution.sigma(terms).filter(|sigma| *sigma > 0.0) else {
            return Vec::new();
        };
        let Some(with) = self.solution.covariance_with_all(terms) else { return Vec::new() };
        let x = self.solution.values();
        let kept = || self.part.observed.iter().zip(&self.kept).filter(|(_, kept)| **kept);
        let over_sigma = |(seen, _): (&Observed, &bool)| {
            let slope = seen.form.slope(x);
            slope.iter().map(|(at, factor)| factor * with[*at]).sum::<f64>() / seen.sigma
        };
        let shares = self.solution.shares(kept().map(over_sigma).collect());
        let share = |((seen, _), share): ((&Observed, &bool), f64)| {
            Some((seen.reading?, (share / (sigma * sigma)).max(0.0)))
        };
        kept().zip(shares).filter_map(share).collect()
    }
}
