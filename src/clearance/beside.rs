//! On the plan: how far a thing stands from the centre line, whatever its
//! height, and how high what hangs over a car hangs there.

use super::body::{Point, Solid};
use super::chain::{Chain, Spot};
use super::convex::{Apart, apart};
use super::search::{golden, lowest, zoom};
use super::sweep::Sweep;
use crate::quantity::slack::{EXACT, NOTHING};

/// How far apart the centre line is looked at.
const STEP: f64 = 0.25;

/// How far a thing stands from the centre line on the plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Off {
    /// From the centre line to its nearest point; 0 where it stands across it.
    pub by: f64,
    /// Where along the track that is.
    pub along: f64,
    /// Whether it stands to the left of the track there.
    pub left: bool,
}

/// The centre line, looked at step by step.
#[derive(Clone, Debug)]
pub(super) struct Line<'a> {
    chain: &'a Chain,
    spots: Vec<(f64, Spot)>,
}

impl<'a> Line<'a> {
    /// The centre line of a chain, and so far on at both ends.
    pub(super) fn new(chain: &'a Chain, beyond: f64) -> Self {
        let count = ((chain.length() + 2.0 * beyond) / STEP).ceil() as u32;
        let along = |n: u32| f64::from(n) * STEP - beyond;
        let spots = (0..=count).map(|n| (along(n), chain.spot(along(n)))).collect();
        Self { chain, spots }
    }

    /// How far a solid stands off.
    pub(super) fn off(&self, solid: &Solid) -> Off {
        let flat = |at: &Point| [at[0], at[1], 0.0];
        let parts: Vec<Vec<Point>> =
            solid.parts.iter().map(|part| part.iter().map(flat).collect()).collect();
        let ([x, y], wide) = solid.circle();
        let to = |spot: &Spot, enough: f64| {
            let [x, y] = spot.at;
            let each = parts.iter().map(|part| gap(part, [x, y, 0.0], enough));
            each.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((f64::INFINITY, [x, y, 0.0]))
        };
        let (mut best, mut tried) = (f64::INFINITY, Vec::new());
        for (at, (_, spot)) in self.spots.iter().enumerate() {
            let least = (spot.at[0] - x).hypot(spot.at[1] - y) - wide;
            if least <= best + STEP {
                let found = to(spot, best + STEP).0;
                best = best.min(found);
                tried.push((at, found));
            }
        }
        let followed = lowest(&tried, best, STEP / 4.0).into_iter().map(|place| {
            let along = self.spots[tried[place].0].0;
            let of = |along: f64| to(&self.chain.spot(along), f64::INFINITY).0;
            let along = golden(along - STEP, along + STEP, 26, of);
            (along, to(&self.chain.spot(along), f64::INFINITY))
        });
        let nearest = followed.min_by(|a, b| a.1.0.total_cmp(&b.1.0));
        let (along, (by, at)) = nearest.unwrap_or((0.0, (f64::INFINITY, [0.0; 3])));
        let spot = self.chain.spot(along);
        let aside = |at: [f64; 2]| {
            let (sin, cos) = spot.heading.sin_cos();
            (at[1] - spot.at[1]) * cos - (at[0] - spot.at[0]) * sin
        };
        let left = if by > NOTHING { aside([at[0], at[1]]) > 0.0 } else { aside([x, y]) > 0.0 };
        Off { by, along, left }
    }

    /// Where a point stands along the track.
    fn along(&self, at: Point) -> f64 {
        self.off(&Solid::line(at, at)).along
    }

    /// How high the underside of a solid hangs over the rail where a body passes
    /// under it, at the least; nothing where it does not.
    pub(super) fn under(&self, solid: &Solid, sweep: &Sweep<'_>) -> Option<f64> {
        let parts = solid.parts.iter().filter_map(|part| self.under_part(part, sweep));
        parts.reduce(f64::min)
    }

    fn under_part(&self, part: &[Point], sweep: &Sweep<'_>) -> Option<f64> {
        let ends = part.iter().map(|at| self.along(*at));
        let range = ends.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| {
            [low.min(at), high.max(at)]
        });
        let reach = reaches(sweep, range)?;
        let height = |along: f64| {
            let [left, right] = between(&reach, range, along);
            lowest_in(&slice(part, &self.chain.spot(along)), [-right, left])
        };
        let of = |along: f64| height(along).unwrap_or(f64::INFINITY);
        const PLACES: u32 = 24;
        let step = (range[1] - range[0]) / f64::from(PLACES);
        let places = (0..=PLACES).map(|n| range[0] + step * f64::from(n));
        let best = places.map(|at| (of(at), at)).min_by(|a, b| a.0.total_cmp(&b.0))?;
        let ends = [best.1 - step, best.1 + step];
        let found = zoom(ends, 10, &of).min(best.0);
        found.is_finite().then_some(found)
    }
}

