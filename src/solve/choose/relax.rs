//! What a box cannot cost less than.
//!
//! With a price on each row's total and a slope on each quantity the terms come
//! apart. A piece of original sum `o` costs `h(o) = min over r of its cost + p r
//! o`: a least of lines, so concave in `o` and above its chord over the box. The
//! logarithm of a quantity lies above its chord, or, falling, above its tangent;
//! the terms of the total are convex in its logarithm and lie above a tangent
//! there. What is left is linear in what the options add, so each part picks by
//! itself. Any prices and slopes give a bound; good ones are those of the best
//! fractional pick, which steps of the conditional gradient approach.

use super::{Addition, Choosing, Range, Ratio};
use crate::solve::stretch::{Hull, Hulled, Piece, ROUGH, ROUNDING, cost, slope};

/// Totals that lie within this share of each other are not parted further: what
/// is left of a box is settled sooner by its picks.
const NARROW: f64 = 0.01;
/// Steps towards the best multipliers of one box.
const STEPS: u32 = 8;

/// The bound of a box, and where it points to.
#[derive(Clone, Debug)]
pub(super) struct Bound {
    /// No pick of the box costs less.
    pub(super) value: f64,
    /// The pick at which the bound is met: an option of each part.
    pub(super) pick: Vec<usize>,
    /// The mean option of each part over the steps.
    mean: Vec<f64>,
    /// What splitting each part promises, and splitting the total.
    promise: Vec<f64>,
    total_promise: f64,
}

/// What an option adds, flat: rows, then pieces, then quantities.
struct Flat {
    cost: f64,
    adds: Vec<f64>,
}

impl From<&Addition> for Flat {
    fn from(it: &Addition) -> Self {
        let adds = it.fixed.iter().chain(&it.sums).chain(&it.amounts).copied().collect();
        Self { cost: it.cost, adds }
    }
}

/// A problem laid out flat.
pub(super) struct Relaxed<'p> {
    problem: &'p Choosing,
    bare: Flat,
    parts: Vec<Vec<Flat>>,
    /// The row of each piece.
    row_of: Vec<usize>,
    pieces: Vec<Hull>,
    /// Least and most each part adds at all.
    size: usize,
}

/// Prices of the rows, slopes of the quantities and of the total's logarithm.
#[derive(Clone, Debug)]
struct Prices {
    rows: Vec<f64>,
    slopes: Vec<f64>,
    /// The total at which the tangents touch.
    total: f64,
    whole: f64,
    /// The quantities at which the tangents touch.
    amounts: Vec<f64>,
}

/// Least and most of every sum of a box.
struct Reach {
    least: Vec<f64>,
    most: Vec<f64>,
}

/// A line `a + b x` below a term.
#[derive(Clone, Copy, Default)]
struct Under {
    a: f64,
    b: f64,
}

impl<'p> Relaxed<'p> {
    pub(super) fn new(problem: &'p Choosing) -> Self {
        let mut row_of = Vec::new();
        let mut pieces = Vec::new();
        for (row, line) in problem.rows.iter().enumerate() {
            for share in &line.pieces {
                row_of.push(row);
                pieces.push(Hull::of(Piece {
                    original: 1.0,
                    least: share.least,
                    most: share.most,
                    tolerance: share.tolerance,
                    weight: share.weight,
                }));
            }
        }
        let size = problem.rows.len() + pieces.len() + problem.ratios.len();
        let bare = Flat::from(&problem.bare);
        debug_assert_eq!(bare.adds.len(), size, "a figure for each row, piece and quantity");
        let parts = (problem.parts.iter())
            .map(|options| options.iter().map(Flat::from).collect())
            .collect();
        Self { problem, bare, parts, row_of, pieces, size }
    }

    /// The box of everything.
    pub(super) fn whole(&self) -> Range {
        let high = self.parts.iter().map(|options| options.len() - 1).collect();
        Range { low: vec![0; self.parts.len()], high, total: [0.0, self.problem.longest] }
    }

