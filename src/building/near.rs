//! How bodies lie to one another on a roof: what is left below, and beside
//! where a ridge dies.

use super::body::{Body, Stand};
use super::origin::Sized;
use super::place::Point;
use super::roof::{EdgeKind, RoofPlane, Valley};
use super::{Building, Raise};
use crate::finding::{Finding, Subject};
use crate::quantity::slack::NOTHING;
use crate::quantity::{Compressed, CompressedLength};

impl Building {
    /// Up a slope, from its eave to the wall of a body that stands on it; of
    /// the lowest, where there are several.
    #[must_use]
    pub fn below_on_slope(&self, plane: &RoofPlane) -> Option<(&Body, Sized<Compressed>)> {
        let host = self.bodies.iter().position(|body| body.name == plane.body)?;
        let stands = |body: &&Body| match body.stand {
            Stand::Ridge(on) => on == host,
            Stand::Slope(on, side) => on == host && side == plane.over,
            _ => false,
        };
        let each = self.bodies.iter().filter(stands).filter_map(|body| {
            let up = lowest(plane, &corners(body))?;
            (up > 0.0).then_some((body, up))
        });
        let (body, up) = each.min_by(|a, b| a.1.total_cmp(&b.1))?;
        let origin = super::Origin::plain(
            format!("up the slope, eave to {}", body.name),
            up,
            super::Why::Default("as both stand"),
        );
        Some((body, Sized::of(origin)))
    }

    /// The level run from where a ridge dies in another roof to the nearest wall
    /// of what stands astride that roof's ridge; below zero where it dies
    /// inside.
    #[must_use]
    pub fn beside_on_ridge(&self, valley: &Valley) -> Option<(&Body, CompressedLength)> {
        let host = self.bodies.iter().position(|body| body.name == valley.host)?;
        let on = self.bodies.iter().filter(|body| body.stand == Stand::Ridge(host));
        let run = |body: &Body| {
            let [u, v, _] = body.frame.local(valley.ends[1]);
            let [length, depth] = body.plan();
            let (beside, before) = ((-u).max(u - length), (-v).max(v - depth));
            if beside > 0.0 && before > 0.0 { beside.hypot(before) } else { beside.max(before) }
        };
        on.map(|body| (body, run(body)))
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(body, run)| (body, CompressedLength::inches(run)))
    }
}

/// The corners of a body's walls on the plan.
fn corners(body: &Body) -> [Point; 4] {
    let [length, depth] = body.plan();
    [[0.0, 0.0], [length, 0.0], [length, depth], [0.0, depth]].map(|[u, v]| body.point([u, v, 0.0]))
}

/// How far up a plane the lowest of some points of the plan lies.
fn lowest(plane: &RoofPlane, points: &[Point]) -> Option<f64> {
    let eave = plane.edges.iter().position(|edge| edge.kind == EdgeKind::Eave)?;
    let (a, b) = (plane.corners[eave], plane.corners[(eave + 1) % plane.corners.len()]);
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let long = dx.hypot(dy).max(NOTHING);
    // The corners run against the clock as seen from outside: the plane lies to
    // the left of its eave.
    let up = |at: &Point| (dx * (at[1] - a[1]) - dy * (at[0] - a[0])) / long;
    let run = points.iter().map(up).fold(f64::INFINITY, f64::min);
    run.is_finite().then_some(run * plane.pitch.hypot(1.0))
}

impl Raise<'_> {
    /// Ridges that die inside what stands on the roof.
    pub(super) fn ridges_that_die_inside(&mut self, building: &Building) {
        for valley in &building.valleys {
            let Some((body, run)) = building.beside_on_ridge(valley) else { continue };
            if run < CompressedLength::ZERO {
                self.findings.push(Finding::look(
                    Subject::Member(valley.body.clone()),
                    format!("the ridge of {} runs into {}", valley.body, body.name),
                    "move one of the two along, or lower the ridge",
                ));
            }
        }
    }
}
