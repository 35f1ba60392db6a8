//! Rows of pieces that may shrink, tied to one total: the sizes that change
//! least, in the sense of a robust cost on the logarithm of each ratio.
//!
//! A piece of original size `a` made `x` costs `w (sqrt(1 + z^2) - 1)` with
//! `z = ln(x / a) / t`. The total may cost as well, by terms of the same form.
//! All rows come to the same total.
//!
//! The cost of a piece is convex in `x` up to [`Piece::turn`], some way above the
//! original, and no further. With its convex hull in its place one multiplier
//! settles each row, and what a row costs is convex in the total. The terms of
//! the total are convex in its logarithm only; the sum is searched by halving
//! intervals with lines that lie below it. Where a piece comes to stand on a part
//! of its hull that is below its cost, its range is cut in two there, the most
//! promising first, until the best found is proven to within [`PROVEN`].

mod curve;
mod piece;
mod row;
mod share;
#[cfg(test)]
mod tests;

pub(in crate::solve) use piece::{Hull, ROUGH, slope};
pub use piece::{Piece, cost};
pub(in crate::solve) use row::Hulled;
pub use share::one_factor;

use curve::{Curve, search};

/// The rounding error of a sum, as a share of it.
pub const ROUNDING: f64 = 1e-9;

/// How near to the true least cost an answer is.
pub const PROVEN: f64 = 1e-8;

/// A term of the total.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Whole {
    /// The total at which the term costs nothing.
    pub original: f64,
    /// Tolerance of the logarithm of the ratio.
    pub tolerance: f64,
    /// Weight.
    pub weight: f64,
}

/// A row: what never changes, and the pieces that may.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Sum of what never changes.
    pub fixed: f64,
    /// The pieces.
    pub pieces: Vec<Piece>,
    /// A total of its own, in place of the common one.
    pub total: Option<f64>,
}

/// Rows that must come to one total.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Problem {
    /// The rows.
    pub rows: Vec<Row>,
    /// Terms of the total.
    pub wholes: Vec<Whole>,
    /// The total may not be less.
    pub shortest: f64,
    /// The total may not be more.
    pub longest: f64,
}

/// The best sizes.
#[derive(Clone, Debug, PartialEq)]
pub struct Best {
    /// The total.
    pub total: f64,
    /// The size of each piece, row by row.
    pub sizes: Vec<Vec<f64>>,
    /// What it costs.
    pub cost: f64,
    /// Whether nothing else costs less.
    pub proven: bool,
}

/// No total is allowed: the rows can come to nothing from `shortest` to
/// `longest` that the limits take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoTotal {
    /// The least total all rows can come to.
    pub shortest: f64,
    /// The greatest total all rows can come to.
    pub longest: f64,
    /// The row that cannot come to its own total; then the totals are its own.
    pub row: Option<usize>,
}

/// Ranges looked at before the best so far is taken unproven: far more than any
/// wall that may grow has asked for.
const RANGES: usize = 4_000;

impl Row {
    fn shortest(&self) -> f64 {
        self.fixed + self.pieces.iter().map(|piece| piece.least).sum::<f64>()
    }

    fn longest(&self) -> f64 {
        self.fixed + self.pieces.iter().map(|piece| piece.most).sum::<f64>()
    }

    /// Whether it can come to a total of its own, where it has one.
    fn meets_its_own(&self) -> bool {
        let slack = ROUNDING * self.longest().abs().max(1.0);
        self.total
            .is_none_or(|total| total >= self.shortest() - slack && total <= self.longest() + slack)
    }
}

/// The sizes that cost least.
///
/// # Errors
///
/// When the rows can come to no total that the limits allow.
pub fn best(problem: &Problem) -> Result<Best, NoTotal> {
    let mut open = vec![Part::of(problem.clone())?];
    let mut best = open[0].best.clone();
    best.proven = false;
    for _ in 0..RANGES {
        let next = (open.iter().enumerate()).min_by(|a, b| a.1.bound.total_cmp(&b.1.bound));
        let Some(at) = next.map(|(at, _)| at) else { break };
        let part = open.swap_remove(at);
        if part.bound >= best.cost - PROVEN {
            best.proven = true;
            break;
        }
        for half in part.halves() {
            let Ok(half) = Part::of(half) else { continue };
            if half.best.cost < best.cost {
                best = Best { proven: false, ..half.best.clone() };
            }
            open.push(half);
        }
        best.proven = open.is_empty();
    }
    Ok(best)
}

/// The problem, or a part of its ranges, solved with hulls for costs.
struct Part {
    problem: Problem,
    hulled: Vec<Hulled>,
    /// Nothing in it costs less.
    bound: f64,
    /// The sizes at that bound, with what they cost in truth.
    best: Best,
}

impl Part {
    fn of(problem: Problem) -> Result<Self, NoTotal> {
        let [low, high] = totals(&problem)?;
        let hulled: Vec<Hulled> = problem.rows.iter().map(Hulled::from).collect();
        let curve = Curve { rows: &hulled, wholes: &problem.wholes };
        let total = search(&curve, low, high);
        let bound = curve.at(total).value;
        let sizes: Vec<Vec<f64>> =
            (hulled.iter()).map(|row| row.settle(row.total.unwrap_or(total)).sizes).collect();
        let above = |(row, sizes): (&Hulled, &Vec<f64>)| -> f64 {
            row.pieces.iter().zip(sizes).map(|(hull, size)| hull.gap(*size)).sum()
        };
        let cost = bound + hulled.iter().zip(&sizes).map(above).sum::<f64>();
        let best = Best { total, sizes, cost, proven: false };
        Ok(Self { problem, hulled, bound, best })
    }

    /// The two parts left and right of where the hull of a piece is furthest below
    /// its cost.
    fn halves(&self) -> [Problem; 2] {
        let mut worst = (0, 0, f64::NEG_INFINITY, 0.0);
        for (row, (hulled, sizes)) in self.hulled.iter().zip(&self.best.sizes).enumerate() {
            for (piece, (hull, size)) in hulled.pieces.iter().zip(sizes).enumerate() {
                if hull.gap(*size) > worst.2 {
                    worst = (row, piece, hull.gap(*size), *size);
                }
            }
        }
        let (row, piece, _, size) = worst;
        let mut halves = [self.problem.clone(), self.problem.clone()];
        halves[0].rows[row].pieces[piece].most = size;
        halves[1].rows[row].pieces[piece].least = size;
        halves
    }
}

/// The totals that all rows can come to and the limits take.
fn totals(problem: &Problem) -> Result<[f64; 2], NoTotal> {
    let ends = |pick: fn(f64, f64) -> f64, start, of: fn(&Row) -> f64| {
        problem.rows.iter().filter(|row| row.total.is_none()).map(of).fold(start, pick)
    };
    let own = NoTotal {
        shortest: ends(f64::max, 0.0, Row::shortest),
        longest: ends(f64::min, f64::INFINITY, Row::longest),
        row: None,
    };
    if let Some(row) = problem.rows.iter().position(|row| !row.meets_its_own()) {
        let (shortest, longest) = (problem.rows[row].shortest(), problem.rows[row].longest());
        return Err(NoTotal { shortest, longest, row: Some(row) });
    }
    let low = own.shortest.max(problem.shortest);
    let high = own.longest.min(problem.longest);
    if high < low - ROUNDING * low.abs().max(1.0) {
        return Err(own);
    }
    Ok([low, high.max(low)])
}