    fn rows(&self) -> usize {
        self.problem.rows.len()
    }

    /// The range, with totals it can come to, and its bound; nothing where no
    /// pick of it comes to the totals. Steps end once the bound is `enough`.
    pub(super) fn bound(&self, range: Range, enough: f64) -> Option<(Range, Bound)> {
        let reach = self.reach(&range);
        let range = Range { total: self.totals(&reach, range.total)?, ..range };
        let mut mean: Vec<f64> =
            range.low.iter().zip(&range.high).map(|(a, b)| 0.5 * (*a + *b) as f64).collect();
        let middle: Vec<usize> = mean.iter().map(|at| at.floor() as usize).collect();
        let mut point = self.sums(&middle).1;
        let mut best: Option<(Bound, Prices)> = None;
        let mut idle = 0;
        for step in 0..STEPS {
            let prices = self.prices(&point, range.total);
            let (value, pick) = self.value(&range, &reach, &prices);
            let part = 2.0 / (f64::from(step) + 2.0);
            let (_, sums) = self.sums(&pick);
            for (at, sum) in point.iter_mut().zip(sums) {
                *at += part * (sum - *at);
            }
            for (at, picked) in mean.iter_mut().zip(&pick) {
                *at += part * (*picked as f64 - *at);
            }
            idle += 1;
            if best.as_ref().is_none_or(|(known, _)| value > known.value) {
                idle = 0;
                let open = Bound {
                    value,
                    pick,
                    mean: Vec::new(),
                    promise: Vec::new(),
                    total_promise: 0.0,
                };
                best = Some((open, prices));
            }
            if value >= enough || idle > 1 || range.is_one() && step > 1 {
                break;
            }
        }
        let (mut bound, prices) = best?;
        bound.mean = mean;
        if bound.value < enough {
            self.promise(&range, &reach, &prices, &mut bound);
        }
        Some((range, bound))
    }

    /// Least and most of every sum over a box.
    fn reach(&self, range: &Range) -> Reach {
        let mut reach = Reach { least: self.bare.adds.clone(), most: self.bare.adds.clone() };
        for (part, options) in self.parts.iter().enumerate() {
            for at in 0..self.size {
                let (low, high) = ends(&options[range.low[part]..=range.high[part]], at);
                reach.least[at] += low;
                reach.most[at] += high;
            }
        }
        reach
    }

    /// The totals a box can come to within a range; nothing where it can to none.
    fn totals(&self, reach: &Reach, [mut low, mut high]: [f64; 2]) -> Option<[f64; 2]> {
        let rows = self.rows();
        for (row, line) in self.problem.rows.iter().enumerate() {
            let (mut least, mut most) = (reach.least[row], reach.most[row]);
            for (piece, _) in self.row_of.iter().enumerate().filter(|(_, of)| **of == row) {
                least += self.pieces[piece].piece.least * reach.least[rows + piece];
                most += self.pieces[piece].piece.most * reach.most[rows + piece];
            }
            match line.total {
                None => (low, high) = (low.max(least), high.min(most)),
                Some(total) if total < least - slack(least) || total > most + slack(most) => {
                    return None;
                }
                Some(_) => {}
            }
        }
        if high < low - slack(low) {
            return None;
        }
        Some([low.min(high), high])
    }

    /// Cost of the picked options' own, and every sum.
    fn sums(&self, pick: &[usize]) -> (f64, Vec<f64>) {
        let (mut cost, mut sums) = (self.bare.cost, self.bare.adds.clone());
        for (options, picked) in self.parts.iter().zip(pick) {
            let option = &options[*picked];
            cost += option.cost;
            for (sum, add) in sums.iter_mut().zip(&option.adds) {
                *sum += add;
            }
        }
        (cost, sums)
    }

