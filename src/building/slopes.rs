//! The sizes of roof planes, each with what it is worked from.

use std::sync::Arc;

use super::body::{Body, Stand};
use super::origin::{Origin, Sized, Why};
use super::profile::{Profile, Ridge};
use super::roof::Host;
use super::{Building, Raise};
use crate::job::body::Side;
use crate::quantity::Compressed;
use crate::quantity::slack::{EXACT, NOTHING};

/// The sizes of planes with what they are made of.
pub(super) struct Sizes<'a, 'b> {
    pub(super) raise: &'a Raise<'b>,
    pub(super) body: &'a Body,
    pub(super) profile: &'a Profile,
    pub(super) building: &'a Building,
}

/// A slope: the run along it.
const SLOPE: &str = "the run with its overhang, along the slope";

impl Sizes<'_, '_> {
    pub(super) fn what(&self, what: &str) -> String {
        format!("{what} of the roof of {}", self.body.name)
    }

    pub(super) fn rule(
        &self,
        what: &str,
        rule: &'static str,
        of: &[&Arc<Origin>],
        work: super::origin::Work,
    ) -> Sized<Compressed> {
        Sized::rule(self.what(what), rule, of, work)
    }

    /// The overhangs as they count on the sides: front, right, back, left.
    pub(super) fn over(&self, side: Side) -> Arc<Origin> {
        let value = self.body.over[side as usize];
        let [eave, rake] = &self.body.overhangs;
        let near = |it: &Arc<Origin>| (it.value - value).abs() < NOTHING;
        let by_kind = match (self.profile.runs, side.is_end()) {
            (Ridge::Along, false) | (Ridge::Out, true) => [eave, rake],
            _ => [rake, eave],
        };
        match by_kind.into_iter().find(|it| near(it)) {
            Some(found) => Arc::clone(found),
            None => {
                Origin::plain("overhang", value, Why::Default("none at a wall, a parapet or a cut"))
            }
        }
    }

    /// Along the ridge: the body and its rakes.
    pub(super) fn along(&self, what: &str) -> Sized<Compressed> {
        let (left, right) = (self.over(Side::Left), self.over(Side::Right));
        self.rule(
            what,
            "the body and what stands out at both ends",
            &[&self.body.length.origin, &left, &right],
            |of| of[0] + of[1] + of[2],
        )
    }

    pub(super) fn gable(&self, half: bool) -> [Sized<Compressed>; 3] {
        let eave = self.over(Side::Front);
        let pitch = &self.body.pitch;
        let slope = if half {
            self.rule("slope", SLOPE, &[&self.body.depth.origin, &eave, pitch], |of| {
                (of[0] + of[1]) * of[2].hypot(1.0)
            })
        } else {
            self.rule("slope", SLOPE, &[&self.body.depth.origin, &eave, pitch], |of| {
                (of[0] / 2.0 + of[1]) * of[2].hypot(1.0)
            })
        };
        [self.along("eave"), self.along("ridge"), slope]
    }

    pub(super) fn flat(&self) -> [Sized<Compressed>; 3] {
        let (front, back) = (self.over(Side::Front), self.over(Side::Back));
        let slope = self.rule(
            "depth",
            "the body and what stands out",
            &[&self.body.depth.origin, &front, &back],
            |of| of[0] + of[1] + of[2],
        );
        [self.along("eave"), self.along("upper edge"), slope]
    }

    pub(super) fn shed(&self) -> [Sized<Compressed>; 3] {
        let (front, back) = (self.over(Side::Front), self.over(Side::Back));
        let of = [&self.body.depth.origin, &front, &back, &self.body.pitch];
        let slope = self.rule("slope", SLOPE, &of, |of| (of[0] + of[1] + of[2]) * of[3].hypot(1.0));
        [self.along("eave"), self.along("upper edge"), slope]
    }

    /// A level or one-sloped roof between walls that rise above it: from the
    /// wall it abuts to the inner face of the outer core, and between the inner
    /// faces of the side cores.
    pub(super) fn between_walls(&self) -> ([f64; 2], [f64; 2], [Sized<Compressed>; 3]) {
        let thick = |side: Side| -> Vec<Arc<Origin>> {
            let wall = self
                .building
                .walls
                .iter()
                .find(|wall| wall.id.body == self.body.name && wall.id.side == side);
            let layers = wall.into_iter().flat_map(|wall| &wall.layers);
            layers.map(|layer| layer.thick.enlarged(self.raise.scale).origin).collect()
        };
        let sum = |of: &[Arc<Origin>]| of.iter().map(|it| it.value).sum::<f64>();
        let [front, right, back, left] = Side::ALL.map(thick);
        let [length, depth] = self.body.plan();
        let u = [sum(&left), length - sum(&right)];
        let v = [sum(&front), depth - sum(&back)];
        let less = |what: &str, whole: &Sized<Compressed>, walls: [&[Arc<Origin>]; 2]| {
            let of: Vec<&Arc<Origin>> =
                std::iter::once(&whole.origin).chain(walls[0]).chain(walls[1]).collect();
            self.rule(what, "between the walls that rise above it", &of, |of| {
                of[0] - of[1..].iter().sum::<f64>()
            })
        };
        let along = less("length", &self.body.length, [&left, &right]);
        let run = less("run", &self.body.depth, [&front, &back]);
        let slope = self
            .rule("slope", SLOPE, &[&run.origin, &self.body.pitch], |of| of[0] * of[1].hypot(1.0));
        (u, v, [along.clone(), along, slope])
    }

