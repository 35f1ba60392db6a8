//! How the walls of a body meet, and where their layers end.

use std::sync::Arc;

use super::Raise;
use super::body::{Body, Stand};
use super::layer::{EdgeCut, Role};
use super::origin::{Origin, Sized, Why};
use super::stack::Stack;
use crate::job::body::{CornerId, Side};
use crate::job::wall::Corners;
use crate::quantity::{Compressed, Model};

/// A corner of a body.
#[derive(Clone, Debug)]
pub struct Corner {
    /// Its name.
    pub id: CornerId,
    /// How the cores meet.
    pub joint: Corners,
    /// The side whose core runs through, of a butt joint.
    pub core: Side,
    /// The side whose cladding covers the edge of the other's.
    pub cladding: Side,
    /// The post, of a joint with one.
    pub post: Option<Sized<Model>>,
    /// Between the walls, inside; a right angle for every body so far.
    pub degrees: f64,
}

impl Corner {
    /// Whether a side meets there.
    #[must_use]
    pub fn joins(&self, side: Side) -> bool {
        self.id.along == side || self.id.end == side
    }
}

impl Raise<'_> {
    /// The corners of a body, those with both walls.
    pub(super) fn corners(&self, body: &Body) -> Vec<Corner> {
        let pairs = [
            (Side::Front, Side::Left),
            (Side::Front, Side::Right),
            (Side::Back, Side::Right),
            (Side::Back, Side::Left),
        ];
        let both = |(along, end): &(Side, Side)| body.has(*along) && body.has(*end);
        pairs.into_iter().filter(both).map(|pair| self.corner(body, pair)).collect()
    }

    fn corner(&self, body: &Body, (along, end): (Side, Side)) -> Corner {
        let id = CornerId { body: body.name.clone(), along, end };
        let said = self.job.corners.iter().find(|corner| corner.of == id);
        let usual = body.joint;
        let joint = said.and_then(|corner| corner.joint).unwrap_or(usual);
        // The front's boards cover the ends', the ends' those of the back.
        let covers = if along == Side::Back { end } else { along };
        let post = said.and_then(|corner| corner.post.as_ref());
        Corner {
            joint,
            core: said.and_then(|corner| corner.core).unwrap_or(along),
            cladding: said.and_then(|corner| corner.cladding).unwrap_or(covers),
            post: (joint == Corners::Post).then(|| match post {
                Some(side) => Self::on_model(format!("corner post of {id}"), side),
                None => {
                    let why = Why::Default("3/64 in, common practice, no source");
                    Sized::of(Origin::plain(format!("corner post of {id}"), 3.0 / 64.0, why))
                }
            }),
            id,
            degrees: 90.0,
        }
    }
}

/// What a layer's edge is set back from the corner of its face by, with the
/// reason, and how it is cut. Below zero where it runs on beyond the face.
pub(super) struct SetBack {
    pub(super) by: Arc<Origin>,
    pub(super) cut: EdgeCut,
}

/// What an edge is worked out from.
pub(super) struct Meeting<'a> {
    /// The corner, where the body has a wall on the other side of it.
    pub(super) corner: Option<&'a Corner>,
    /// The neighbour's layers.
    pub(super) neighbour: Option<&'a Stack>,
    /// Cladding left off the wall that the body stands against, where its end
    /// runs on to that wall.
    pub(super) missing: Option<&'a [Arc<Origin>]>,
}

impl Raise<'_> {
    /// Thicknesses of the sheets of some roles at full size, with why.
    pub(super) fn full_of(&self, stack: &Stack, wanted: impl Fn(Role) -> bool) -> Vec<Arc<Origin>> {
        let of = stack.sheets.iter().filter(|sheet| wanted(sheet.role));
        of.map(|sheet| sheet.thick.enlarged(self.scale).origin).collect()
    }

    /// Where an edge of a layer lies: how far in from the corner of the face.
    pub(super) fn set_back(&self, side: Side, role: Role, at: &Meeting<'_>) -> SetBack {
        let what = "edge set back";
        let cut = |joint, met| EdgeCut { joint, met };
        let none = |rule| SetBack {
            by: Origin::plain(what, 0.0, Why::Default(rule)),
            cut: cut(Corners::Butt, false),
        };
        let (Some(corner), Some(stack)) = (at.corner, at.neighbour) else {
            let Some(missing) = at.missing else { return none("nothing stands there") };
            let of: Vec<&Arc<Origin>> = missing.iter().collect();
            let rule = "runs on to the bare core behind: less what cladding is left off there";
            let by = Origin::rule(what, rule, &of, |of| -of.iter().sum::<f64>());
            return SetBack { by, cut: cut(Corners::Butt, false) };
        };
        let summed = |rule, sheets: Vec<Arc<Origin>>| SetBack {
            by: Origin::rule(what, rule, &sheets.iter().collect::<Vec<_>>(), |of| of.iter().sum()),
            cut: cut(corner.joint, true),
        };
        if corner.joint == Corners::Post
            && let Some(post) = &corner.post
        {
            return summed("stops at the corner post", vec![post.enlarged(self.scale).origin]);
        }
        match role {
            Role::Cladding if corner.cladding == side => none("covers the neighbour's edge"),
            Role::Cladding => summed(
                "covered by the neighbour's cladding",
                self.full_of(stack, |role| role == Role::Cladding),
            ),
            Role::Core | Role::Single if corner.joint == Corners::Mitre => summed(
                "mitred: less the neighbour's cladding, to the long point",
                self.full_of(stack, |role| role == Role::Cladding),
            ),
            Role::Core | Role::Single if corner.core == side => summed(
                "runs through: less the neighbour's cladding",
                self.full_of(stack, |role| role == Role::Cladding),
            ),
            Role::Core | Role::Single => summed(
                "stops at the neighbour: less its cladding and core",
                self.full_of(stack, |_| true),
            ),
        }
    }
}

/// Whether the end of a side of a body meets the wall it stands against: at
/// the left corner of its left, or the right corner of its right.
pub(super) fn meets_host(body: &Body, side: Side, at_left: bool) -> bool {
    matches!(body.stand, Stand::Against(..) | Stand::Slope(..))
        && match side {
            Side::Left => at_left,
            Side::Right => !at_left,
            Side::Front | Side::Back => false,
        }
}

/// The edges of a layer along its wall, from the two set-backs.
pub(super) fn edges(
    width: &Sized<Compressed>,
    left: &Arc<Origin>,
    right: &Arc<Origin>,
) -> [Sized<Compressed>; 2] {
    [
        Sized::rule("left edge", "set back from the left corner", &[left], |of| of[0]),
        Sized::rule(
            "right edge",
            "set back from the right corner",
            &[&width.origin, right],
            |of| of[0] - of[1],
        ),
    ]
}