    /// The multipliers that belong to sums, at the best total of a range.
    fn prices(&self, sums: &[f64], total: [f64; 2]) -> Prices {
        let rows: Vec<Hulled> = (0..self.rows()).map(|row| self.row(row, sums)).collect();
        let amounts = sums[self.rows() + self.pieces.len()..].to_vec();
        let rise = |total: f64| {
            let along =
                rows.iter().zip(&self.problem.rows).filter(|(_, line)| line.total.is_none());
            let prices: f64 = along.map(|(row, _)| row.settle_near(total, ROUGH).price).sum();
            let ratios = self.problem.ratios.iter().zip(&amounts);
            let ratios: f64 = (ratios.filter(|(ratio, _)| ratio.over_total))
                .map(|(ratio, amount)| -ratio_slope(ratio, *amount, total))
                .sum();
            prices + (self.whole_slope(total) + ratios) / total
        };
        let total = falling_to(rise, total);
        let price = |(row, line): (&Hulled, &super::Line)| {
            -row.settle_near(line.total.unwrap_or(total), ROUGH).price
        };
        Prices {
            rows: rows.iter().zip(&self.problem.rows).map(price).collect(),
            slopes: (self.problem.ratios.iter().zip(&amounts))
                .map(|(ratio, amount)| ratio_slope(ratio, *amount, total))
                .collect(),
            whole: self.whole_slope(total),
            total,
            amounts,
        }
    }

    /// A row whose pieces have these original sums.
    fn row(&self, row: usize, sums: &[f64]) -> Hulled {
        let pieces = (self.row_of.iter().enumerate())
            .filter(|(piece, of)| **of == row && sums[self.rows() + piece] > 1e-9)
            .map(|(piece, _)| self.pieces[piece].times(sums[self.rows() + piece]))
            .collect();
        Hulled { fixed: sums[row], pieces, ..Hulled::default() }
    }

    fn whole_slope(&self, total: f64) -> f64 {
        let log = total.ln();
        let terms = self.problem.wholes.iter();
        terms.map(|it| slope(log - it.original.ln(), it.tolerance, it.weight)).sum()
    }

    fn whole_cost(&self, total: f64) -> f64 {
        let log = total.ln();
        let terms = self.problem.wholes.iter();
        terms.map(|it| cost(log - it.original.ln(), it.tolerance, it.weight)).sum()
    }

    /// Lines below the cost of each piece, over what a box adds to it.
    fn under_pieces(&self, reach: &Reach, prices: &Prices) -> Vec<Under> {
        let rows = self.rows();
        (self.pieces.iter().zip(&self.row_of).enumerate())
            .map(|(piece, (one, row))| {
                let of = |sum: f64| self.priced(one, prices.rows[*row], sum);
                let (low, high) = (reach.least[rows + piece], reach.most[rows + piece]);
                chord(low, high, of(low), of(high))
            })
            .collect()
    }

    /// The least of a piece's cost and the price of its room.
    fn priced(&self, one: &Hull, price: f64, sum: f64) -> f64 {
        if sum <= 1e-9 {
            return 0.0;
        }
        let share = one.at_price(-price * sum);
        cost(share.ln(), one.piece.tolerance, one.piece.weight) + price * share * sum
    }

    /// Lines below the terms of the quantities; the part that the total plays in
    /// them is left out.
    fn under_ratios(&self, reach: &Reach, prices: &Prices) -> Vec<Under> {
        let first = self.rows() + self.pieces.len();
        (self.problem.ratios.iter().enumerate())
            .map(|(at, ratio)| {
                let (low, high) = (reach.least[first + at], reach.most[first + at]);
                if high <= 1e-9 {
                    return Under { a: ratio.nothing, b: 0.0 };
                }
                if low <= 1e-9 {
                    return Under::default();
                }
                let rise = prices.slopes[at];
                let middle = prices.amounts[at].clamp(low, high);
                let log = log_ratio(ratio, prices.amounts[at].max(1e-9), prices.total);
                // The term's tangent, less the part of the quantity's logarithm.
                let rest =
                    cost(log, ratio.tolerance, ratio.weight) - rise * (log + ratio.original.ln());
                let line = if rise >= 0.0 {
                    chord(low, high, rise * low.ln(), rise * high.ln())
                } else {
                    Under { a: rise * (middle.ln() - 1.0), b: rise / middle }
                };
                Under { a: line.a + rest, b: line.b }
            })
            .collect()
    }

