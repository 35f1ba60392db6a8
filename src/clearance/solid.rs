//! A body where it stands, against solids and rays in its own axes.

use super::body::{Block, Point};
use super::convex::{Apart, apart, deepest};
use super::section::Section;
use crate::building::place::{dot, plus};
use crate::quantity::slack::{EXACT, NOTHING};

#[derive(Clone, Copy, Debug)]
pub(super) struct Found {
    pub(super) distance: f64,
    /// The nearest point of the solid, or the deepest.
    pub(super) at: Point,
    pub(super) direction: Point,
}

impl Found {
    /// Nothing found yet.
    pub(super) const FAR: Self =
        Self { distance: f64::INFINITY, at: [0.0; 3], direction: [0.0, 1.0, 0.0] };

    pub(super) fn or(self, other: Self) -> Self {
        if other.distance < self.distance { other } else { self }
    }
}

/// Signed distance of a part of a solid, its corners in the body's own axes, to
/// a part of the body; no more than a bound of it where that is over `enough`.
/// Where both meet, how deep the deepest point of the solid is, below zero.
pub(super) fn part(block: &Block, stretch: f64, corners: &[Point], enough: f64) -> Found {
    let [low, high] = [block.ends[0] - stretch, block.ends[1] + stretch];
    let mut best = Found::FAR;
    for layer in &block.layers {
        let far = |towards: Point| {
            let [out, up] = layer.outermost([towards[1], towards[2]]);
            [if towards[0] > 0.0 { high } else { low }, out, up]
        };
        match apart(corners, far, enough.min(best.distance)) {
            Apart::Meet => return sunk(block, stretch, corners),
            Apart::AtLeast(distance) => best = best.or(Found { distance, ..Found::FAR }),
            Apart::By { distance, at, direction } => {
                best = best.or(Found { distance, at, direction });
            }
        }
    }
    best
}

/// The deepest point of a solid in a part of the body: over the parts of that
/// without hollows.
fn sunk(block: &Block, stretch: f64, corners: &[Point]) -> Found {
    let [low, high] = [block.ends[0] - stretch, block.ends[1] + stretch];
    let ends = [[-1.0, 0.0, 0.0, -low], [1.0, 0.0, 0.0, high]];
    let touching = Found { distance: 0.0, at: corners[0], ..Found::FAR };
    block.runs.iter().fold(touching, |best, sides| {
        let sides = sides.iter().map(|[out, up, far]| [0.0, *out, *up, *far]);
        let planes: Vec<[f64; 4]> = ends.iter().copied().chain(sides).collect();
        let depth =
            |at: Point, plane: &[f64; 4]| plane[3] - dot(at, [plane[0], plane[1], plane[2]]);
        let depths: Vec<Vec<f64>> =
            corners.iter().map(|at| planes.iter().map(|it| depth(*at, it)).collect()).collect();
        let (value, shares) = deepest(&depths);
        if value <= 0.0 {
            return best;
        }
        let at = corners.iter().zip(shares).fold([0.0; 3], |sum, (at, by)| plus(sum, *at, by));
        // Of sides that are as near, the way up is the shortest to tell.
        let sides = planes.iter().filter(|it| depth(at, it) < value + NOTHING);
        let out = sides.max_by(|a, b| a[2].total_cmp(&b[2]));
        let direction = out.map_or([0.0, 1.0, 0.0], |it| [it[0], it[1], it[2]]);
        let found = Found { distance: -value, at, direction };
        best.or(found).or(point(block, &block.section, stretch, at))
    })
}

/// The length of two parts at right angles; `hypot` is slower by far, and guards
/// against sizes that no model has.
fn long(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}

/// Signed distance of a point, in the body's own axes, to a part of it.
pub(super) fn point(block: &Block, section: &Section, stretch: f64, at: Point) -> Found {
    let [along, left, up] = at;
    let [low, high] = [block.ends[0] - stretch, block.ends[1] + stretch];
    let past = if along > (low + high) / 2.0 { along - high } else { low - along };
    let end = if along > (low + high) / 2.0 { 1.0 } else { -1.0 };
    let away = section.distance(left, up);
    let [out, rise] = away.direction;
    let (distance, direction) = if past > 0.0 && away.distance > 0.0 {
        let distance = long(past, away.distance);
        let share = away.distance / distance;
        (distance, [end * past / distance, out * share, rise * share])
    } else if past > away.distance {
        (past, [end, 0.0, 0.0])
    } else {
        (away.distance, [0.0, out, rise])
    };
    Found { distance, at, direction }
}

/// The last distance along a ray at which it is still in a block.
pub(super) fn leaves(block: &Block, stretch: f64, from: Point, out: Point) -> Option<f64> {
    let (mut first, mut last) = (f64::NEG_INFINITY, f64::INFINITY);
    let [low, high] = [block.ends[0] - stretch, block.ends[1] + stretch];
    if out[0].abs() < EXACT {
        if from[0] < low || from[0] > high {
            return None;
        }
    } else {
        let (a, b) = ((low - from[0]) / out[0], (high - from[0]) / out[0]);
        (first, last) = (a.min(b), a.max(b));
    }
    let inside = |t: f64| {
        let half = block.section.half_at(from[2] + out[2] * t);
        half.is_some_and(|half| (from[1] + out[1] * t).abs() <= half + EXACT)
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
            if high - low < EXACT {
                continue;
            }
            let slope = side * (top_half - half) / (high - low);
            let rate = out[1] - slope * out[2];
            if rate.abs() > EXACT {
                take((side * half + slope * (from[2] - low) - from[1]) / rate);
            }
        }
    }
    if out[2].abs() > EXACT {
        for [_, level] in block.section.points() {
            take((level - from[2]) / out[2]);
        }
    }
    best
}
