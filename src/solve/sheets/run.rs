//! The phases in order: starts, bound, moves, offcut.

use super::beam::{self, Wish};
use super::bound::Bank;
use super::exact::{self, Completion, Verdict};
use super::fill::Stop;
use super::finish::{enlarge_offcut, plans};
use super::first::starts;
use super::improve::Search;
use super::plan::Solution;
use super::problem::{Method, Problem, ProblemError};
use super::settings::fewer_settings;
use super::target::{Targets, targets};
use super::work::{Filled, Layout, Work};
use crate::solve::watch::Control;

/// How much work may be done. Steps count items placed, about a million in a
/// second or two; the same steps always give the same answer.
#[derive(Clone, Copy)]
pub struct Budget<'a> {
    /// The most steps.
    pub steps: u64,
    /// Start of the chance numbers.
    pub seed: u64,
    /// Asked often, also in the middle of a move; `true` ends the search with
    /// the best plan so far.
    pub stop: Option<&'a dyn Fn() -> bool>,
}

impl Default for Budget<'_> {
    fn default() -> Self {
        Self::steps(20_000_000)
    }
}

impl Budget<'_> {
    /// A budget of steps only.
    #[must_use]
    pub fn steps(steps: u64) -> Self {
        Self { steps, seed: 1, stop: None }
    }
}

/// What the solver is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// The first plans.
    Starts,
    /// Local moves towards a cheaper plan.
    Moves,
    /// Trying to rule out a cheaper plan.
    Proof,
    /// A larger offcut on the last sheet.
    Offcut,
    /// Fewer settings of the fence.
    Settings,
}

/// How things stand; sent every few hundred steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// What the solver is doing.
    pub phase: Phase,
    /// Cost of the best plan so far, `None` before the first complete one.
    pub cost: Option<i64>,
    /// No plan costs less.
    pub bound: i64,
    /// Steps done.
    pub steps: u64,
}

/// Lays the parts of `problem` on sheets.
///
/// `watch` is told how things stand and may stop the search; the best plan so
/// far is then returned. Parts that find no room on a finite supply are listed
/// in [`Solution::unplaced`], and nothing is proven.
///
/// # Errors
/// A number out of range, or parts that fit no sheet: see [`ProblemError`].
pub fn solve(
    problem: &Problem,
    method: Method,
    budget: &Budget<'_>,
    watch: &mut dyn FnMut(&Progress) -> Control,
) -> Result<Solution, ProblemError> {
    problem.validate(method)?;
    let work = Work::fold(problem, method);
    let all: Vec<usize> = (0..work.items.len()).collect();
    let mut run = Run {
        problem,
        method,
        work: &work,
        bank: Bank::of(&work, &all),
        best: Layout { bins: Vec::new(), left: all },
        bound: 0,
        impossible: Vec::new(),
        steps: 0,
        told: 0,
        for_settings: (budget.steps / SHARE_FOR_SETTINGS).min(STEPS_FOR_SETTINGS),
        budget: *budget,
        phase: Phase::Starts,
        stopped: false,
        watch,
    };
    run.bound = run.bank.least_cost(&work);
    run.all_phases();
    Ok(run.solution())
}

/// What no plan of these parts can cost less than, worked out at once; `cost`
/// where nothing says that less would not do.
///
/// # Errors
/// A number out of range, or parts that fit no sheet.
pub fn least_cost(problem: &Problem, method: Method, cost: i64) -> Result<i64, ProblemError> {
    problem.validate(method)?;
    let work = Work::fold(problem, method);
    let all: Vec<usize> = (0..work.items.len()).collect();
    let bank = Bank::of(&work, &all);
    let listed = targets(&work, &bank, cost).bound(cost).unwrap_or(0);
    Ok(bank.least_cost(&work).max(listed))
}

struct Run<'a> {
    problem: &'a Problem,
    method: Method,
    work: &'a Work,
    bank: Bank,
    best: Layout,
    bound: i64,
    /// Lists of sheets proven not to suffice.
    impossible: Vec<Vec<usize>>,
    steps: u64,
    told: u64,
    for_settings: u64,
    budget: Budget<'a>,
    phase: Phase,
    stopped: bool,
    watch: &'a mut dyn FnMut(&Progress) -> Control,
}

/// Lists of sheets tried in one round.
const LISTS_PER_ROUND: usize = 12;