    /// How steeply the terms rise with the total's logarithm.
    fn rise_of_total(&self, reach: &Reach, prices: &Prices) -> f64 {
        let first = self.rows() + self.pieces.len();
        let ratios = self.problem.ratios.iter().enumerate();
        let counted = ratios.filter(|(at, it)| it.over_total && reach.least[first + at] > 1e-9);
        prices.whole - counted.map(|(at, _)| prices.slopes[at]).sum::<f64>()
    }

    /// The bound for given multipliers, and the pick that meets it.
    fn value(&self, range: &Range, reach: &Reach, prices: &Prices) -> (f64, Vec<usize>) {
        let mut value = self.bare.cost;
        let mut weights = prices.rows.clone();
        for line in
            self.under_pieces(reach, prices).into_iter().chain(self.under_ratios(reach, prices))
        {
            value += line.a;
            weights.push(line.b);
        }
        value += weights.iter().zip(&self.bare.adds).map(|(w, add)| w * add).sum::<f64>();
        for (line, price) in self.problem.rows.iter().zip(&prices.rows) {
            value -= line.total.map_or(0.0, |total| price * total);
        }
        value += self.least_of_total(range.total, self.rise_of_total(reach, prices), prices);
        let mut pick = Vec::with_capacity(self.parts.len());
        for (part, options) in self.parts.iter().enumerate() {
            let open = range.low[part]..=range.high[part];
            let (at, least) = open
                .map(|at| {
                    let adds = weights.iter().zip(&options[at].adds).map(|(w, add)| w * add);
                    (at, options[at].cost + adds.sum::<f64>())
                })
                .min_by(|a, b| a.1.total_cmp(&b.1))
                .unwrap_or((range.low[part], 0.0));
            value += least;
            pick.push(at);
        }
        (value, pick)
    }

    /// Price of one unit of the common total.
    fn price_of_total(&self, prices: &Prices) -> f64 {
        let along = self.problem.rows.iter().zip(&prices.rows);
        along.filter(|(line, _)| line.total.is_none()).map(|(_, price)| price).sum()
    }

    /// The least over a range of totals of what depends on it alone.
    fn least_of_total(&self, [low, high]: [f64; 2], rise: f64, prices: &Prices) -> f64 {
        let price = self.price_of_total(prices);
        let touch = prices.total.ln();
        let at = |total: f64| {
            self.whole_cost(prices.total) - prices.whole * touch + rise * total.ln() - price * total
        };
        let low = low.max(1e-6);
        let turn = if price.abs() > 1e-300 { (rise / price).clamp(low, high) } else { low };
        at(low).min(at(high)).min(at(turn))
    }

