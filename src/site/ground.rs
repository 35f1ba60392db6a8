//! The longest front and the largest rectangle that stand on an outline, clear of
//! the track.

use super::hunt::{Goal, Hunt};
use super::strip::Turned;
use crate::finding::Stop;

/// How near to the true longest front a placement is, model inches.
pub const WITHIN: f64 = 0.005;

/// A circle the building must stay out of, or, standing inside a curve, within.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circle {
    /// Its centre.
    pub centre: [f64; 2],
    /// Its radius.
    pub radius: f64,
    /// Whether the building stands inside it.
    pub inside: bool,
}

/// An outline with the track beside it, model inches.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    outline: Vec<[f64; 2]>,
    circle: Option<Circle>,
    turn: f64,
}

/// A rectangle on the ground, model inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Length of its front.
    pub front: f64,
    /// Depth behind it.
    pub depth: f64,
    /// Angle of the front, radians against the clock.
    pub angle: f64,
    /// Left corner of the front.
    pub corner: [f64; 2],
    /// How much longer one might still be found.
    pub within: f64,
}

impl Placement {
    /// A shorter building on the same place: in the middle of its front, the front
    /// line kept.
    #[must_use]
    pub fn holding(&self, front: f64, depth: f64) -> Self {
        self.within_it([0.5 * (self.front - front), 0.0], front, depth)
    }

    /// A rectangle within it: its left corner so far along and behind the front.
    #[must_use]
    pub fn within_it(&self, [along, back]: [f64; 2], front: f64, depth: f64) -> Self {
        let (sin, cos) = self.angle.sin_cos();
        let [x, y] = self.corner;
        let corner = [x + along * cos - back * sin, y + along * sin + back * cos];
        Self { front, depth, corner, ..*self }
    }

    /// Its four corners, against the clock from the left of the front.
    #[must_use]
    pub fn corners(&self) -> [[f64; 2]; 4] {
        let (sin, cos) = self.angle.sin_cos();
        let at = |along: f64, back: f64| {
            [self.corner[0] + along * cos - back * sin, self.corner[1] + along * sin + back * cos]
        };
        [at(0.0, 0.0), at(self.front, 0.0), at(self.front, self.depth), at(0.0, self.depth)]
    }
}

pub(super) type Segment = ([f64; 2], [f64; 2]);

impl Ground {
    /// The ground of an outline, turned at most `turn` radians either way.
    ///
    /// # Errors
    ///
    /// Where the outline has fewer than three corners, crosses itself or holds
    /// no area.
    pub fn new(outline: Vec<[f64; 2]>, circle: Option<Circle>, turn: f64) -> Result<Self, Stop> {
        let doing = "reading the site's outline";
        if outline.len() < 3 {
            return Err(Stop::new(doing, "it has fewer than three corners", "add its corners"));
        }
        if let Some((a, b)) = crossing(&outline) {
            return Err(Stop::new(
                doing,
                format!(
                    "it crosses itself: the side from corner {a} meets the side from corner {b}"
                ),
                "list the corners in order round the ground",
            ));
        }
        if area(&outline) < 1e-9 {
            return Err(Stop::new(doing, "it holds no area", "look at its corners"));
        }
        Ok(Self { outline, circle, turn: turn.min(std::f64::consts::PI) })
    }

    /// The same outline beside another circle.
    ///
    /// # Errors
    ///
    /// As [`Self::new`].
    pub(super) fn beside(&self, circle: Option<Circle>) -> Result<Self, Stop> {
        Self::new(self.outline.clone(), circle, self.turn)
    }

    /// Its corners in order, model inches.
    #[must_use]
    pub fn outline(&self) -> &[[f64; 2]] {
        &self.outline
    }

    /// How far a building may be turned either way, radians.
    #[must_use]
    pub fn turn(&self) -> f64 {
        self.turn
    }

    /// Its area, square model inches.
    #[must_use]
    pub fn area(&self) -> f64 {
        area(&self.outline)
    }

    /// Its sides.
    pub fn sides(&self) -> impl Iterator<Item = Segment> + '_ {
        sides(&self.outline)
    }

    /// The longest front of a building of a depth, within [`WITHIN`].
    #[must_use]
    pub fn longest_front(&self, depth: f64) -> Option<Placement> {
        Hunt::new(self, Goal::Front).run(&self.angles(), &[[depth, depth]])
    }

    /// The largest rectangle whose front over depth lies in a range: no other
    /// with both sides longer by [`WITHIN`] stands on the ground.
    #[must_use]
    pub fn largest(&self, aspect: [f64; 2]) -> Option<Placement> {
        let part = |n: i32| (f64::from(n) / 8.0 * self.span()).max(1e-3);
        let depths: Vec<_> = (0..8).map(|n| [part(n), part(n + 1)]).collect();
        Hunt::new(self, Goal::Area(aspect)).run(&self.angles(), &depths)
    }

    /// The angles allowed, in parts to begin with.
    fn angles(&self) -> Vec<[f64; 2]> {
        if self.turn <= 0.0 {
            return vec![[0.0, 0.0]];
        }
        let at = |n: i32| self.turn * (f64::from(n) / 8.0 - 1.0);
        (0..16).map(|part| [at(part), at(part + 1)]).collect()
    }

    /// A length no rectangle on the ground exceeds.
    pub(super) fn span(&self) -> f64 {
        let side = |axis: usize| {
            let of = || self.outline.iter().map(|point| point[axis]);
            of().fold(f64::NEG_INFINITY, f64::max) - of().fold(f64::INFINITY, f64::min)
        };
        side(0).hypot(side(1))
    }

    /// The ground turned so that a front at an angle lies along `x`.
    pub(super) fn turned(&self, angle: f64) -> Turned {
        let (sin, cos) = angle.sin_cos();
        let turned = |[x, y]: [f64; 2]| [x * cos + y * sin, y * cos - x * sin];
        Turned {
            outline: self.outline.iter().map(|point| turned(*point)).collect(),
            circle: self.circle.map(|circle| Circle { centre: turned(circle.centre), ..circle }),
        }
    }
}

pub(super) fn sides(outline: &[[f64; 2]]) -> impl Iterator<Item = Segment> + '_ {
    let next = outline.iter().cycle().skip(1);
    outline.iter().copied().zip(next.copied())
}

/// Whether a point is inside an outline: an odd number of sides to its right.
pub(super) fn within(outline: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
    let right = |(a, b): &Segment| {
        (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
    };
    sides(outline).filter(right).count() % 2 == 1
}

fn area(outline: &[[f64; 2]]) -> f64 {
    sides(outline).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>().abs() / 2.0
}

/// Two sides that meet elsewhere than at a shared corner, counted from 1.
fn crossing(outline: &[[f64; 2]]) -> Option<(usize, usize)> {
    let all: Vec<Segment> = sides(outline).collect();
    let count = all.len();
    for first in 0..count {
        for second in first + 1..count {
            let neighbours = second == first + 1 || (first == 0 && second == count - 1);
            if !neighbours && meet(all[first], all[second]) {
                return Some((first + 1, second + 1));
            }
        }
    }
    None
}

fn meet((a, b): Segment, (c, d): Segment) -> bool {
    let side = |a: [f64; 2], b: [f64; 2], p: [f64; 2]| {
        (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    };
    let opposite = |x: f64, y: f64| (x > 0.0) != (y > 0.0);
    opposite(side(a, b, c), side(a, b, d)) && opposite(side(c, d, a), side(c, d, b))
}
