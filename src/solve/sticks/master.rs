//! Column generation: the linear relaxation over all patterns, solved by
//! adding the patterns that improve it.

use super::bound::{ceiling, whole};
use super::knapsack::{Ended, Knapsack};
use super::lp::{End, Lp};
use super::normal::{Counts, Instance};
use super::search::{Meter, Search};
use std::collections::HashMap;

/// Nodes of one search for a pattern that need not be the best.
const NODES: u64 = 3_000;
/// Nodes of the search that shows that no pattern is left.
const ALL_NODES: u64 = 3_000_000;
/// Columns kept before those of little use are dropped.
const MOST_COLUMNS: usize = 6_000;

/// A pattern on a kind of stock.
pub(super) type Strip = (usize, Counts);

/// How far column generation came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Settled {
    /// No pattern improves the relaxation.
    Optimal,
    /// Rounds, nodes or the meter ran out first.
    Open,
}

/// Multipliers made whole, with what they were made from.
pub(super) struct Prices {
    pub values: Vec<i64>,
    /// By bar: the least worth at which a pattern gains.
    pub thresholds: Vec<i64>,
}

/// The restricted relaxation and its patterns.
pub(super) struct Master<'a> {
    pub instance: &'a Instance,
    pub lp: Lp,
    /// Patterns, in the order of the columns.
    pub strips: Vec<Strip>,
    seen: HashMap<Strip, usize>,
    /// Row that keeps the supply of a bar.
    supply_rows: Vec<Option<u32>>,
    lengths: Vec<i64>,
    /// Multipliers are counted in `1 / whole`.
    pub whole: i64,
}

impl<'a> Master<'a> {
    pub(super) fn new(instance: &'a Instance) -> Self {
        let items = instance.items.len();
        let mut rhs: Vec<f64> = instance.items.iter().map(|item| f64::from(item.demand)).collect();
        let mut supply_rows = Vec::new();
        for bar in &instance.bars {
            supply_rows.push(bar.limited.then_some(rhs.len() as u32));
            if bar.limited {
                rhs.push(-f64::from(bar.supply));
            }
        }
        debug_assert!(rhs.len() >= items);
        let dearest = instance.bars.iter().map(|bar| bar.cost).max().unwrap_or(0);
        Self {
            instance,
            lp: Lp::new(rhs, 20.0 * (dearest as f64 + 1.0)),
            strips: Vec::new(),
            seen: HashMap::new(),
            supply_rows,
            lengths: instance.items.iter().map(|item| item.length).collect(),
            whole: whole(instance),
        }
    }

    /// Adds a pattern; false when it is there already.
    pub(super) fn add(&mut self, strip: Strip) -> bool {
        if self.seen.contains_key(&strip) {
            return false;
        }
        let (cost, entries) = self.column(&strip);
        let at = self.lp.add_column(cost, entries);
        self.seen.insert(strip.clone(), at);
        self.strips.push(strip);
        true
    }

    /// Cost and rows of a pattern.
    pub(super) fn column(&self, strip: &Strip) -> (f64, Vec<(u32, f64)>) {
        let mut entries: Vec<(u32, f64)> =
            strip.1.iter().map(|&(item, count)| (item, f64::from(count))).collect();
        if let Some(row) = self.supply_rows[strip.0] {
            entries.push((row, -1.0));
        }
        (self.instance.bars[strip.0].cost as f64, entries)
    }

    /// Sets what is wanted and what can be had.
    pub(super) fn ask(&mut self, wanted: &[u32], supply: &[u32]) {
        let mut rhs: Vec<f64> = wanted.iter().map(|&count| f64::from(count)).collect();
        for (bar, row) in self.supply_rows.iter().enumerate() {
            if row.is_some() {
                rhs.push(-f64::from(supply[bar]));
            }
        }
        self.lp.set_rhs(&rhs);
    }

    /// Multipliers of the relaxation, rounded down.
    pub(super) fn prices(&self) -> Prices {
        let whole = self.whole as f64;
        let most = ceiling(self.instance);
        let down = |y: f64| ((y.max(0.0) * whole).floor() as i64).min(most);
        let multipliers = &self.lp.multipliers;
        let values = (0..self.lengths.len()).map(|item| down(multipliers[item])).collect();
        let slack = ((self.dearest() * self.whole) >> 23) + 64;
        let thresholds = (self.instance.bars.iter().zip(&self.supply_rows))
            .map(|(bar, row)| {
                let rent = row.map_or(0, |row| down(multipliers[row as usize]));
                bar.cost * self.whole + rent + slack
            })
            .collect();
        Prices { values, thresholds }
    }

