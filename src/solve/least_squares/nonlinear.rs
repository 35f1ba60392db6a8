//! Ratios, products and diagonals by Gauss-Newton.

use super::group::{Group, Whitener};
use super::{Equation, Observation, Problem, Solution, Terms, Trouble, check_row, check_sigma};

/// What an observation is of.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A sum.
    Sum(Terms),
    /// One sum over another.
    Ratio(Terms, Terms),
    /// One sum by another.
    Product(Terms, Terms),
    /// The long side of a right angle whose sides are two sums.
    Diagonal(Terms, Terms),
}

/// A form that was observed.
#[derive(Clone, Debug, PartialEq)]
pub struct NonlinearObservation {
    /// The form.
    pub form: Form,
    /// What was observed.
    pub value: f64,
    /// Its standard uncertainty, above zero.
    pub sigma: f64,
}

/// As [`Problem`], with ratios, products and diagonals.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct NonlinearProblem {
    /// How many unknowns.
    pub unknowns: usize,
    /// What holds exactly.
    pub equations: Vec<Equation>,
    /// What was observed.
    pub observations: Vec<NonlinearObservation>,
    /// Which of the observations share errors.
    pub groups: Vec<Group>,
}

/// When Gauss-Newton may stop and when it must.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Steps at most.
    pub steps: usize,
    /// Settled when no unknown moves by more than this share of the largest.
    pub settled: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Self { steps: 40, settled: 1e-11 }
    }
}

fn sum(terms: &[(usize, f64)], x: &[f64]) -> f64 {
    terms.iter().map(|(at, factor)| factor * x[*at]).sum()
}

fn scaled(terms: &[(usize, f64)], by: f64) -> impl Iterator<Item = (usize, f64)> {
    terms.iter().map(move |(at, factor)| (*at, factor * by))
}

impl Form {
    fn is_sum(&self) -> bool {
        matches!(self, Self::Sum(_))
    }

    /// The value of the form.
    #[must_use]
    pub fn value(&self, x: &[f64]) -> f64 {
        match self {
            Self::Sum(terms) => sum(terms, x),
            Self::Ratio(over, under) => sum(over, x) / sum(under, x),
            Self::Product(one, other) => sum(one, x) * sum(other, x),
            Self::Diagonal(one, other) => sum(one, x).hypot(sum(other, x)),
        }
    }

    /// Its derivatives.
    #[must_use]
    pub fn slope(&self, x: &[f64]) -> Terms {
        match self {
            Self::Sum(terms) => terms.clone(),
            Self::Ratio(over, under) => {
                let (top, bottom) = (sum(over, x), sum(under, x));
                scaled(over, 1.0 / bottom).chain(scaled(under, -top / bottom / bottom)).collect()
            }
            Self::Product(one, other) => {
                scaled(one, sum(other, x)).chain(scaled(other, sum(one, x))).collect()
            }
            Self::Diagonal(one, other) => {
                let (a, b) = (sum(one, x), sum(other, x));
                let long = a.hypot(b);
                scaled(one, a / long).chain(scaled(other, b / long)).collect()
            }
        }
    }

    fn parts(&self) -> [&[(usize, f64)]; 2] {
        match self {
            Self::Sum(terms) => [terms, &[]],
            Self::Ratio(one, other) | Self::Product(one, other) | Self::Diagonal(one, other) => {
                [one, other]
            }
        }
    }
}

