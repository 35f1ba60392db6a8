//! Levenberg-Marquardt on the rows of a network, with column scaling.

use super::envelope::Envelope;
use super::network::Network;
use super::rows::{observed, visit};
use super::state::{Layout, State};

/// When to stop: the step promises less than `promise` (in units of chi
/// squared), or after `steps` steps.
#[derive(Clone, Copy, Debug)]
pub(super) struct Patience {
    pub(super) promise: f64,
    pub(super) steps: usize,
}

/// For the answer itself.
pub(super) const THOROUGH: Patience = Patience { promise: 1e-16, steps: 2000 };
/// For one draw of many: a hundredth of a standard uncertainty.
pub(super) const BRISK: Patience = Patience { promise: 1e-4, steps: 30 };

/// A network prepared for solving.
#[derive(Clone, Debug)]
pub(super) struct Problem<'n> {
    pub(super) network: &'n Network,
    pub(super) layout: Layout,
    pattern: Vec<usize>,
}

/// Where the search ended.
#[derive(Clone, Debug)]
pub(super) struct Settled {
    pub(super) state: State,
    /// Sum of squared residuals in standard uncertainties.
    pub(super) chi_squared: f64,
    /// Whether it stopped because nothing was left to gain.
    pub(super) converged: bool,
}

/// Working memory, kept between draws.
pub(super) struct Desk {
    normal: Envelope,
    factor: Envelope,
    gradient: Vec<f64>,
    step: Vec<f64>,
}

impl<'n> Problem<'n> {
    /// Prepares a network; `state` shows which columns meet in a row.
    pub(super) fn new(network: &'n Network, state: &State) -> Self {
        let layout = Layout::of(network);
        let mut pattern: Vec<usize> = (0..layout.columns).collect();
        visit(network, &layout, state, |_, row| {
            let least = row.entries().iter().map(|e| e.0).min().unwrap_or(0);
            for &(column, _) in row.entries() {
                pattern[column] = pattern[column].min(least);
            }
        });
        Self { network, layout, pattern }
    }

    /// Fresh working memory.
    pub(super) fn desk(&self) -> Desk {
        let normal = Envelope::new(self.pattern.clone());
        let n = self.layout.columns;
        Desk { factor: normal.clone(), normal, gradient: vec![0.0; n], step: vec![0.0; n] }
    }

    /// Sum of squared residuals; infinite beyond the horizon.
    fn cost(&self, state: &State, observed: &[f64]) -> f64 {
        let mut sum = 0.0;
        let seen = visit(self.network, &self.layout, state, |i, row| {
            sum += row.residual(observed[i]).powi(2);
        });
        if seen { sum } else { f64::INFINITY }
    }

    /// Fills the normal matrix and the gradient; returns the cost.
    fn linearise(&self, state: &State, observed: &[f64], desk: &mut Desk) -> f64 {
        desk.normal.clear();
        desk.gradient.fill(0.0);
        let mut sum = 0.0;
        let seen = visit(self.network, &self.layout, state, |i, row| {
            let residual = row.residual(observed[i]);
            sum += residual * residual;
            for &(a, slope) in row.entries() {
                desk.gradient[a] += slope * residual;
                for &(b, other) in row.entries() {
                    if b <= a {
                        desk.normal.add(a, b, slope * other);
                    }
                }
            }
        });
        if seen { sum } else { f64::INFINITY }
    }

    /// The step for a damping, and the fall of the cost it promises.
    ///
    /// Damping multiplies the diagonal, which is column scaling.
    fn step(damping: f64, desk: &mut Desk) -> Option<f64> {
        desk.factor.clone_from(&desk.normal);
        if !desk.factor.factor(damping) {
            return None;
        }
        for (s, g) in desk.step.iter_mut().zip(&desk.gradient) {
            *s = -g;
        }
        desk.factor.forward(&mut desk.step);
        desk.factor.backward(&mut desk.step);
        let mut promise = 0.0;
        for (k, s) in desk.step.iter().enumerate() {
            promise += s * (damping * desk.normal.diagonal(k) * s - desk.gradient[k]);
        }
        promise.is_finite().then_some(promise)
    }

    /// Searches from `start`; damping after Nielsen (1999) as in Madsen,
    /// Nielsen and Tingleff, *Methods for Non-Linear Least Squares Problems*,
    /// 2nd ed. 2004, algorithm 3.16.
    pub(super) fn search(
        &self,
        start: &State,
        observed: &[f64],
        patience: Patience,
        desk: &mut Desk,
    ) -> Settled {
        let mut state = start.clone();
        let mut cost = self.linearise(&state, observed, desk);
        if !cost.is_finite() {
            return Settled { state, chi_squared: cost, converged: false };
        }
        let (mut damping, mut growth) = (1e-6, 2.0);
        for _ in 0..patience.steps {
            let Some(promise) = Self::step(damping, desk) else {
                damping *= growth;
                growth *= 2.0;
                continue;
            };
            if promise <= patience.promise + 1e-15 * cost {
                // The last step is free: its factor is at hand.
                let last = state.moved(&self.layout, &desk.step);
                let better = self.cost(&last, observed);
                let (state, chi_squared) =
                    if better < cost { (last, better) } else { (state, cost) };
                return Settled { state, chi_squared, converged: true };
            }
            let next = state.moved(&self.layout, &desk.step);
            let gain = (cost - self.cost(&next, observed)) / promise;
            if gain > 0.0 {
                state = next;
                cost = self.linearise(&state, observed, desk);
                damping = (damping * (1.0 - (2.0 * gain - 1.0).powi(3)).max(1.0 / 3.0)).max(1e-12);
                growth = 2.0;
            } else {
                damping = damping.max(1e-9) * growth;
                growth *= 2.0;
            }
            if damping > 1e12 {
                break;
            }
        }
        Settled { state, chi_squared: cost, converged: false }
    }

    /// The factor of the normal matrix at a state, for covariances.
    pub(super) fn factor_at(&self, state: &State) -> Option<Envelope> {
        let mut desk = self.desk();
        self.linearise(state, &observed(self.network), &mut desk);
        desk.normal.factor(0.0).then_some(desk.normal)
    }
}
