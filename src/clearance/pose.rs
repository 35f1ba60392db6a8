//! Where a body stands: its own axes on the plan.

use super::body::Point;

/// Where a body stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pose {
    pub(super) rear: f64,
    pub(super) middle: [f64; 2],
    pub(super) along: [f64; 2],
    pub(super) lean: [f64; 2],
    pub(super) lift: f64,
    pub(super) stretch: f64,
}

impl Pose {
    /// A direction in the body's own axes: along it, to its left, up from it.
    pub(super) fn turn(&self, by: Point) -> Point {
        let ([cos, sin], [lean_sin, lean_cos]) = (self.along, self.lean);
        let (along, left) = (by[0] * cos + by[1] * sin, by[1] * cos - by[0] * sin);
        [along, left * lean_cos - by[2] * lean_sin, left * lean_sin + by[2] * lean_cos]
    }

    /// A point in the body's own axes.
    pub(super) fn inside(&self, point: Point) -> Point {
        let [x, y] = self.middle;
        self.turn([point[0] - x, point[1] - y, point[2] - self.lift])
    }

    /// A direction of the body's own axes in those of the plan.
    pub(super) fn back(&self, [along, left, up]: Point) -> Point {
        let ([cos, sin], [lean_sin, lean_cos]) = (self.along, self.lean);
        let (level, high) = (left * lean_cos + up * lean_sin, up * lean_cos - left * lean_sin);
        [along * cos - level * sin, along * sin + level * cos, high]
    }

    /// A point of the body's own axes on the plan.
    pub(super) fn outside(&self, inside: Point) -> Point {
        let [x, y, up] = self.back(inside);
        [x + self.middle[0], y + self.middle[1], up + self.lift]
    }
}