    /// What splitting each part promises: how far its range holds the lines below
    /// the terms at the pick, and how far the steps disagreed on it.
    fn promise(&self, range: &Range, reach: &Reach, prices: &Prices, bound: &mut Bound) {
        let (_, sums) = self.sums(&bound.pick);
        let rows = self.rows();
        let pieces = self.under_pieces(reach, prices);
        let mut gaps = vec![0.0; self.size];
        for (piece, line) in pieces.iter().enumerate() {
            let sum = sums[rows + piece];
            let price = prices.rows[self.row_of[piece]];
            gaps[rows + piece] =
                self.priced(&self.pieces[piece], price, sum) - line.a - line.b * sum;
        }
        bound.promise = (0..self.parts.len())
            .map(|part| {
                let open = &self.parts[part][range.low[part]..=range.high[part]];
                let shares = (rows..self.size).map(|at| {
                    let (low, high) = ends(open, at);
                    let wide = reach.most[at] - reach.least[at];
                    if wide > 1e-9 { gaps[at].max(0.0) * (high - low) / wide } else { 0.0 }
                });
                let wide = (range.high[part] - range.low[part]) as f64;
                let apart = (bound.mean[part] - bound.pick[part] as f64).abs();
                if wide > 0.0 {
                    shares.sum::<f64>() + apart * self.worth(part, range)
                } else {
                    -1.0
                }
            })
            .collect();
        let rise = self.rise_of_total(reach, prices);
        let [low, high] = range.total;
        let here = prices.total;
        let price = self.price_of_total(prices);
        let line =
            rise * here.ln() - price * here + self.whole_cost(here) - prices.whole * here.ln();
        bound.total_promise = if high - low > NARROW * high {
            line - self.least_of_total(range.total, rise, prices)
        } else {
            -1.0
        };
    }

    /// What one option of a part differs in cost from the next, at most.
    fn worth(&self, part: usize, range: &Range) -> f64 {
        let open = &self.parts[part][range.low[part]..=range.high[part]];
        let steps = open.windows(2).map(|pair| (pair[0].cost - pair[1].cost).abs());
        steps.fold(1e-3, f64::max)
    }

    /// The halves of a box; `picks` where its totals are not to be parted.
    pub(super) fn split(&self, range: &Range, bound: &Bound, picks: bool) -> [Range; 2] {
        let (mut left, mut right) = (range.clone(), range.clone());
        let part = (bound.promise.iter().enumerate())
            .max_by(|a, b| a.1.total_cmp(b.1))
            .filter(|(_, promise)| picks || **promise >= bound.total_promise);
        match part {
            Some((part, _)) => {
                let (low, high) = (range.low[part], range.high[part]);
                let cut = (bound.mean[part].floor() as usize).clamp(low, high.max(low + 1) - 1);
                (left.high[part], right.low[part]) = (cut, cut + 1);
            }
            None => {
                let middle = 0.5 * (range.total[0] + range.total[1]);
                (left.total[1], right.total[0]) = (middle, middle);
            }
        }
        [left, right]
    }
}

/// Least and most that options add to one sum.
fn ends(options: &[Flat], at: usize) -> (f64, f64) {
    let adds = options.iter().map(|option| option.adds[at]);
    adds.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), add| (low.min(add), high.max(add)))
}

/// A rounding error of sums of this size.
fn slack(of: f64) -> f64 {
    ROUNDING * of.abs().max(1.0)
}

/// The line through two points of a concave term.
fn chord(low: f64, high: f64, at_low: f64, at_high: f64) -> Under {
    if high - low <= 1e-9 {
        return Under { a: at_low.min(at_high), b: 0.0 };
    }
    let b = (at_high - at_low) / (high - low);
    Under { a: at_low - b * low, b }
}

fn log_ratio(ratio: &Ratio, amount: f64, total: f64) -> f64 {
    let over = if ratio.over_total { total.ln() } else { 0.0 };
    amount.ln() - over - ratio.original.ln()
}

fn ratio_slope(ratio: &Ratio, amount: f64, total: f64) -> f64 {
    if amount <= 1e-9 {
        return 0.0;
    }
    slope(log_ratio(ratio, amount, total), ratio.tolerance, ratio.weight)
}

/// The point of a range to which a function falls: where its rise turns from
/// below zero to above, or the end it falls to.
fn falling_to(rise: impl Fn(f64) -> f64, [mut low, mut high]: [f64; 2]) -> f64 {
    low = low.max(1e-6);
    if high <= low || rise(high) <= 0.0 {
        return high.max(low);
    }
    if rise(low) >= 0.0 {
        return low;
    }
    for _ in 0..5 {
        let middle = 0.5 * (low + high);
        if rise(middle) < 0.0 { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}