impl NonlinearProblem {
    /// The best values of the unknowns. Of sums alone this is
    /// [`Problem::solve`].
    ///
    /// # Errors
    /// As [`Problem::solve`]; also when the steps do not settle, or a ratio
    /// has nothing below its line.
    pub fn solve(&self, limits: Limits) -> Result<Solution, Trouble> {
        self.check()?;
        let whitener = Whitener::new(self.observations.len(), &self.groups)?;
        if self.observations.iter().all(|seen| seen.form.is_sum()) {
            return self.nearby(&vec![0.0; self.unknowns]);
        }
        let mut x = self.start()?;
        let mut cost = self.cost(&whitener, &x);
        let mut moved = f64::INFINITY;
        for _ in 0..limits.steps {
            let solution = self.nearby(&x)?;
            let next = self.step(&whitener, &x, solution.values(), cost);
            let size = next.iter().map(|v| v.abs()).fold(f64::MIN_POSITIVE, f64::max);
            moved = x.iter().zip(&next).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max) / size;
            x = next;
            cost = self.cost(&whitener, &x);
            if moved <= limits.settled {
                return self.nearby(&x);
            }
        }
        Err(Trouble::NoConvergence { steps: limits.steps, moved })
    }

    fn check(&self) -> Result<(), Trouble> {
        for (row, seen) in self.observations.iter().enumerate() {
            for part in seen.form.parts() {
                check_row(row, self.unknowns, part, seen.value)?;
            }
            check_sigma(row, seen.sigma)?;
        }
        Ok(())
    }

    fn cost(&self, whitener: &Whitener, x: &[f64]) -> f64 {
        let part = |seen: &NonlinearObservation| (seen.value - seen.form.value(x)) / seen.sigma;
        let parts = whitener.figures(self.observations.iter().map(part).collect());
        parts.iter().map(|part| part * part).sum()
    }

    /// Towards the next point, by halves while that is no improvement.
    fn step(&self, whitener: &Whitener, from: &[f64], to: &[f64], cost: f64) -> Vec<f64> {
        let mut share = 1.0;
        for _ in 0..20 {
            let next: Vec<f64> = from.iter().zip(to).map(|(a, b)| a + share * (b - a)).collect();
            if !cost.is_finite() || self.cost(whitener, &next) <= cost * (1.0 + 1e-12) + 1e-300 {
                return next;
            }
            share /= 2.0;
        }
        from.iter().zip(to).map(|(a, b)| a + share * (b - a)).collect()
    }

    /// The best values of the linear problem that touches this one at `x`.
    /// What nothing fixes stays where it is.
    fn nearby(&self, x: &[f64]) -> Result<Solution, Trouble> {
        Ok(self.around(x)?.solve()?.moved(x))
    }

    /// The linear problem that touches this one at `x`, in steps from `x`.
    fn around(&self, x: &[f64]) -> Result<Problem, Trouble> {
        let mut observations = Vec::with_capacity(self.observations.len());
        for (row, seen) in self.observations.iter().enumerate() {
            let terms = seen.form.slope(x);
            let value = seen.value - seen.form.value(x);
            if !value.is_finite() || terms.iter().any(|(_, factor)| !factor.is_finite()) {
                return Err(Trouble::ZeroDenominator { row });
            }
            observations.push(Observation { terms, value, sigma: seen.sigma });
        }
        let step = |equation: &Equation| Equation {
            terms: equation.terms.clone(),
            value: equation.value - sum(&equation.terms, x),
        };
        let equations = self.equations.iter().map(step).collect();
        let groups = self.groups.clone();
        Ok(Problem { unknowns: self.unknowns, equations, observations, groups })
    }

    /// A first point: ratios cleared of their denominators, then products and
    /// diagonals with one side known.
    fn start(&self) -> Result<Vec<f64>, Trouble> {
        let mut observations: Vec<Observation> =
            self.observations.iter().filter_map(|seen| cleared(seen, self.typical())).collect();
        loop {
            let problem = Problem {
                unknowns: self.unknowns,
                equations: self.equations.clone(),
                observations: observations.clone(),
                groups: Vec::new(),
            };
            let solution = problem.solve()?;
            let more = self.sides_now_known(&solution);
            if more.is_empty() || observations.len() > 2 * self.observations.len() {
                return Ok(self.filled(&solution));
            }
            observations.extend(more);
        }
    }

    /// The size that sums usually have here.
    fn typical(&self) -> f64 {
        let sums = self.observations.iter().filter(|seen| seen.form.is_sum());
        sums.map(|seen| seen.value.abs()).fold(0.0, f64::max).max(1e-6)
    }

    fn sides_now_known(&self, solution: &Solution) -> Vec<Observation> {
        let known = |seen: &NonlinearObservation| {
            let (one, other) = match &seen.form {
                Form::Product(one, other) | Form::Diagonal(one, other) => (one, other),
                _ => return None,
            };
            let (known, open) = match (solution.value(one), solution.value(other)) {
                (Some(known), None) => (known, other),
                (None, Some(known)) => (known, one),
                _ => return None,
            };
            let value = match &seen.form {
                Form::Diagonal(..) => (seen.value * seen.value - known * known).max(0.0).sqrt(),
                _ => seen.value / known,
            };
            let sigma = seen.sigma * (value / seen.value).abs().max(1e-3);
            (value.is_finite() && sigma.is_finite()).then(|| Observation {
                terms: open.clone(),
                value,
                sigma,
            })
        };
        self.observations.iter().filter_map(known).collect()
    }

    /// What nothing fixes yet starts at the root of its product, so that no
    /// slope vanishes.
    fn filled(&self, solution: &Solution) -> Vec<f64> {
        let mut x = solution.values().to_vec();
        for seen in self.observations.iter().filter(|seen| !seen.form.is_sum()) {
            for at in seen.form.parts().into_iter().flatten().map(|(at, _)| *at) {
                if x[at].abs() < 1e-12 && !solution.is_fixed(&[(at, 1.0)]) {
                    let size = match seen.form {
                        Form::Diagonal(..) => seen.value.abs() / 2.0,
                        _ => seen.value.abs().sqrt(),
                    };
                    x[at] = size.max(1e-6);
                }
            }
        }
        x
    }
}

/// An observation as a sum, where it can be one; `size` is what the lower sum
/// of a ratio may be.
fn cleared(seen: &NonlinearObservation, size: f64) -> Option<Observation> {
    match &seen.form {
        Form::Sum(terms) => {
            Some(Observation { terms: terms.clone(), value: seen.value, sigma: seen.sigma })
        }
        Form::Ratio(over, under) => Some(Observation {
            terms: scaled(over, 1.0).chain(scaled(under, -seen.value)).collect(),
            value: 0.0,
            sigma: seen.sigma * size,
        }),
        Form::Product(..) | Form::Diagonal(..) => None,
    }
}
