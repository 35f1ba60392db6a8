//! What stiffens walls inside: across the grain, uprights or level strips, blocks in the corners; posts at corners; the ledger and box of a roof
//! that lifts off.

use std::sync::Arc;

use super::Shop;
use super::level;
use super::part::{Form, Kind, Piece};
use super::skin::{Skin, as_built, between};
use crate::building::{Body, Inside, Origin, Sized, Wall, Why, no_area};
use crate::job::body::Side;
use crate::job::said::Said;
use crate::job::wall::{Corners, Grain};
use crate::quantity::slack::{NOTHING, TOUCH};
use crate::quantity::{Compressed, CompressedLength, Model, ModelLength};

type Full = CompressedLength;

/// Widest clear gap between two stiffeners, on the model (trade: 2 in).
pub(super) const GAP: f64 = 2.0;
/// Stiffeners shorter than this on the model are left out.
pub(super) const DROPPED: f64 = 1.0 / 16.0;

/// A width on the model, or 1/4 in.
fn quarter(shop: &Shop<'_>, what: &str, said: Option<&Said<Model>>) -> Sized<Compressed> {
    let origin = match said {
        Some(said) => {
            Origin::plain(what, said.length().in_inches(), Why::Stated(said.text().to_owned()))
        }
        None => Origin::plain(what, 0.25, Why::Default("1/4 in, common practice, no source")),
    };
    Sized::<Model>::of(origin).enlarged(shop.scale)
}

/// Width of the strip behind a joint.
pub(super) fn doubler_width(shop: &Shop<'_>) -> Sized<Compressed> {
    quarter(shop, "width of a doubler", shop.job.usual.doubler.as_ref())
}

pub(super) fn bracing_width(shop: &Shop<'_>) -> Sized<Compressed> {
    quarter(shop, "width of an upright", shop.job.usual.bracing.as_ref())
}

fn block_side(shop: &Shop<'_>) -> Sized<Compressed> {
    quarter(shop, "side of a corner block", shop.job.usual.block.as_ref())
}

/// Where stiffeners may stand on a wall: between the corner blocks, from the
/// floor's top to the ledger or eave.
pub(super) struct Room {
    pub(super) left: Arc<Origin>,
    pub(super) right: Arc<Origin>,
    pub(super) low: Arc<Origin>,
    high: Arc<Origin>,
    /// Up to where a box hangs or lifts, on an end.
    most: Option<Arc<Origin>>,
}

impl Room {
    fn of(shop: &Shop<'_>, body: &Body, inside: &Inside, skin: &Skin<'_>) -> Self {
        let wall = &skin.wall;
        let block = block_side(shop).origin;
        let whole = if wall.id.side.is_end() { &inside.depth } else { &inside.length };
        // The inside begins behind the wall at the left corner of this one.
        let [left, front] = inside.corner;
        let [length, depth] = body.plan();
        let start = match wall.id.side {
            Side::Front => left,
            Side::Right => front,
            Side::Back => length - left - inside.length.length.in_inches(),
            Side::Left => depth - front - inside.depth.length.in_inches(),
        };
        let start = as_inside(shop, body, inside, wall, start);
        let left = Origin::rule(
            "beside the corner block",
            "the inside and a block",
            &[&start, &block],
            |of| of[0] + of[1],
        );
        let right = Origin::rule(
            "beside the other corner block",
            "the inside less a block",
            &[&start, &whole.origin, &block],
            |of| of[0] + of[1] - of[2],
        );
        let low = match &inside.floor {
            Some(floor) => floor.thick.enlarged(shop.scale).origin,
            None => wall.foot_why(&wall.why.left),
        };
        let most = inside
            .lid
            .as_ref()
            .filter(|_| wall.id.side.is_end())
            .map(|lid| Arc::clone(&lid.foot.origin));
        Self { left, right, low, high: Arc::clone(&inside.under.origin), most }
    }

    /// The head of what stands there: under the ledger or eave, and clear of a
    /// box that hangs or lifts.
    pub(super) fn head(&self) -> Arc<Origin> {
        let most = self.most.as_ref().filter(|most| most.value < self.high.value);
        Arc::clone(most.unwrap_or(&self.high))
    }
}

