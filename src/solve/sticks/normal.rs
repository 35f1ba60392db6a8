//! The problem as the methods want it: no kerf, equal lengths merged, longest
//! first, hopeless stock dropped.

use std::cmp::Reverse;

use super::problem::{LARGEST, Pattern, Problem, ProblemError};

/// Most pieces of one problem: a plan of so many is still a few seconds' work.
const MOST_PIECES: u32 = 5_000_000;

/// A kind of stock with the kerf folded in.
#[derive(Clone, Debug)]
pub(super) struct Bar {
    pub length: i64,
    pub cost: i64,
    /// Strips that can be had, never more than there are parts.
    pub supply: u32,
    /// Whether the supply can bind.
    pub limited: bool,
    /// Index in the problem as asked.
    pub origin: usize,
}

/// A length that is wanted, with the kerf folded in.
#[derive(Clone, Debug)]
pub(super) struct Item {
    pub length: i64,
    pub demand: u32,
    /// Parts of this length: index and quantity.
    pub origin: Vec<(usize, u32)>,
}

/// The normal form. Adding the kerf to every part and to every stock turns
/// "sum plus k - 1 kerfs" into a plain sum.
#[derive(Clone, Debug)]
pub(super) struct Instance {
    pub bars: Vec<Bar>,
    /// Longest first.
    pub items: Vec<Item>,
}

/// A cutting pattern of the normal form: `(item, count)` by rising item.
pub(super) type Counts = Vec<(u32, u32)>;

/// A strip cut, and how often.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Cut {
    pub bar: usize,
    pub counts: Counts,
    pub times: u32,
}

impl Instance {
    /// Checks the numbers and folds the kerf in.
    pub(super) fn new(problem: &Problem) -> Result<Self, ProblemError> {
        check_numbers(problem)?;
        let mut items = merged_items(problem);
        let pieces: u32 = items
            .iter()
            .try_fold(0u32, |sum, item| sum.checked_add(item.demand))
            .filter(|&pieces| pieces <= MOST_PIECES)
            .ok_or_else(|| too_large("the number of parts"))?;
        let mut bars = bars(problem, pieces);
        refuse_misfits(&items, &bars)?;
        let shortest = items.last().map_or(0, |item| item.length);
        bars.retain(|bar| bar.length >= shortest);
        drop_dominated(&mut bars);
        let dearest = bars.iter().map(|bar| bar.cost).max().unwrap_or(0);
        if i128::from(dearest) * i128::from(pieces) > i128::from(LARGEST) {
            return Err(too_large("the total cost"));
        }
        divide_by_common(&mut items, &mut bars);
        Ok(Self { bars, items })
    }

    /// Number of pieces wanted.
    pub(super) fn pieces(&self) -> u32 {
        self.items.iter().map(|item| item.demand).sum()
    }

    /// What all the strips that could be used cost together.
    pub(super) fn highest_cost(&self) -> i64 {
        let cost = |bar: &Bar| i128::from(bar.cost) * i128::from(bar.supply);
        i64::try_from(self.bars.iter().map(cost).sum::<i128>()).unwrap_or(i64::MAX)
    }

    /// The demands, in the order of the items.
    pub(super) fn demands(&self) -> Vec<u32> {
        self.items.iter().map(|item| item.demand).collect()
    }

    /// The cost of a plan.
    pub(super) fn cost(&self, plan: &[Cut]) -> i64 {
        plan.iter().map(|cut| self.bars[cut.bar].cost * i64::from(cut.times)).sum()
    }

    /// What makes one of two plans of like cost the handier, the least first:
    /// fewer ways to cut, then a longer piece left over whole.
    pub(super) fn bother(&self, plan: &[Cut]) -> (usize, Reverse<i64>) {
        let left = |cut: &Cut| {
            let used = cut.counts.iter().map(|&(item, count)| {
                self.items[item as usize].length.saturating_mul(i64::from(count))
            });
            self.bars[cut.bar].length - used.sum::<i64>()
        };
        (plan.len(), Reverse(plan.iter().map(left).max().unwrap_or(0)))
    }

    /// The plan in the terms of the problem, surplus pieces left out.
    pub(super) fn plan(&self, cuts: &[Cut]) -> Vec<Pattern> {
        let mut left: Vec<_> = self.items.iter().map(|item| item.origin.clone()).collect();
        let mut plan: Vec<Pattern> = Vec::new();
        for cut in cuts {
            for _ in 0..cut.times {
                let pieces = take_pieces(&mut left, &cut.counts);
                if pieces.is_empty() {
                    continue;
                }
                let stock = self.bars[cut.bar].origin;
                match plan.last_mut() {
                    Some(last) if last.stock == stock && last.pieces == pieces => last.times += 1,
                    _ => plan.push(Pattern { stock, pieces, times: 1 }),
                }
            }
        }
        plan
    }
}

