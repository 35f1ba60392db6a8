//! What is carried along the track, and what stands beside it.

use super::section::Section;

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
}

impl Block {
    /// A part between two places counted from the middle of the body.
    #[must_use]
    pub fn new(ends: [f64; 2], section: Section) -> Self {
        let layers =
            if section.is_convex() { vec![section.clone()] } else { section.layers().collect() };
        Self { ends, section, layers }
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
        heights.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        heights
    }

    /// Its lowest and highest point.
    #[must_use]
    pub fn heights(&self) -> [f64; 2] {
        let ends = self.blocks.iter().map(|block| block.section.heights());
        ends.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]).unwrap_or([0.0; 2])
    }
}

/// Something straight that stands still: its line and what it measures across.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// Its two ends.
    pub ends: [Point; 2],
    /// Two directions across it, with the half size in each.
    pub across: [(Point, f64); 2],
}

impl Bar {
    /// A line without thickness.
    #[must_use]
    pub fn line(from: Point, to: Point) -> Self {
        Self { ends: [from, to], across: [([0.0; 3], 0.0); 2] }
    }

    /// The same, moved.
    #[must_use]
    pub fn moved(&self, by: Point) -> Self {
        Self { ends: self.ends.map(|end| plus(end, by, 1.0)), ..*self }
    }

    /// How far its surface stands out from its line in a direction: at least.
    pub(super) fn stands_out(&self, direction: Point) -> f64 {
        self.across.iter().map(|(axis, half)| dot(*axis, direction).abs() * half).sum()
    }
}

pub(super) fn plus(a: Point, b: Point, times: f64) -> Point {
    [a[0] + b[0] * times, a[1] + b[1] * times, a[2] + b[2] * times]
}

pub(super) fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
