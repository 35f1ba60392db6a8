//! Lower bounds on the cost, from products of rescaled widths and heights.
//!
//! If every width is rescaled by one dual feasible function and every height
//! by another, whatever fits a sheet has rescaled areas that sum to no more
//! than the sheet's own (Fekete and Schepers 2004, "A general framework for
//! bounds for higher-dimensional orthogonal packing problems").

use super::scale::{Scale, candidates};
use super::work::Work;

/// One pair of rescalings: what every item weighs, what every kind holds.
#[derive(Clone, Debug)]
pub(super) struct Weighing {
    /// Weight of each item.
    pub(super) weights: Vec<i128>,
    /// Capacity of each kind.
    pub(super) holds: Vec<i128>,
    /// Weight of all items.
    pub(super) total: i128,
}

/// How many pairs are kept for pruning.
const KEPT: usize = 40;

/// The best pairs for a problem, the strongest first.
#[derive(Clone, Debug, Default)]
pub(super) struct Bank {
    pub(super) pairs: Vec<Weighing>,
}

/// Items of one size, so that each size is weighed once.
struct Sizes {
    rows: Vec<(i64, i64, bool, i128)>,
}

impl Sizes {
    fn of(work: &Work, items: &[usize]) -> Self {
        let mut rows: Vec<(i64, i64, bool, i128)> = Vec::new();
        let mut sorted: Vec<_> = items.iter().map(|&item| &work.items[item]).collect();
        sorted.sort_by_key(|item| (item.width, item.height, item.may_turn));
        for item in sorted {
            let size = (item.width, item.height, item.may_turn);
            match rows.last_mut() {
                Some(row) if (row.0, row.1, row.2) == size => row.3 += 1,
                _ => rows.push((size.0, size.1, size.2, 1)),
            }
        }
        Self { rows }
    }
}

impl Bank {
    /// Weighs the given items in many ways and keeps the best.
    pub(super) fn of(work: &Work, items: &[usize]) -> Self {
        let Some((wide, high)) = frame(work) else { return Self::default() };
        let sizes = Sizes::of(work, items);
        let turns = sizes.rows.iter().any(|row| row.2);
        let mut widths: Vec<i64> = sizes.rows.iter().map(|row| row.0).collect();
        let mut heights: Vec<i64> = sizes.rows.iter().map(|row| row.1).collect();
        if turns {
            widths.extend(sizes.rows.iter().filter(|row| row.2).map(|row| row.1));
            heights.extend(sizes.rows.iter().filter(|row| row.2).map(|row| row.0));
        }
        widths.retain(|&x| x <= wide);
        heights.retain(|&x| x <= high);
        let most = scales_per_axis(sizes.rows.len());
        let across = Table::new(&candidates(&widths, wide, most), &sizes, wide);
        let along = Table::new(&candidates(&heights, high, most), &sizes, high);
        let ranked = rank(work, &sizes, &across, &along, (wide, high));
        let pairs = ranked.iter().take(KEPT);
        Self { pairs: pairs.map(|&(_, f, g)| weigh(work, items, f, g, (wide, high))).collect() }
    }

    /// Whether sheets in these counts could hold everything, as far as the
    /// weights tell.
    pub(super) fn allows(&self, counts: &[usize]) -> bool {
        self.pairs.iter().all(|pair| {
            let room: i128 =
                counts.iter().zip(&pair.holds).map(|(&count, hold)| count as i128 * hold).sum();
            room >= pair.total
        })
    }

    /// Weights of the items and what every kind holds, for each pair, in
    /// sheets of the kind that holds most.
    #[allow(clippy::cast_precision_loss)] // compared with a slack
    pub(super) fn in_sheets(&self) -> (Vec<Vec<f64>>, Vec<Vec<f64>>) {
        let share = |pair: &Weighing, values: &[i128]| -> Vec<f64> {
            let whole = pair.holds.iter().copied().max().unwrap_or(1).max(1) as f64;
            values.iter().map(|&value| value as f64 / whole).collect()
        };
        let weights = self.pairs.iter().map(|pair| share(pair, &pair.weights)).collect();
        (weights, self.pairs.iter().map(|pair| share(pair, &pair.holds)).collect())
    }

    /// The least cost, each pair on its own with sheets taken in parts, then
    /// rounded up to a cost that sheets can have.
    pub(super) fn least_cost(&self, work: &Work) -> i64 {
        let step = work.kinds.iter().map(|kind| kind.cost).fold(0, gcd).max(1);
        let least = self.pairs.iter().map(|pair| pair.least_cost(work)).max().unwrap_or(0);
        round_up(least, step)
    }
}

