//! The best rectangle over all angles and depths, by branch and bound.
//!
//! A rectangle at one angle holds a slightly smaller one at another, and a
//! shallower one of the same front: so the longest front at the middle of a range
//! of angles, of a depth a little less than the least of a range of depths,
//! bounds every rectangle of both ranges.

use std::collections::BinaryHeap;

use super::bound::Bounded;
use super::ground::{Ground, Placement, WITHIN};

/// Ranges looked at, at most.
const STEPS: usize = 6000;
/// How near the longest front at one angle is found.
const NEAR: f64 = WITHIN / 50.0;

/// What is wanted of a rectangle.
#[derive(Clone, Copy, Debug)]
pub(super) enum Goal {
    /// The longest front.
    Front,
    /// The largest area with front over depth in a range.
    Area([f64; 2]),
}

/// A range of angles and of depths, bounded by what no rectangle in it exceeds.
struct Range {
    angle: [f64; 2],
    depth: [f64; 2],
    /// How much of the bound comes from the width of each.
    from_angle: f64,
    from_depth: f64,
}

pub(super) struct Hunt<'g> {
    ground: &'g Ground,
    goal: Goal,
    best: Option<Placement>,
    open: BinaryHeap<Bounded<Range>>,
}

impl<'g> Hunt<'g> {
    pub(super) fn new(ground: &'g Ground, goal: Goal) -> Self {
        Self { ground, goal, best: None, open: BinaryHeap::new() }
    }

    /// The best over ranges of angles and depths.
    pub(super) fn run(mut self, angles: &[[f64; 2]], depths: &[[f64; 2]]) -> Option<Placement> {
        for angle in angles {
            for depth in depths {
                self.open(*angle, *depth);
            }
        }
        let mut left = 0.0;
        for _ in 0..STEPS {
            let Some(Bounded { bound, it: range }) = self.open.pop() else {
                left = 0.0;
                break;
            };
            left = bound - self.best.map_or(0.0, |best| self.worth(&best));
            if left <= self.allowed() {
                break;
            }
            self.split(&range);
        }
        let within = left.max(0.0) / self.best.map_or(1.0, |best| self.edge(&best));
        self.best.map(|best| Placement { within, ..best }).filter(|best| best.front > 1e-9)
    }

    fn worth(&self, it: &Placement) -> f64 {
        match self.goal {
            Goal::Front => it.front,
            Goal::Area(_) => it.front * it.depth,
        }
    }

    /// What one unit on every side that counts is worth.
    fn edge(&self, it: &Placement) -> f64 {
        match self.goal {
            Goal::Front => 1.0,
            Goal::Area(_) => (it.front + it.depth).max(1e-9),
        }
    }

    fn allowed(&self) -> f64 {
        WITHIN * self.best.map_or(0.0, |best| self.edge(&best))
    }

    fn split(&mut self, range: &Range) {
        let halves =
            |[low, high]: [f64; 2]| [[low, 0.5 * (low + high)], [0.5 * (low + high), high]];
        if range.from_depth > range.from_angle {
            halves(range.depth).into_iter().for_each(|depth| self.open(range.angle, depth));
        } else {
            halves(range.angle).into_iter().for_each(|angle| self.open(angle, range.depth));
        }
    }

    /// Tries the middle angle at the least depth, and keeps the ranges with what
    /// they can hold at most.
    fn open(&mut self, angle: [f64; 2], depth: [f64; 2]) {
        let (middle, half) = (0.5 * (angle[0] + angle[1]), 0.5 * (angle[1] - angle[0]));
        let turned = self.ground.turned(middle);
        let found = turned.longest(depth[0], NEAR);
        self.take(middle, depth[0], (found.line, found.left, found.front));
        let mut front = found.bound;
        if half > 0.0 {
            // A front of `a` and depth `d` holds, at the middle, a depth of
            // d cos - a sin beside a front of (a - d' sin) / cos.
            let (sin, cos) = half.sin_cos();
            let shallow = ((depth[0] - self.ground.span() * sin) / cos).max(0.0);
            front = turned.longest(shallow, NEAR).bound * cos + shallow * sin;
        }
        let bound = self.most(front, depth);
        let from_depth = bound - self.most(front, [depth[0]; 2]);
        let from_angle = if half > 1e-8 { (front - found.front).max(0.0) * depth[1] } else { -1.0 };
        if bound > 0.0 && (half > 1e-8 || depth[1] - depth[0] > 1e-7) {
            let it = Range { angle, depth, from_angle, from_depth };
            self.open.push(Bounded { bound, it });
        }
    }

    /// The most that fronts up to a length are worth over a range of depths.
    fn most(&self, front: f64, [shallow, deep]: [f64; 2]) -> f64 {
        match self.goal {
            Goal::Front => front,
            Goal::Area([least, _]) if front < least * shallow - 1e-9 => 0.0,
            Goal::Area([_, most]) => front.min(most * deep) * deep,
        }
    }

    fn take(&mut self, angle: f64, depth: f64, (line, left, front): (f64, f64, f64)) {
        let front = match self.goal {
            Goal::Front => front,
            Goal::Area([least, _]) if front < least * depth - 1e-9 => return,
            Goal::Area([_, most]) => front.min(most * depth),
        };
        let (sin, cos) = angle.sin_cos();
        let corner = [left * cos - line * sin, left * sin + line * cos];
        let found = Placement { front, depth, angle, corner, within: 0.0 };
        if self.best.is_none_or(|best| self.worth(&found) > self.worth(&best)) {
            self.best = Some(found);
        }
    }
}