    /// The table of bounds for `values`.
    pub(super) fn knapsack(
        &self,
        values: Vec<i64>,
        limits: &[u32],
        meter: &mut Meter,
    ) -> Option<Knapsack<'_>> {
        let longest = self.instance.bars.iter().map(|bar| bar.length).max().unwrap_or(0);
        Knapsack::new(&self.lengths, values, limits.to_vec(), longest, meter)
    }

    /// Adds patterns until none improves, at most `rounds` times. `whole_job`
    /// says that all is wanted still, so that bounds hold for the problem.
    pub(super) fn settle(
        &mut self,
        search: &mut Search,
        wanted: &[u32],
        supply: &[u32],
        rounds: u32,
        whole_job: bool,
    ) -> Settled {
        for _ in 0..rounds {
            if self.lp.solve(&mut search.meter) == End::Broken
                && (search.meter.stopped || !self.recover(search))
            {
                return Settled::Open;
            }
            let prices = self.prices();
            let meter = &mut search.meter;
            let Some(knapsack) = self.knapsack(prices.values.clone(), wanted, meter) else {
                return Settled::Open;
            };
            let (found, largest) = improving(&knapsack, self, &prices, wanted, supply, meter);
            // A pattern found that is there already means that the numbers of
            // the program and the whole ones disagree: nothing is shown then.
            let complete = found.is_empty() && largest.iter().all(Option::is_some);
            if whole_job {
                let tops: Vec<i64> = (largest.iter().zip(&self.instance.bars))
                    .map(|(top, bar)| top.unwrap_or_else(|| knapsack.most(bar.length)))
                    .collect();
                search.raise_by_duals(&prices.values, &tops);
                if search.done() {
                    return Settled::Open;
                }
            }
            drop(knapsack);
            let mut added = false;
            for strip in found {
                added |= self.add(strip);
            }
            if !added && self.is_short() {
                continue;
            }
            if !added {
                return if complete { Settled::Optimal } else { Settled::Open };
            }
        }
        Settled::Open
    }

    /// Whether rows are short although nothing gains; then the penalty was too
    /// low and is raised.
    fn is_short(&mut self) -> bool {
        let most = 1e4 * (self.dearest() as f64 + 1.0);
        if self.lp.shortfall() < 1e-5 || self.lp.penalty > most {
            return false;
        }
        self.lp.penalty *= 30.0;
        self.lp.refresh_multipliers();
        true
    }

    fn dearest(&self) -> i64 {
        self.instance.bars.iter().map(|bar| bar.cost).max().unwrap_or(0)
    }

    /// Inverts afresh, or starts over, after bad numbers.
    fn recover(&mut self, search: &mut Search) -> bool {
        if self.lp.invert(&mut search.meter) && self.lp.solve(&mut search.meter) == End::Least {
            return true;
        }
        self.lp.restart();
        self.lp.solve(&mut search.meter) == End::Least
    }

    /// Drops the columns that gain least when there are very many.
    pub(super) fn purge(&mut self) {
        if self.strips.len() <= MOST_COLUMNS {
            return;
        }
        let reduced: Vec<f64> = self.lp.columns.iter().map(|c| self.lp.reduced(c)).collect();
        let mut order: Vec<usize> = (0..self.strips.len()).collect();
        order.sort_by(|&a, &b| reduced[a].total_cmp(&reduced[b]));
        let mut keep = vec![false; self.strips.len()];
        order.iter().take(MOST_COLUMNS / 2).for_each(|&at| keep[at] = true);
        (0..keep.len()).for_each(|at| keep[at] |= self.lp.is_basic(at));
        let map = self.lp.keep(&keep);
        let mut at = 0;
        self.strips.retain(|_| {
            at += 1;
            keep[at - 1]
        });
        self.seen.retain(|_, column| {
            let new = map[*column];
            *column = new.unwrap_or(0);
            new.is_some()
        });
    }
}

