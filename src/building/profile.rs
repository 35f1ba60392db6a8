//! The underside of a roof's sheet over its body: how high it is above any
//! point of the plan, and the top lines of the walls under it.

use super::scheme::full;
use super::wall::Line;
use crate::job::body::{RoofKind, Side};
use crate::quantity::slack::{NOTHING, TOUCH};

/// Which way a ridge runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ridge {
    /// Along the front.
    Along,
    /// Square to it.
    Out,
}

/// The reference plane of a roof: the underside of its sheet, which meets the
/// finished wall face at the eave. Inches in the body's own frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Profile {
    /// Its kind.
    pub kind: RoofKind,
    /// Which way its ridge runs.
    pub runs: Ridge,
    /// Whether it was cut at the ridge: what is left rises to the back.
    pub half: bool,
    /// Along the front.
    pub length: f64,
    /// Behind the front.
    pub depth: f64,
    /// Height of the eave.
    pub eave: f64,
    /// Height of the ridge, or of the upper edge of one slope.
    pub ridge: f64,
    /// Rise over run; of a gambrel that of the lower slope.
    pub pitch: f64,
    /// Of a gambrel: level run of the lower slope, and pitch of the upper one.
    pub upper: Option<(f64, f64)>,
    /// Whether it stands against something behind it: a hip has no end there.
    pub against: bool,
}

impl Profile {
    /// Height over a point `u` along the front and `v` behind it; beyond the
    /// walls the planes run on.
    #[must_use]
    pub fn height(&self, u: f64, v: f64) -> f64 {
        let across = match self.runs {
            Ridge::Along => (v, self.depth),
            Ridge::Out => (u, self.length),
        };
        match self.kind {
            RoofKind::Flat => self.eave,
            RoofKind::Shed => self.eave + self.pitch * v,
            _ if self.half => self.eave + self.pitch * v,
            RoofKind::Gable | RoofKind::Monitor => {
                self.eave + self.pitch * across.0.min(across.1 - across.0)
            }
            RoofKind::Gambrel => self.eave + self.gambrel(across.0.min(across.1 - across.0)),
            RoofKind::Hip => {
                let ends = [u, self.length - u, v];
                let back = if self.against { f64::INFINITY } else { self.depth - v };
                let run = ends.into_iter().fold(back, f64::min);
                self.eave + self.pitch * run
            }
        }
    }

    fn gambrel(&self, run: f64) -> f64 {
        let (lower, upper) = self.upper.unwrap_or((f64::INFINITY, self.pitch));
        if run <= lower { self.pitch * run } else { self.pitch * lower + upper * (run - lower) }
    }

    /// Rise over run of the plane over a point; beyond the walls that of the
    /// plane that runs on.
    #[must_use]
    pub fn slope_at(&self, u: f64, v: f64) -> f64 {
        let across = match self.runs {
            Ridge::Along => v.min(self.depth - v),
            Ridge::Out => u.min(self.length - u),
        };
        match (self.kind, self.upper) {
            (RoofKind::Flat, _) => 0.0,
            (RoofKind::Gambrel, Some((lower, upper))) if across > lower => upper,
            _ => self.pitch,
        }
    }

    /// Its highest point.
    #[must_use]
    pub fn peak(&self) -> f64 {
        match self.kind {
            RoofKind::Shed => self.height(0.0, self.depth),
            RoofKind::Hip if self.against => {
                self.eave + self.pitch * self.depth.min(self.length / 2.0)
            }
            RoofKind::Hip => self.eave + self.pitch * self.depth.min(self.length) / 2.0,
            _ => self.height(self.length / 2.0, self.depth / 2.0),
        }
    }

    /// Distances along its back line, from the left, at which the roof turns
    /// there.
    #[must_use]
    pub fn turns_behind(&self) -> Vec<f64> {
        let long = self.length;
        let mut turns = vec![0.0];
        match (self.kind, self.runs) {
            (RoofKind::Hip, _) if self.against => {
                let in_from = self.depth.min(long / 2.0);
                turns.extend([in_from, long - in_from]);
            }
            (RoofKind::Flat | RoofKind::Shed | RoofKind::Hip, _) | (_, Ridge::Along) => {}
            (_, Ridge::Out) => {
                let lower = self.upper.map(|(run, _)| run).filter(|run| *run < long / 2.0);
                turns.extend(lower);
                turns.push(long / 2.0);
                turns.extend(lower.map(|run| long - run));
            }
        }
        turns.push(long);
        turns.dedup_by(|a, b| (*a - *b).abs() < NOTHING);
        turns
    }

