//! What a drawing of the clearance needs: the plan with the envelopes, and the
//! section at the worst place. Lengths in model inches.

use super::beside::{round, slice};
use super::body::Point;
use super::check::Checked;
use super::standard::{Kind, Standard};
use super::sweep::Sweep;
use super::things::Item;
use crate::quantity::slack::{NOTHING, TOUCH};

/// The plan and the section.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Picture {
    /// The centre line.
    pub track: Vec<[f64; 2]>,
    /// How far each standard reaches: its left and right edge on the plan.
    pub edges: Vec<(Kind, [Vec<[f64; 2]>; 2])>,
    /// What stands there, with its place in the list of things.
    pub things: Vec<(usize, [[f64; 2]; 2])>,
    /// The section at the worst place.
    pub section: Option<Cut>,
}

/// A section square to the track: out from its centre line to the left, and up
/// from the rail head.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cut {
    /// Where along the track.
    pub along: f64,
    /// The thing it is cut at, by its place in the list.
    pub thing: usize,
    /// Each standard from the bottom up: reach to the left and right, and height.
    pub outlines: Vec<(Kind, String, Vec<[f64; 3]>)>,
    /// What stands there: lines out and up, with the place in the list.
    pub things: Vec<(usize, [[f64; 2]; 2])>,
}

/// How far along the track on each side of a section things are shown in it.
const DEPTH: f64 = 1.0;

/// Draws up the plan and the section.
pub(super) fn picture(
    standards: &[Standard<'_>],
    items: &[Item],
    checked: &[Checked],
    worst: Option<(usize, usize)>,
) -> Picture {
    let Some(first) = standards.first() else { return Picture::default() };
    let range = range(first.main(), items);
    let stations = |count: u32| {
        (0..=count).map(move |n| range[0] + (range[1] - range[0]) * f64::from(n) / f64::from(count))
    };
    let chain = first.main().chain();
    Picture {
        track: stations(96).map(|along| chain.spot(along).at).collect(),
        edges: standards
            .iter()
            .map(|standard| (standard.kind, edges(standard, stations(64))))
            .collect(),
        things: items
            .iter()
            .enumerate()
            .map(|(at, item)| (at, item.solid.axis.map(flat)))
            .collect(),
        section: worst.and_then(|(thing, of)| {
            let along = checked.get(thing)?.held.get(of)?.as_ref()?.along;
            Some(cut(standards, items, thing, along))
        }),
    }
}

fn flat([x, y, _]: Point) -> [f64; 2] {
    [x, y]
}

/// The part of the track the drawing shows: beside what stands there, and a
/// little on.
fn range(sweep: &Sweep<'_>, items: &[Item]) -> [f64; 2] {
    let chain = sweep.chain();
    let ends = || items.iter().flat_map(|item| item.solid.axis).map(flat);
    let near = |along: &f64| {
        let [x, y] = chain.spot(*along).at;
        let away = ends().map(|end| (end[0] - x).hypot(end[1] - y)).fold(f64::INFINITY, f64::min);
        away < 4.0
    };
    let steps = 200;
    let all = (0..=steps).map(|n| chain.length() * f64::from(n) / f64::from(steps));
    let shown: Vec<f64> = all.filter(near).collect();
    match (shown.first(), shown.last()) {
        (Some(from), Some(to)) if to > from => [*from, *to],
        _ => [0.0, chain.length()],
    }
}

fn edges(standard: &Standard<'_>, stations: impl Iterator<Item = f64>) -> [Vec<[f64; 2]>; 2] {
    let mut sides = [Vec::new(), Vec::new()];
    for along in stations {
        let wide = standard.widened(along).flatten();
        let sweep = wide.as_deref().unwrap_or_else(|| standard.main());
        let high = sweep.body().widest()[1];
        let spot = sweep.chain().spot(along);
        for (side, left) in sides.iter_mut().zip([true, false]) {
            let Some(out) = sweep.reach_about(along, high, left) else { continue };
            let out = if left { out } else { -out };
            let (sin, cos) = spot.heading.sin_cos();
            side.push([spot.at[0] - sin * out, spot.at[1] + cos * out]);
        }
    }
    sides
}

/// The envelopes and what stands in one section.
fn cut(standards: &[Standard<'_>], items: &[Item], thing: usize, along: f64) -> Cut {
    let outlines = standards.iter().map(|standard| {
        let sweep = standard.widened(along).flatten();
        let sweep = sweep.as_deref().unwrap_or_else(|| standard.main());
        (standard.kind, standard.name.clone(), contour(sweep, along))
    });
    let spot = standards[0].main().chain().spot(along);
    let (sin, cos) = spot.heading.sin_cos();
    let seen = |point: Point| {
        let (x, y) = (point[0] - spot.at[0], point[1] - spot.at[1]);
        (x * cos + y * sin, [y * cos - x * sin, point[2]])
    };
    let mut things = Vec::new();
    for (at, item) in items.iter().enumerate() {
        if item.what.is_timber() {
            things.extend(within(item.solid.axis.map(seen)).map(|line| (at, line)));
            continue;
        }
        for part in &item.solid.parts {
            let ring = round(slice(part, &spot));
            let next = ring.iter().cycle().skip(1);
            things.extend(ring.iter().zip(next).map(|(from, to)| (at, [*from, *to])));
        }
    }
    Cut { along, thing, outlines: outlines.collect(), things }
}

/// The part of a line near the section, seen along the track.
fn within([from, to]: [(f64, [f64; 2]); 2]) -> Option<[[f64; 2]; 2]> {
    let span = to.0 - from.0;
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    if span.abs() < NOTHING {
        if from.0.abs() > DEPTH {
            return None;
        }
    } else {
        let (a, b) = ((-DEPTH - from.0) / span, (DEPTH - from.0) / span);
        (low, high) = (low.max(a.min(b)), high.min(a.max(b)));
        if low > high {
            return None;
        }
    }
    let at =
        |share: f64| std::array::from_fn(|axis| from.1[axis] + (to.1[axis] - from.1[axis]) * share);
    Some([at(low), at(high)])
}

/// A standard from the bottom up at a place along the track.
pub(super) fn contour(sweep: &Sweep<'_>, along: f64) -> Vec<[f64; 3]> {
    let heights = sweep.body().corners();
    let mut points = Vec::new();
    let mut push = |high: f64, label: f64| {
        let left = sweep.reach(along, high, true);
        let right = sweep.reach(along, high, false);
        if let (Some(left), Some(right)) = (left, right) {
            points.push([left, right, label]);
        }
    };
    for (n, high) in heights.iter().enumerate() {
        // Just under and just over a corner: a step is seen from both sides.
        let first = n == 0;
        let last = n + 1 == heights.len();
        if !first {
            push(high - TOUCH, *high);
        }
        if !last {
            push(high + TOUCH, *high);
        }
    }
    points
}
