//! Roofs that run into the room of another body: no valley is made there, so
//! one of the two has to give way.

use super::body::{Body, Stand};
use super::place::{Point, cross, dot, plus};
use super::roof::RoofPlane;
use super::{Building, Raise, shape};
use crate::finding::{Finding, Subject};
use crate::quantity::{Compressed, CompressedLength, ModelLength};

/// What lies on one side of a plane: `n . p <= limit`.
struct HalfSpace {
    normal: Point,
    limit: f64,
}

impl HalfSpace {
    /// What lies below a roof plane, as thick as its sheet where `over`.
    fn below(plane: &RoofPlane, lifted: f64) -> Option<Self> {
        let [a, b, c] = *plane.corners.first_chunk::<3>()?;
        let normal = cross(plus(b, a, -1.0), plus(c, a, -1.0));
        if normal[2].abs() < f64::EPSILON {
            return None;
        }
        let normal = normal.map(|part| part / normal[2]);
        Some(Self { normal, limit: dot(normal, a) + lifted })
    }

    /// What lies on the other side.
    fn turned(self) -> Self {
        Self { normal: self.normal.map(|part| -part), limit: -self.limit }
    }

    /// The height of the plane over a point of the plan, of one that lies below
    /// a roof.
    fn level(&self, x: f64, y: f64) -> f64 {
        self.limit - self.normal[0] * x - self.normal[1] * y
    }

    /// How far outside a point lies; below zero inside.
    fn outside(&self, at: Point) -> f64 {
        dot(self.normal, at) - self.limit
    }
}

/// The part of a flat shape that lies in a half space (Sutherland and Hodgman,
/// 1974).
fn clipped(shape: &[Point], by: &HalfSpace) -> Vec<Point> {
    let mut kept = Vec::with_capacity(shape.len() + 1);
    for (n, &to) in shape.iter().enumerate() {
        let from = shape[(n + shape.len() - 1) % shape.len()];
        let (before, after) = (by.outside(from), by.outside(to));
        if (before <= 0.0) != (after <= 0.0) {
            let share = before / (before - after);
            kept.push([0, 1, 2].map(|axis: usize| from[axis] + (to[axis] - from[axis]) * share));
        }
        if after <= 0.0 {
            kept.push(to);
        }
    }
    kept
}

impl Building {
    /// The room under a body's roof, `slack` in from its walls and its roof;
    /// nothing of a roof on posts.
    fn room(&self, body: &Body, slack: f64) -> Option<Vec<HalfSpace>> {
        if body.on_posts() || body.deck.is_some() {
            return None;
        }
        let roofs: Vec<_> = self.planes.iter().filter(|it| it.body == body.name).collect();
        let lowered = |plane: &&RoofPlane| -slack * plane.pitch.hypot(1.0);
        let mut room: Vec<HalfSpace> =
            roofs.iter().filter_map(|plane| HalfSpace::below(plane, lowered(plane))).collect();
        room.extend(self.walls_of_room(body, slack));
        room.push(self.foot_of_room(body, slack)?);
        (!roofs.is_empty()).then_some(room)
    }

    fn walls_of_room(&self, body: &Body, slack: f64) -> [HalfSpace; 4] {
        let [length, depth] = body.plan();
        let middle = body.point([length / 2.0, depth / 2.0, 0.0]);
        [([1.0, 0.0], length), ([-1.0, 0.0], length), ([0.0, 1.0], depth), ([0.0, -1.0], depth)]
            .map(|(way, wide)| {
                let [x, y] = body.frame.direction(way);
                let normal = [x, y, 0.0];
                HalfSpace { normal, limit: dot(normal, middle) + wide / 2.0 - slack }
            })
    }

    /// What lies above the foot of a body, or above the slope it stands on.
    fn foot_of_room(&self, body: &Body, slack: f64) -> Option<HalfSpace> {
        let Stand::Slope(host, side) = body.stand else {
            let limit = -(body.frame.origin[2] + slack);
            return Some(HalfSpace { normal: [0.0, 0.0, -1.0], limit });
        };
        let host = &self.bodies.get(host)?.name;
        let plane = self.planes.iter().find(|it| &it.body == host && it.over == side)?;
        let up = (plane.sheet + slack) * plane.pitch.hypot(1.0);
        Some(HalfSpace::below(plane, up)?.turned())
    }

