//! Vertical boards, cut round openings, and the battens over their joints.

use std::sync::Arc;

use super::Shop;
use super::courses::{BoardRow, boards};
use super::part::{Kind, Piece};
use super::skin::{Skin, across, as_built, between, said};
use super::trim::Bands;
use super::zone::Zone;
use crate::building::origin::Work;
use crate::building::{Origin, Outline, Why};
use crate::elevation::Hole;
use crate::quantity::slack::{NEAR, NOTHING, TOUCH};
use crate::quantity::{Angle, Compressed, CompressedLength, ModelLength};
use crate::sums::rows::{SLACK, nearest_whole};

type Full = CompressedLength;
type Upright = (Full, Full);

/// Battens shorter than this on the model are left out (trade: 1/16 in).
const DROPPED: f64 = 1.0 / 16.0;

/// Less than this at full size is no board, square inches.
const NO_BOARD: f64 = 0.01;

/// A row of boards on a layer: their edges, and what one takes with its gap.
pub(super) struct Row {
    pub(super) row: BoardRow<Compressed>,
    pitch: Arc<Origin>,
    width: Arc<Origin>,
}

/// Boards of a zone and their joints: laid from the left corner of the face,
/// what covers an edge narrows the first or the last.
pub(super) fn lay(skin: &Skin<'_>, zone: &Zone<'_>, unit: Full, gap: Full) -> Row {
    let cladding = zone.cladding;
    let mut row = boards(skin.wall.width, unit + gap, cladding.remainder);
    let (left, right) = (skin.left, skin.right);
    row.edges.retain(|edge| *edge > left && *edge < right);
    row.edges.insert(0, left);
    row.edges.push(right);
    // A joint at the edge of what stands there is that edge.
    for edge in &mut row.edges {
        let near = |it: &&(Full, Full)| it.0.agrees(*edge, Full::inches(NEAR));
        if let Some((corner, _)) = skin.wall.foot.iter().find(near) {
            *edge = *corner;
        }
    }
    let unit =
        said("board", unit, cladding.unit.as_ref(), "1 ft boards, common practice, no source");
    let gap = said("gap", gap, cladding.gap.as_ref(), "no gap");
    let pitch =
        Origin::rule("board and gap", "one after the other", &[&unit.origin, &gap.origin], |of| {
            of[0] + of[1]
        });
    Row { row, pitch, width: Arc::clone(&skin.wall.why.width) }
}

