//! Orders tried one after the other within a budget; the bound from areas.

use super::lay::{Cells, Filled};
use super::problem::{Problem, ProblemError, Solution};

/// How much work may be done: a step is one place looked at.
#[derive(Clone, Copy)]
pub struct Budget<'a> {
    /// The most steps.
    pub steps: u64,
    /// Asked between two orders; `true` ends the search with the best so far.
    pub stop: Option<&'a dyn Fn() -> bool>,
}

impl Budget<'_> {
    /// A budget of steps only.
    #[must_use]
    pub fn steps(steps: u64) -> Self {
        Self { steps, stop: None }
    }
}

/// Lays the parts of `problem` on sheets. Without a stop the answer depends on
/// the problem and the number of steps only.
///
/// # Errors
/// A number out of range, or parts that fit no sheet: see [`ProblemError`].
pub fn solve(problem: &Problem, budget: &Budget<'_>) -> Result<Solution, ProblemError> {
    problem.validate()?;
    let bound = least_cost(problem);
    let cells = Cells::new(problem, Cells::suiting(problem));
    let mut search = Search { cells: &cells, best: None, steps: budget.steps, chance: 1 };
    search.starts(budget);
    search.orders(budget, bound);
    let best = search.best.map(|(_, filled, _)| filled).unwrap_or_default();
    Ok(solution(problem, best, bound))
}

fn solution(problem: &Problem, best: Filled, bound: i64) -> Solution {
    let cost = best.plans.iter().map(|plan| problem.sheets[plan.sheet].cost).sum();
    let mut left = best.left;
    left.sort_unstable();
    let unplaced: Vec<(usize, u64)> =
        left.chunk_by(|a, b| a == b).map(|run| (run[0], run.len() as u64)).collect();
    let complete = unplaced.is_empty();
    let bound = if complete { bound.min(cost) } else { bound };
    Solution { sheets: best.plans, cost, bound, proven: complete && bound == cost, unplaced }
}

/// The least cost of sheets that have the area of all parts, free sheets used
/// first; sheets that cost are taken in parts and the sum rounded up to what
/// their prices can make.
#[must_use]
pub fn least_cost(problem: &Problem) -> i64 {
    let wanted: i128 = problem
        .parts
        .iter()
        .map(|part| part.shape.doubled_area() * i128::from(part.quantity))
        .sum();
    let inside = |size: i64| i128::from((size - 2 * problem.margin).max(0));
    let room = |at: usize| {
        let sheet = &problem.sheets[at];
        2 * inside(sheet.length) * inside(sheet.width)
    };
    let mut need = wanted;
    let mut order: Vec<usize> = (0..problem.sheets.len()).filter(|&at| room(at) > 0).collect();
    order.sort_by(|&a, &b| {
        let left = i128::from(problem.sheets[a].cost) * room(b);
        left.cmp(&(i128::from(problem.sheets[b].cost) * room(a)))
    });
    let mut cost: i128 = 0;
    for at in order {
        let sheet = &problem.sheets[at];
        let whole = (need / room(at)).min(sheet.supply.map_or(i128::MAX, i128::from));
        cost += whole * i128::from(sheet.cost);
        need -= whole * room(at);
        if need <= 0 {
            break;
        }
        if sheet.supply.is_none_or(|supply| whole < i128::from(supply)) {
            let part = i128::from(sheet.cost) * need;
            cost += part / room(at) + i128::from(part % room(at) > 0);
            break;
        }
    }
    let step = problem.sheets.iter().fold(0, |step, sheet| common(step, sheet.cost)).max(1);
    let cost = i64::try_from(cost).unwrap_or(i64::MAX - step);
    cost / step * step + if cost % step == 0 { 0 } else { step }
}

fn common(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { common(b, a % b) }
}

struct Search<'a> {
    cells: &'a Cells<'a>,
    /// The best so far with its rank and the order that gave it.
    best: Option<(Rank, Filled, (Vec<usize>, usize))>,
    steps: u64,
    chance: u64,
}

/// Lower is better: parts without room, cost, columns taken on the emptiest
/// sheet, columns taken in all.
type Rank = (usize, i64, usize, usize);

impl Search<'_> {
    /// The largest first by area, length and width, on every kind of sheet.
    fn starts(&mut self, budget: &Budget<'_>) {
        let problem = self.cells.problem;
        let copies: Vec<usize> = (problem.parts.iter().enumerate())
            .flat_map(|(row, part)| std::iter::repeat_n(row, part.quantity as usize))
            .collect();
        let key = |by: usize, row: usize| {
            let shape = &problem.parts[row].shape;
            let (long, wide) = shape.size();
            match by {
                0 => shape.doubled_area(),
                1 => i128::from(long) * i128::from(wide),
                2 => i128::from(long),
                _ => i128::from(wide),
            }
        };
        for by in 0..4 {
            let mut order = copies.clone();
            order.sort_by_key(|&row| (std::cmp::Reverse(key(by, row)), row));
            for wish in 0..problem.sheets.len() {
                let late = self.best.is_some() && self.is_over(budget);
                if late || problem.sheets[wish].supply == Some(0) {
                    continue;
                }
                self.try_order(order.clone(), wish, budget);
            }
        }
    }

    fn is_over(&self, budget: &Budget<'_>) -> bool {
        self.steps == 0 || budget.stop.is_some_and(|stop| stop())
    }

    /// The first order is laid to its end, so that there is a plan.
    fn try_order(&mut self, order: Vec<usize>, wish: usize, budget: &Budget<'_>) {
        let first = self.best.is_none();
        let stop = || !first && budget.stop.is_some_and(|stop| stop());
        let Some(filled) = self.cells.lay(&order, wish, &stop) else {
            self.steps = 0;
            return;
        };
        self.steps = self.steps.saturating_sub(filled.work.max(1));
        let problem = self.cells.problem;
        let cost = filled.plans.iter().map(|plan| problem.sheets[plan.sheet].cost).sum();
        let emptiest = filled.used.iter().copied().min().unwrap_or(0);
        let rank = (filled.left.len(), cost, emptiest, filled.used.iter().sum());
        let better = self.best.as_ref().is_none_or(|(best, ..)| rank <= *best);
        if better {
            self.best = Some((rank, filled, (order, wish)));
        }
    }

    /// Swaps and moves in the best order, as long as there is time and
    /// something to gain.
    fn orders(&mut self, budget: &Budget<'_>, bound: i64) {
        let kinds = self.cells.problem.sheets.len();
        while !self.is_over(budget) {
            let Some((rank, _, (order, wish))) = &self.best else { return };
            if order.len() < 2 || (rank.0 == 0 && rank.1 <= bound) {
                return;
            }
            let (mut order, mut wish) = (order.clone(), *wish);
            for _ in 0..=self.below(3) {
                let (one, other) = (self.below(order.len()), self.below(order.len()));
                if self.below(2) == 0 {
                    order.swap(one, other);
                } else {
                    let moved = order.remove(one);
                    order.insert(other, moved);
                }
            }
            if kinds > 1 && self.below(8) == 0 {
                wish = self.below(kinds);
            }
            self.try_order(order, wish, budget);
        }
    }

    /// A number below `count` that looks random and is the same every time
    /// (Steele, Lea and Flood 2014).
    fn below(&mut self, count: usize) -> usize {
        self.chance = self.chance.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.chance;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^= mixed >> 31;
        ((u128::from(mixed) * count as u128) >> 64) as usize
    }
}
