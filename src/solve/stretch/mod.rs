//! Rows of pieces that may shrink, tied to one total: the sizes that change
//! least, in the sense of a robust cost on the logarithm of each ratio.
//!
//! A piece of original size `a` made `x` costs `w (sqrt(1 + z^2) - 1)` with
//! `z = ln(x / a) / t`. The total may cost as well, by terms of the same form.
//! All rows come to the same total.
//!
//! For one total the problem is convex: below the original `|z|` is convex in
//! `x` and the cost rises with it; above, it is so up to [`Piece::turn`]. So one
//! multiplier settles each row, and what a row costs is convex in the total. The
//! terms of the total are convex in its logarithm only; the sum is searched by
//! halving intervals with lines that lie below it, until the best found is
//! proven to within [`PROVEN`].

#[cfg(test)]
mod tests;

/// As near as the arithmetic goes.
const EXACT: f64 = 1e-14;
/// Near enough for prices that only guide a search.
pub(in crate::solve) const ROUGH: f64 = 1e-5;

/// How near to the true least cost an answer is.
pub const PROVEN: f64 = 1e-8;

/// A piece that may shrink.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Original size, above zero.
    pub original: f64,
    /// Smallest size allowed, above zero.
    pub least: f64,
    /// Largest size allowed.
    pub most: f64,
    /// Tolerance of the logarithm of the ratio.
    pub tolerance: f64,
    /// Weight; a piece without one costs nothing and gives way first.
    pub weight: f64,
}

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

/// The cost of a ratio's logarithm.
#[must_use]
pub fn cost(log_ratio: f64, tolerance: f64, weight: f64) -> f64 {
    let z = log_ratio / tolerance;
    weight * ((1.0 + z * z).sqrt() - 1.0)
}

/// Its derivative by the logarithm.
pub(in crate::solve) fn slope(log_ratio: f64, tolerance: f64, weight: f64) -> f64 {
    let z = log_ratio / tolerance;
    weight * z / (tolerance * (1.0 + z * z).sqrt())
}

impl Piece {
    /// The largest size up to which the cost is convex: where
    /// `z t (1 + z^2) = 1`.
    #[must_use]
    pub fn turn(&self) -> f64 {
        let (mut low, mut high) = (0.0, 1.0 / self.tolerance + 1.0);
        for _ in 0..60 {
            let z = 0.5 * (low + high);
            if z * self.tolerance * (1.0 + z * z) < 1.0 {
                low = z;
            } else {
                high = z;
            }
        }
        self.original * (low * self.tolerance).exp()
    }

    /// A weight of nothing would leave the size open: a trace of one spreads
    /// the loss evenly and changes no cost that is looked at.
    fn effective(&self) -> f64 {
        self.weight.max(1e-12)
    }

    fn cost(&self, size: f64) -> f64 {
        cost((size / self.original).ln(), self.tolerance, self.weight)
    }

    fn slope(&self, size: f64) -> f64 {
        slope((size / self.original).ln(), self.tolerance, self.effective()) / size
    }

    /// The slope, and how it rises with the size: above zero where the cost is
    /// convex.
    fn slope_and_bend(&self, size: f64) -> [f64; 2] {
        let z = (size / self.original).ln() / self.tolerance;
        let square = 1.0 + z * z;
        let root = square.sqrt();
        let first = self.effective() * z / (self.tolerance * root);
        let second = self.effective() / (self.tolerance * self.tolerance * square * root);
        [first / size, (second - first) / (size * size)]
    }

    /// The slopes at the bounds.
    fn ends(&self) -> [f64; 2] {
        [self.slope(self.least), self.slope(self.most)]
    }

    /// The size at which one more unit costs `price`, within the bounds, by
    /// Newton's steps kept between what is known to be too small and too large.
    pub(in crate::solve) fn at_price(&self, price: f64) -> f64 {
        self.near_price(price, EXACT, self.ends())
    }

    /// [`Self::at_price`] to a share of the size, with the slopes at the bounds.
    fn near_price(&self, price: f64, near: f64, ends: [f64; 2]) -> f64 {
        if ends[0] >= price {
            return self.least;
        }
        if ends[1] <= price {
            return self.most;
        }
        let (mut low, mut high) = (self.least, self.most);
        // Where the price would be met on a straight line between the ends.
        let mut size = low + (high - low) * ((price - ends[0]) / (ends[1] - ends[0]));
        for _ in 0..80 {
            let [slope, bend] = self.slope_and_bend(size);
            let over = slope - price;
            if over < 0.0 {
                low = size;
            } else {
                high = size;
            }
            let step = size - over / bend;
            let next = if step > low && step < high { step } else { 0.5 * (low + high) };
            if (next - size).abs() <= near * size {
                return next;
            }
            size = next;
        }
        size
    }
}

/// A row at one total: its cost, the price of one more unit, and the sizes.
pub(in crate::solve) struct Settled {
    cost: f64,
    pub(in crate::solve) price: f64,
    sizes: Vec<f64>,
}

