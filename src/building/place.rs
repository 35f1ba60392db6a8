//! Where things stand: figures that follow the length and depth of the main
//! body, quarter turns, and the frame of a body in that of the building.
//!
//! The building's frame: `x` along the front from its left corner, `y` away
//! from the viewer behind the front's finished face, `z` up from the foot of
//! the main walls. Figures are inches at full size.

use crate::job::body::Side;

/// A point of the building.
pub type Point = [f64; 3];

/// A figure that follows the main body: a constant, so many times the length
/// of its front and so many times its depth.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Follows {
    /// The constant.
    pub fixed: f64,
    /// Times the length of the front.
    pub front: f64,
    /// Times the depth.
    pub depth: f64,
}

impl Follows {
    /// A constant.
    #[must_use]
    pub const fn fixed(fixed: f64) -> Self {
        Self { fixed, front: 0.0, depth: 0.0 }
    }

    /// The length of the main front.
    pub const FRONT: Self = Self { fixed: 0.0, front: 1.0, depth: 0.0 };
    /// The depth of the main body.
    pub const DEPTH: Self = Self { fixed: 0.0, front: 0.0, depth: 1.0 };

    /// The figure for a front and a depth.
    #[must_use]
    pub fn at(self, front: f64, depth: f64) -> f64 {
        self.fixed + self.front * front + self.depth * depth
    }

    /// Times a factor.
    #[must_use]
    pub fn times(self, by: f64) -> Self {
        Self { fixed: self.fixed * by, front: self.front * by, depth: self.depth * by }
    }
}

impl std::ops::Add for Follows {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            fixed: self.fixed + other.fixed,
            front: self.front + other.front,
            depth: self.depth + other.depth,
        }
    }
}

impl std::ops::Sub for Follows {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self + other.times(-1.0)
    }
}

/// One step and so many times another.
pub(crate) fn plus(a: Point, b: Point, times: f64) -> Point {
    [a[0] + b[0] * times, a[1] + b[1] * times, a[2] + b[2] * times]
}

/// The inner product.
pub(crate) fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// A step square to both, as long as the area between them.
pub(crate) fn cross(a: Point, b: Point) -> Point {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// Quarter turns against the clock, as seen from above.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Turn(u8);

impl Turn {
    /// Turned on by a number of quarters.
    #[must_use]
    pub fn by(self, quarters: u8) -> Self {
        Self((self.0 + quarters) % 4)
    }

    /// A step along a body's front and one behind it, in the building's frame.
    #[must_use]
    pub fn steps(self) -> [[f64; 2]; 2] {
        match self.0 {
            0 => [[1.0, 0.0], [0.0, 1.0]],
            1 => [[0.0, 1.0], [-1.0, 0.0]],
            2 => [[-1.0, 0.0], [0.0, -1.0]],
            _ => [[0.0, -1.0], [1.0, 0.0]],
        }
    }
}

/// A body's own frame: `u` along its front from the left corner, `v` behind its
/// front, `w` up from the foot of its walls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Its front's left corner at the foot.
    pub origin: Point,
    /// How it is turned.
    pub turn: Turn,
}

impl Frame {
    /// A point of the body in the building's frame.
    #[must_use]
    pub fn point(&self, [u, v, w]: Point) -> Point {
        let [along, behind] = self.turn.steps();
        [
            self.origin[0] + along[0] * u + behind[0] * v,
            self.origin[1] + along[1] * u + behind[1] * v,
            self.origin[2] + w,
        ]
    }

    /// A point of the building in the body's frame.
    #[must_use]
    pub fn local(&self, [x, y, z]: Point) -> Point {
        let [along, behind] = self.turn.steps();
        let (dx, dy) = (x - self.origin[0], y - self.origin[1]);
        [along[0] * dx + along[1] * dy, behind[0] * dx + behind[1] * dy, z - self.origin[2]]
    }

