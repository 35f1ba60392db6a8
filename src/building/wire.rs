//! The run of a wire from a lamp under a roof to the underside of the building.

use std::sync::Arc;

use super::body::Body;
use super::frame::MemberKind;
use super::layer::Role;
use super::origin::{Origin, Sized, Why};
use super::{Building, Raise, Wall};
use crate::finding::{Finding, Subject};
use crate::job::body::FaceId;
use crate::job::lamps::{Hangs, LampString};
use crate::quantity::{Compressed, CompressedLength, Model};

/// Slack left in a wire where the job says none, on the model, inches: the
/// trade's 3 in, so that a roof can be laid beside its building.
const SLACK: f64 = 3.0;

/// The wire of a string of lamps.
#[derive(Clone, Debug)]
pub struct WireRun {
    /// The string.
    pub string: String,
    /// The body it hangs under.
    pub body: String,
    /// One way, slack and all.
    pub length: Sized<Model>,
}

impl Raise<'_> {
    /// The wires of the strings that say where they hang.
    pub(super) fn wires(&mut self, building: &Building) -> Vec<WireRun> {
        let job = self.job;
        let strings = job.lamps.iter().flat_map(|lamps| &lamps.strings);
        strings.filter_map(|string| self.wire(building, string)).collect()
    }

    fn wire(&mut self, building: &Building, string: &LampString) -> Option<WireRun> {
        let hangs = string.hangs.as_ref()?;
        let name = &string.name;
        let found = building.body(&hangs.under);
        let Some((body, wall)) = found.and_then(|body| Some((body, against(building, body)?)))
        else {
            self.findings.push(Finding::look(
                Subject::Member(name.clone()),
                format!("{name} hangs under {}, which is no roof against a wall", hangs.under),
                "give its `run` yourself, or hang it under a roof that stands against a wall",
            ));
            return None;
        };
        let out = self.said(format!("place of {name} out from the wall"), &hangs.out, name)?;
        let along = self.inches(&hangs.along, name)?;
        let under = self.under_rafters(building, body);
        let through = self.through_wall(wall, body, along, under.value);
        let slack = Self::slack(name, hangs);
        let foot = Origin::plain(
            "foot of the wall",
            wall.foot_at(place(wall, body, along)).in_inches(),
            Why::Default("the underside of the floor"),
        );
        let base = building.base.as_ref().map_or_else(
            || Origin::plain("base plate", 0.0, Why::Default("none")),
            |base| Arc::clone(&base.thick.origin),
        );
        let ratio = self.ratio();
        let first = [&out.origin, &body.pitch, &under, &foot, &ratio, &base, &slack.origin];
        let of: Vec<&Arc<Origin>> = first.into_iter().chain(&through).collect();
        let rule = "along the rafter to the wall, through it, down its inside to the foot, \
                    through the base, and the slack";
        let length = Sized::rule(format!("wire of {name}"), rule, &of, |of| {
            let through: f64 = of[7..].iter().sum();
            (of[0] * of[1].hypot(1.0) + through + of[2] - of[3]) / of[4] + of[5] + of[6]
        });
        Some(WireRun { string: name.clone(), body: body.name.clone(), length })
    }

    fn slack(name: &str, hangs: &Hangs) -> Sized<Model> {
        let what = format!("slack in the wire of {name}");
        match &hangs.slack {
            Some(said) => Self::on_model(what, said),
            None => {
                let why = Why::Default("3 in, so that the roof can be laid beside the building");
                Sized::of(Origin::plain(what, SLACK, why))
            }
        }
    }

    /// Height at the wall of what a wire runs along: the underside of the
    /// rafters, else of the sheet.
    fn under_rafters(&self, building: &Building, body: &Body) -> Arc<Origin> {
        let rafter = building
            .members
            .iter()
            .find(|it| it.kind == MemberKind::Rafter && it.body == body.name && it.by_place);
        let deep = rafter.map_or(0.0, |rafter| rafter.across[1].1 * 2.0);
        let why = rafter.map_or("none", |_| "as the rafter is deep");
        let deep = Origin::plain("depth of the rafters", deep, Why::Default(why));
        let of = [&body.eave.origin, &body.pitch, &body.depth.origin, &deep];
        Origin::rule("underside at the wall", "where the roof meets it, less rafters", &of, |of| {
            of[0] + of[1] * of[2] - of[3] * of[1].hypot(1.0)
        })
    }

    /// What the wall is thick where the wire goes through: its cladding counts
    /// only where it is not left off.
    fn through_wall(&self, wall: &Wall, body: &Body, along: f64, up: f64) -> Vec<Arc<Origin>> {
        let bare = wall.is_bare_at(place(wall, body, along), CompressedLength::inches(up));
        let layers = wall.layers.iter().filter(|it| !bare || it.role != Role::Cladding);
        let full = |it: &super::Layer| -> Sized<Compressed> { it.thick.enlarged(self.scale) };
        layers.map(|it| full(it).origin).collect()
    }
}

/// The wall a body stands against.
fn against<'b>(building: &'b Building, body: &Body) -> Option<&'b Wall> {
    let (host, side) = body.host()?;
    let host = building.bodies.get(host)?;
    body.profile?;
    building.wall(&FaceId::new(&host.name, side))
}

/// Along the wall, of a place along the front of a body against it.
fn place(wall: &Wall, body: &Body, along: f64) -> CompressedLength {
    let at = body.point([along, body.plan()[1], 0.0]);
    CompressedLength::inches(wall.plane.local(at)[0])
}
