//! Trim: casings, sills, corner boards, frieze, water table.

use super::Shop;
use super::part::{Kind, Origin, Piece};
use super::wall::{Stand, Wall};
use crate::elevation::Hole;
use crate::quantity::{Angle, Compressed, CompressedLength};

type Full = CompressedLength;

/// The trim of a wall.
pub(super) fn pieces(shop: &Shop<'_>, wall: &Wall) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = wall.holes.iter().flat_map(|hole| casing(shop, hole)).collect();
    let trim = &shop.job.trim;
    if let Some(width) = &trim.corner {
        let width = shop.size(Some(width), Full::ZERO);
        pieces.extend(corners(shop, wall, width));
    }
    if let Some(width) = &trim.frieze {
        let width = shop.size(Some(width), Full::ZERO);
        let eave = wall.top_at(Full::ZERO).min(wall.top_at(wall.width));
        let stretches = [(Full::ZERO, wall.width)];
        pieces.extend(level(shop, (Kind::Frieze, "frieze"), width, &stretches, eave - width));
    }
    if let Some(width) = &trim.water_table {
        let width = shop.size(Some(width), Full::ZERO);
        let stretches = between_doors(wall);
        pieces.extend(level(
            shop,
            (Kind::WaterTable, "water table"),
            width,
            &stretches,
            Full::ZERO,
        ));
    }
    pieces
}

/// Casing of one opening: legs of height and head width, a head of width and
/// two casings, both mitred; a sill with its horns where the opening does not
/// stand on the foot.
fn casing(shop: &Shop<'_>, hole: &Hole<Compressed>) -> Vec<Piece> {
    if hole.trim <= Full::ZERO {
        return Vec::new();
    }
    let key = format!("{} casing", hole.kind);
    let from = || {
        vec![
            Origin::Opening(hole.kind.clone()),
            Origin::Rule(
                "mitred casings are cut to the long point: opening and one or two widths".into(),
            ),
        ]
    };
    let mitre = Angle::degrees(45.0);
    let leg = |left| {
        Piece::stick(Kind::Casing, hole.height + hole.trim, hole.trim)
            .of(&key)
            .from(from())
            .ends(mitre)
            .note("leg, mitred at its head")
            .at(left, hole.foot)
    };
    let head = Piece::stick(Kind::Casing, hole.width + hole.trim * 2.0, hole.trim)
        .of(&key)
        .from(from())
        .ends(mitre)
        .note("head, mitred at both ends")
        .level_at(hole.left - hole.trim, hole.head());
    let mut pieces = vec![leg(hole.left - hole.trim), leg(hole.right()), head];
    if hole.foot > Full::inches(0.01) {
        let horn = shop.size(shop.job.trim.horn.as_ref(), Full::ZERO);
        let length = hole.width + hole.trim * 2.0 + horn * 2.0;
        pieces.push(
            Piece::stick(Kind::Sill, length, hole.trim)
                .of(&key)
                .from(from())
                .level_at(hole.left - hole.trim - horn, hole.foot - hole.trim),
        );
    }
    pieces
}

/// Two boards a corner: on the long walls the full width, on the ends less the
/// thickness of the other, so that both look alike.
fn corners(shop: &Shop<'_>, wall: &Wall, width: Full) -> Vec<Piece> {
    let thickness = shop.size(shop.job.trim.thickness.as_ref(), Full::inches(1.0));
    let end = matches!(wall.stand, Stand::LeftEnd | Stand::RightEnd);
    let seen = if end { width - thickness } else { width };
    let at = |left: Full, height: Full| {
        Piece::stick(Kind::CornerBoard, height, seen)
            .of("corner board")
            .from(vec![
                Origin::Body("eave"),
                Origin::Rule(
                    "the narrower board of a corner loses the thickness of the wider".into(),
                ),
            ])
            .at(left, Full::ZERO)
    };
    vec![at(Full::ZERO, wall.top_at(Full::ZERO)), at(wall.width - seen, wall.top_at(wall.width))]
}

fn between_doors(wall: &Wall) -> Vec<(Full, Full)> {
    let standing = |hole: &&Hole<Compressed>| hole.foot <= Full::inches(0.01);
    let mut doors: Vec<(Full, Full)> = wall
        .holes
        .iter()
        .filter(standing)
        .map(|hole| (hole.left - hole.trim, hole.right() + hole.trim))
        .collect();
    doors.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut open = Vec::new();
    let mut at = Full::ZERO;
    for (from, to) in doors.into_iter().chain([(wall.width, wall.width)]) {
        if from > at {
            open.push((at, from));
        }
        at = at.max(to);
    }
    open
}

fn level(
    shop: &Shop<'_>,
    (kind, section): (Kind, &str),
    width: Full,
    stretches: &[(Full, Full)],
    foot: Full,
) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for (from, to) in stretches {
        let (count, length) = shop.split(section, *to - *from);
        for piece in 0..count {
            pieces.push(
                Piece::stick(kind, length, width)
                    .of(section)
                    .from(vec![Origin::Body("length")])
                    .level_at(*from + length * f64::from(piece), foot),
            );
        }
    }
    pieces
}
