//! Strips that lie level inside a wall: behind its joints, and across a grain
//! that runs up; cut at openings and at the uprights behind splices.

use std::sync::Arc;

use super::Shop;
use super::core::doubler;
use super::part::{Form, Kind, Piece};
use super::skin::{Skin, across, as_built};
use super::stiff::{DROPPED, GAP, Room, bracing_width, doubler_width, fewest};
use crate::building::{Origin, Why, no_area};
use crate::quantity::{Compressed, CompressedLength, ModelLength};

type Full = CompressedLength;
/// From one distance along a wall to another.
type Stretch = (Arc<Origin>, Arc<Origin>);

/// The strip behind a level joint, cut where an opening crosses it.
pub(super) fn behind_joint(
    shop: &Shop<'_>,
    skin: &Skin<'_>,
    room: &Room,
    joint: &Arc<Origin>,
) -> Vec<Piece> {
    let half = doubler_width(shop).length / 2.0;
    let at = Full::inches(joint.value);
    let stretches = clear(shop, room, holes_between(skin, (at - half, at + half)));
    let piece = |(from, to): &Stretch| {
        let length = across("doubler", from, to);
        doubler(shop, length, "level, behind the joint")
            .level_at(Full::inches(from.value), at - half)
    };
    stretches.iter().map(piece).collect()
}

/// Level strips between the floor's top and the ledger or eave, at equal clear
/// gaps, as few as leave none over 2 in on the model.
pub(super) fn strips(
    shop: &Shop<'_>,
    skin: &Skin<'_>,
    room: &Room,
    splices: &[Arc<Origin>],
) -> Vec<Piece> {
    let width = bracing_width(shop);
    let gap: Full = shop.scale.enlarge::<Compressed>(ModelLength::inches(GAP));
    let head = room.head();
    let count = fewest(head.value - room.low.value, width.length.in_inches(), gap.in_inches());
    let why = Why::Default("as few as leave no gap over 2 in");
    let number = Origin::plain("level strips", f64::from(count), why);
    let mut pieces = Vec::new();
    for strip in 0..count {
        let which = Why::Default("counted from the floor");
        let which = Origin::plain("level strip", f64::from(strip), which);
        let of = [&room.low, &head, &width.origin, &number, &which];
        let rule = "at equal clear gaps above the floor";
        let foot = Origin::rule("place of the level strip", rule, &of, |of| {
            let gap = (of[1] - of[0] - of[3] * of[2]) / (of[3] + 1.0);
            of[0] + gap * (of[4] + 1.0) + of[2] * of[4]
        });
        let low = Full::inches(foot.value);
        let mut blocked = holes_between(skin, (low, low + width.length));
        blocked.extend(splices.iter().map(|line| behind(shop, line)));
        for (from, to) in clear(shop, room, blocked) {
            let mut piece =
                Piece::sheet(Kind::Bracing, across("level strip", &from, &to), width.clone())
                    .of(shop.core_section())
                    .note("inside, level, clear of openings")
                    .level_at(Full::inches(from.value), low);
            piece.form = Form::SheetAnyWay;
            piece.covers = no_area();
            pieces.push(piece);
        }
    }
    pieces
}

/// What the upright behind a splice takes.
fn behind(shop: &Shop<'_>, line: &Arc<Origin>) -> Stretch {
    let half = doubler_width(shop).origin;
    let of = [line, &half];
    let left = Origin::rule("beside the doubler", "the splice less half of it", &of, |of| {
        of[0] - of[1] / 2.0
    });
    let right = Origin::rule("beside the doubler", "the splice and half of it", &of, |of| {
        of[0] + of[1] / 2.0
    });
    (left, right)
}

/// The holes of a layer that reach between two heights.
fn holes_between(skin: &Skin<'_>, (low, high): (Full, Full)) -> Vec<Stretch> {
    let edge = |x: Full| skin.at_why(x, || as_built("edge of the hole", x));
    let holes = skin.layer.holes.iter().map(|it| &it.hole);
    let met = holes.filter(|hole| hole.foot < high && hole.head() > low);
    met.map(|hole| (edge(hole.left), edge(hole.right()))).collect()
}

/// What is left between the corner blocks when the blocked stretches are taken
/// out; scraps are left out.
fn clear(shop: &Shop<'_>, room: &Room, mut blocked: Vec<Stretch>) -> Vec<Stretch> {
    blocked.sort_by(|a, b| a.0.value.total_cmp(&b.0.value));
    let mut open: Vec<Stretch> = Vec::new();
    let mut at = Arc::clone(&room.left);
    for (left, right) in blocked {
        if left.value > at.value {
            let end = if left.value < room.right.value { left } else { Arc::clone(&room.right) };
            open.push((Arc::clone(&at), end));
        }
        if right.value > at.value {
            at = right;
        }
    }
    if room.right.value > at.value {
        open.push((at, Arc::clone(&room.right)));
    }
    let dropped: Full = shop.scale.enlarge::<Compressed>(ModelLength::inches(DROPPED));
    open.retain(|(from, to)| Full::inches(to.value - from.value) >= dropped);
    open
}