/// Why the inside begins where it does along a wall: what the neighbour takes.
fn as_inside(
    shop: &Shop<'_>,
    body: &Body,
    inside: &Inside,
    wall: &Wall,
    start: f64,
) -> Arc<Origin> {
    let taken = |side: Side| -> Vec<Arc<Origin>> {
        let wall = shop.building.walls_of(&body.name).find(|it| it.id.side == side);
        let layers = wall.into_iter().flat_map(|wall| &wall.layers);
        layers.map(|layer| layer.thick.enlarged(shop.scale).origin).collect()
    };
    let layers = taken(wall.id.side.at_left());
    let of: Vec<&Arc<Origin>> = layers.iter().collect();
    let found =
        Origin::rule("inside of the neighbour", "what the neighbour's layers take", &of, |of| {
            of.iter().sum()
        });
    if (found.value - start).abs() < TOUCH {
        return found;
    }
    // Without a wall there the inside reaches on to what the body stands against.
    let (whole, within) = if wall.id.side.is_end() {
        (&body.depth.origin, &inside.depth.origin)
    } else {
        (&body.length.origin, &inside.length.origin)
    };
    let far = taken(wall.id.side.at_right());
    let of: Vec<&Arc<Origin>> = [whole, within].into_iter().chain(&far).collect();
    let rule = "the whole less the inside and the wall at its far end";
    let found = Origin::rule("inside of the neighbour", rule, &of, |of| {
        of[0] - of[1..].iter().sum::<f64>()
    });
    if (found.value - start).abs() < TOUCH {
        return found;
    }
    as_built("inside of the neighbour", Full::inches(start))
}

/// Doublers behind level joints, and the uprights or level strips between the
/// blocks: across the grain, at equal clear gaps, as few as leave none over
/// 2 in on the model; cut at doublers and openings.
pub(super) fn pieces(
    shop: &Shop<'_>,
    body: &Body,
    inside: Option<&Inside>,
    skin: &Skin<'_>,
    joints: &[Arc<Origin>],
    splices: &[Arc<Origin>],
) -> Vec<Piece> {
    let Some(inside) = inside else { return Vec::new() };
    let room = Room::of(shop, body, inside, skin);
    let mut pieces = Vec::new();
    for joint in joints {
        pieces.extend(level::behind_joint(shop, skin, &room, joint));
    }
    pieces.extend(match skin.layer.grain {
        Grain::Up => level::strips(shop, skin, &room, splices),
        Grain::Along | Grain::None => uprights(shop, skin, &room, joints, splices),
    });
    pieces
}

/// Uprights of a wall, whole or cut.
fn uprights(
    shop: &Shop<'_>,
    skin: &Skin<'_>,
    room: &Room,
    joints: &[Arc<Origin>],
    splices: &[Arc<Origin>],
) -> Vec<Piece> {
    let width = bracing_width(shop);
    let gap: Full = shop.scale.enlarge(ModelLength::inches(GAP));
    let between_blocks = room.right.value - room.left.value;
    let count = fewest(between_blocks, width.length.in_inches(), gap.in_inches());
    let number = Origin::plain(
        "uprights",
        f64::from(count),
        Why::Default("as few as leave no gap over 2 in"),
    );
    let dropped: Full = shop.scale.enlarge(ModelLength::inches(DROPPED));
    let mut pieces = Vec::new();
    for upright in 0..count {
        let which =
            Origin::plain("upright", f64::from(upright), Why::Default("counted from the left"));
        let of = [&room.left, &room.right, &width.origin, &number, &which];
        let left = Origin::rule(
            "place of the upright",
            "at equal clear gaps between the blocks",
            &of,
            |of| {
                let gap = (of[1] - of[0] - of[3] * of[2]) / (of[3] + 1.0);
                of[0] + gap * (of[4] + 1.0) + of[2] * of[4]
            },
        );
        let from = Full::inches(left.value);
        let to = from + width.length;
        if splices.iter().map(|it| Full::inches(it.value)).any(|line| line > from && line < to) {
            continue;
        }
        for (low, high) in clear(shop, skin, room, joints, (from, to)) {
            if Full::inches(high.value - low.value) < dropped {
                continue;
            }
            let length = between("upright", &low, &high);
            let mut piece = Piece::sheet(Kind::Bracing, length, width.clone())
                .of(shop.core_section())
                .note("inside, upright, clear of openings")
                .at(from, Full::inches(low.value));
            piece.form = Form::SheetAnyWay;
            piece.covers = no_area();
            pieces.push(piece);
        }
    }
    pieces
}

