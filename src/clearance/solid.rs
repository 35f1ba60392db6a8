//! A body where it stands, against points and rays in its own axes.

use super::body::{Block, Point};
use super::section::Section;

#[derive(Clone, Copy, Debug)]
pub(super) struct Found {
    pub(super) distance: f64,
    pub(super) share: f64,
    pub(super) direction: Point,
}

impl Found {
    pub(super) fn or(self, other: Self) -> Self {
        if other.distance < self.distance { other } else { self }
    }
}

/// Signed distance of a point, in the body's own axes, to a part of it.
pub(super) fn prism(
    block: &Block,
    section: &Section,
    stretch: f64,
    [along, left, up]: Point,
) -> Found {
    let [low, high] = [block.ends[0] - stretch, block.ends[1] + stretch];
    let past = if along > (low + high) / 2.0 { along - high } else { low - along };
    let end = if along > (low + high) / 2.0 { 1.0 } else { -1.0 };
    let away = section.distance(left, up);
    let [out, rise] = away.direction;
    let (distance, direction) = if past > 0.0 && away.distance > 0.0 {
        let distance = past.hypot(away.distance);
        let share = away.distance / distance;
        (distance, [end * past / distance, out * share, rise * share])
    } else if past > away.distance {
        (past, [end, 0.0, 0.0])
    } else {
        (away.distance, [0.0, out, rise])
    };
    Found { distance, share: 0.0, direction }
}

/// The last distance along a ray at which it is still in a block.
pub(super) fn leaves(block: &Block, stretch: f64, from: Point, out: Point) -> Option<f64> {
    let (mut first, mut last) = (f64::NEG_INFINITY, f64::INFINITY);
    let [low, high] = [block.ends[0] - stretch, block.ends[1] + stretch];
    if out[0].abs() < 1e-12 {
        if from[0] < low || from[0] > high {
            return None;
        }
    } else {
        let (a, b) = ((low - from[0]) / out[0], (high - from[0]) / out[0]);
        (first, last) = (a.min(b), a.max(b));
    }
    let inside = |t: f64| {
        let half = block.section.half_at(from[2] + out[2] * t);
        half.is_some_and(|half| (from[1] + out[1] * t).abs() <= half + 1e-12)
    };
    let mut best = (last.is_finite() && inside(last)).then_some(last);
    let mut take = |t: f64| {
        if t >= first && t <= last && inside(t) && best.is_none_or(|best| t > best) {
            best = Some(t);
        }
    };
    for pair in block.section.points().windows(2) {
        for side in [1.0, -1.0] {
            // On a side: left + t = side (half + slope (up + t - low)).
            let ([half, low], [top_half, high]) = (pair[0], pair[1]);
            if high - low < 1e-12 {
                continue;
            }
            let slope = side * (top_half - half) / (high - low);
            let rate = out[1] - slope * out[2];
            if rate.abs() > 1e-12 {
                take((side * half + slope * (from[2] - low) - from[1]) / rate);
            }
        }
    }
    if out[2].abs() > 1e-12 {
        for [_, level] in block.section.points() {
            take((level - from[2]) / out[2]);
        }
    }
    best
}
