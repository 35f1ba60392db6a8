//! Vertical boards, cut round openings, and the battens over their joints.

use super::courses::{BoardRow, boards};
use super::part::{Kind, Origin, Piece};
use super::wall::Wall;
use super::zone::Zone;
use crate::elevation::Hole;
use crate::quantity::{Angle, Compressed, CompressedLength};

type Full = CompressedLength;
type Upright = (Full, Full);

/// Pieces shorter than this are dropped.
const DROPPED_INCHES: f64 = 2.0;

/// Boards of a wall zone and their joints.
pub(super) fn lay(wall: &Wall, zone: &Zone<'_>, unit: Full, gap: Full) -> BoardRow<Compressed> {
    boards(wall.width, unit + gap, zone.cladding.remainder)
}

/// The boards of a zone.
pub(super) fn board_pieces(wall: &Wall, zone: &Zone<'_>, row: &BoardRow<Compressed>) -> Vec<Piece> {
    let name = &zone.cladding.name;
    let mut pieces = Vec::new();
    for edges in row.edges.windows(2) {
        let (left, right) = (edges[0], edges[1]);
        let top = wall.highest(left, right).min(zone.to);
        if top <= zone.from {
            continue;
        }
        for (low, high) in clear(&wall.holes, |hole| covers(hole, left, right), (zone.from, top)) {
            pieces.push(board(wall, (left, right), (low, high), name));
        }
    }
    pieces
}

/// One board between two heights, notched round what it meets.
fn board(wall: &Wall, (left, right): (Full, Full), (low, high): Upright, name: &str) -> Piece {
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
    let mut piece = Piece::stick(Kind::Board, high - low, right - left)
        .of(format!("{name} board"))
        .from(vec![
            Origin::Cladding(name.to_owned()),
            Origin::Body("eave"),
            Origin::Rule("a board runs from the foot to the top of its cladding, less openings that cover it".into()),
        ])
        .at(left, low);
    piece.covers = covers;
    if notches > 0 {
        piece.note = "notched round an opening".to_owned();
    }
    // A notched board may come apart where a window is wider than what is
    // left of it; it is still cut from one stick, and marked as one.
    if notches > 0 || !wall.is_level((left, right), (low, high)) {
        let shapes = wall.shapes((left, right), (low, high), &wall.holes);
        if let [only] = shapes.as_slice() {
            piece = piece.shaped(only);
        }
    }
    let slope = wall.top_at(right).min(high) - wall.top_at(left).min(high);
    if slope.abs() > Full::inches(0.01) {
        piece.ends = Some(Angle::radians((slope / (right - left)).abs().atan()));
        piece.note = "top cut to the rake".to_owned();
    }
    piece
}

/// Whether an opening takes the whole width between two edges.
fn covers(hole: &Hole<Compressed>, left: Full, right: Full) -> Option<Upright> {
    let slack = Full::inches(0.01);
    let whole = hole.left <= left + slack && hole.right() >= right - slack;
    whole.then(|| (hole.foot, hole.head()))
}

/// Battens over the joints of a board row.
///
/// A batten whose centre falls within an opening widened by its trim and half
/// a batten is cut: what is left below the trim of the sill and above the trim
/// of the head.
pub(super) fn batten_pieces(
    wall: &Wall,
    zone: &Zone<'_>,
    row: &BoardRow<Compressed>,
    batten: Full,
) -> Vec<Piece> {
    let name = &zone.cladding.name;
    let mut pieces = Vec::new();
    let joints = row.edges.get(1..row.edges.len().saturating_sub(1)).unwrap_or_default();
    for &joint in joints {
        let top = wall.top_at(joint).min(zone.to);
        let cut = |hole: &Hole<Compressed>| {
            let reach = hole.trim + batten / 2.0;
            let slack = Full::inches(1e-6);
            let within = joint > hole.left - reach + slack && joint < hole.right() + reach - slack;
            within.then(|| (hole.foot - sill_trim(hole), hole.head() + hole.trim))
        };
        for (low, high) in clear(&wall.holes, cut, (zone.from, top)) {
            if high - low < Full::inches(DROPPED_INCHES) {
                continue;
            }
            let length = high - low;
            pieces.push(
                Piece::stick(Kind::Batten, length, batten)
                    .of(format!("{name} batten"))
                    .from(origins(wall, name, length))
                    .at(joint - batten / 2.0, low),
            );
        }
    }
    pieces
}

fn origins(wall: &Wall, name: &str, length: Full) -> Vec<Origin> {
    let mut from = vec![Origin::Cladding(name.to_owned()), Origin::Body("eave")];
    if length < wall.height() - Full::inches(0.01) {
        from.push(Origin::Rule(
            "cut where its centre meets an opening, its trim or half a batten beside it".into(),
        ));
        let kinds: std::collections::BTreeSet<&str> =
            wall.holes.iter().map(|hole| hole.kind.as_str()).collect();
        from.extend(kinds.into_iter().map(|kind| Origin::Opening(kind.to_owned())));
    }
    from
}

/// Trim under an opening: a door that stands on the foot has none.
fn sill_trim(hole: &Hole<Compressed>) -> Full {
    if hole.foot > Full::inches(0.01) { hole.trim } else { Full::ZERO }
}

/// What is left of an upright when the blocked stretches are taken out.
fn clear(
    holes: &[Hole<Compressed>],
    blocks: impl Fn(&Hole<Compressed>) -> Option<Upright>,
    (from, to): Upright,
) -> Vec<Upright> {
    let mut blocked: Vec<Upright> = holes.iter().filter_map(blocks).collect();
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