/// The fewest uprights that leave no clear gap over the most.
pub(super) fn fewest(room: f64, width: f64, gap: f64) -> u32 {
    if room <= 0.0 || gap <= 0.0 {
        return 0;
    }
    (0..400)
        .find(|count| (room - f64::from(*count) * width) / f64::from(count + 1) <= gap + NOTHING)
        .unwrap_or(0)
}

/// What is left of an upright between its foot and head: openings that it
/// overlaps and doublers are cut out.
fn clear(
    shop: &Shop<'_>,
    skin: &Skin<'_>,
    room: &Room,
    joints: &[Arc<Origin>],
    (from, to): (Full, Full),
) -> Vec<(Arc<Origin>, Arc<Origin>)> {
    let half = doubler_width(shop).origin;
    let half = Origin::rule("half a doubler", "half its width", &[&half], |of| of[0] / 2.0);
    let mut blocked: Vec<(Arc<Origin>, Arc<Origin>)> = joints
        .iter()
        .map(|joint| {
            let under = Origin::rule(
                "under the doubler",
                "the joint less half of it",
                &[joint, &half],
                |of| of[0] - of[1],
            );
            let over = Origin::rule(
                "over the doubler",
                "the joint and half of it",
                &[joint, &half],
                |of| of[0] + of[1],
            );
            (under, over)
        })
        .collect();
    for cut in &skin.layer.holes {
        let described = skin.wall.holes.iter().find(|it| it.label == cut.hole.label);
        let hole = &cut.hole;
        // The larger of the opening and of the hole in this layer.
        let left = described.map_or(hole.left, |it| it.left.min(hole.left));
        let right = described.map_or(hole.right(), |it| it.right().max(hole.right()));
        if left >= to || right <= from {
            continue;
        }
        blocked.push(upright_hole(shop, skin, cut));
    }
    let high = room.head();
    blocked.sort_by(|a, b| a.0.value.total_cmp(&b.0.value));
    let mut left = Vec::new();
    let mut at = Arc::clone(&room.low);
    for (low, top) in blocked {
        let end = if low.value < high.value { low } else { Arc::clone(&high) };
        if end.value > at.value {
            left.push((Arc::clone(&at), end));
        }
        if top.value > at.value {
            at = top;
        }
    }
    if high.value > at.value {
        left.push((at, high));
    }
    left
}

/// Foot and head of an opening as an upright meets it: the hole in the core
/// where that is larger.
fn upright_hole(
    shop: &Shop<'_>,
    skin: &Skin<'_>,
    cut: &crate::building::LayerHole,
) -> (Arc<Origin>, Arc<Origin>) {
    let hole = &cut.hole;
    let Some(why) = skin.wall.hole_why(&hole.label) else {
        return (
            as_built("foot of the hole", hole.foot),
            as_built("head of the hole", hole.head()),
        );
    };
    let described = why.foot.value + why.height.value;
    let full = cut.height.enlarged(shop.scale).origin;
    let foot = if hole.foot.in_inches() < why.foot.value - NOTHING {
        Origin::rule(
            "foot of the hole",
            "about the middle of the opening",
            &[&why.foot, &why.height, &full],
            |of| of[0] + of[1] / 2.0 - of[2] / 2.0,
        )
    } else {
        Arc::clone(&why.foot)
    };
    let head = if hole.head().in_inches() > described + NOTHING {
        if hole.foot.agrees(Full::inches(why.foot.value), Full::inches(NOTHING)) {
            Origin::rule(
                "head of the hole",
                "sill and the hole's height",
                &[&why.foot, &full],
                |of| of[0] + of[1],
            )
        } else {
            Origin::rule(
                "head of the hole",
                "about the middle of the opening",
                &[&why.foot, &why.height, &full],
                |of| of[0] + of[1] / 2.0 + of[2] / 2.0,
            )
        }
    } else {
        Origin::rule("head", "sill and height", &[&why.foot, &why.height], |of| of[0] + of[1])
    };
    (foot, head)
}