/// Patterns that gain, and by bar the most a pattern is worth (`None` when
/// not known to be the most).
fn improving(
    knapsack: &Knapsack,
    master: &Master,
    prices: &Prices,
    wanted: &[u32],
    supply: &[u32],
    meter: &mut Meter,
) -> (Vec<Strip>, Vec<Option<i64>>) {
    let mut found = Vec::new();
    let mut largest = Vec::new();
    for (at, bar) in master.instance.bars.iter().enumerate() {
        let most = knapsack.most(bar.length);
        let threshold = prices.thresholds[at];
        if supply[at] == 0 || most <= threshold {
            largest.push(Some(if knapsack.is_exact() { most } else { most.min(threshold) }));
            continue;
        }
        let before = found.len();
        spread(knapsack, master, at, threshold, wanted, &mut found, meter);
        if found.len() > before {
            largest.push(knapsack.is_exact().then_some(most));
            continue;
        }
        let mut least = threshold;
        let mut last = None;
        let ended =
            knapsack.walk(bar.length, wanted, &mut least, ALL_NODES, meter, &mut |counts, _, _| {
                last = Some(counts.clone());
                false
            });
        match last {
            Some(counts) => {
                found.push((at, filled_up(master.instance, bar.length, counts, wanted)));
                largest.push(None);
            }
            None => largest.push((ended == Ended::Complete).then_some(threshold)),
        }
    }
    (found, largest)
}

/// Patterns that gain and share few items: each is searched among the items
/// the ones before left over.
fn spread(
    knapsack: &Knapsack,
    master: &Master,
    bar: usize,
    threshold: i64,
    wanted: &[u32],
    found: &mut Vec<Strip>,
    meter: &mut Meter,
) {
    let length = master.instance.bars[bar].length;
    let mut left = wanted.to_vec();
    let mut top = knapsack.most(length);
    loop {
        let Some((counts, worth)) = best_found(knapsack, length, &left, top, threshold, meter)
        else {
            return;
        };
        top = worth.max(threshold + 1);
        for &(item, count) in &counts {
            let item = item as usize;
            let times = (left[item] / count).max(1);
            left[item] = left[item].saturating_sub(count * times.min(1));
        }
        found.push((bar, filled_up(master.instance, length, counts, wanted)));
        if found.len() > 400 {
            return;
        }
    }
}

/// A pattern near the best: thresholds fall from the top until one is passed.
fn best_found(
    knapsack: &Knapsack,
    length: i64,
    limits: &[u32],
    top: i64,
    threshold: i64,
    meter: &mut Meter,
) -> Option<(Counts, i64)> {
    let mut gap = (top - threshold) / 16;
    let mut best: Option<(Counts, i64)> = None;
    let mut level = top - 1;
    loop {
        let mut least = level.max(threshold);
        let ended =
            knapsack.walk(length, limits, &mut least, NODES, meter, &mut |counts, worth, _| {
                best = Some((counts.clone(), worth));
                false
            });
        if best.is_some() || level <= threshold || (ended == Ended::Cut && meter.stopped) {
            return best;
        }
        level -= gap.max(1);
        gap *= 2;
    }
}

/// The pattern with the room left filled, longest pieces first.
pub(super) fn filled_up(
    instance: &Instance,
    length: i64,
    counts: Counts,
    limits: &[u32],
) -> Counts {
    let used: i64 =
        counts.iter().map(|&(i, count)| instance.items[i as usize].length * i64::from(count)).sum();
    let mut room = length - used;
    let shortest = instance.items.last().map_or(i64::MAX, |item| item.length);
    if room < shortest {
        return counts;
    }
    let mut full = counts;
    let first = instance.items.partition_point(|item| item.length > room);
    for (item, (kind, &limit)) in instance.items.iter().zip(limits).enumerate().skip(first) {
        let here = full.binary_search_by_key(&(item as u32), |entry| entry.0);
        let has = here.map_or(0, |at| full[at].1);
        let more = i64::from(limit.saturating_sub(has)).min(room / kind.length);
        if more > 0 {
            room -= more * kind.length;
            match here {
                Ok(at) => full[at].1 += more as u32,
                Err(at) => full.insert(at, (item as u32, more as u32)),
            }
        }
    }
    full
}