/// Takes the pieces of one strip from what is still wanted.
fn take_pieces(left: &mut [Vec<(usize, u32)>], counts: &Counts) -> Vec<usize> {
    let mut pieces = Vec::new();
    for &(item, count) in counts {
        let source = &mut left[item as usize];
        for _ in 0..count {
            let Some(last) = source.last_mut() else { break };
            pieces.push(last.0);
            last.1 -= 1;
            if last.1 == 0 {
                source.pop();
            }
        }
    }
    pieces
}

fn too_large(what: &str) -> ProblemError {
    ProblemError::TooLarge { what: what.into() }
}

fn check_numbers(problem: &Problem) -> Result<(), ProblemError> {
    if problem.kerf < 0 {
        return Err(ProblemError::Kerf { kerf: problem.kerf });
    }
    if problem.kerf > LARGEST {
        return Err(too_large("the kerf"));
    }
    for (index, stock) in problem.stock.iter().enumerate() {
        if stock.length <= 0 {
            return Err(ProblemError::StockLength { index, length: stock.length });
        }
        if stock.cost < 0 {
            return Err(ProblemError::StockCost { index, cost: stock.cost });
        }
        if stock.length > LARGEST || stock.cost > LARGEST {
            return Err(too_large(&format!("stock {}", index + 1)));
        }
    }
    for (index, part) in problem.parts.iter().enumerate() {
        if part.length <= 0 {
            return Err(ProblemError::PartLength { index, length: part.length });
        }
        if part.length > LARGEST {
            return Err(too_large(&format!("part {}", index + 1)));
        }
    }
    Ok(())
}

fn merged_items(problem: &Problem) -> Vec<Item> {
    let mut wanted: Vec<_> =
        problem.parts.iter().enumerate().filter(|(_, part)| part.quantity > 0).collect();
    wanted.sort_by_key(|(index, part)| (std::cmp::Reverse(part.length), *index));
    let mut items: Vec<Item> = Vec::new();
    for (index, part) in wanted {
        let length = part.length + problem.kerf;
        match items.last_mut() {
            Some(item) if item.length == length => {
                item.demand = item.demand.saturating_add(part.quantity);
                item.origin.push((index, part.quantity));
            }
            _ => items.push(Item {
                length,
                demand: part.quantity,
                origin: vec![(index, part.quantity)],
            }),
        }
    }
    // Pieces are taken from the end, so that the first part is served first.
    for item in &mut items {
        item.origin.reverse();
    }
    items
}

fn bars(problem: &Problem, pieces: u32) -> Vec<Bar> {
    let mut bars = Vec::new();
    for (origin, stock) in problem.stock.iter().enumerate() {
        let supply = stock.supply.unwrap_or(pieces).min(pieces);
        let limited = stock.supply.is_some_and(|most| most < pieces);
        if supply > 0 {
            let length = stock.length + problem.kerf;
            bars.push(Bar { length, cost: stock.cost, supply, limited, origin });
        }
    }
    bars.sort_by_key(|bar| (std::cmp::Reverse(bar.length), bar.cost, bar.origin));
    bars
}

fn refuse_misfits(items: &[Item], bars: &[Bar]) -> Result<(), ProblemError> {
    let longest = bars.iter().map(|bar| bar.length).max().unwrap_or(0);
    let mut parts: Vec<usize> = items
        .iter()
        .filter(|item| item.length > longest)
        .flat_map(|item| item.origin.iter().map(|origin| origin.0))
        .collect();
    parts.sort_unstable();
    if parts.is_empty() { Ok(()) } else { Err(ProblemError::FitsNoStock { parts }) }
}

/// Drops stock that another, unlimited and no shorter, gives as cheaply.
fn drop_dominated(bars: &mut Vec<Bar>) {
    let all = bars.clone();
    let mut index = 0;
    bars.retain(|bar| {
        let here = index;
        index += 1;
        !all.iter().enumerate().any(|(other, better)| {
            other != here
                && !better.limited
                && better.length >= bar.length
                && better.cost <= bar.cost
                && (other < here || better.length > bar.length || better.cost < bar.cost)
        })
    });
}

fn divide_by_common(items: &mut [Item], bars: &mut [Bar]) {
    let common = items.iter().fold(0, |common, item| greatest_common(common, item.length));
    if common > 1 {
        items.iter_mut().for_each(|item| item.length /= common);
        bars.iter_mut().for_each(|bar| bar.length /= common);
    }
}

pub(super) fn greatest_common(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { greatest_common(b, a % b) }
}