/// How far a body reaches to both sides at places along a stretch of track, so
/// close that between two of them it is a straight line.
fn reaches(sweep: &Sweep<'_>, [from, to]: [f64; 2]) -> Option<Vec<[f64; 2]>> {
    let count = ((to - from) / STEP).ceil().clamp(1.0, 400.0) as u32;
    let along = |n: u32| from + (to - from) * f64::from(n) / f64::from(count);
    let both =
        |along| Some([sweep.reach_on_plan(along, true)?, sweep.reach_on_plan(along, false)?]);
    (0..=count).map(|n| both(along(n))).collect()
}

/// A value between two of those.
fn between(all: &[[f64; 2]], [from, to]: [f64; 2], along: f64) -> [f64; 2] {
    let last = all.len() - 1;
    let place = ((along - from) / (to - from).max(EXACT)).clamp(0.0, 1.0) * last as f64;
    let at = (place as usize).min(last - 1);
    [0, 1].map(|side| all[at][side] + (all[at + 1][side] - all[at][side]) * (place - at as f64))
}

/// From a point to a flat shape: how far, and its nearest point.
fn gap(part: &[Point], from: Point, enough: f64) -> (f64, Point) {
    match apart(part, |_| from, enough) {
        Apart::By { distance, at, .. } => (distance, at),
        Apart::AtLeast(distance) => (distance, from),
        Apart::Meet => (0.0, from),
    }
}

/// Where the lines between the corners of a shape cross a plane square to the
/// track: out to the left, and up from the rail head.
pub(super) fn slice(part: &[Point], spot: &Spot) -> Vec<[f64; 2]> {
    let (sin, cos) = spot.heading.sin_cos();
    let seen = |at: &Point| {
        let (x, y) = (at[0] - spot.at[0], at[1] - spot.at[1]);
        (x * cos + y * sin, [y * cos - x * sin, at[2]])
    };
    let corners: Vec<(f64, [f64; 2])> = part.iter().map(seen).collect();
    let mut points = Vec::new();
    for (n, a) in corners.iter().enumerate() {
        if a.0.abs() < EXACT {
            points.push(a.1);
        }
        for b in corners.iter().skip(n + 1).filter(|b| a.0 * b.0 < 0.0) {
            let share = a.0 / (a.0 - b.0);
            points.push([0, 1].map(|axis| a.1[axis] + (b.1[axis] - a.1[axis]) * share));
        }
    }
    points
}

/// The lowest height of a shape of some points between two places across.
fn lowest_in(points: &[[f64; 2]], [low, high]: [f64; 2]) -> Option<f64> {
    let inside = points.iter().filter(|at| at[0] >= low && at[0] <= high).map(|at| at[1]);
    let crossing = points.iter().enumerate().flat_map(|(n, a)| {
        points.iter().skip(n + 1).flat_map(move |b| {
            [low, high].into_iter().filter_map(move |edge| {
                let share = (edge - a[0]) / (b[0] - a[0]);
                (0.0..=1.0).contains(&share).then(|| a[1] + (b[1] - a[1]) * share)
            })
        })
    });
    inside.chain(crossing).reduce(f64::min)
}

/// The outline round some points, against the clock; two for a line.
pub(super) fn round(mut points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    points.dedup_by(|a, b| (a[0] - b[0]).abs() < NOTHING && (a[1] - b[1]).abs() < NOTHING);
    if points.len() < 3 {
        return points;
    }
    let half = |points: &mut dyn Iterator<Item = [f64; 2]>| {
        let mut line: Vec<[f64; 2]> = Vec::new();
        for at in points {
            let turns = |a: [f64; 2], b: [f64; 2]| {
                (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])
            };
            while line.len() > 1 && turns(line[line.len() - 2], line[line.len() - 1]) <= 0.0 {
                line.pop();
            }
            line.push(at);
        }
        line.pop();
        line
    };
    let mut all = half(&mut points.iter().copied());
    all.extend(half(&mut points.iter().rev().copied()));
    all
}