    /// Out from a wall, with what stands out at its front.
    pub(super) fn straight_out(&self) -> Sized<Compressed> {
        let (rake, back) = (self.over(Side::Front), self.over(Side::Back));
        let of = [&self.body.depth.origin, &rake, &back];
        self.rule("eave", "the body and what stands out", &of, |of| of[0] + of[1] + of[2])
    }

    pub(super) fn gambrel(&self, run: f64, upper: f64) -> [[Sized<Compressed>; 3]; 2] {
        let over = if self.profile.runs == Ridge::Out { Side::Right } else { Side::Front };
        let eave = self.over(over);
        let roof = self.raise.job.bodies[self.body.index].roof.as_ref();
        let lower = match roof.and_then(|roof| roof.lower_run.as_ref()) {
            Some(size) => Origin::plain("run of the lower slope", run, Why::Said(size.clone())),
            None => {
                Origin::plain("run of the lower slope", run, Why::Default("a quarter of the depth"))
            }
        };
        let text = roof.and_then(|roof| roof.upper_pitch.clone()).unwrap_or_default();
        let upper = Origin::plain("pitch of the upper slope", upper, Why::Stated(text));
        let low = self.rule("lower slope", SLOPE, &[&lower, &eave, &self.body.pitch], |of| {
            (of[0] + of[1]) * of[2].hypot(1.0)
        });
        let out = self.profile.runs == Ridge::Out;
        let across = if out { &self.body.length } else { &self.body.depth };
        let high = self.rule("upper slope", SLOPE, &[&across.origin, &lower, &upper], |of| {
            (of[0] / 2.0 - of[1]) * of[2].hypot(1.0)
        });
        let along = || if out { self.straight_out() } else { self.along("eave") };
        [[along(), along(), low], [along(), along(), high]]
    }

    pub(super) fn hip(&self, over: Side) -> [Sized<Compressed>; 3] {
        let [eave, _] = &self.body.overhangs;
        let (length, depth) = (&self.body.length.origin, &self.body.depth.origin);
        let against = self.profile.against;
        let pitch = &self.body.pitch;
        let slope: super::origin::Work = if against {
            |of| (of[1].min(of[0] / 2.0) + of[2]) * of[3].hypot(1.0)
        } else {
            |of| (of[0].min(of[1]) / 2.0 + of[2]) * of[3].hypot(1.0)
        };
        let slope = self.rule("slope", SLOPE, &[length, depth, eave, pitch], slope);
        let long = !over.is_end();
        let lower: super::origin::Work = match (long, against) {
            (true, _) => |of| of[0] + 2.0 * of[2],
            (false, false) => |of| of[1] + 2.0 * of[2],
            (false, true) => |of| of[1] + of[2],
        };
        let lower = self.rule(
            "eave",
            "the wall and what stands out at both corners",
            &[length, depth, eave],
            lower,
        );
        let upper: super::origin::Work = match (long, against) {
            (true, false) => |of| (of[0] - of[1]).max(0.0),
            (false, false) => |of| (of[1] - of[0]).max(0.0),
            (true, true) => |of| (of[0] - 2.0 * of[1]).max(0.0),
            (false, true) => |of| (of[1] - of[0] / 2.0).max(0.0),
        };
        let upper = self.rule(
            "ridge",
            "what two planes of one pitch leave of the wall",
            &[length, depth],
            upper,
        );
        [lower, upper, slope]
    }

    /// How far behind the body its planes may run before they are clipped.
    pub(super) fn far(&self) -> f64 {
        let [_, depth] = self.body.plan();
        match self.raise.runs_into(self.building, self.body) {
            Some(host) => {
                let [length, deep] = host.body.plan();
                depth + length.max(deep)
            }
            None => depth + self.body.over[2],
        }
    }

    /// How far beyond the wall the ridge runs into the other roof before it
    /// dies, and how far before the wall the corner of the eaves lies.
    pub(super) fn valley_run(&self, host: &Host<'_>) -> (f64, f64) {
        let of: Vec<f64> = self.valley_of(host).iter().map(|it| it.value).collect();
        if matches!(self.body.stand, Stand::Slope(..)) {
            let [_, depth] = self.body.plan();
            let ridge = (of[3] + of[2] * of[0] / 2.0) / host.pitch;
            let eave = (of[3] - of[2] * of[1]) / host.pitch;
            return (ridge - depth, depth - eave);
        }
        (dies(&of), corner(&of))
    }