impl Row {
    /// Why a joint lies where it does: so many boards from the left corner, as
    /// they are, shared out over the wall, or with two end boards alike.
    pub(super) fn joint_why(&self, at: Full) -> Arc<Origin> {
        let (at_, pitch, width) =
            (at.in_inches(), self.pitch.value.max(NOTHING), self.width.value.max(NOTHING));
        let shared = width / nearest_whole(width / pitch).max(1.0);
        let first = (width - pitch * ((width / pitch + SLACK).floor() - 1.0)) / 2.0;
        let ways: [(&'static str, f64, Work); 3] = [
            ("so many boards from the left corner", at_ / pitch, |of| of[0] * of[2]),
            ("so many boards that share out the wall", at_ / shared, |of| {
                of[1] / nearest_whole(of[1] / of[0]).max(1.0) * of[2]
            }),
            ("so many boards behind an end board", (at_ - first) / pitch + 1.0, |of| {
                let whole = (of[1] / of[0] + SLACK).floor();
                (of[1] - of[0] * (whole - 1.0)) / 2.0 + of[0] * (of[2] - 1.0)
            }),
        ];
        let by = |(rule, count, work): (&'static str, f64, Work)| {
            let why = Why::Default("counted from the left corner");
            let number = Origin::plain("boards to there", count.round(), why);
            Origin::rule("joint", rule, &[&self.pitch, &self.width, &number], work)
        };
        let found = ways.into_iter().map(by).find(|it| (it.value - at_).abs() < TOUCH);
        found.unwrap_or_else(|| as_built("joint", at))
    }
}

/// The boards of a zone.
pub(super) fn board_pieces(skin: &Skin<'_>, zone: &Zone<'_>, row: &Row) -> Vec<Piece> {
    let wall = &skin.cut;
    let mut pieces = Vec::new();
    for edges in row.row.edges.windows(2) {
        let (left, right) = (edges[0], edges[1]);
        let top = wall.highest(left, right).min(zone.to);
        let foot = wall.lowest(left, right).max(zone.from);
        if top <= foot {
            continue;
        }
        let (left, right) = wall.seen_below((left, right), top);
        // Where a roof meets the wall's top nothing is left to cut.
        if wall.area((left, right), (foot, top)).in_square_inches() < NO_BOARD {
            continue;
        }
        for (low, high) in clear(&wall.holes, |hole| covers(hole, left, right), (foot, top)) {
            pieces.push(board(skin, zone, row, (left, right), (low, high)));
        }
    }
    pieces
}

/// One board between two heights, notched round what it meets.
fn board(
    skin: &Skin<'_>,
    zone: &Zone<'_>,
    row: &Row,
    (left, right): (Full, Full),
    (low, high): Upright,
) -> Piece {
    let wall = &skin.cut;
    let mut covers = wall.area((left, right), (low, high));
    let mut notches = 0;
    for hole in &wall.holes {
        let wide = hole.right().min(right) - hole.left.max(left);
        let tall = hole.head().min(high) - hole.foot.max(low);
        if wide > Full::ZERO && tall > Full::ZERO {
            covers -= wide * tall;
            notches += 1;
        }
    }
    let why = |x: Full| skin.at_why(x, || row.joint_why(x));
    let (from, to) = (why(left), why(right));
    let foot =
        |y| skin.height_why(y, &from, || skin.height_why(y, &to, || behind_why(skin, y, zone)));
    let crest = if wall.top_at(left) >= wall.top_at(right) { &from } else { &to };
    let head = skin.height_why(high, crest, || {
        zone.why.1.clone().unwrap_or_else(|| as_built("top of the board", high))
    });
    let piece_length = between("length of the board", &foot(low), &head);
    let mut piece =
        Piece::stick(Kind::Board, piece_length, across("width of the board", &from, &to))
            .of(format!("{} board", zone.cladding.name))
            .at(left, low);
    piece.covers = covers;
    if notches > 0 {
        piece.note = "notched round an opening".to_owned();
    }
    // A notched board may come apart where a window is wider than what is
    // left of it; it is still cut from one stick, and marked as one.
    if notches > 0 || !wall.is_level((left, right), (low, high)) {
        let shapes = wall.shapes((left, right), (low, high), &wall.holes);
        let size = |shape: &Outline<Compressed>| shape.square_inches();
        let sound = shapes.len() == 1 || notches == 0;
        let largest = shapes.iter().max_by(|a, b| size(a).total_cmp(&size(b)));
        if let Some(shape) = largest.filter(|_| sound) {
            piece = piece.shaped(shape);
        }
    }
    let slope = wall.top_at(right).min(high) - wall.top_at(left).min(high);
    if slope.abs() > Full::inches(0.01) {
        piece.ends = Some(Angle::radians((slope / (right - left)).abs().atan()));
        piece.note = "top cut to the rake".to_owned();
    }
    piece
}

/// Why a board or batten begins above the foot: the zone, or a roof that abuts.
fn behind_why(skin: &Skin<'_>, y: Full, zone: &Zone<'_>) -> Arc<Origin> {
    if y.agrees(zone.from, Full::inches(TOUCH)) {
        return Arc::clone(&zone.why.0);
    }
    let met = |why: &Arc<Origin>| (why.value - y.in_inches()).abs() < TOUCH;
    if let Some(why) = skin.wall.behind.iter().map(|it| &it.why[0]).find(|why| met(why)) {
        return Arc::clone(why);
    }
    as_built("where a roof meets the wall", y)
}

/// Whether an opening takes the whole width between two edges.
fn covers(hole: &Hole<Compressed>, left: Full, right: Full) -> Option<Upright> {
    let slack = Full::inches(0.01);
    let whole = hole.left <= left + slack && hole.right() >= right - slack;
    whole.then(|| (hole.foot, hole.head()))
}

/// Battens over the joints of a board row.
///
/// They stop at the water table, the frieze, a ledger and casings, and on the
/// sheet of a roof that abuts. A batten is cut where its body overlaps a
/// casing; one that falls behind a corner board is none.
pub(super) fn batten_pieces(
    shop: &mut Shop<'_>,
    skin: &Skin<'_>,
    zone: &Zone<'_>,
    row: &Row,
    bands: &Bands,
) -> Vec<Piece> {
    let cladding = zone.cladding;
    let batten = shop.size(cladding.batten.as_ref(), Full::inches(3.0));
    let width = said(
        "batten",
        batten,
        cladding.batten.as_ref(),
        "3 in battens, common practice, no source",
    );
    let dropped: Full = shop.scale.enlarge(ModelLength::inches(DROPPED));
    let wall = &skin.wall;
    let mut pieces = Vec::new();
    let edges = &row.row.edges;
    let joints = edges.get(1..edges.len().saturating_sub(1)).unwrap_or_default();
    for &joint in joints.iter().filter(|joint| !bands.covers(**joint, batten)) {
        let own: &Shop<'_> = shop;
        let cut = |hole: &Hole<Compressed>| {
            let reach = casing(own, hole) + batten / 2.0;
            let slack = Full::inches(TOUCH);
            let within = joint > hole.left - reach + slack && joint < hole.right() + reach - slack;
            within.then(|| (hole.foot - sill_trim(own, hole), hole.head() + casing(own, hole)))
        };
        let (from, to) = bands.clear_at(wall, joint, (zone.from, zone.to));
        let mut blocked: Vec<Upright> = wall.holes.iter().filter_map(cut).collect();
        blocked.extend(bands.stops_at(joint));
        for (low, high) in open((from, to), blocked) {
            if high - low < dropped {
                continue;
            }
            let x = row.joint_why(joint);
            shop.splices.push((joint, Arc::clone(&x)));
            let length = between(
                "length of the batten",
                &bands.why(shop, skin, &x, low, false, zone),
                &bands.why(shop, skin, &x, high, true, zone),
            );
            let mut piece = Piece::stick(Kind::Batten, length, width.clone())
                .of(format!("{} batten", cladding.name))
                .at(joint - batten / 2.0, low);
            piece.ends = bands.rake(wall, joint, high);
            pieces.push(piece);
        }
    }
    pieces
}

/// Width of the trim round an opening: its casing, or the flange of its
/// casting.
pub(super) fn casing(shop: &Shop<'_>, hole: &Hole<Compressed>) -> Full {
    hole.trim.max(shop.flange(hole))
}

/// Trim under an opening: a door that stands on the foot has none.
pub(super) fn sill_trim(shop: &Shop<'_>, hole: &Hole<Compressed>) -> Full {
    if hole.foot > Full::inches(0.01) { casing(shop, hole) } else { Full::ZERO }
}

/// What is left of an upright when the blocked stretches are taken out.
pub(super) fn open((from, to): Upright, mut blocked: Vec<Upright>) -> Vec<Upright> {
    blocked.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut left = Vec::new();
    let mut at = from;
    for (low, high) in blocked {
        if low.min(to) > at {
            left.push((at, low.min(to)));
        }
        at = at.max(high);
    }
    if to > at {
        left.push((at, to));
    }
    left
}

fn clear(
    holes: &[Hole<Compressed>],
    blocks: impl Fn(&Hole<Compressed>) -> Option<Upright>,
    span: Upright,
) -> Vec<Upright> {
    open(span, holes.iter().filter_map(blocks).collect())
}