    /// Bodies whose roof runs into the room of another by more than `slack`:
    /// the roof's and the other.
    fn clashes(&self, slack: f64) -> Vec<(&Body, &Body)> {
        let mut found: Vec<(&Body, &Body)> = Vec::new();
        for body in &self.bodies {
            let Some(room) = self.room(body, slack) else { continue };
            let others = self.planes.iter().filter(|plane| plane.body != body.name);
            for plane in others.filter(|plane| !self.carries(&plane.body, body)) {
                let left = room.iter().fold(plane.corners.clone(), |shape, by| clipped(&shape, by));
                let Some(roof) = self.body(&plane.body).filter(|_| left.len() > 2) else {
                    continue;
                };
                if !found.iter().any(|(a, b)| a.name == roof.name && b.name == body.name) {
                    found.push((roof, body));
                }
            }
        }
        found
    }

    /// Bodies whose roofs share space, by more than `slack`: an eave that ends in
    /// the sheet of a roof beside it.
    fn roofs_through_roofs(&self, slack: f64) -> Vec<(&Body, &Body)> {
        let mut found: Vec<(&Body, &Body)> = Vec::new();
        for (n, one) in self.planes.iter().enumerate() {
            for other in self.planes[n + 1..].iter().filter(|it| it.body != one.body) {
                let (Some(a), Some(b)) = (self.body(&one.body), self.body(&other.body)) else {
                    continue;
                };
                let apart = self.carries(&a.name, b) || self.carries(&b.name, a);
                let known = |(x, y): &(&Body, &Body)| [&x.name, &y.name] == [&a.name, &b.name];
                if !apart && !found.iter().any(known) && through(one, other, slack) {
                    found.push((a, b));
                }
            }
        }
        found
    }

    /// Whether a body stands on the roof of another.
    fn carries(&self, host: &str, body: &Body) -> bool {
        matches!(body.stand, Stand::Ridge(on) | Stand::Slope(on, _)
            if self.bodies.get(on).is_some_and(|it| it.name == host))
    }
}

/// Whether the sheets of two roof planes share space on some of the plan.
fn through(one: &RoofPlane, other: &RoofPlane, slack: f64) -> bool {
    let (Some(low), Some(high)) = (HalfSpace::below(one, 0.0), HalfSpace::below(other, 0.0)) else {
        return false;
    };
    let upright = |plane: &RoofPlane| plane.sheet * plane.pitch.hypot(1.0) - slack;
    let plan = |plane: &RoofPlane| plane.corners.iter().map(|at| [at[0], at[1]]).collect();
    let (a, b): (shape::Corners, shape::Corners) = (plan(one), plan(other));
    if !near(shape::bounds(&a), shape::bounds(&b), slack) {
        return false;
    }
    shape::shared(&a, &b).iter().any(|both| {
        let [[left, right], [front, back]] = shape::bounds(both);
        let wide = right - left > slack && back - front > slack;
        // How far the second lies over the first at each corner.
        let over = both.iter().map(|[x, y]| high.level(*x, *y) - low.level(*x, *y));
        let [least, most] = over.fold([f64::INFINITY, f64::NEG_INFINITY], |[least, most], it| {
            [least.min(it), most.max(it)]
        });
        wide && least < upright(one) && most > -upright(other)
    })
}

/// Whether two boxes on the plan share more than a strip.
fn near([x, y]: [[f64; 2]; 2], [u, v]: [[f64; 2]; 2], slack: f64) -> bool {
    let share = |a: [f64; 2], b: [f64; 2]| a[1].min(b[1]) - a[0].max(b[0]) > slack;
    share(x, u) && share(y, v)
}

impl Raise<'_> {
    /// Roofs that run into another body, to a thou on the model.
    pub(super) fn roofs_that_clash(&mut self, building: &Building) {
        let thou: CompressedLength = self.scale.enlarge::<Compressed>(ModelLength::thou(1.0));
        let hint = "move one of the two along, lower it, or take the overhang back";
        for (roof, body) in building.clashes(thou.in_inches()) {
            self.findings.push(Finding::trouble(
                Subject::Member(body.name.clone()),
                format!("the roof of {} runs into {}", roof.name, body.name),
                hint,
            ));
        }
        for (one, other) in building.roofs_through_roofs(thou.in_inches()) {
            self.findings.push(Finding::trouble(
                Subject::Member(other.name.clone()),
                format!("the roofs of {} and {} run into each other", one.name, other.name),
                hint,
            ));
        }
    }
}