    /// What a valley is worked from: length, eave overhang, pitch, eave; eave
    /// and pitch of the other.
    pub(super) fn valley_of(&self, host: &Host<'_>) -> [Arc<Origin>; 6] {
        let [eave, _] = &self.body.overhangs;
        [
            Arc::clone(&self.body.length.origin),
            Arc::clone(eave),
            Arc::clone(&self.body.pitch),
            Arc::clone(&self.body.eave.origin),
            Arc::clone(&host.body.eave.origin),
            Arc::clone(&host.body.pitch),
        ]
    }

    pub(super) fn valley(&self, host: &Host<'_>) -> Sized<Compressed> {
        if matches!(self.body.stand, Stand::Slope(..)) {
            let under = self.slope_under(host);
            let [over, _] = &self.body.overhangs;
            let of = [&self.body.length.origin, over, &self.body.pitch, &under];
            let rule = "from the corner of its eave to where its ridge dies";
            return Sized::rule(format!("valley of {}", self.body.name), rule, &of, |of| {
                let (run, rise) = (of[0] / 2.0 + of[1], of[2] * (of[0] / 2.0 + of[1]));
                (run * run + (rise / of[3]).powi(2) + rise * rise).sqrt()
            });
        }
        let of = self.valley_of(host);
        let rule = "from the corner of the eaves to where the ridge dies";
        Sized::rule(format!("valley of {}", self.body.name), rule, &of.each_ref(), |of| {
            let run = of[0] / 2.0 + of[1];
            let along = dies(of) + corner(of);
            (run * run + along * along + (run * of[2]).powi(2)).sqrt()
        })
    }

    /// Rise over run of the slope that a body stands on.
    pub(super) fn slope_under(&self, host: &Host<'_>) -> Arc<Origin> {
        if (host.pitch - host.body.pitch.value).abs() < EXACT {
            return Arc::clone(&host.body.pitch);
        }
        Origin::plain("pitch of the upper slope", host.pitch, Why::Default("as the roof says"))
    }

    /// The planes of a dormer: both of its lines run on until they die in the
    /// slope it stands on.
    pub(super) fn on_slope(
        &self,
        host: &Host<'_>,
        rake: &Arc<Origin>,
        slope: Sized<Compressed>,
    ) -> [Sized<Compressed>; 3] {
        let under = self.slope_under(host);
        let [over, _] = &self.body.overhangs;
        let (length, eave) = (&self.body.length.origin, &self.body.eave.origin);
        let of = [length, over, &self.body.pitch, eave, &under, rake];
        let rule = "from its rake to where it dies in the slope";
        let ridge =
            self.rule("ridge", rule, &of, |of| of[5] + (of[3] + of[2] * of[0] / 2.0) / of[4]);
        let lower = self.rule("eave", rule, &of, |of| of[5] + (of[3] - of[2] * of[1]) / of[4]);
        [lower, ridge, slope]
    }

    /// The planes of a body whose ridge runs out from a wall.
    pub(super) fn out(&self) -> [Sized<Compressed>; 3] {
        let eave = self.over(Side::Right);
        let rake = self.over(Side::Front);
        let (length, depth) = (&self.body.length.origin, &self.body.depth.origin);
        let slope = self.rule("slope", SLOPE, &[length, &eave, &self.body.pitch], |of| {
            (of[0] / 2.0 + of[1]) * of[2].hypot(1.0)
        });
        let Some(host) = self.raise.runs_into(self.building, self.body) else {
            let back = self.over(Side::Back);
            let along = || {
                self.rule("eave", "the body and what stands out", &[depth, &rake, &back], |of| {
                    of[0] + of[1] + of[2]
                })
            };
            return [along(), along(), slope];
        };
        if matches!(self.body.stand, Stand::Slope(..)) {
            return self.on_slope(&host, &rake, slope);
        }
        let [a, b, c, d, e, f] = self.valley_of(&host);
        let of = [&a, &b, &c, &d, &e, &f, depth, &rake];
        let ridge = self.rule(
            "ridge",
            "out, with its rake, and on until it dies in the other roof",
            &of,
            |of| of[6] + of[7] + dies(of),
        );
        let lower =
            self.rule("eave", "out, with its rake, less to the corner of the eaves", &of, |of| {
                of[6] + of[7] - corner(of)
            });
        [lower, ridge, slope]
    }
}

/// How far a ridge runs into the other roof: its height over that eave over the
/// other pitch.
fn dies(of: &[f64]) -> f64 {
    let rise = of[3] + of[2] * of[0] / 2.0 - of[4];
    if of[5] > 0.0 { rise / of[5] } else { 0.0 }
}

/// How far out from the wall the corner lies where the eaves meet.
fn corner(of: &[f64]) -> f64 {
    let drop = of[4] - (of[3] - of[2] * of[1]);
    if of[5] > 0.0 { drop / of[5] } else { 0.0 }
}