    /// A level direction of the body in the building's frame.
    #[must_use]
    pub fn direction(&self, [u, v]: [f64; 2]) -> [f64; 2] {
        let [along, behind] = self.turn.steps();
        [along[0] * u + behind[0] * v, along[1] * u + behind[1] * v]
    }
}

/// The upright plane of a wall face: from its left corner at the foot, seen
/// from outside, along it and out from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// The left corner at the foot.
    pub corner: Point,
    /// A step along the wall.
    pub along: [f64; 2],
    /// A step out from it.
    pub out: [f64; 2],
}

impl Plane {
    /// The plane of a side of a body of a length and depth, in the body's frame.
    #[must_use]
    pub fn of_side(side: Side, length: f64, depth: f64) -> Self {
        let (corner, along, out) = match side {
            Side::Front => ([0.0, 0.0], [1.0, 0.0], [0.0, -1.0]),
            Side::Right => ([length, 0.0], [0.0, 1.0], [1.0, 0.0]),
            Side::Back => ([length, depth], [-1.0, 0.0], [0.0, 1.0]),
            Side::Left => ([0.0, depth], [0.0, -1.0], [-1.0, 0.0]),
        };
        Self { corner: [corner[0], corner[1], 0.0], along, out }
    }

    /// The same plane in the building's frame.
    #[must_use]
    pub fn of_frame(&self, frame: &Frame) -> Self {
        Self {
            corner: frame.point(self.corner),
            along: frame.direction(self.along),
            out: frame.direction(self.out),
        }
    }

    /// A point this far along the wall, out from its face, and up.
    #[must_use]
    pub fn point(&self, along: f64, out: f64, up: f64) -> Point {
        [
            self.corner[0] + self.along[0] * along + self.out[0] * out,
            self.corner[1] + self.along[1] * along + self.out[1] * out,
            self.corner[2] + up,
        ]
    }

    /// How far along the wall, out from its face and up a point lies.
    #[must_use]
    pub fn local(&self, [x, y, z]: Point) -> [f64; 3] {
        let (dx, dy) = (x - self.corner[0], y - self.corner[1]);
        [
            self.along[0] * dx + self.along[1] * dy,
            self.out[0] * dx + self.out[1] * dy,
            z - self.corner[2],
        ]
    }
}

/// How far something reaches on the plan: least and most, along and behind the
/// front.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// Along the front, from its left corner.
    pub along: [f64; 2],
    /// Behind the front's face; below zero before it.
    pub behind: [f64; 2],
}

impl Reach {
    /// The reach of some points.
    #[must_use]
    pub fn of(points: impl IntoIterator<Item = Point>) -> Option<Self> {
        points.into_iter().map(|[x, y, _]| Self { along: [x, x], behind: [y, y] }).reduce(Self::and)
    }

    /// What reaches as far as both.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        let both = |a: [f64; 2], b: [f64; 2]| [a[0].min(b[0]), a[1].max(b[1])];
        Self { along: both(self.along, other.along), behind: both(self.behind, other.behind) }
    }

    /// Its length along the front.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.along[1] - self.along[0]
    }

    /// Its depth.
    #[must_use]
    pub fn depth(&self) -> f64 {
        self.behind[1] - self.behind[0]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_body_against_the_left_end_looks_left() {
        // Against the left end of a body 264 deep: its front runs from back to front.
        let frame = Frame { origin: [-108.0, 222.0, 0.0], turn: Turn::default().by(3) };
        near(&frame.point([168.0, 108.0, 0.0]), &[0.0, 54.0, 0.0]);
        near(&frame.local([0.0, 54.0, 0.0]), &[168.0, 108.0, 0.0]);
        let front = Plane::of_side(Side::Front, 168.0, 108.0).of_frame(&frame);
        near(&front.out, &[-1.0, 0.0]);
    }

    fn near(found: &[f64], wanted: &[f64]) {
        let apart = found.iter().zip(wanted).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        assert!(apart < 1e-9, "{found:?}, not {wanted:?}");
    }
}