impl Row {
    fn shortest(&self) -> f64 {
        self.fixed + self.pieces.iter().map(|piece| piece.least).sum::<f64>()
    }

    fn longest(&self) -> f64 {
        self.fixed + self.pieces.iter().map(|piece| piece.most).sum::<f64>()
    }

    /// Whether it can come to a total of its own, where it has one.
    fn meets_its_own(&self) -> bool {
        let slack = 1e-9 * self.longest().abs().max(1.0);
        self.total
            .is_none_or(|total| total >= self.shortest() - slack && total <= self.longest() + slack)
    }

    /// What one more unit costs: a slope of the row's cost at these sizes. What
    /// can still give sets it, by the piece that would give first; where nothing
    /// can, the piece that would take first.
    fn price(&self, sizes: &[f64]) -> f64 {
        let pairs = || self.pieces.iter().zip(sizes);
        let gives = pairs().filter(|(piece, size)| **size > piece.least * (1.0 + 1e-12));
        let taken = pairs().map(|(piece, size)| piece.slope(*size));
        gives
            .map(|(piece, size)| piece.slope(*size))
            .max_by(f64::total_cmp)
            .or_else(|| taken.min_by(f64::total_cmp))
            .unwrap_or(0.0)
    }

    /// The best sizes for a total within the row's own limits.
    fn settle(&self, total: f64) -> Settled {
        self.settle_near(total, EXACT)
    }

    /// [`Self::settle`] to a share of the sizes.
    pub(in crate::solve) fn settle_near(&self, total: f64, near: f64) -> Settled {
        let room = total - self.fixed;
        let sizes = match self.pieces.as_slice() {
            [] => Vec::new(),
            [only] => vec![room.clamp(only.least, only.most)],
            pieces => shared(pieces, room, near),
        };
        let cost = self.pieces.iter().zip(&sizes).map(|(piece, size)| piece.cost(*size)).sum();
        Settled { cost, price: self.price(&sizes), sizes }
    }
}

/// Sizes of several pieces that share a room: the price at which they fill it,
/// by Newton's steps kept between two prices known to be too low and too high.
fn shared(pieces: &[Piece], room: f64, near: f64) -> Vec<f64> {
    let ends: Vec<[f64; 2]> = pieces.iter().map(Piece::ends).collect();
    let mut sizes = vec![0.0; pieces.len()];
    let fill = |price: f64, sizes: &mut [f64]| {
        for ((size, piece), ends) in sizes.iter_mut().zip(pieces).zip(&ends) {
            *size = piece.near_price(price, near, *ends);
        }
    };
    let (mut low, mut high) = ends
        .iter()
        .flatten()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(*at), high.max(*at)));
    let mut price = 0.5 * (low + high);
    for _ in 0..120 {
        fill(price, &mut sizes);
        let over = sizes.iter().sum::<f64>() - room;
        if over.abs() <= near.max(1e-12) * room {
            return sizes;
        }
        if over < 0.0 {
            low = price;
        } else {
            high = price;
        }
        let give: f64 = (pieces.iter().zip(&sizes))
            .filter(|(piece, size)| **size > piece.least && **size < piece.most)
            .map(|(piece, size)| 1.0 / piece.slope_and_bend(*size)[1])
            .sum();
        let step = price - over / give;
        let next = if step > low && step < high { step } else { 0.5 * (low + high) };
        if (high - low).abs() <= 1e-15 * high.abs().max(low.abs()) {
            break;
        }
        price = next;
    }
    let (mut under, mut over) = (sizes.clone(), sizes);
    fill(low, &mut under);
    fill(high, &mut over);
    let (least, most): (f64, f64) = (under.iter().sum(), over.iter().sum());
    let part = if most > least { ((room - least) / (most - least)).clamp(0.0, 1.0) } else { 0.5 };
    under.iter().zip(&over).map(|(a, b)| a + part * (b - a)).collect()
}

/// The function of the total that is minimised.
struct Curve<'a>(&'a Problem);

/// The curve at one total.
#[derive(Clone, Copy)]
struct Point {
    total: f64,
    rows: f64,
    price: f64,
    value: f64,
}