/// A square block in each inside corner, from the floor's top.
pub(super) fn blocks(shop: &Shop<'_>, body: &Body, inside: &Inside, walls: &[&Wall]) -> Vec<Piece> {
    // A core, or an engraved sheet that is the wall alone.
    let engraved = |name: &String| {
        shop.job.claddings.iter().any(|cladding| &cladding.name == name && cladding.scribed)
    };
    let carries = |layer: &crate::building::Layer| match layer.role {
        crate::building::Role::Core => true,
        crate::building::Role::Single => layer.claddings.iter().any(engraved),
        crate::building::Role::Cladding => false,
    };
    let cored = |side: Side| {
        walls.iter().any(|wall| wall.id.side == side && wall.layers.iter().any(carries))
    };
    let corners = shop
        .building
        .corners
        .iter()
        .filter(|corner| corner.id.body == body.name && corner.joint != Corners::Post);
    let count = corners.filter(|corner| cored(corner.id.along) && cored(corner.id.end)).count();
    if count == 0 || body.on_roof() {
        return Vec::new();
    }
    let low = match &inside.floor {
        Some(floor) => floor.thick.enlarged(shop.scale).origin,
        None => super::skin::foot(),
    };
    let length = between("corner block", &low, &inside.under.origin);
    if length.length <= Full::ZERO {
        return Vec::new();
    }
    let mut piece = Piece::sheet(Kind::CornerBlock, length, block_side(shop))
        .of(shop.core_section())
        .times(count as u32)
        .note("square, in each inside corner");
    piece.covers = no_area();
    piece.form = Form::SheetAnyWay;
    vec![piece]
}

/// Posts at the corners where two sheets stop at one.
pub(super) fn corner_posts(shop: &Shop<'_>, body: &Body) -> Vec<Piece> {
    let posts = shop.building.corners.iter().filter(|corner| corner.id.body == body.name);
    posts
        .filter_map(|corner| {
            let side = corner.post.as_ref()?.enlarged(shop.scale);
            let height = body.eave.clone();
            let piece = Piece::stick(Kind::CornerPost, height, side);
            Some(piece.of("corner post").note("square, flush with both walls"))
        })
        .collect()
}

/// The ledger inside front and back and the box of a roof that lifts off.
pub(super) fn lid(shop: &Shop<'_>, inside: &Inside) -> Vec<Piece> {
    let (Some([foot, top]), Some(lid)) = (&inside.ledger, &inside.lid) else { return Vec::new() };
    let section = shop.core_section();
    let tall = between("ledger", &foot.origin, &top.origin);
    let ledger = Piece::stick(Kind::Ledger, inside.length.clone(), tall)
        .of("roof ledger")
        .times(2)
        .note("square, inside front and back: the roof's box comes down over it");
    let lower = if lid.low[0].length <= lid.low[1].length { &lid.low[0] } else { &lid.low[1] };
    let flat = |kind, length: &Sized<Compressed>, height: &Sized<Compressed>, note: &str| {
        let mut piece = Piece::sheet(kind, length.clone(), height.clone()).of(&section).note(note);
        piece.covers = no_area();
        piece
    };
    let bevel = "under the roof, its top bevelled to the sheet";
    vec![
        ledger,
        flat(Kind::BoxSide, &lid.side, &lid.high[0], bevel),
        flat(Kind::BoxSide, &lid.side, &lid.high[1], bevel),
        flat(Kind::BoxEnd, &lid.end, lower, "under the roof, level").times(2),
    ]
}

#[cfg(test)]
mod tests {
    use super::fewest;

    /// Trade: gaps of 2 in at most; 468.75 between blocks at 1:48 leave four
    /// uprights of 12 with gaps of 84.15 (worked by hand).
    #[test]
    fn as_few_uprights_as_leave_no_gap_over_two_inches() {
        assert_eq!(fewest(468.75, 12.0, 96.0), 4);
        assert_eq!(fewest(90.0, 12.0, 96.0), 0);
    }
}
