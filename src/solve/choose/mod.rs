//! Options picked for several parts that add to rows of pieces, the cheapest
//! picks first and proven.
//!
//! Every part offers options; one is picked from each. An option adds to what
//! never changes in a row, to the original sums of its pieces and to a few
//! quantities, and has a cost of its own. Then the pieces shrink as
//! [`super::stretch`] has it until the rows come to their totals, and terms of
//! the total and of the quantities are added.
//!
//! [`explore`] holds boxes: a range of options for each part and a range of the
//! total. A box cannot cost less than `relax` says, a convex relaxation whose
//! multipliers are found by steps of the conditional gradient; the most
//! promising box is split until no box can beat what is known.

mod relax;
#[cfg(test)]
mod tests;

use std::cmp::Ordering;
use std::collections::{BinaryHeap, HashSet};

use self::relax::{Bound, Relaxed};
use super::stretch::Whole;

/// A piece of a row, by shares of its original sum, which the picks decide.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// Smallest share allowed of any option, above zero.
    pub least: f64,
    /// Largest share allowed of any option.
    pub most: f64,
    /// Tolerance of the logarithm of the share.
    pub tolerance: f64,
    /// Weight.
    pub weight: f64,
}

/// A row: its pieces, and its total where that is not the common one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// Its pieces.
    pub pieces: Vec<Share>,
    /// The total it must come to; the common one when absent.
    pub total: Option<f64>,
}

/// A term of a quantity, as a ratio to what it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ratio {
    /// What it was.
    pub original: f64,
    /// Whether the quantity is taken for each unit of the total.
    pub over_total: bool,
    /// Tolerance of its logarithm.
    pub tolerance: f64,
    /// Weight.
    pub weight: f64,
    /// What it costs once the quantity is nothing.
    pub nothing: f64,
}

/// What an option adds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Addition {
    /// A cost of its own.
    pub cost: f64,
    /// To what never changes, row by row.
    pub fixed: Vec<f64>,
    /// To the original sums of the pieces, row by row.
    pub sums: Vec<f64>,
    /// To the quantities, one for each [`Ratio`].
    pub amounts: Vec<f64>,
}

/// Parts, rows and terms.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Choosing {
    /// The rows.
    pub rows: Vec<Line>,
    /// What is there without any part.
    pub bare: Addition,
    /// The options of each part, in an order in which neighbours are alike.
    pub parts: Vec<Vec<Addition>>,
    /// Terms of the quantities.
    pub ratios: Vec<Ratio>,
    /// Terms of the total.
    pub wholes: Vec<Whole>,
    /// The total may not be more.
    pub longest: f64,
}

/// How an exploration ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Explored {
    /// Whether nothing unexplored can be better than what the judge knows.
    pub proven: bool,
    /// Boxes looked at.
    pub boxes: usize,
}

/// Costs nearer to each other than this are alike.
const ALIKE: f64 = 1e-7;

/// Explores the picks. `judge` works out a pick (an option of each part) and
/// says what the next one must beat; `go_on` is told the boxes looked at and may
/// end it.
pub fn explore(
    problem: &Choosing,
    judge: &mut dyn FnMut(&[usize]) -> f64,
    go_on: &mut dyn FnMut(usize) -> bool,
) -> Explored {
    let mut out = Explored { proven: true, boxes: 0 };
    let mut search = Search {
        relaxed: Relaxed::new(problem),
        judge,
        judged: HashSet::new(),
        to_beat: f64::INFINITY,
        open: BinaryHeap::new(),
    };
    if problem.parts.iter().any(Vec::is_empty) {
        return out;
    }
    let whole = search.relaxed.whole();
    search.open(whole);
    while let Some(next) = search.open.pop() {
        if next.bound.value >= search.to_beat - ALIKE {
            break;
        }
        out.boxes += 1;
        if !go_on(out.boxes) {
            out.proven = false;
            break;
        }
        // Without anything to beat a box holds no total that is worth leaving out.
        let any = search.to_beat.is_infinite();
        for half in search.relaxed.split(&next.range, &next.bound, any) {
            search.open(half);
        }
    }
    out
}

/// Options still open for each part, both ends included, and the totals.
#[derive(Clone, Debug, PartialEq)]
struct Range {
    low: Vec<usize>,
    high: Vec<usize>,
    total: [f64; 2],
}

impl Range {
    fn is_one(&self) -> bool {
        self.low == self.high
    }
}

/// A box with what it cannot cost less than.
struct Open {
    range: Range,
    bound: Bound,
}

impl PartialEq for Open {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Open {}

impl PartialOrd for Open {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// The least bound first.
impl Ord for Open {
    fn cmp(&self, other: &Self) -> Ordering {
        other.bound.value.total_cmp(&self.bound.value)
    }
}

struct Search<'p, 'f> {
    relaxed: Relaxed<'p>,
    judge: &'f mut dyn FnMut(&[usize]) -> f64,
    judged: HashSet<Vec<usize>>,
    to_beat: f64,
    open: BinaryHeap<Open>,
}

impl Search<'_, '_> {
    /// Bounds a box, works out the pick that the bound points to, and keeps the
    /// box where it may hold something better.
    fn open(&mut self, range: Range) {
        let Some((range, bound)) = self.relaxed.bound(range, self.to_beat - ALIKE) else { return };
        if bound.value >= self.to_beat - ALIKE {
            return;
        }
        if self.judged.insert(bound.pick.clone()) {
            self.to_beat = (self.judge)(&bound.pick);
        }
        if !range.is_one() && bound.value < self.to_beat - ALIKE {
            self.open.push(Open { range, bound });
        }
    }
}
