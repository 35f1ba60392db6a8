//! What all methods share: the best plan, the bound, the budget, the watcher.

use super::bound::{Reachable, dual_bound};
use super::check::check;
use super::normal::{Cut, Instance};
use super::problem::{Budget, Phase, Problem, Progress, Solution};
use crate::solve::watch::Control;

/// Steps between two questions to the clock or the watcher: well under a
/// millisecond of work.
const BETWEEN_QUESTIONS: u64 = 200_000;

/// Counts the steps taken and asks now and then whether to go on.
pub(super) struct Meter<'a> {
    budget: Budget<'a>,
    unasked: u64,
    /// A nearer limit than the budget, for one method among several.
    pub allowance: u64,
    pub stopped: bool,
}

impl<'a> Meter<'a> {
    pub(super) fn new(budget: Budget<'a>) -> Self {
        let stopped = budget.steps == 0;
        Self { budget, unasked: BETWEEN_QUESTIONS, allowance: u64::MAX, stopped }
    }

    /// What is left of the budget.
    pub(super) fn budget(&self) -> Budget<'a> {
        self.budget
    }

    /// Goes on from where a meter of the same budget stopped.
    pub(super) fn take_over(&mut self, other: &Meter) {
        self.budget.steps = other.budget.steps;
        self.stopped |= other.stopped;
    }

    /// Whether the clock or the person says stop, asked now.
    pub(super) fn is_late(&mut self) -> bool {
        self.stopped |= self.budget.stop.is_some_and(|stop| stop());
        self.stopped
    }

    /// Books `steps`; false when the search has to end.
    pub(super) fn spend(&mut self, steps: u64) -> bool {
        self.budget.steps = self.budget.steps.saturating_sub(steps);
        self.allowance = self.allowance.saturating_sub(steps);
        self.unasked += steps;
        if self.unasked >= BETWEEN_QUESTIONS {
            self.unasked = 0;
            self.stopped |= self.budget.stop.is_some_and(|stop| stop());
        }
        self.stopped |= self.budget.steps == 0;
        !self.stopped && self.allowance > 0
    }
}

/// The state of a search.
pub(super) struct Search<'a> {
    pub problem: &'a Problem,
    pub instance: &'a Instance,
    pub meter: Meter<'a>,
    pub best: Option<Vec<Cut>>,
    /// Cost of the best plan; before there is one, more than any can cost.
    pub best_cost: i64,
    pub bound: i64,
    pub phase: Phase,
    reachable: Reachable,
    pub watch: &'a mut (dyn FnMut(&Progress) -> Control + 'a),
}

impl<'a> Search<'a> {
    pub(super) fn new(
        problem: &'a Problem,
        instance: &'a Instance,
        budget: Budget<'a>,
        watch: &'a mut (dyn FnMut(&Progress) -> Control + 'a),
    ) -> Self {
        Self {
            problem,
            instance,
            meter: Meter::new(budget),
            best: None,
            best_cost: instance.highest_cost().saturating_add(1),
            bound: 0,
            phase: Phase::Greedy,
            reachable: Reachable::default(),
            watch,
        }
    }

    /// Looks only for plans that cost less than `cost`.
    pub(super) fn look_below(&mut self, cost: i64) {
        self.best_cost = cost;
    }

    /// Takes a plan that covers all demands, if it is cheaper, or as cheap and
    /// handier; true when it is cheaper.
    pub(super) fn offer(&mut self, cuts: &[Cut]) -> bool {
        let cost = self.instance.cost(cuts);
        if cost >= self.best_cost {
            if let Some(best) = self.best.as_mut().filter(|_| cost == self.best_cost)
                && self.instance.bother(cuts) < self.instance.bother(best)
            {
                *best = cuts.to_vec();
                debug_assert_eq!(check(self.problem, &self.solution(cuts)), Ok(()));
            }
            return false;
        }
        self.best = Some(cuts.to_vec());
        self.best_cost = cost;
        self.reachable = Reachable::new(&self.instance.bars, cost);
        self.raise(self.bound);
        debug_assert_eq!(check(self.problem, &self.solution(cuts)), Ok(()));
        self.report();
        true
    }

    /// Takes a bound, rounded up to the next sum that prices can reach.
    pub(super) fn raise(&mut self, bound: i64) {
        let bound = self.reachable.round_up(bound).min(self.best_cost);
        if bound > self.bound {
            self.bound = bound;
            self.report();
        }
    }

    /// Raises the bound from multipliers and the largest value of a strip of
    /// each kind under them.
    pub(super) fn raise_by_duals(&mut self, values: &[i64], largest: &[i64]) {
        if let Some(bound) = dual_bound(self.instance, values, largest) {
            self.raise(bound);
        }
    }

    /// The next sum of prices above the bound.
    pub(super) fn round_up(&self, bound: i64) -> i64 {
        self.reachable.round_up(bound)
    }

    /// Whether nothing is left to do.
    pub(super) fn done(&self) -> bool {
        self.meter.stopped || self.proven()
    }

    pub(super) fn proven(&self) -> bool {
        self.bound >= self.best_cost
    }

    pub(super) fn enter(&mut self, phase: Phase) {
        self.phase = phase;
        self.report();
    }

    fn report(&mut self) {
        let best = self.best.as_ref().map_or(i64::MAX, |_| self.best_cost);
        let progress = Progress { best, bound: self.bound, phase: self.phase };
        if (self.watch)(&progress) == Control::Stop {
            self.meter.stopped = true;
        }
    }

    /// A meter for the little work after the search, which has a limit of its own.
    pub(super) fn handiwork() -> Meter<'static> {
        Meter::new(Budget::steps(u64::MAX))
    }

    /// The plan as an answer to the problem.
    pub(super) fn solution(&self, cuts: &[Cut]) -> Solution {
        let plan = self.instance.plan(cuts);
        let stock = &self.problem.stock;
        let cost = plan.iter().map(|p| stock[p.stock].cost * i64::from(p.times)).sum();
        let bound = self.bound.min(cost);
        Solution { plan, cost, bound, proven: bound == cost }
    }
}