/// The next multiple of `step` from `value` up.
fn round_up(value: i64, step: i64) -> i64 {
    value / step * step + if value % step == 0 { 0 } else { step }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// How many rescalings are tried along one axis: fewer where there are many
/// sizes to weigh, so that the bound takes milliseconds.
fn scales_per_axis(sizes: usize) -> usize {
    (1_500_000 / sizes.max(1)).isqrt().clamp(16, 120)
}

/// The smallest width and height that hold every kind.
fn frame(work: &Work) -> Option<(i64, i64)> {
    let wide = work.kinds.iter().map(|kind| kind.width).max()?;
    let high = work.kinds.iter().map(|kind| kind.height).max()?;
    Some((wide, high))
}

/// Values of every rescaling at every width and height.
struct Table {
    scales: Vec<Scale>,
    /// For each rescaling, the value of each row's width and of its height.
    values: Vec<Vec<(i128, i128)>>,
}

impl Table {
    fn new(scales: &[Scale], sizes: &Sizes, full: i64) -> Self {
        let value = |scale: &Scale, x: i64| if x <= full { scale.at(x, full) } else { i128::MAX };
        let row_of = |scale: &Scale| {
            sizes.rows.iter().map(|row| (value(scale, row.0), value(scale, row.1))).collect()
        };
        Self { scales: scales.to_vec(), values: scales.iter().map(row_of).collect() }
    }
}

#[allow(clippy::cast_precision_loss)] // only ranks the pairs
fn rank(
    work: &Work,
    sizes: &Sizes,
    across: &Table,
    along: &Table,
    full: (i64, i64),
) -> Vec<(f64, Scale, Scale)> {
    let mut ranked = Vec::new();
    for (f, fx) in across.scales.iter().zip(&across.values) {
        for (g, gy) in along.scales.iter().zip(&along.values) {
            let total: i128 = sizes
                .rows
                .iter()
                .zip(fx.iter().zip(gy))
                .map(|(row, (x, y))| row.3 * row_weight(row.2, *x, *y))
                .sum();
            let worth = work
                .kinds
                .iter()
                .map(|kind| f.at(kind.width, full.0) * g.at(kind.height, full.1))
                .max()
                .unwrap_or(0);
            if total > 0 && worth > 0 {
                ranked.push((total as f64 / worth as f64, *f, *g));
            }
        }
    }
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
    ranked
}

/// A part that may turn weighs what it weighs in its lighter position.
fn row_weight(turns: bool, x: (i128, i128), y: (i128, i128)) -> i128 {
    if !turns {
        return x.0 * y.1;
    }
    let turned = if x.1 == i128::MAX || y.0 == i128::MAX { None } else { Some(x.1 * y.0) };
    let upright = if x.0 == i128::MAX || y.1 == i128::MAX { None } else { Some(x.0 * y.1) };
    match (upright, turned) {
        (Some(one), Some(other)) => one.min(other),
        (one, other) => one.or(other).unwrap_or(0),
    }
}

fn weigh(work: &Work, items: &[usize], f: Scale, g: Scale, full: (i64, i64)) -> Weighing {
    let value = |scale: Scale, x: i64, full: i64| {
        if x <= full { scale.at(x, full) } else { i128::MAX }
    };
    let mut weights = vec![0; work.items.len()];
    for &index in items {
        let item = &work.items[index];
        let x = (value(f, item.width, full.0), value(f, item.height, full.0));
        let y = (value(g, item.width, full.1), value(g, item.height, full.1));
        weights[index] = row_weight(item.may_turn, x, y);
    }
    let holds = work.kinds.iter();
    let holds = holds.map(|kind| f.at(kind.width, full.0) * g.at(kind.height, full.1)).collect();
    let total = weights.iter().sum();
    Weighing { weights, holds, total }
}

impl Weighing {
    /// The least cost of sheets, taken in parts, that hold the total.
    fn least_cost(&self, work: &Work) -> i64 {
        let mut order: Vec<usize> =
            (0..work.kinds.len()).filter(|&kind| self.holds[kind] > 0).collect();
        // Cheapest room first: cost / hold, compared by cross products.
        order.sort_by(|&a, &b| {
            let left = i128::from(work.kinds[a].cost) * self.holds[b];
            let right = i128::from(work.kinds[b].cost) * self.holds[a];
            left.cmp(&right)
        });
        let (mut need, mut cost) = (self.total, 0_i64);
        for kind in order {
            let hold = self.holds[kind];
            let whole = (need / hold).min(work.kinds[kind].supply as i128);
            need -= whole * hold;
            cost += work.kinds[kind].cost * i64::try_from(whole).unwrap_or(0);
            if need <= 0 {
                return cost;
            }
            if whole < work.kinds[kind].supply as i128 {
                return cost + part_cost(work.kinds[kind].cost, need, hold);
            }
        }
        cost
    }
}

/// `cost * need / hold`, rounded up. At most 2^40 * 2^71, so it cannot overflow.
fn part_cost(cost: i64, need: i128, hold: i128) -> i64 {
    let product = i128::from(cost) * need;
    let rounded = product / hold + i128::from(product % hold != 0);
    i64::try_from(rounded).unwrap_or(cost)
}
