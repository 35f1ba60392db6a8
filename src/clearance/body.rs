//! What is carried along the track, and what stands beside it.

use super::convex::{Apart, apart, outermost, split};
use super::section::Section;
use crate::building::place::{dot, plus};
use crate::quantity::slack::{EXACT, NOTHING};

/// Half the length of a body that has none: an outline bound to the track.
pub const SLICE: f64 = super::sweep::STEP / 2.0;

/// A point or direction: on the plan, and up from the rail head.
pub type Point = [f64; 3];

/// What is carried: blocks on two pivots.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// Between the pivots; 0 for an outline bound to the track.
    pub centres: f64,
    /// Its parts.
    pub blocks: Vec<Block>,
}

/// A part of a body: a section drawn out between two places along it.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    pub(super) ends: [f64; 2],
    pub(super) section: Section,
    pub(super) layers: Vec<Section>,
    /// Sides of parts of the section without hollows that overlap and together
    /// are all of it: the way out, and how far out each side is.
    pub(super) runs: Vec<Vec<[f64; 3]>>,
}

impl Block {
    /// A part between two places counted from the middle of the body.
    #[must_use]
    pub fn new(ends: [f64; 2], section: Section) -> Self {
        let layers =
            if section.is_convex() { vec![section.clone()] } else { section.layers().collect() };
        let runs = section.runs();
        Self { ends, section, layers, runs }
    }

    /// The same part with another section.
    #[must_use]
    pub fn with(&self, section: Section) -> Self {
        Self::new(self.ends, section)
    }

    /// The same part, wider by so much on both sides.
    #[must_use]
    pub fn widened(&self, by: f64) -> Self {
        self.with(self.section.widened(by))
    }
}

impl Body {
    /// The radius round its middle, on the plan, that holds all of it.
    pub(super) fn radius(&self) -> f64 {
        let of = |block: &Block| {
            block.ends[0].abs().max(block.ends[1].abs()).hypot(block.section.half())
        };
        self.blocks.iter().map(of).fold(0.0, f64::max)
    }

    /// Half its length and half its width on the plan.
    pub(super) fn covers(&self) -> [f64; 2] {
        let of =
            |block: &Block| [block.ends[0].abs().max(block.ends[1].abs()), block.section.half()];
        let larger = |a: [f64; 2], b: [f64; 2]| [a[0].max(b[0]), a[1].max(b[1])];
        self.blocks.iter().map(of).fold([0.0; 2], larger)
    }

    /// How far it reaches to the left and to the right of the centre line on a
    /// curve (positive to the left) or, at 0, on a straight, whatever the height;
    /// nothing where its pivots are no chord of the curve.
    ///
    /// The pivots stand on the centre line, so the middle of the body stands at
    /// `c = sqrt(R^2 - (b/2)^2)` from the centre: as [`crate::site::reach`], for
    /// each of its parts.
    #[must_use]
    pub fn on_curve(&self, curvature: f64) -> Option<[f64; 2]> {
        let half = self.blocks.iter().map(|block| block.section.half()).fold(0.0, f64::max);
        if curvature.abs() < EXACT {
            return Some([half; 2]);
        }
        let radius = 1.0 / curvature.abs();
        let under = radius * radius - self.centres * self.centres / 4.0;
        if under <= 0.0 {
            return None;
        }
        let middle = under.sqrt();
        let of = |block: &Block| {
            let ([a, b], half) = (block.ends, block.section.half());
            let near = if a * b <= 0.0 { 0.0 } else { a.abs().min(b.abs()) };
            let inside = radius - (middle - half).max(0.0).hypot(near);
            [inside, (middle + half).hypot(a.abs().max(b.abs())) - radius]
        };
        let [inside, outside] = self
            .blocks
            .iter()
            .map(of)
            .fold([f64::NEG_INFINITY; 2], |a, b| [a[0].max(b[0]), a[1].max(b[1])]);
        Some(if curvature > 0.0 { [inside, outside] } else { [outside, inside] })
    }

    /// Its greatest half width, and a height at which it has it.
    #[must_use]
    pub fn widest(&self) -> [f64; 2] {
        let points = self.blocks.iter().flat_map(|block| block.section.points());
        points
            .copied()
            .fold([0.0, 0.0], |best, point| if point[0] > best[0] { point } else { best })
    }

    /// The heights of its corners.
    #[must_use]
    pub fn corners(&self) -> Vec<f64> {
        let points = self.blocks.iter().flat_map(|block| block.section.points());
        let mut heights: Vec<f64> = points.map(|point| point[1]).collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|a, b| (*a - *b).abs() < NOTHING);
        heights
    }

    /// Its lowest and highest point.
    #[must_use]
    pub fn heights(&self) -> [f64; 2] {
        let ends = self.blocks.iter().map(|block| block.section.heights());
        ends.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]).unwrap_or([0.0; 2])
    }
}

