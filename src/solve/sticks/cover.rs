//! Closing the gap: every pattern that a better plan could use, listed; then
//! a covering program over them, with cuts and branches.
//!
//! With multipliers of the relaxation, a plan of cost `target` or less can use
//! no pattern whose reduced cost is above `target - relaxation`. Where the two
//! are near, few patterns are left. Only patterns that no further piece fits
//! are listed: covering more than is wanted does no harm.

use super::bound::ceiling;
use super::knapsack::Ended;
use super::lp::{End, Lp};
use super::master::{Master, Strip};
use super::normal::{Cut, Instance};
use super::rows::{Fraction, Row};
use super::search::Search;
use std::sync::Arc;

/// Patterns added to the program at a time.
const BATCH: usize = 300;
/// Rows added to the program, at most.
const MOST_ROWS: usize = 150;
/// Nodes of one listing, at most.
const MOST_NODES: u64 = 250_000_000;
/// The smallest share of the reduced cost that is tried: one in so many.
const LEAST_SHARE: i64 = 1_024;
/// Numbers kept in the inverses of all nodes of one branch, at most.
const MOST_NUMBERS: usize = 10_000_000;

/// What an attempt may cost.
#[derive(Clone, Copy, Debug)]
pub(super) struct Effort {
    pub steps: u64,
    /// Nodes of the listing.
    nodes: u64,
    /// Patterns listed.
    strips: usize,
}

impl Effort {
    pub(super) fn first(steps: u64) -> Self {
        Self { steps, nodes: 2_000_000, strips: 60_000 }
    }

    /// Five times as much, within what memory allows.
    pub(super) fn more(self) -> Self {
        Self {
            steps: self.steps.saturating_mul(5),
            nodes: (self.nodes * 5).min(MOST_NODES),
            strips: (self.strips * 2).min(300_000),
        }
    }
}

/// How an attempt ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Outcome {
    /// No plan of the target cost or less exists.
    Refuted,
    /// A plan of the target cost or less was found.
    Found,
    /// Too many patterns, or the budget ran out.
    Open,
}

/// The covering program for one target.
struct Cover<'a> {
    instance: &'a Instance,
    demands: Vec<u32>,
    target: i64,
    whole: i64,
    strips: Vec<Strip>,
}

/// A node of the tree.
#[derive(Clone)]
struct Node {
    lp: Lp,
    /// Patterns that may still be used here.
    pool: Vec<u32>,
    /// Column of the program by pattern.
    column: Vec<u32>,
    /// Pattern by column of the program.
    strip: Vec<u32>,
    rows: Vec<(Arc<Row>, i64)>,
    depth: u32,
}

/// Depth of the tree.
const MOST_DEPTH: u32 = 200;

const ABSENT: u32 = u32::MAX;

/// Tries to prove that no plan costs `target` or less, or to find one.
/// `master` must be settled with all wanted.
///
/// Where the patterns are too many to list, those of the least reduced cost
/// are taken: plans are still found among them, and nothing is refuted.
pub(super) fn close(search: &mut Search, master: &Master, target: i64, effort: Effort) -> Outcome {
    let mut share = 1;
    let strips = loop {
        if let Some(strips) = list(search, master, target, effort, share) {
            break strips;
        }
        share *= 4;
        if search.meter.stopped || share > LEAST_SHARE {
            return Outcome::Open;
        }
    };
    if share > 1 {
        search.meter.allowance = effort.steps / 8;
    }
    let outcome = explored(search, master, target, strips);
    if share > 1 && outcome == Outcome::Refuted { Outcome::Open } else { outcome }
}

fn explored(search: &mut Search, master: &Master, target: i64, strips: Vec<Strip>) -> Outcome {
    let instance = search.instance;
    let cover =
        Cover { instance, demands: instance.demands(), target, whole: master.whole, strips };
    let node = cover.root(master);
    cover.explore(search, node)
}

