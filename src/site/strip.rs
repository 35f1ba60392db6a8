//! The ground at one angle, turned so that the front lies along `x`.
//!
//! A rectangle from a front line to a back line fits between `x` values that no
//! edge crosses anywhere between the two. For a range of front lines, all of the
//! rectangles hold the strip from the highest front line to the lowest back line:
//! what is free there bounds them all, so halving the ranges proves the longest.

use std::collections::BinaryHeap;

use super::bound::Bounded;
use super::ground::{Circle, Segment, sides, within};

/// Ranges of front lines looked at, at most; far more than outlines need.
const CELLS: usize = 4000;

/// The longest front at one angle.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Longest {
    /// Its front line.
    pub(super) line: f64,
    /// Its left end.
    pub(super) left: f64,
    /// Its length; zero where nothing fits.
    pub(super) front: f64,
    /// No front is longer.
    pub(super) bound: f64,
}

impl Longest {
    fn take(&mut self, line: f64, gap: Option<(f64, f64)>) {
        if let Some((left, front)) = gap.filter(|(_, front)| *front > self.front) {
            *self = Self { line, left, front, ..*self };
        }
    }
}

/// The ground turned so that the front lies along `x`.
pub(super) struct Turned {
    pub(super) outline: Vec<[f64; 2]>,
    pub(super) circle: Option<Circle>,
}

impl Turned {
    /// The longest front of a depth. No front is longer than the bound, which is
    /// nearer than `near` to the one found.
    pub(super) fn longest(&self, depth: f64, near: f64) -> Longest {
        let mut lines = self.turning_lines(depth);
        lines.sort_by(f64::total_cmp);
        lines.dedup_by(|a, b| (*a - *b).abs() < 1e-12);
        let mut found = Longest::default();
        for line in &lines {
            found.take(*line, self.gap(*line, line + depth));
        }
        let mut open: BinaryHeap<_> =
            lines.windows(2).map(|pair| self.cell(pair[0], pair[1], depth)).collect();
        for _ in 0..CELLS {
            let Some(Bounded { bound, it: [low, high] }) = open.pop() else { break };
            found.bound = bound.max(found.front);
            if bound <= found.front + near {
                break;
            }
            let middle = 0.5 * (low + high);
            found.take(middle, self.gap(middle, middle + depth));
            open.extend([self.cell(low, middle, depth), self.cell(middle, high, depth)]);
        }
        found.bound = found.bound.max(found.front);
        found
    }

    /// Front lines from `low` to `high`, with what no front on one exceeds: all
    /// their strips hold the strip from the highest line to the lowest back.
    fn cell(&self, low: f64, high: f64, depth: f64) -> Bounded<[f64; 2]> {
        let back = low + depth;
        let bound = if back >= high {
            self.gap(high, back).map_or(0.0, |(_, front)| front)
        } else {
            let xs = || self.outline.iter().map(|point| point[0]);
            xs().fold(f64::NEG_INFINITY, f64::max) - xs().fold(f64::INFINITY, f64::min)
        };
        Bounded { bound, it: [low, high] }
    }

    /// Front lines at which an edge enters or leaves the strip.
    fn turning_lines(&self, depth: f64) -> Vec<f64> {
        let ys = || self.outline.iter().map(|point| point[1]);
        let (low, high) =
            (ys().fold(f64::INFINITY, f64::min), ys().fold(f64::NEG_INFINITY, f64::max));
        let round = self.circle.iter().flat_map(|circle| {
            [circle.centre[1] - circle.radius, circle.centre[1], circle.centre[1] + circle.radius]
        });
        ys().chain(round)
            .flat_map(|y| [y, y - depth])
            .filter(|y| *y >= low - 1e-12 && *y <= high - depth + 1e-12)
            .collect()
    }

    /// The longest stretch of `x` over which the strip from a front line to its
    /// back is all ground: its left end and length.
    fn gap(&self, front: f64, back: f64) -> Option<(f64, f64)> {
        let mut taken: Vec<(f64, f64)> =
            sides(&self.outline).filter_map(|side| crossed(side, front, back)).collect();
        taken.extend(self.circle.iter().flat_map(|circle| round(circle, front, back)));
        taken.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut best: Option<(f64, f64)> = None;
        let mut reached = taken.first()?.1;
        for (from, to) in taken {
            if from > reached {
                let middle = [0.5 * (reached + from), 0.5 * (front + back)];
                let long = from - reached;
                if best.is_none_or(|(_, longest)| long > longest) && self.is_ground(middle) {
                    best = Some((reached, long));
                }
            }
            reached = reached.max(to);
        }
        best
    }

    fn is_ground(&self, point: [f64; 2]) -> bool {
        let in_circle = |circle: &Circle| {
            let away = (point[0] - circle.centre[0]).hypot(point[1] - circle.centre[1]);
            (away <= circle.radius) == circle.inside
        };
        within(&self.outline, point) && self.circle.iter().all(in_circle)
    }
}

/// The `x` values over which a side runs inside the strip.
fn crossed((a, b): Segment, front: f64, back: f64) -> Option<(f64, f64)> {
    // A strip without depth is its front line, taken from just behind.
    let (low, high) = (front + 1e-9, (back - 1e-9).max(front + 2e-9));
    let (a, b) = if a[1] <= b[1] { (a, b) } else { (b, a) };
    if b[1] <= low || a[1] >= high {
        return None;
    }
    let at = |y: f64| a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]);
    let from = if a[1] < low { at(low) } else { a[0] };
    let to = if b[1] > high { at(high) } else { b[0] };
    Some((from.min(to), from.max(to)))
}

/// The `x` values a circle takes from the strip between two lines.
fn round(circle: &Circle, low: f64, high: f64) -> Vec<(f64, f64)> {
    let [x, y] = circle.centre;
    let half = |away: f64| (circle.radius * circle.radius - away * away).max(0.0).sqrt();
    if circle.inside {
        // The far corner of the strip must stay within.
        let half = half((low - y).abs().max((high - y).abs()));
        return vec![(f64::NEG_INFINITY, x - half), (x + half, f64::INFINITY)];
    }
    let near = if low <= y && y <= high { 0.0 } else { (low - y).abs().min((high - y).abs()) };
    // Touching is clear.
    if near >= circle.radius - 1e-9 {
        return Vec::new();
    }
    let half = half(near);
    vec![(x - half, x + half)]
}
