//! A body where it stands, against points and rays in its own axes.

use super::body::{Block, Point, plus};
use super::search::golden;
use super::section::{Beside, Section};

#[derive(Clone, Copy, Debug)]
pub(super) struct Found {
    pub(super) distance: f64,
    pub(super) share: f64,
    pub(super) direction: Point,
}

impl Found {
    /// Nothing found yet.
    pub(super) const FAR: Self =
        Self { distance: f64::INFINITY, share: 0.5, direction: [0.0, 1.0, 0.0] };

    pub(super) fn or(self, other: Self) -> Self {
        if other.distance < self.distance { other } else { self }
    }
}

/// Signed distance of a bar's line, in the body's own axes, to a part of it; no
/// more than a bound of it where that is over `enough`.
///
/// Beside the part only its section counts, and the line as it is seen along
/// the body: that has a closed form. What of the line lies before or behind the
/// part is searched, where it can be nearer at all; so is a line that meets it.
pub(super) fn bar(block: &Block, stretch: f64, ends: [Point; 2], enough: f64) -> Found {
    let span = plus(ends[1], ends[0], -1.0);
    let point = |share: f64| plus(ends[0], span, share);
    let flat = |from: f64, to: f64| {
        block.section.beside([from, to].map(|share| [point(share)[1], point(share)[2]]))
    };
    let [low, high] = [block.ends[0] - stretch, block.ends[1] + stretch];
    let past = |share: f64| {
        let along = point(share)[0];
        (low - along).max(along - high).max(0.0)
    };
    if span[0].abs() < 1e-9 && past(0.0) > 0.0 {
        return past_an_end(past(0.0), ends[0][0] > high, flat(0.0, 1.0));
    }
    let (mut best, mut left) = (Found::FAR, [[0.0, 1.0], [1.0, 1.0]]);
    if let Some([from, to]) = within(ends[0][0], span[0], [low, high]) {
        let Some(near) = flat(from, to) else { return pierced(block, stretch, &point) };
        let direction = [0.0, near.direction[0], near.direction[1]];
        let share = from + (to - from) * near.share;
        best = Found { distance: near.distance, share, direction };
        left = [[0.0, from], [to, 1.0]];
    }
    for [from, to] in left.into_iter().filter(|[from, to]| to - from > 1e-9) {
        let beside = flat(from, to).map_or(0.0, |near| near.distance);
        let least = long(past(from).min(past(to)), beside);
        if least >= best.distance {
            continue;
        }
        if least > enough {
            best = best.or(Found { distance: least, ..Found::FAR });
            continue;
        }
        for layer in &block.layers {
            best = best.or(searched(block, layer, stretch, &point, [from, to]));
        }
    }
    best
}

/// A line square to the body that passes before or behind a part by so much.
fn past_an_end(past: f64, behind: bool, beside: Option<Beside>) -> Found {
    let end = if behind { 1.0 } else { -1.0 };
    let Some(near) = beside else {
        return Found { distance: past, share: 0.5, direction: [end, 0.0, 0.0] };
    };
    let distance = long(past, near.distance);
    let [out, up] = near.direction.map(|part| part * near.distance / distance);
    Found { distance, share: near.share, direction: [end * past / distance, out, up] }
}

/// The length of two parts at right angles; `hypot` is slower by far, and guards
/// against sizes that no model has.
fn long(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}

/// The stretch of a line, as shares, that lies between two places along it.
fn within(from: f64, span: f64, [low, high]: [f64; 2]) -> Option<[f64; 2]> {
    if span.abs() < 1e-12 {
        return (from >= low && from <= high).then_some([0.0, 1.0]);
    }
    let (a, b) = ((low - from) / span, (high - from) / span);
    let (first, last) = (a.min(b).max(0.0), a.max(b).min(1.0));
    (first <= last).then_some([first, last])
}

/// The nearest point of a line to a part without hollows.
fn searched(
    block: &Block,
    layer: &Section,
    stretch: f64,
    point: &dyn Fn(f64) -> Point,
    [from, to]: [f64; 2],
) -> Found {
    let of = |share: f64| Found { share, ..prism(block, layer, stretch, point(share)) };
    let share = golden(from, to, 15, |share| of(share).distance);
    of(share).or(of(from)).or(of(to))
}

/// How deep a line is inside: its deepest point. Where the part has hollows the
/// line may be deep in several places; the deepest of some is followed.
fn pierced(block: &Block, stretch: f64, point: &dyn Fn(f64) -> Point) -> Found {
    const PLACES: u32 = 12;
    let convex = block.section.is_convex();
    let of = |share: f64| {
        let found = if convex {
            depth(block, stretch, point(share))
        } else {
            prism(block, &block.section, stretch, point(share))
        };
        Found { share, ..found }
    };
    let places = (0..=PLACES).map(|n| f64::from(n) / f64::from(PLACES));
    let deepest = places.map(of).fold(Found::FAR, Found::or);
    let step = 1.0 / f64::from(PLACES);
    let ends = [deepest.share - step, deepest.share + step].map(|share| share.clamp(0.0, 1.0));
    deepest.or(of(golden(ends[0], ends[1], 14, |share| of(share).distance)))
}

/// By how much a point would have to move to leave a part without hollows,
/// below zero inside: the furthest of its sides, seen as planes.
fn depth(block: &Block, stretch: f64, [along, left, up]: Point) -> Found {
    let [low, high] = [block.ends[0] - stretch, block.ends[1] + stretch];
    let (out, [square, rise]) = block.section.furthest(left, up);
    let ends = [(along - high, [1.0, 0.0, 0.0]), (low - along, [-1.0, 0.0, 0.0])];
    let side = (out, [0.0, square, rise]);
    let (distance, direction) =
        ends.into_iter().fold(side, |best, end| if end.0 > best.0 { end } else { best });
    Found { distance, share: 0.0, direction }
}

/// Signed distance of a point, in the body's own axes, to a part of it.
fn prism(block: &Block, section: &Section, stretch: f64, [along, left, up]: Point) -> Found {
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