/// Lists the patterns whose reduced cost is up to a `share`-th of what a plan
/// may have in all; `None` when there are too many.
fn list(
    search: &mut Search,
    master: &Master,
    target: i64,
    effort: Effort,
    share: i64,
) -> Option<Vec<Strip>> {
    let instance = search.instance;
    let demands = instance.demands();
    let prices = master.prices();
    let knapsack = master.knapsack(prices.values.clone(), &demands, &mut search.meter)?;
    let worth: i128 = (prices.values.iter().zip(&demands))
        .map(|(&value, &demand)| i128::from(value) * i128::from(demand))
        .sum();
    // A pattern may gain `excess` at most; rents of limited stock are in the
    // thresholds.
    let mut excess = 0;
    let mut rents = 0;
    for (bar, &threshold) in instance.bars.iter().zip(&prices.thresholds) {
        let rent = threshold - bar.cost * master.whole;
        excess = excess.max(knapsack.most(bar.length).min(threshold) - threshold);
        rents += i128::from(rent) * i128::from(if bar.limited { bar.supply } else { 0 });
        if !bar.limited {
            excess = excess.max(rent);
        }
    }
    let spare = i128::from(target) * i128::from(master.whole) - worth
        + rents
        + i128::from(excess) * i128::from(instance.pieces());
    let spare = i64::try_from(spare).ok()? / share;
    let mut strips = Vec::new();
    for (at, bar) in instance.bars.iter().enumerate() {
        let mut least = prices.thresholds[at].saturating_sub(spare).saturating_sub(excess + 1);
        let visit = &mut |counts: &super::normal::Counts, _: i64, room: i64| {
            if is_maximal(instance, counts, room, &demands) {
                strips.push((at, counts.clone()));
            }
            strips.len() < effort.strips
        };
        let ended = knapsack.walk_all(
            bar.length,
            &demands,
            &mut least,
            effort.nodes,
            &mut search.meter,
            visit,
        );
        if ended == Ended::Cut {
            return None;
        }
    }
    Some(strips)
}

/// Whether no further wanted piece fits.
fn is_maximal(
    instance: &Instance,
    counts: &super::normal::Counts,
    room: i64,
    demands: &[u32],
) -> bool {
    let first = instance.items.partition_point(|item| item.length > room);
    (first..demands.len()).all(|item| {
        let has = counts
            .binary_search_by_key(&(item as u32), |entry| entry.0)
            .map_or(0, |at| counts[at].1);
        has >= demands[item]
    })
}

/// What the relaxation at a node says.
enum Verdict {
    /// No plan of the target cost below this node.
    Refuted,
    /// Relaxed optimum; patterns that cannot be used are gone.
    Stands,
    /// Out of budget.
    Open,
}