/// Something that stands still: parts without hollows, each as its corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// Its parts.
    pub(super) parts: Vec<Vec<Point>>,
    /// The line it is told along: a timber's from end to end, a wall's from its
    /// left corner to its right.
    pub(super) axis: [Point; 2],
}

impl Solid {
    /// A line without thickness.
    #[must_use]
    pub fn line(from: Point, to: Point) -> Self {
        Self { parts: vec![vec![from, to]], axis: [from, to] }
    }

    /// A bar along a line, with two directions across it and the half size in
    /// each.
    #[must_use]
    pub fn bar(ends: [Point; 2], across: [(Point, f64); 2]) -> Self {
        let [(side, wide), (up, high)] = across;
        let corner = |at: Point, a: f64, b: f64| plus(plus(at, side, a * wide), up, b * high);
        let signs = [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]];
        let corners = ends.into_iter().flat_map(|at| signs.map(|[a, b]| corner(at, a, b)));
        Self { parts: vec![corners.collect()], axis: ends }
    }

    /// A flat outline pushed out along a step; it is told along its first side.
    #[must_use]
    pub fn pushed(face: &[Point], push: Point) -> Self {
        let both = |ring: Vec<Point>| {
            let other: Vec<Point> = ring.iter().map(|at| plus(*at, push, 1.0)).collect();
            ring.into_iter().chain(other).collect()
        };
        let axis = match face {
            [from, to, ..] => [*from, *to],
            _ => [[0.0; 3]; 2],
        };
        Self { parts: split(face).into_iter().map(both).collect(), axis }
    }

    /// The same, moved.
    #[must_use]
    pub fn moved(&self, by: Point) -> Self {
        self.each(|at| plus(at, by, 1.0))
    }

    /// The same, drawn together towards a point to a share of its size.
    #[must_use]
    pub fn shrunk(&self, to: Point, share: f64) -> Self {
        self.each(|at| plus(to, plus(at, to, -1.0), share))
    }

    fn each(&self, of: impl Fn(Point) -> Point) -> Self {
        let part = |part: &Vec<Point>| part.iter().map(|at| of(*at)).collect();
        Self { parts: self.parts.iter().map(part).collect(), axis: self.axis.map(&of) }
    }

    /// All its corners.
    pub fn corners(&self) -> impl Iterator<Item = Point> + '_ {
        self.parts.iter().flatten().copied()
    }

    /// Its lowest and highest point.
    #[must_use]
    pub fn heights(&self) -> [f64; 2] {
        let both = |[low, high]: [f64; 2], at: Point| [low.min(at[2]), high.max(at[2])];
        self.corners().fold([f64::INFINITY, f64::NEG_INFINITY], both)
    }

    /// How high it reaches over a point of the plan; nothing beside it.
    pub(super) fn top_over(&self, [x, y]: [f64; 2]) -> Option<f64> {
        let [low, high] = self.heights();
        let over = |up: f64| {
            let meets = |part: &Vec<Point>| match apart(&[[x, y, up]], |d| outermost(part, d), 1.0)
            {
                Apart::Meet => true,
                Apart::By { distance, .. } => distance < 1e-7,
                Apart::AtLeast(_) => false,
            };
            self.parts.iter().any(meets)
        };
        if over(high) {
            return Some(high);
        }
        let (mut from, mut to) = (low, high);
        if !over(low) {
            return None;
        }
        for _ in 0..30 {
            let middle = 0.5 * (from + to);
            if over(middle) { from = middle } else { to = middle }
        }
        Some(from)
    }

    /// A circle on the plan that holds it: its middle and its radius.
    pub(super) fn circle(&self) -> ([f64; 2], f64) {
        let [low, high] = [f64::min, f64::max].map(|of| {
            [0, 1]
                .map(|axis: usize| self.corners().map(|at| at[axis]).reduce(of).unwrap_or_default())
        });
        let middle = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
        let away = self.corners().map(|at| (at[0] - middle[0]).hypot(at[1] - middle[1]));
        (middle, away.fold(0.0, f64::max))
    }

    /// Where on its line, 0 to 1, a point of it stands.
    pub(super) fn share(&self, at: Point) -> f64 {
        let [from, to] = self.axis;
        let span = plus(to, from, -1.0);
        let square = dot(span, span);
        if square > 0.0 { (dot(plus(at, from, -1.0), span) / square).clamp(0.0, 1.0) } else { 0.5 }
    }
}
