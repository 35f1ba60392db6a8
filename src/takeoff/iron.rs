//! Corrugated sheet on walls.

use super::Shop;
use super::courses::{boards, tiers};
use super::part::{Kind, Origin, Piece, no_area};
use super::wall::Wall;
use super::zone::Zone;
use crate::finding::{Finding, Subject};
use crate::job::building::Remainder;
use crate::quantity::CompressedLength;

type Full = CompressedLength;

/// Cover, length and end lap of a corrugated cladding. Sheets of 24 in cover
/// and 10 ft with 6 in of end lap where the job does not say.
pub(super) fn sheet(
    shop: &Shop<'_>,
    cladding: &crate::job::building::Cladding,
) -> (Full, Full, Full) {
    let cover = shop.size(cladding.unit.as_ref(), Full::inches(24.0));
    let length = shop.size(cladding.length.as_ref(), Full::feet(10.0));
    let lap = shop.size(cladding.lap.as_ref(), Full::inches(6.0));
    (cover, length, lap.min(length / 2.0))
}

/// The sheets of a zone: columns of the cover, tiers with their end lap, cut
/// where an opening takes the whole width.
pub(super) fn pieces(shop: &mut Shop<'_>, wall: &Wall, zone: &Zone<'_>) -> Vec<Piece> {
    let (cover, length, lap) = sheet(shop, zone.cladding);
    odd_sheet(shop, wall, cover);
    let row = boards(wall.width, cover, Remainder::Leave);
    let mut pieces = Vec::new();
    for edges in row.edges.windows(2) {
        let (left, right) = (edges[0], edges[1]);
        let top = wall.highest(left, right).min(zone.to);
        for (low, high) in open(wall, (left, right), (zone.from, top)) {
            let count = tiers((high - low - lap).max(Full::inches(1.0)), length, lap);
            for tier in 0..count {
                let foot = low + (length - lap) * f64::from(tier);
                let last = tier + 1 == count;
                let head = if last { high } else { low + (length - lap) * f64::from(tier + 1) };
                let over = if last { Full::ZERO } else { lap };
                pieces.push(piece(wall, zone, (left, right), (foot, head), over));
            }
        }
    }
    pieces
}

fn open(wall: &Wall, (left, right): (Full, Full), (from, to): (Full, Full)) -> Vec<(Full, Full)> {
    let slack = Full::inches(0.01);
    let mut blocked: Vec<(Full, Full)> = wall
        .holes
        .iter()
        .filter(|hole| hole.left <= left + slack && hole.right() >= right - slack)
        .map(|hole| (hole.foot, hole.head()))
        .collect();
    blocked.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut open = Vec::new();
    let mut at = from;
    for (low, high) in blocked.into_iter().chain([(to, to)]) {
        if low.min(to) > at {
            open.push((at, low.min(to)));
        }
        at = at.max(high);
    }
    open
}

fn piece(
    wall: &Wall,
    zone: &Zone<'_>,
    (left, right): (Full, Full),
    (foot, head): (Full, Full),
    lap: Full,
) -> Piece {
    let name = &zone.cladding.name;
    let mut covers = wall.area((left, right), (foot, head));
    let mut notched = no_area();
    for hole in &wall.holes {
        let wide = (hole.right().min(right) - hole.left.max(left)).max(Full::ZERO);
        let tall = (hole.head().min(head) - hole.foot.max(foot)).max(Full::ZERO);
        notched += wide * tall;
    }
    covers -= notched;
    let mut piece = Piece::sheet(Kind::Iron, head - foot + lap, right - left)
        .of(format!("{name} sheet"))
        .from(vec![
            Origin::Cladding(name.clone()),
            Origin::Body("eave"),
            Origin::Rule("sheets stand side by side, tiers lap at their ends".into()),
        ])
        .at(left, foot);
    piece.covers = covers;
    if notched.in_square_inches() > 0.01 {
        piece.note = "cut round an opening".to_owned();
    }
    if notched.in_square_inches() > 0.01 || !wall.is_level((left, right), (foot, head + lap)) {
        let shapes = wall.shapes((left, right), (foot, head + lap), &wall.holes);
        if let [only] = shapes.as_slice() {
            piece = piece.shaped(only);
        }
    }
    let rake = (wall.top_at(left).min(head) - wall.top_at(right).min(head)).abs();
    if rake > Full::inches(0.01) {
        piece.note = "top cut to the rake".to_owned();
    }
    piece
}

/// The front should be whole sheets.
fn odd_sheet(shop: &mut Shop<'_>, wall: &Wall, cover: Full) {
    let sheets = wall.width / cover;
    let rest = (sheets - sheets.round()).abs();
    if rest < 0.02 || !wall.described {
        return;
    }
    let whole = |count: f64| shop.job.about.full_notation().show(&(cover * count));
    let (less, more) = (whole(sheets.floor()), whole(sheets.ceil()));
    shop.findings.push(Finding::look(
        Subject::Element(wall.name.clone()),
        format!("{} is {sheets:.1} sheets long", wall.title),
        format!("trim its length to {less} or {more}, or cut one sheet at a corner"),
    ));
}