/// Lists of sheets on which layouts are grown in one round.
const LISTS_GROWN: usize = 2;
/// Items laid in growing layouts that count as one step.
const STEPS_PER_WORK: u64 = 8;
/// Steps of the search for fewer settings: a share of the budget, and at most.
const SHARE_FOR_SETTINGS: u64 = 16;
const STEPS_FOR_SETTINGS: u64 = 400_000;
/// The fewest and the most layouts grown beside each other.
const LEAST_WIDTH: u64 = 4;
const MOST_WIDTH: u64 = 20_000;

/// Steps between two reports of progress.
const TELL_EVERY: u64 = 2000;

impl Run<'_> {
    fn all_phases(&mut self) {
        self.first_plans();
        self.cheaper_plans();
        self.phase = Phase::Offcut;
        self.larger_offcut();
        if self.work.knife.is_some() {
            self.phase = Phase::Settings;
            self.fewer_settings();
        }
    }

    fn settled(&self) -> bool {
        self.best.left.is_empty() && self.work.cost(&self.best.bins) <= self.bound
    }

    /// Counts steps and reports; false when it is time to stop.
    fn spend(&mut self, steps: u64) -> bool {
        self.steps += steps;
        if self.steps - self.told >= TELL_EVERY {
            self.told = self.steps;
            self.tell();
        }
        self.stopped |= self.budget.stop.is_some_and(|stop| stop());
        !self.stopped && self.steps < self.budget.steps
    }

    fn tell(&mut self) {
        let complete = self.best.left.is_empty();
        let progress = Progress {
            phase: self.phase,
            cost: complete.then(|| self.work.cost(&self.best.bins)),
            bound: self.bound,
            steps: self.steps,
        };
        self.stopped |= (self.watch)(&progress) == Control::Stop;
    }

    /// Whether `layout` is better: less left outside, then cheaper.
    fn better(&self, layout: &Layout) -> bool {
        let rank = |layout: &Layout| (self.work.share(&layout.left), self.work.cost(&layout.bins));
        let (new, old) = (rank(layout), rank(&self.best));
        new.0 < old.0 - 1e-9 || (new.0 < old.0 + 1e-9 && new.1 < old.1)
    }

    fn keep(&mut self, layout: Layout) {
        if self.better(&layout) {
            self.best = layout;
            if cfg!(debug_assertions) {
                let checked = super::check::check(self.problem, self.method, &self.solution());
                assert!(checked.is_ok(), "a plan fails its check: {checked:?}");
            }
            self.tell();
        }
    }

    fn first_plans(&mut self) {
        let work = self.work;
        let stop = Stop::of(&self.budget);
        let run = std::cell::RefCell::new(self);
        let cost = work.items.len() as u64;
        // The first plan is always made to the end, so that there is one.
        let mut go_on = || {
            let mut run = run.borrow_mut();
            run.spend(cost) || run.best.bins.is_empty()
        };
        let mut take = |layout| {
            let mut run = run.borrow_mut();
            run.keep(layout);
            !run.settled() && !run.stopped
        };
        starts(work, stop, &mut go_on, &mut take);
    }

    /// Aims for cheaper lists of sheets until the bound is met.
    fn cheaper_plans(&mut self) {
        let small = self.work.items.len() <= exact::MOST;
        let mut completion = small.then(|| Completion::new(self.work, &self.bank));
        let mut round = 0;
        while !self.settled() && self.spend(0) {
            let targets = self.targets();
            if targets.lists.is_empty() {
                return;
            }
            let lists = targets.lists.iter().take(LISTS_PER_ROUND).enumerate();
            let patience = (20_000_u64 << round.min(20)).max(self.work.items.len() as u64 * 50);
            self.phase = Phase::Moves;
            for (index, (_, list)) in lists {
                if self.aim(list, patience, round * 31 + index as u64) || !self.spend(0) {
                    break;
                }
            }
            self.grow(&targets, patience);
            self.phase = Phase::Proof;
            let complete = self.best.left.is_empty();
            if let Some(completion) = completion.as_mut().filter(|_| complete && self.spend(0)) {
                self.rule_out(completion, patience / 2);
            }
            round += 1;
        }
    }

    /// Grows layouts on the lists of sheets that cost least.
    fn grow(&mut self, targets: &Targets, patience: u64) {
        let work = self.work;
        let sizes = work.items.len() as u64;
        let width = 2 * patience / (sizes * sizes).max(1);
        if width < LEAST_WIDTH {
            return;
        }
        let width = usize::try_from(width.min(MOST_WIDTH)).unwrap_or(usize::MAX);
        for (_, list) in targets.lists.iter().take(LISTS_GROWN) {
            for turn in 0..4 {
                let wish = Wish {
                    width,
                    across: turn % 2 == 1,
                    large_first: turn < 2,
                    few_settings: false,
                };
                let mut unbooked = 0;
                let mut go_on = |work| {
                    unbooked += work;
                    let steps = unbooked / STEPS_PER_WORK;
                    unbooked %= STEPS_PER_WORK;
                    self.spend(steps)
                };
                if let Some(layout) = beam::grown(work, list, wish, &mut go_on) {
                    return self.keep(layout);
                }
                if !self.spend(0) {
                    return;
                }
            }
        }
    }

    /// Lists of sheets to aim for; raises the bound to the cheapest of them.
    fn targets(&mut self) -> Targets {
        if !self.best.left.is_empty() {
            let all = self.work.kinds.iter().map(|kind| kind.supply).collect();
            return Targets { lists: vec![(0, all)], complete: false };
        }
        let cost = self.work.cost(&self.best.bins);
        let mut targets = targets(self.work, &self.bank, cost);
        targets.without(&self.impossible);
        self.bound = targets.bound(cost).map_or(self.bound, |bound| self.bound.max(bound));
        targets
    }

    /// Tries to prove that cheaper lists of sheets do not suffice.
    fn rule_out(&mut self, completion: &mut Completion, effort: u64) {
        for list in self.targets().largest().into_iter().take(LISTS_PER_ROUND) {
            match completion.run(&list, effort, &mut |effort| self.spend(effort)) {
                Verdict::Impossible => self.impossible.push(list),
                Verdict::Found(layout) => return self.keep(layout),
                Verdict::Unknown => {}
            }
        }
        self.targets();
    }

    /// Tries to lay everything on one list of sheets.
    fn aim(&mut self, list: &[usize], patience: u64, salt: u64) -> bool {
        let start = restart(self.work, &self.best, list);
        let mut search = Search::new(
            self.work,
            start,
            self.budget.seed.wrapping_add(salt),
            Stop::of(&self.budget),
        );
        let until = self.steps.saturating_add(patience);
        while !search.done() && self.steps < until {
            let steps = search.step();
            if !self.spend(steps) {
                break;
            }
        }
        let found = search.done();
        self.keep(search.into_layout());
        found
    }

    fn larger_offcut(&mut self) {
        let mut layout = std::mem::take(&mut self.best);
        let cost = layout.bins.last().map_or(0, |bin| bin.spots.len()) as u64;
        self.budget.steps = u64::MAX;
        let stop = Stop::of(&self.budget);
        enlarge_offcut(self.work, &mut layout, stop, &mut || self.spend(cost));
        self.best = layout;
    }

    /// Within a fixed number of steps, so that it always comes to an end.
    fn fewer_settings(&mut self) {
        let mut layout = std::mem::take(&mut self.best);
        let until = self.steps + self.for_settings;
        let stop = Stop::of(&self.budget);
        fewer_settings(self.work, &mut layout, stop, &mut |work| {
            self.spend(work.div_ceil(STEPS_PER_WORK)) && self.steps < until
        });
        self.best = layout;
    }

    fn solution(&self) -> Solution {
        let sheets = plans(self.problem, self.work, &self.best);
        let cost = sheets.iter().map(|plan| self.problem.sheets[plan.sheet].cost).sum();
        let complete = self.best.left.is_empty();
        let bound = if complete { self.bound.min(cost) } else { self.bound };
        Solution {
            sheets,
            cost,
            bound,
            proven: complete && bound == cost,
            unplaced: count_rows(self.work, &self.best.left),
        }
    }
}

fn count_rows(work: &Work, left: &[usize]) -> Vec<(usize, u64)> {
    let mut rows: Vec<usize> = left.iter().map(|&item| work.items[item].row).collect();
    rows.sort_unstable();
    rows.chunk_by(|a, b| a == b).map(|run| (run[0], run.len() as u64)).collect()
}

/// The sheets of the list, filled with the fullest sheets of the best plan.
fn restart(work: &Work, best: &Layout, list: &[usize]) -> Layout {
    let mut wanted = list.to_vec();
    let mut bins: Vec<&Filled> = best.bins.iter().collect();
    bins.sort_by(|a, b| work.covered(b).total_cmp(&work.covered(a)));
    let mut layout = Layout { bins: Vec::new(), left: best.left.clone() };
    for bin in bins {
        if wanted[bin.kind] > 0 {
            wanted[bin.kind] -= 1;
            layout.bins.push(bin.clone());
        } else {
            layout.left.extend(bin.spots.iter().map(|spot| spot.item));
        }
    }
    for (kind, count) in wanted.into_iter().enumerate() {
        layout.bins.extend((0..count).map(|_| Filled { kind, spots: Vec::new() }));
    }
    layout
}