impl Curve<'_> {
    fn wholes(&self, log_total: f64) -> f64 {
        let term = |w: &Whole| cost(log_total - w.original.ln(), w.tolerance, w.weight);
        self.0.wholes.iter().map(term).sum()
    }

    fn wholes_slope(&self, log_total: f64) -> f64 {
        let term = |w: &Whole| slope(log_total - w.original.ln(), w.tolerance, w.weight);
        self.0.wholes.iter().map(term).sum()
    }

    fn at(&self, total: f64) -> Point {
        let (mut rows, mut price) = (0.0, 0.0);
        for row in &self.0.rows {
            let settled = row.settle(row.total.unwrap_or(total));
            rows += settled.cost;
            price += if row.total.is_some() { 0.0 } else { settled.price };
        }
        Point { total, rows, price, value: rows + self.wholes(total.ln()) }
    }

    /// No total between two points costs less than this.
    fn bound(&self, left: Point, right: Point) -> f64 {
        let (a, b) = (left.total, right.total);
        let middle = 0.5 * (a.ln() + b.ln());
        let (height, rise) = (self.wholes(middle), self.wholes_slope(middle));
        // A line below the logarithm (its chord) or above it (its tangent).
        let line = |total: f64| {
            if rise >= 0.0 {
                let chord = if b > a { (b.ln() - a.ln()) / (b - a) } else { 0.0 };
                height + rise * (a.ln() + chord * (total - a) - middle)
            } else {
                let at = middle.exp();
                height + rise * ((total - at) / at)
            }
        };
        let rows = |total: f64| {
            let from_left = left.rows + left.price * (total - a);
            let from_right = right.rows + right.price * (total - b);
            from_left.max(from_right)
        };
        let meet = if (left.price - right.price).abs() > 1e-300 {
            (right.rows - left.rows + left.price * a - right.price * b) / (left.price - right.price)
        } else {
            a
        };
        [a, b, meet.clamp(a, b)]
            .map(|total| rows(total) + line(total))
            .into_iter()
            .fold(f64::INFINITY, f64::min)
    }
}

/// The problem with every piece kept where its cost is convex.
fn convex(problem: &Problem) -> Problem {
    let mut problem = problem.clone();
    for piece in problem.rows.iter_mut().flat_map(|row| &mut row.pieces) {
        if piece.most > piece.original {
            piece.most = piece.most.min(piece.turn()).max(piece.least);
        }
    }
    problem
}

/// The sizes that cost least. A piece that may grow is not grown beyond
/// [`Piece::turn`].
///
/// # Errors
///
/// When the rows can come to no total that the limits allow.
pub fn best(problem: &Problem) -> Result<Best, NoTotal> {
    let problem = &convex(problem);
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
    let mut high = own.longest.min(problem.longest);
    let slack = 1e-9 * low.abs().max(1.0);
    if high < low {
        if high < low - slack {
            return Err(own);
        }
        high = low;
    }
    let curve = Curve(problem);
    let total = search(&curve, low, high);
    let settled: Vec<_> =
        (problem.rows.iter()).map(|row| row.settle(row.total.unwrap_or(total))).collect();
    Ok(Best {
        total,
        cost: curve.at(total).value,
        sizes: settled.into_iter().map(|row| row.sizes).collect(),
    })
}

/// Halves intervals, most promising first, until none can hold a better total.
fn search(curve: &Curve<'_>, low: f64, high: f64) -> f64 {
    let (left, right) = (curve.at(low), curve.at(high));
    let mut best = if left.value < right.value { left } else { right };
    let mut open = vec![(curve.bound(left, right), left, right)];
    // Far more halvings than a smooth curve needs.
    for _ in 0..20_000 {
        let at = open.iter().enumerate().min_by(|a, b| a.1.0.total_cmp(&b.1.0)).map(|(at, _)| at);
        let Some(at) = at else { break };
        let (bound, left, right) = open.swap_remove(at);
        if bound > best.value - PROVEN {
            break;
        }
        let middle = curve.at(0.5 * (left.total + right.total));
        if middle.value < best.value {
            best = middle;
        }
        for (a, b) in [(left, middle), (middle, right)] {
            let bound = curve.bound(a, b);
            if bound < best.value - PROVEN && b.total - a.total > 1e-12 * b.total {
                open.push((bound, a, b));
            }
        }
    }
    best.total
}

/// Sizes that shrink by one factor, each within its own bounds, to a sum.
///
/// The closed form of shortening plain wall: with weights by share of wall every
/// free piece takes the same factor, and pieces at a bound stay there. A piece
/// is `(times it occurs, original, least, most)`; the answer has one size for
/// each. A sum outside the bounds gives the bounds.
#[must_use]
pub fn one_factor(pieces: &[(f64, f64, f64, f64)], sum: f64) -> Vec<f64> {
    let sizes = |factor: f64| -> Vec<f64> {
        pieces.iter().map(|(_, a, least, most)| (a * factor).clamp(*least, *most)).collect()
    };
    let total = |factor: f64| -> f64 {
        pieces.iter().zip(sizes(factor)).map(|((times, ..), size)| times * size).sum()
    };
    // The sum is a broken line in the factor: find its piece, then the factor.
    let mut turns: Vec<f64> = pieces.iter().flat_map(|(_, a, l, m)| [l / a, m / a]).collect();
    turns.sort_by(f64::total_cmp);
    let (Some(&first), Some(&last)) = (turns.first(), turns.last()) else { return Vec::new() };
    let above = turns.iter().copied().find(|turn| total(*turn) >= sum).unwrap_or(last);
    let below = turns.iter().copied().rev().find(|turn| total(*turn) <= sum).unwrap_or(first);
    let (low, high) = (total(below), total(above));
    let part = if high > low { (sum - low) / (high - low) } else { 0.0 };
    sizes(below + part.clamp(0.0, 1.0) * (above - below))
}
