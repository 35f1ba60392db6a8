//! Weighted linear least squares with exact equations.
//!
//! Unknowns `x`; observations `a·x = v ± sigma`; equations `c·x = d` that hold
//! exactly. The equations are eliminated first; the rest is brought to upper
//! triangular form by Householder reflections over blocks of rows, never by
//! normal equations, so that half the digits are not lost. Work is linear in
//! the observations and at most cubic in the unknowns; unknowns that only
//! neighbours speak of keep the triangle narrow. Observations that share errors
//! are made independent before.
//!
//! Sources: G. H. Golub and C. F. Van Loan, *Matrix Computations*, for the
//! reflections and the equations; W. Baarda, *A Testing Procedure for Use in
//! Geodetic Networks* (1968), for redundancy numbers and standardized
//! residuals. Both from memory.

mod exact;
mod group;
mod nonlinear;
mod order;
mod solution;
mod spread;
mod triangle;

#[cfg(test)]
mod tests;

pub use group::{Group, independent};
pub use nonlinear::{Form, Limits, NonlinearObservation, NonlinearProblem};
pub use solution::{Fit, Solution};

use group::Whitener;

/// A sum of unknowns: index and factor.
pub type Terms = Vec<(usize, f64)>;

/// A sum of unknowns that is known exactly.
#[derive(Clone, Debug, PartialEq)]
pub struct Equation {
    /// The sum.
    pub terms: Terms,
    /// What it is.
    pub value: f64,
}

/// A sum of unknowns that was observed.
#[derive(Clone, Debug, PartialEq)]
pub struct Observation {
    /// The sum.
    pub terms: Terms,
    /// What was observed.
    pub value: f64,
    /// Its standard uncertainty, above zero.
    pub sigma: f64,
}

/// Observations and exact equations of the same unknowns. Observations are
/// independent but for those in groups.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Problem {
    /// How many unknowns.
    pub unknowns: usize,
    /// What holds exactly.
    pub equations: Vec<Equation>,
    /// What was observed.
    pub observations: Vec<Observation>,
    /// Which of the observations share errors.
    pub groups: Vec<Group>,
}

/// Why a problem has no answer. Rows are indices into the problem.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Trouble {
    /// A row speaks of an unknown that is not there.
    #[error("row {row} speaks of unknown {unknown}, which is not there")]
    NoSuchUnknown {
        /// The row.
        row: usize,
        /// The index it names.
        unknown: usize,
    },
    /// A sigma is zero, negative or no number.
    #[error("observation {row} has a standard uncertainty of {sigma}, not above zero")]
    Sigma {
        /// The observation.
        row: usize,
        /// Its sigma.
        sigma: f64,
    },
    /// Correlations that are none, or an observation in two groups.
    #[error("group {group} has no correlations that can be, or holds what is not there or twice")]
    Group {
        /// The group.
        group: usize,
    },
    /// A value or factor is not finite.
    #[error("row {row} holds something that is no number")]
    NotFinite {
        /// The row.
        row: usize,
    },
    /// Equations that cannot hold together.
    #[error("equations {equations:?} cannot hold together: they are {off} apart")]
    Contradiction {
        /// The last is the one that did not fit those before it.
        equations: Vec<usize>,
        /// By how much.
        off: f64,
    },
    /// Gauss-Newton went on without settling.
    #[error("no convergence in {steps} steps; the last still moved by {moved:e} of the size")]
    NoConvergence {
        /// Steps taken.
        steps: usize,
        /// Largest last change, relative to the size of the unknowns.
        moved: f64,
    },
    /// A ratio's lower sum came out as zero.
    #[error("the lower sum of the ratio in observation {row} comes out as zero")]
    ZeroDenominator {
        /// The observation.
        row: usize,
    },
}

impl Problem {
    /// The best values of the unknowns, with all that follows from them.
    ///
    /// Unknowns that nothing fixes are no error: the solution says which.
    ///
    /// # Errors
    /// When a row is malformed or two equations contradict each other.
    pub fn solve(&self) -> Result<Solution, Trouble> {
        self.check()?;
        let eliminated = exact::eliminate(self.unknowns, &self.equations)?;
        let whitener = Whitener::new(self.observations.len(), &self.groups)?;
        Ok(solution::solve(self, eliminated, whitener))
    }

    /// An unknown that the equations fix without any observation, and which
    /// of them do so together, in order; nothing when they leave all open.
    ///
    /// # Errors
    /// When two equations contradict each other.
    pub fn fixed_by_equations(&self) -> Result<Option<(usize, Vec<usize>)>, Trouble> {
        exact::fixed(&self.equations)
    }

    fn check(&self) -> Result<(), Trouble> {
        for (row, equation) in self.equations.iter().enumerate() {
            check_row(row, self.unknowns, &equation.terms, equation.value)?;
        }
        for (row, seen) in self.observations.iter().enumerate() {
            check_row(row, self.unknowns, &seen.terms, seen.value)?;
            check_sigma(row, seen.sigma)?;
        }
        Ok(())
    }
}

fn check_sigma(row: usize, sigma: f64) -> Result<(), Trouble> {
    if sigma.is_finite() && sigma > 0.0 && (1.0 / sigma).is_finite() {
        Ok(())
    } else {
        Err(Trouble::Sigma { row, sigma })
    }
}

fn check_row(
    row: usize,
    unknowns: usize,
    terms: &[(usize, f64)],
    value: f64,
) -> Result<(), Trouble> {
    if let Some(&(unknown, _)) = terms.iter().find(|(unknown, _)| *unknown >= unknowns) {
        return Err(Trouble::NoSuchUnknown { row, unknown });
    }
    let finite = value.is_finite() && terms.iter().all(|(_, factor)| factor.is_finite());
    if finite { Ok(()) } else { Err(Trouble::NotFinite { row }) }
}

/// Sorts terms by unknown, adds up doubles and drops zeros.
fn tidy(terms: &mut Terms) {
    terms.sort_unstable_by_key(|(unknown, _)| *unknown);
    terms.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        if same {
            kept.1 += next.1;
        }
        same
    });
    terms.retain(|(_, factor)| factor.abs() > 0.0);
}
