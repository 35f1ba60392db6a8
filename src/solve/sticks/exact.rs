//! The order of battle once the quick plans leave a gap: relax, round, split
//! by what is bought, close.

use super::cover::{self, Effort, Outcome};
use super::dive::{Chance, dive};
use super::master::{Master, Settled};
use super::mix::mixes;
use super::normal::Instance;
use super::problem::{Phase, Progress};
use super::search::Search;

/// Distinct lengths up to which the relaxation is solved.
pub(super) const MOST_LENGTHS: usize = 1_000;
/// Dives between two attempts at closing.
const DIVES: u32 = 8;
/// Steps a dive counts at least.
const LEAST_DIVE: u64 = 20_000;
/// Dives after which the weight of chance starts again from nothing.
const NOISES: u32 = 48;
/// Steps of the first attempt at closing; each may take five times the steps
/// of the one before.
const FIRST_ATTEMPT: u64 = 400_000_000;
/// Dives on one choice of what to buy.
const DIVES_ON_MIX: u32 = 6;

/// Sums of money looked at, one after the other.
const MOST_SUMS: u32 = 100;

/// Narrows the gap as far as the budget allows.
pub(super) fn run(search: &mut Search) {
    search.enter(Phase::Relaxing);
    let mut master = primed(search);
    if settle(search, &mut master) == Settled::Open && search.done() {
        return;
    }
    let mut chance = Chance::new(1);
    search.enter(Phase::Diving);
    dive(search, &mut master, 0.0, &mut chance);
    if !search.done() && search.best.is_some() {
        search.enter(Phase::Proving);
        by_mix(search);
    }
    let mut effort = Effort::first(FIRST_ATTEMPT);
    for attempt in 0_u32.. {
        search.enter(Phase::Proving);
        close(search, &mut master, effort);
        search.enter(Phase::Diving);
        for round in 1..=DIVES {
            // Whatever a dive comes to, it counts: the search ends with its
            // budget, not before.
            search.meter.spend(LEAST_DIVE);
            if search.done() {
                return;
            }
            let turn = attempt.saturating_mul(DIVES).saturating_add(round);
            dive(search, &mut master, 0.1 * f64::from(turn % NOISES), &mut chance);
        }
        effort = effort.more();
    }
}

/// The relaxation with the patterns of the best plan.
fn primed<'a>(search: &Search<'a>) -> Master<'a> {
    let mut master = Master::new(search.instance);
    for cut in search.best.iter().flatten() {
        master.add((cut.bar, cut.counts.clone()));
    }
    master
}

/// Settles the relaxation with all wanted.
fn settle(search: &mut Search, master: &mut Master) -> Settled {
    let wanted = search.instance.demands();
    let supply: Vec<u32> = search.instance.bars.iter().map(|bar| bar.supply).collect();
    master.ask(&wanted, &supply);
    master.settle(search, &wanted, &supply, u32::MAX, true)
}

/// Refutes targets from below the best plan, or finds better plans, until one
/// attempt stays open.
fn close(search: &mut Search, master: &mut Master, effort: Effort) {
    while !search.done() {
        if settle(search, master) == Settled::Open || search.done() {
            return;
        }
        let target = search.best_cost - 1;
        search.meter.allowance = effort.steps;
        let outcome = cover::close(search, master, target, effort);
        search.meter.allowance = u64::MAX;
        match outcome {
            Outcome::Refuted => search.raise(target + 1),
            Outcome::Found => {}
            Outcome::Open => return,
        }
    }
}

/// Tries each way of spending exactly the bound, as long as all ways can be
/// decided; a plan found is optimal, and no plan raises the bound.
fn by_mix(search: &mut Search) {
    for _ in 0..MOST_SUMS {
        let target = search.bound;
        let Some(mixes) = mixes(search.instance, target) else { return };
        let mut refuted = true;
        for mix in mixes {
            refuted &= on_mix(search, &mix, target) == Outcome::Refuted;
            if search.done() {
                return;
            }
        }
        if !refuted {
            return;
        }
        search.raise(target + 1);
        if search.done() {
            return;
        }
    }
}

/// Looks for a plan of cost `target` from the strips in `mix`.
fn on_mix(search: &mut Search, mix: &[u32], target: i64) -> Outcome {
    let mut instance: Instance = search.instance.clone();
    for (bar, &supply) in instance.bars.iter_mut().zip(mix) {
        bar.supply = supply;
        bar.limited = true;
    }
    let (found, refuted) = {
        let shown = Progress { best: search.best_cost, bound: search.bound, phase: search.phase };
        let budget = search.meter.budget();
        let watch = &mut *search.watch;
        let mut silent = |_: &Progress| watch(&shown);
        let mut inner = Search::new(search.problem, &instance, budget, &mut silent);
        inner.look_below(target + 1);
        attempt_mix(&mut inner, target);
        search.meter.take_over(&inner.meter);
        (inner.best.take(), inner.proven())
    };
    match found {
        Some(cuts) => {
            search.offer(&cuts);
            Outcome::Found
        }
        None if refuted => Outcome::Refuted,
        None => Outcome::Open,
    }
}

fn attempt_mix(inner: &mut Search, target: i64) {
    let mut master = Master::new(inner.instance);
    if settle(inner, &mut master) == Settled::Open && inner.done() {
        return;
    }
    let mut chance = Chance::new(2);
    for round in 0..DIVES_ON_MIX {
        dive(inner, &mut master, 0.1 * f64::from(round), &mut chance);
        if inner.done() || inner.best.is_some() {
            return;
        }
    }
    if settle(inner, &mut master) == Settled::Optimal && !inner.done() {
        inner.meter.allowance = FIRST_ATTEMPT;
        let effort = Effort::first(FIRST_ATTEMPT);
        if cover::close(inner, &master, target, effort) == Outcome::Refuted {
            inner.raise(target + 1);
        }
        inner.meter.allowance = u64::MAX;
    }
}
