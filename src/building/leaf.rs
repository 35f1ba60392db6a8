//! Door leaves of boards on ledges, with braces between them.

use std::sync::Arc;

use super::origin::{Origin, Sized, Work};
use super::{Building, Raise};
use crate::job::body::FaceId;
use crate::job::building::Leaf as Said;
use crate::quantity::slack::WHOLE;
use crate::quantity::{Angle, Compressed};

/// The leaves that hang in one opening.
#[derive(Clone, Debug)]
pub struct Leaf {
    /// The wall.
    pub wall: FaceId,
    /// The opening's label on it.
    pub label: String,
    /// The opening's kind.
    pub kind: String,
    /// Width and height.
    pub size: [Sized<Compressed>; 2],
    /// How many boards.
    pub boards: u32,
    /// Width of a board.
    pub board: Sized<Compressed>,
    /// Width of the last board.
    pub last: Sized<Compressed>,
    /// Width of ledges and braces.
    pub ledge: Sized<Compressed>,
    /// Middles of the ledges above the foot, from the foot up.
    pub ledges: Vec<Sized<Compressed>>,
    /// The braces, one in each space between two ledges.
    pub braces: Vec<Brace>,
}

/// A brace between two ledges: its ends cut level to lie against them, its
/// outer corners on the two edges of the leaf, its foot at the hinge.
#[derive(Clone, Debug)]
pub struct Brace {
    /// From level.
    pub angle: Angle,
    /// From point to point.
    pub length: Sized<Compressed>,
    /// Clear height between the ledges.
    pub space: Sized<Compressed>,
}

/// Width of ledges where the job says none, inches.
const LEDGE: (f64, &str) = (6.0, "6 in, common practice, no source");

impl Raise<'_> {
    /// The leaves of all doors, wall by wall.
    pub(super) fn leaves(&mut self, building: &Building) -> Vec<Leaf> {
        let mut all = Vec::new();
        for wall in &building.walls {
            for hole in &wall.holes {
                let opening = self.job.openings.iter().find(|it| it.name == hole.kind);
                let Some(said) = opening.and_then(|opening| opening.leaf.clone()) else { continue };
                let place = (wall.id.clone(), hole.label.clone(), hole.kind.clone());
                all.extend(self.leaf(place, &said));
            }
        }
        all
    }

    fn leaf(&mut self, (wall, label, kind): (FaceId, String, String), said: &Said) -> Option<Leaf> {
        let of = |what: &str| format!("{what} of the leaf of {kind}");
        let width = self.said(of("width"), &said.width, &kind)?;
        let height = self.said(of("height"), &said.height, &kind)?;
        let board = self.said(of("boards"), &said.boards, &kind)?;
        let ledge = self.said_or(of("ledges"), said.ledge.as_ref(), &kind, LEDGE);
        let mut ledges: Vec<Sized<Compressed>> =
            said.ledges.iter().filter_map(|at| self.said(of("a ledge"), at, &kind)).collect();
        ledges.sort_by(|a, b| a.length.total_cmp(&b.length));
        let boards = count(width.length.in_inches(), board.length.in_inches());
        let last = Sized::rule(
            of("last board"),
            "what the others leave of the width",
            &[&width.origin, &board.origin],
            |of| of[0] - (f64::from(count(of[0], of[1])) - 1.0) * of[1],
        );
        let braces = if said.braced {
            ledges.windows(2).filter_map(|pair| brace(&kind, &width, &ledge, pair)).collect()
        } else {
            Vec::new()
        };
        let size = [width, height];
        Some(Leaf { wall, label, kind, size, boards, board, last, ledge, ledges, braces })
    }
}

/// Boards in a width, the last one as wide as it comes.
fn count(width: f64, board: f64) -> u32 {
    if board > 0.0 { (width / board - WHOLE).ceil().max(1.0) as u32 } else { 1 }
}

/// A brace between two ledges: W = h / tan a + w / sin a, so that
/// sin(a - atan(h / W)) = w / sqrt(W^2 + h^2).
fn brace(
    kind: &str,
    width: &Sized<Compressed>,
    ledge: &Sized<Compressed>,
    pair: &[Sized<Compressed>],
) -> Option<Brace> {
    let [low, high] = pair else { return None };
    let space = Sized::rule(
        format!("space between the ledges of {kind}"),
        "from ledge to ledge",
        &[&low.origin, &high.origin, &ledge.origin],
        |of| of[1] - of[0] - of[2],
    );
    let of: [&Arc<Origin>; 3] = [&width.origin, &space.origin, &ledge.origin];
    let work: Work = |of| angle(of[0], of[1], of[2]);
    let a = Origin::rule("angle of the brace", "from edge to edge of the leaf", &of, work).value;
    let [wide, high, stick] = of.map(|it| it.value);
    if high <= 0.0 || stick <= 0.0 || stick >= wide.hypot(high) || a <= 0.0 {
        return None;
    }
    let length = Sized::rule(format!("brace of {kind}"), "from point to point", &of, |of| {
        let a = angle(of[0], of[1], of[2]);
        of[1] / a.sin() + of[2] / a.tan()
    });
    Some(Brace { angle: Angle::radians(a), length, space })
}

fn angle(wide: f64, high: f64, stick: f64) -> f64 {
    (stick / wide.hypot(high)).min(1.0).asin() + high.atan2(wide)
}

impl Leaf {
    /// How its braces stand: the foot at the hinge, where they carry the free
    /// edge in compression.
    #[must_use]
    pub fn foot_at(&self) -> &'static str {
        "hinge"
    }
}