impl Cover<'_> {
    fn root(&self, master: &Master) -> Node {
        let mut lp = Lp::new(master.lp.rhs.clone(), master.lp.penalty);
        let mut column = vec![ABSENT; self.strips.len()];
        let mut strip = Vec::new();
        for &(at, _) in &master.lp.used() {
            let wanted = &master.strips[at];
            let place = self.strips.iter().position(|strip| strip == wanted);
            if let Some(place) = place {
                let (cost, entries) = master.column(wanted);
                column[place] = lp.add_column(cost, entries) as u32;
                strip.push(place as u32);
            }
        }
        let pool = (0..self.strips.len() as u32).collect();
        Node { lp, pool, column, strip, rows: Vec::new(), depth: 0 }
    }

    /// Depth first, the branch that asks for more first.
    fn explore(&self, search: &mut Search, mut node: Node) -> Outcome {
        match self.tighten(search, &mut node) {
            Verdict::Refuted => return Outcome::Refuted,
            Verdict::Open => return Outcome::Open,
            Verdict::Stands => {}
        }
        if self.offer(search, &node) {
            return Outcome::Found;
        }
        let numbers = node.lp.rows() * node.lp.rows() * (node.depth as usize + 1);
        if numbers > MOST_NUMBERS || node.depth > MOST_DEPTH {
            return Outcome::Open;
        }
        let Some((up, down)) = self.branches(&node) else { return Outcome::Open };
        for (row, rhs) in [up, down] {
            let mut child = node.clone();
            child.depth += 1;
            self.restrict(&mut child, row, rhs);
            match self.explore(search, child) {
                Outcome::Refuted => {}
                other => return other,
            }
        }
        Outcome::Refuted
    }

    /// Solves a node and adds cuts as long as they help.
    fn tighten(&self, search: &mut Search, node: &mut Node) -> Verdict {
        let rounds = if node.depth == 0 { 60 } else { 6 };
        let mut before = f64::NEG_INFINITY;
        let mut idle = 0;
        for _ in 0..rounds {
            match self.relax(search, node) {
                Verdict::Stands => {}
                other => return other,
            }
            let now = node.lp.objective();
            idle = if now < before + 1e-5 { idle + 1 } else { 0 };
            before = now;
            if idle >= 3 || node.rows.len() >= MOST_ROWS {
                break;
            }
            let fraction = self.fraction(node);
            let cuts: Vec<(Row, i64)> = fraction.cuts(&self.demands);
            if cuts.is_empty() {
                break;
            }
            for (row, rhs) in cuts {
                self.add_row(node, row, rhs);
            }
        }
        Verdict::Stands
    }

    /// Solves the relaxation over the pool and drops what cannot be used.
    fn relax(&self, search: &mut Search, node: &mut Node) -> Verdict {
        let mut lifted = 0;
        loop {
            if node.lp.solve(&mut search.meter) == End::Broken {
                let whole = !search.meter.stopped && node.lp.invert(&mut search.meter);
                if !whole || node.lp.solve(&mut search.meter) == End::Broken {
                    if search.meter.stopped {
                        return Verdict::Open;
                    }
                    node.lp.restart();
                    if node.lp.solve(&mut search.meter) == End::Broken {
                        return Verdict::Open;
                    }
                }
            }
            let (spare, reduced) = self.reduced(node);
            if !search.meter.spend(8 * node.pool.len() as u64) {
                return Verdict::Open;
            }
            if spare < 0 {
                return Verdict::Refuted;
            }
            if self.enter(node, &reduced) {
                continue;
            }
            if node.lp.shortfall() > 1e-5 {
                lifted += 1;
                if lifted > 4 {
                    return Verdict::Open;
                }
                node.lp.penalty *= 20.0;
                node.lp.refresh_multipliers();
                continue;
            }
            self.drop_useless(node, spare, &reduced);
            return Verdict::Stands;
        }
    }

    /// What is left of the target above the bound, in counts, and the reduced
    /// costs of the pool; exact, whatever the program's numbers are worth.
    fn reduced(&self, node: &Node) -> (i128, Vec<i64>) {
        let whole = self.whole as f64;
        let most = ceiling(self.instance);
        let down = |y: &f64| ((y.max(0.0) * whole).floor() as i64).min(most);
        let multipliers: Vec<i64> = node.lp.multipliers.iter().map(down).collect();
        let (own, extra) = multipliers.split_at(multipliers.len() - node.rows.len());
        let active: Vec<(i64, &Row)> = (extra.iter().zip(&node.rows))
            .filter(|(y, _)| **y > 0)
            .map(|(&y, (row, _))| (y, &**row))
            .collect();
        let items = self.demands.len();
        let mut rent = vec![0; self.instance.bars.len()];
        let limited = self.instance.bars.iter().enumerate().filter(|(_, bar)| bar.limited);
        for ((bar, _), &y) in limited.zip(&own[items..]) {
            rent[bar] = y;
        }
        let reduced: Vec<i64> = (node.pool.iter())
            .map(|&at| {
                let strip = &self.strips[at as usize];
                let gain: i64 =
                    strip.1.iter().map(|&(i, count)| own[i as usize] * i64::from(count)).sum();
                let more: i64 = active.iter().map(|(y, row)| y * row.coefficient(strip)).sum();
                self.instance.bars[strip.0].cost * self.whole + rent[strip.0] - gain - more
            })
            .collect();
        let mut total: i128 = (own.iter().zip(&self.demands))
            .map(|(&y, &demand)| i128::from(y) * i128::from(demand))
            .sum();
        for (bar, &rent) in self.instance.bars.iter().zip(&rent) {
            total -= i128::from(rent) * i128::from(if bar.limited { bar.supply } else { 0 });
        }
        total += (extra.iter().zip(&node.rows))
            .map(|(&y, (_, rhs))| i128::from(y) * i128::from(*rhs))
            .sum::<i128>();
        let gain = reduced.iter().map(|&r| (-r).max(0)).max().unwrap_or(0);
        total -= i128::from(gain) * i128::from(self.instance.pieces());
        (i128::from(self.target) * i128::from(self.whole) - total, reduced)
    }

    /// Adds the patterns that gain most to the program.
    fn enter(&self, node: &mut Node, reduced: &[i64]) -> bool {
        let tolerance = -(self.whole >> 24) - 1;
        let mut gaining: Vec<(i64, u32)> = (reduced.iter().zip(&node.pool))
            .filter(|&(&r, &at)| r < tolerance && node.column[at as usize] == ABSENT)
            .map(|(&r, &at)| (r, at))
            .collect();
        gaining.sort_unstable();
        gaining.truncate(BATCH);
        for &(_, at) in &gaining {
            let strip = &self.strips[at as usize];
            let (cost, entries) = self.column(node, strip);
            node.column[at as usize] = node.lp.add_column(cost, entries) as u32;
            node.strip.push(at);
        }
        !gaining.is_empty()
    }

    fn column(&self, node: &Node, strip: &Strip) -> (f64, Vec<(u32, f64)>) {
        let mut entries: Vec<(u32, f64)> =
            strip.1.iter().map(|&(item, count)| (item, f64::from(count))).collect();
        let mut next = self.demands.len() as u32;
        for (at, bar) in self.instance.bars.iter().enumerate() {
            if bar.limited {
                if at == strip.0 {
                    entries.push((next, -1.0));
                }
                next += 1;
            }
        }
        for (at, (row, _)) in node.rows.iter().enumerate() {
            let coefficient = row.coefficient(strip);
            if coefficient != 0 {
                entries.push((next + at as u32, coefficient as f64));
            }
        }
        (self.instance.bars[strip.0].cost as f64, entries)
    }

    fn drop_useless(&self, node: &mut Node, spare: i128, reduced: &[i64]) {
        let mut kept = reduced.iter();
        let mut gone = Vec::new();
        node.pool.retain(|&at| {
            let keep = kept.next().is_some_and(|&r| i128::from(r) <= spare);
            if !keep {
                gone.push(at);
            }
            keep
        });
        for at in gone {
            let column = node.column[at as usize];
            if column != ABSENT && !node.lp.is_basic(column as usize) {
                node.lp.columns[column as usize].open = false;
            }
        }
    }

    fn add_row(&self, node: &mut Node, row: Row, rhs: i64) {
        let entries: Vec<(u32, f64)> = (node.strip.iter().enumerate())
            .map(|(column, &at)| (column as u32, row.coefficient(&self.strips[at as usize]) as f64))
            .filter(|&(_, coefficient)| coefficient != 0.0)
            .collect();
        node.lp.add_row(rhs as f64, &entries);
        node.rows.push((Arc::new(row), rhs));
    }

    /// Applies a branch: as a row, or by dropping patterns when it says "none".
    fn restrict(&self, node: &mut Node, row: Row, rhs: i64) {
        if rhs != 0 {
            self.add_row(node, row, rhs);
            return;
        }
        let forbidden = |at: u32| row.coefficient(&self.strips[at as usize]) != 0;
        node.pool.retain(|&at| !forbidden(at));
        for (column, &at) in node.strip.iter().enumerate() {
            if forbidden(at) {
                node.lp.columns[column].open = false;
                node.lp.columns[column].cost = node.lp.penalty;
            }
        }
        node.lp.refresh_multipliers();
    }

    fn fraction<'n>(&'n self, node: &Node) -> Fraction<'n> {
        let used = (node.lp.used().into_iter())
            .map(|(column, value)| (&self.strips[node.strip[column] as usize], value))
            .collect();
        Fraction::new(self.demands.len(), used)
    }

    /// Two rows that split the plans: one asks for more, one for less.
    fn branches(&self, node: &Node) -> Option<((Row, i64), (Row, i64))> {
        let fraction = self.fraction(node);
        let split = |value: f64| {
            let part = value - value.floor();
            (part > 1e-4 && part < 1.0 - 1e-4).then_some(part)
        };
        if self.instance.bars.len() > 1 {
            for bar in 0..self.instance.bars.len() {
                let value = fraction.kind(bar);
                if split(value).is_some() {
                    let floor = value.floor() as i64;
                    return Some(((Row::Kind(bar, 1), floor + 1), (Row::Kind(bar, -1), -floor)));
                }
            }
        }
        let mut best = (0.0, None);
        for ((a, b), value) in fraction.pairs() {
            if let Some(part) = split(value) {
                let score = part.min(1.2 * (1.0 - part));
                if score > best.0 + 1e-6 {
                    best = (score, Some((a, b, value.floor() as i64)));
                }
            }
        }
        if let Some((a, b, floor)) = best.1 {
            return Some(((Row::Pair(a, b, 1), floor + 1), (Row::Pair(a, b, -1), -floor)));
        }
        let used = node.lp.used();
        let (column, value) = used.into_iter().find(|&(_, value)| split(value).is_some())?;
        let strip = self.strips[node.strip[column] as usize].clone();
        let floor = value.floor() as i64;
        Some(((Row::Only(strip.clone(), 1), floor + 1), (Row::Only(strip, -1), -floor)))
    }

    /// Offers the solution of the node when it is whole, or becomes a good
    /// plan rounded up.
    fn offer(&self, search: &mut Search, node: &Node) -> bool {
        let used = node.lp.used();
        let mut cuts = Vec::new();
        let mut cost = 0.0;
        for (column, value) in used {
            let times = (value - 1e-4).ceil();
            let (bar, counts) = self.strips[node.strip[column] as usize].clone();
            cost += times * self.instance.bars[bar].cost as f64;
            cuts.push(Cut { bar, counts, times: times as u32 });
        }
        let enough = cost <= self.target as f64 && self.covers(&cuts);
        enough && search.offer(&cuts)
    }

    fn covers(&self, cuts: &[Cut]) -> bool {
        let mut left: Vec<i64> = self.demands.iter().map(|&d| i64::from(d)).collect();
        let mut supply: Vec<i64> =
            self.instance.bars.iter().map(|bar| i64::from(bar.supply)).collect();
        for cut in cuts {
            supply[cut.bar] -= i64::from(cut.times);
            for &(item, count) in &cut.counts {
                left[item as usize] -= i64::from(count) * i64::from(cut.times);
            }
        }
        left.iter().all(|&l| l <= 0) && supply.iter().all(|&s| s >= 0)
    }
}