    /// Distances across its ridge, from its front or left, at which its slope
    /// changes.
    #[must_use]
    pub fn turns_across(&self) -> Vec<f64> {
        let wide = if self.runs == Ridge::Out { self.length } else { self.depth };
        let lower = self.upper.map(|(run, _)| run).filter(|run| *run < wide / 2.0);
        let mut turns: Vec<f64> = lower.into_iter().collect();
        turns.push(wide / 2.0);
        turns.extend(lower.map(|run| wide - run));
        turns
    }

    /// The level run from eave to ridge, or over the whole of one slope.
    #[must_use]
    pub fn run(&self) -> f64 {
        let across = if self.runs == Ridge::Out { self.length } else { self.depth };
        match self.kind {
            RoofKind::Flat => 0.0,
            RoofKind::Shed => self.depth,
            _ if self.half => self.depth,
            _ => across / 2.0,
        }
    }

    /// Whether a side is a gable end.
    #[must_use]
    pub fn is_gable(&self, side: Side) -> bool {
        let end = match self.runs {
            Ridge::Along => side.is_end(),
            Ridge::Out => !side.is_end(),
        };
        match self.kind {
            RoofKind::Flat | RoofKind::Hip => false,
            RoofKind::Shed => side.is_end(),
            _ => end,
        }
    }

    /// A point of a side, `s` from its left corner, in the body's frame.
    #[must_use]
    pub fn on_side(&self, side: Side, s: f64) -> [f64; 2] {
        match side {
            Side::Front => [s, 0.0],
            Side::Right => [self.length, s],
            Side::Back => [self.length - s, self.depth],
            Side::Left => [0.0, self.depth - s],
        }
    }

    /// Distances from the left corner of a side at which the slope over it
    /// changes.
    #[must_use]
    pub fn breaks(&self, side: Side) -> Vec<f64> {
        let wide = if side.is_end() { self.depth } else { self.length };
        let mut breaks = vec![0.0];
        if self.is_gable(side) && self.kind != RoofKind::Shed && !self.half {
            let lower = self.upper.map(|(run, _)| run).filter(|run| *run < wide / 2.0);
            breaks.extend(lower);
            breaks.push(wide / 2.0);
            breaks.extend(lower.map(|run| wide - run));
        }
        breaks.push(wide);
        breaks
    }

    /// The top line of a wall on a side: under the sheet, `eave` being the
    /// height of this wall where it has one of its own.
    #[must_use]
    pub fn top(&self, side: Side, eave: f64) -> Line {
        let lift = eave - self.eave;
        let level = matches!(self.kind, RoofKind::Hip | RoofKind::Flat);
        let line = self.breaks(side).into_iter().map(|s| {
            let [u, v] = self.on_side(side, s);
            let high = if level { self.eave } else { self.height(u, v) };
            // A wall of its own height keeps the ridge.
            let ridge = high >= self.ridge - TOUCH && high > self.eave + TOUCH;
            (full(s), full(if ridge { high } else { high + lift }))
        });
        line.collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GABLE: Profile = Profile {
        kind: RoofKind::Gable,
        runs: Ridge::Along,
        half: false,
        length: 504.0,
        depth: 264.0,
        eave: 168.0,
        ridge: 234.0,
        pitch: 0.5,
        upper: None,
        against: false,
    };

    #[test]
    fn a_gable_rises_to_its_ridge_and_falls_beyond_its_walls() {
        assert!((GABLE.height(0.0, 132.0) - 234.0).abs() < 1e-9);
        assert!((GABLE.height(0.0, -18.0) - 159.0).abs() < 1e-9);
        assert_eq!(GABLE.top(Side::Left, 168.0).len(), 3);
        assert_eq!(GABLE.top(Side::Front, 168.0).len(), 2);
    }

    #[test]
    fn a_gambrel_has_two_slopes_a_side() {
        let barn = Profile {
            kind: RoofKind::Gambrel,
            pitch: 2.0,
            upper: Some((36.0, 0.5)),
            ridge: 168.0 + 72.0 + 48.0,
            ..GABLE
        };
        assert!((barn.height(0.0, 36.0) - 240.0).abs() < 1e-9);
        assert!((barn.height(0.0, 132.0) - 288.0).abs() < 1e-9);
        assert_eq!(barn.top(Side::Left, 168.0).len(), 5);
    }
}
