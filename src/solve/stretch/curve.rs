//! The cost as a function of the total, and its least.

use super::piece::{cost, slope};
use super::row::Hulled;
use super::{PROVEN, Whole};

/// The function of the total that is minimised.
pub(super) struct Curve<'a> {
    pub(super) rows: &'a [Hulled],
    pub(super) wholes: &'a [Whole],
}

/// The curve at one total.
#[derive(Clone, Copy)]
pub(super) struct Point {
    total: f64,
    rows: f64,
    price: f64,
    pub(super) value: f64,
}

impl Curve<'_> {
    pub(super) fn wholes(&self, log_total: f64) -> f64 {
        let term = |w: &Whole| cost(log_total - w.original.ln(), w.tolerance, w.weight);
        self.wholes.iter().map(term).sum()
    }

    fn wholes_slope(&self, log_total: f64) -> f64 {
        let term = |w: &Whole| slope(log_total - w.original.ln(), w.tolerance, w.weight);
        self.wholes.iter().map(term).sum()
    }

    pub(super) fn at(&self, total: f64) -> Point {
        let (mut rows, mut price) = (0.0, 0.0);
        for row in self.rows {
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

/// Halves intervals, most promising first, until none can hold a better total.
pub(super) fn search(curve: &Curve<'_>, low: f64, high: f64) -> f64 {
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
