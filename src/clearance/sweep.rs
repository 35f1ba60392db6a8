//! A body carried along the chain, and how near it comes.
//!
//! A body rides on two pivots that stand on the centre line, so it follows the
//! chord between them. On a straight it is simply drawn out longer, which is
//! exact; on curves it is set down every [`STEP`], and the nearest places are
//! then followed continuously. The curve of nearness bends by no more than about
//! the curvature of the track, so what lies between two places is off by under a
//! tenth of a thousandth before it is followed, and by nothing to speak of after.

use super::body::{Body, Point, Solid};
use super::chain::{Chain, Spot};
use super::pose::Pose;
use super::search::{golden, lowest, zoom};
use super::solid::{self, Found, leaves};
use crate::quantity::slack::NOTHING;

/// How far apart a body is set down on a curve, model inches.
pub const STEP: f64 = 0.125;

/// How far above the nearest of the places tried another may lie and still lead
/// to a nearer one between: a corner that passes slantwise gains less.
const NEAR: f64 = 0.03;

/// Where both places beside one are higher by no more than this together, less
/// is gained between them than can be cut.
const LEVEL: f64 = 1e-4;

/// How near a body comes to a solid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// From surface to surface; where they meet, below zero by how deep the
    /// deepest point is in the body.
    pub clear: f64,
    /// The nearest point of the solid, or the one deepest in the body.
    pub at: Point,
    /// Where on its line that is, 0 to 1.
    pub share: f64,
    /// Where that point stands along the chain.
    pub along: f64,
    /// Whether it stands to the left of the body.
    pub left: bool,
    /// Level direction away from the track there.
    pub away: [f64; 2],
    /// Direction from the body to the solid.
    pub direction: Point,
    /// Where the body stands.
    pub(super) pose: Pose,
}

/// A body carried along a chain.
#[derive(Clone, Debug)]
pub struct Sweep<'a> {
    chain: &'a Chain,
    body: Body,
    /// Half the gauge: the centre line is lifted with the outer rail.
    half_gauge: f64,
    radius: f64,
    /// Half its length and half its width on the plan.
    covers: [f64; 2],
    /// Its lowest and highest point.
    heights: [f64; 2],
    poses: Vec<Pose>,
}

impl<'a> Sweep<'a> {
    /// Carries a body along a chain; nothing where the pivots are further apart
    /// than the sharpest curve is wide.
    #[must_use]
    pub fn new(chain: &'a Chain, body: Body, half_gauge: f64) -> Option<Self> {
        if body.blocks.is_empty() || chain.sharpest() * body.centres / 2.0 >= 0.999 {
            return None;
        }
        let (radius, covers, heights) = (body.radius(), body.covers(), body.heights());
        let mut sweep =
            Self { chain, body, half_gauge, radius, covers, heights, poses: Vec::new() };
        sweep.set_down();
        Some(sweep)
    }

    /// Another body of the same pivots carried along the same chain.
    #[must_use]
    pub fn with(&self, body: Body) -> Self {
        debug_assert!((body.centres - self.body.centres).abs() < 1e-9, "the same pivots");
        let (radius, covers, heights) = (body.radius(), body.covers(), body.heights());
        if radius <= self.radius {
            return Self { body, radius, covers, heights, ..self.clone() };
        }
        let mut sweep = Self { body, radius, covers, heights, poses: Vec::new(), ..self.clone() };
        sweep.set_down();
        sweep
    }

