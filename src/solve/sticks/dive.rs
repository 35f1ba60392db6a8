//! Rounding the relaxation: take the strips it is sure of, solve again, and
//! so on down to a whole plan; then again with other choices.

use super::greedy::{self, Fill, Pick};
use super::master::Master;
use super::normal::{Counts, Cut};
use super::search::Search;

/// Rounds of column generation after each choice.
const ROUNDS: u32 = 12;
/// A value this near to a whole number counts as whole.
const NEAR: f64 = 1e-4;

/// Numbers that look random and are the same every time.
pub(super) struct Chance(u64);

impl Chance {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// The next number in `0..1`.
    pub(super) fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// What is still to be cut, and what has been chosen.
#[derive(Clone)]
struct Residual {
    wanted: Vec<u32>,
    supply: Vec<u32>,
    cuts: Vec<Cut>,
    cost: i64,
}

impl Residual {
    /// Takes a strip up to `times` times, without what is no longer wanted.
    fn take(&mut self, bar: usize, price: i64, counts: &Counts, times: u32) {
        let mut times = times.min(self.supply[bar]);
        while times > 0 {
            let useful: Counts = (counts.iter())
                .map(|&(item, count)| (item, count.min(self.wanted[item as usize])))
                .filter(|&(_, count)| count > 0)
                .collect();
            let fits = useful.iter().map(|&(i, c)| self.wanted[i as usize] / c).min();
            let Some(fits) = fits else { return };
            let now = fits.min(times);
            for &(item, count) in &useful {
                self.wanted[item as usize] -= count * now;
            }
            self.supply[bar] -= now;
            self.cost += price * i64::from(now);
            self.cuts.push(Cut { bar, counts: useful, times: now });
            times -= now;
        }
    }
}

/// One dive. `noise` is how much chance weighs against the relaxation.
pub(super) fn dive(search: &mut Search, master: &mut Master, noise: f64, chance: &mut Chance) {
    let mut residual = Residual {
        wanted: search.instance.demands(),
        supply: search.instance.bars.iter().map(|bar| bar.supply).collect(),
        cuts: Vec::new(),
        cost: 0,
    };
    let mut first = true;
    while residual.wanted.iter().any(|&count| count > 0) {
        master.purge();
        master.ask(&residual.wanted, &residual.supply);
        master.settle(search, &residual.wanted, &residual.supply, ROUNDS, first);
        first = false;
        let least = residual.cost as f64 + master.lp.objective();
        if search.done() || search.round_up((least - NEAR).ceil() as i64) >= search.best_cost {
            return;
        }
        if !choose(&mut residual, search, master, noise, chance) {
            return;
        }
        complete(search, &residual);
        if search.done() {
            return;
        }
    }
    search.offer(&residual.cuts);
}

/// Fixes strips; false when the relaxation offers none.
fn choose(
    residual: &mut Residual,
    search: &Search,
    master: &Master,
    noise: f64,
    chance: &mut Chance,
) -> bool {
    let bars = &search.instance.bars;
    let used = master.lp.used();
    let mut took = false;
    for &(column, value) in &used {
        let times = (value + NEAR).floor();
        if times >= 1.0 {
            let (bar, counts) = &master.strips[column];
            residual.take(*bar, bars[*bar].cost, counts, times as u32);
            took = true;
        }
    }
    if took {
        return true;
    }
    let mut best = (f64::NEG_INFINITY, None);
    for &(column, value) in &used {
        let score = value + noise * chance.next();
        if score > best.0 {
            best = (score, Some(column));
        }
    }
    let Some(column) = best.1 else { return false };
    let (bar, counts) = &master.strips[column];
    residual.take(*bar, bars[*bar].cost, counts, 1);
    true
}

/// Tries to finish by rules of thumb.
fn complete(search: &mut Search, residual: &Residual) {
    let ways = [(Fill::Fullest, Pick::Cheapest), (Fill::Longest, Pick::Cheapest)];
    for (fill, pick) in ways {
        let rest = greedy::plan(search.instance, &residual.wanted, &residual.supply, fill, pick);
        if let Some(rest) = rest {
            let cost = residual.cost + search.instance.cost(&rest);
            if cost < search.best_cost {
                let all: Vec<Cut> = residual.cuts.iter().cloned().chain(rest).collect();
                search.offer(&all);
            }
        }
    }
}