    /// What it is carried along.
    #[must_use]
    pub fn chain(&self) -> &'a Chain {
        self.chain
    }

    /// What is carried.
    #[must_use]
    pub fn body(&self) -> &Body {
        &self.body
    }

    fn set_down(&mut self) {
        let centres = self.body.centres;
        let last = self.chain.length() + self.radius - centres / 2.0;
        let mut rear = -self.radius - centres / 2.0;
        // A pivot that comes to a joint is set down there too.
        let mut joints: Vec<f64> =
            self.chain.joints().flat_map(|joint| [joint, joint - centres]).collect();
        joints.sort_by(|a, b| b.total_cmp(a));
        while rear <= last {
            while joints.last().is_some_and(|joint| *joint <= rear) {
                joints.pop();
            }
            match self.straight_from(rear, last) {
                Some(to) => {
                    let mut pose = self.pose((rear + to) / 2.0);
                    pose.stretch = (to - rear) / 2.0;
                    self.poses.push(pose);
                    rear = to + STEP / 1024.0;
                }
                None => {
                    self.poses.push(self.pose(rear));
                    rear = joints.last().map_or(rear + STEP, |joint| joint.min(rear + STEP));
                }
            }
        }
    }

    /// How far both pivots stay on the straight they are on.
    fn straight_from(&self, rear: f64, last: f64) -> Option<f64> {
        let [low, high] = self.chain.straight_at(rear)?;
        let to = (high - self.body.centres).min(last);
        (rear >= low && to > rear + STEP).then_some(to)
    }

    /// Where the body stands with its rear pivot at a distance along the chain.
    fn pose(&self, rear: f64) -> Pose {
        let back = self.chain.spot(rear);
        let front = self.front(rear, back);
        let middle = [(back.at[0] + front.at[0]) / 2.0, (back.at[1] + front.at[1]) / 2.0];
        let chord = [front.at[0] - back.at[0], front.at[1] - back.at[1]];
        let long = chord[0].hypot(chord[1]);
        let along = if long > NOTHING {
            [chord[0] / long, chord[1] / long]
        } else {
            [back.heading.cos(), back.heading.sin()]
        };
        let (sin, cos) = ((back.lean + front.lean) / 2.0).sin_cos();
        let lift = self.half_gauge * sin.abs();
        Pose { rear, middle, along, lean: [sin, cos], lift, stretch: 0.0 }
    }

    /// The front pivot: a chord of its length on, by Newton's rule.
    fn front(&self, rear: f64, back: Spot) -> Spot {
        let wanted = self.body.centres;
        if wanted <= 0.0 {
            return back;
        }
        let mut on = wanted;
        for _ in 0..12 {
            let spot = self.chain.spot(rear + on);
            let chord = [spot.at[0] - back.at[0], spot.at[1] - back.at[1]];
            let long = chord[0].hypot(chord[1]);
            let off = long - wanted;
            if off.abs() < 1e-10 {
                return spot;
            }
            let (sin, cos) = spot.heading.sin_cos();
            let grows = (chord[0] * cos + chord[1] * sin) / long.max(NOTHING);
            on -= off / grows.max(0.05);
        }
        self.chain.spot(rear + on)
    }

    /// How near the body comes to a solid anywhere on the chain.
    #[must_use]
    pub fn nearest(&self, solid: &Solid) -> Nearest {
        let circle = solid.circle();
        let bounds: Vec<f64> =
            self.poses.iter().map(|pose| self.at_least(pose, solid, circle)).collect();
        let first = (0..bounds.len()).min_by(|a, b| bounds[*a].total_cmp(&bounds[*b]));
        let first = first.map_or(0, |at| at.min(self.poses.len() - 1));
        let mut best = self.distance(&self.poses[first], solid, f64::INFINITY).distance;
        let mut tried: Vec<(usize, f64)> = Vec::new();
        for (at, bound) in bounds.into_iter().enumerate() {
            if bound <= best + NEAR {
                let found = self.distance(&self.poses[at], solid, best + NEAR).distance;
                best = best.min(found);
                tried.push((at, found));
            }
        }
        let near = lowest(&tried, best, NEAR);
        let found = near.into_iter().map(|place| self.follow(&tried, place, solid));
        let nearest = found.min_by(|a, b| a.clear.total_cmp(&b.clear));
        nearest.unwrap_or_else(|| self.report(&self.poses[first], solid))
    }

    /// No less than this is between a body where it stands and a solid: by circles
    /// round both, then by the box the body fills.
    fn at_least(&self, pose: &Pose, solid: &Solid, ([x, y], wide): ([f64; 2], f64)) -> f64 {
        let long = |x: f64, y: f64| (x * x + y * y).sqrt();
        let away = long(x - pose.middle[0], y - pose.middle[1]);
        let round = away - wide - self.radius - pose.stretch;
        if round > 2.0 * self.radius {
            return round;
        }
        let (mut low, mut high) = ([f64::INFINITY; 3], [f64::NEG_INFINITY; 3]);
        for corner in solid.corners().map(|at| pose.inside(at)) {
            for axis in 0..3 {
                low[axis] = low[axis].min(corner[axis]);
                high[axis] = high[axis].max(corner[axis]);
            }
        }
        let [ahead, side] = self.covers;
        let [foot, top] = self.heights;
        let past =
            |axis: usize, from: f64, to: f64| (low[axis] - to).max(from - high[axis]).max(0.0);
        let ahead = ahead + pose.stretch;
        let level = long(past(0, -ahead, ahead), past(1, -side, side));
        let beside = long(level, past(2, foot, top));
        // Within the box it may be inside, and how deep only the circle says.
        if beside > 0.0 { beside.max(round) } else { round.min(-self.radius) }
    }

    /// Follows the body round one of the places tried to where it is nearest;
    /// not where the places beside it tell that nothing is gained.
    fn follow(&self, tried: &[(usize, f64)], place: usize, solid: &Solid) -> Nearest {
        let (at, here) = tried[place];
        let pose = &self.poses[at];
        let before = self.report(pose, solid);
        let beside = |other: Option<&(usize, f64)>, wanted: Option<usize>| {
            let there = other.filter(|other| Some(other.0) == wanted);
            there.map_or(f64::INFINITY, |other| other.1 - here)
        };
        let back = beside(place.checked_sub(1).and_then(|at| tried.get(at)), at.checked_sub(1));
        let on = beside(tried.get(place + 1), Some(at + 1));
        if pose.stretch > 0.0 || back + on < LEVEL {
            return before;
        }
        let rough = |rear: f64| self.distance(&self.pose(rear), solid, f64::INFINITY).distance;
        let rear = golden(pose.rear - STEP, pose.rear + STEP, 14, rough);
        let found = self.report(&self.pose(rear), solid);
        if before.clear < found.clear { before } else { found }
    }

    fn report(&self, pose: &Pose, solid: &Solid) -> Nearest {
        let Found { distance, at: inside, direction } = self.distance(pose, solid, f64::INFINITY);
        let at = pose.outside(inside);
        let side = if inside[1] < 0.0 { -1.0 } else { 1.0 };
        Nearest {
            clear: distance,
            at,
            share: solid.share(at),
            along: pose.rear + self.body.centres / 2.0 + inside[0],
            left: inside[1] >= 0.0,
            away: [-pose.along[1] * side, pose.along[0] * side],
            direction: pose.back(direction),
            pose: *pose,
        }
    }

    /// Signed distance of a solid to the body where it stands; no more than a
    /// bound of it where that is over `enough`.
    fn distance(&self, pose: &Pose, solid: &Solid, enough: f64) -> Found {
        let mut best = Found::FAR;
        let mut corners: Vec<Point> = Vec::with_capacity(8);
        for part in &solid.parts {
            corners.clear();
            corners.extend(part.iter().map(|at| pose.inside(*at)));
            for block in &self.body.blocks {
                let enough = enough.min(best.distance.max(0.0));
                best = best.or(solid::part(block, pose.stretch, &corners, enough));
            }
        }
        best
    }

    /// Signed distance of a point to the body where it was nearest.
    pub(super) fn there(&self, nearest: &Nearest, at: Point) -> f64 {
        let (pose, at) = (&nearest.pose, nearest.pose.inside(at));
        let each = self.body.blocks.iter();
        let each = each.map(|it| solid::point(it, &it.section, pose.stretch, at).distance);
        each.fold(f64::INFINITY, f64::min)
    }

    /// How far out the body comes from a place on the chain, square to the
    /// track, at a height over the rail head; to the left, or to the right.
    /// Nothing where it never comes there.
    #[must_use]
    pub fn reach(&self, along: f64, high: f64, left: bool) -> Option<f64> {
        self.reach_to(along, high, left, [7, 4])
    }

    /// How far out the body comes at a place on the chain, whatever the height:
    /// by the formula on straight track and on arcs, else as [`Sweep::reach`]
    /// finds it, to a third of a thousandth.
    #[must_use]
    pub fn reach_on_plan(&self, along: f64, left: bool) -> Option<f64> {
        let span = self.radius + self.body.centres / 2.0;
        let even = self.chain.even_between(along - span, along + span);
        match even.and_then(|bend| self.body.on_curve(bend)) {
            Some(reach) => Some(reach[usize::from(!left)]),
            None => self.reach_to(along, self.body.widest()[1], left, [3, 1]),
        }
    }

    /// [`Sweep::reach`], as near as a drawing needs it.
    pub(super) fn reach_about(&self, along: f64, high: f64, left: bool) -> Option<f64> {
        self.reach_to(along, high, left, [0, 0])
    }

    fn reach_to(&self, along: f64, high: f64, left: bool, [rounds, most]: [u32; 2]) -> Option<f64> {
        let spot = self.chain.spot(along);
        let side = if left { 1.0 } else { -1.0 };
        let out = [-spot.heading.sin() * side, spot.heading.cos() * side, 0.0];
        let from = [spot.at[0], spot.at[1], high];
        let of = |pose: &Pose| self.ray(pose, from, out);
        // Where the chain turns back, the body on its other leg is not meant.
        let near = |pose: &Pose| {
            let away = (pose.rear + self.body.centres / 2.0 - along).abs();
            away <= 1.3 * self.radius + pose.stretch + STEP
        };
        let tried: Vec<(usize, f64)> = (0..self.poses.len())
            .filter(|at| near(&self.poses[*at]))
            .filter_map(|at| Some((at, -of(&self.poses[at])?)))
            .collect();
        let best = tried.iter().map(|it| it.1).reduce(f64::min)?;
        if rounds == 0 {
            return Some(-best);
        }
        // Where a corner comes by, the reach begins all at once.
        let short = |rear: f64| -of(&self.pose(rear)).unwrap_or(f64::NEG_INFINITY);
        let hollows = lowest(&tried, best, STEP / 2.0).into_iter().take(most as usize);
        let followed = hollows.filter_map(|place| {
            let pose = &self.poses[tried[place].0];
            let ends = [pose.rear - STEP, pose.rear + STEP];
            (pose.stretch <= 0.0).then(|| zoom(ends, rounds, &short))
        });
        Some(-followed.fold(best, f64::min))
    }

    /// How far a ray goes until it leaves the body for good.
    fn ray(&self, pose: &Pose, from: Point, out: Point) -> Option<f64> {
        let (from, out) = (pose.inside(from), pose.turn(out));
        let leaves =
            self.body.blocks.iter().filter_map(|block| leaves(block, pose.stretch, from, out));
        leaves.reduce(f64::max)
    }
}
