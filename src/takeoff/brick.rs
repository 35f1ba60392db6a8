//! Brick: a sheet of courses for each wall.

use super::Shop;
use super::part::{Kind, Piece};
use super::skin::{Skin, across, as_built, between};
use super::zone::Zone;
use crate::building::Outline;
use crate::finding::{Finding, Subject};
use crate::quantity::slack::TOUCH;
use crate::quantity::{Compressed, CompressedLength};
use crate::stock::redistribute;

type Full = CompressedLength;

/// The brick of a zone. Courses go by the coursing rule, not by adding brick
/// and joint: three modular courses are 8 in.
pub(super) fn pieces(shop: &mut Shop<'_>, skin: &Skin<'_>, zone: &Zone<'_>) -> Vec<Piece> {
    let wall = &skin.wall;
    let course = shop.size(zone.cladding.unit.as_ref(), Full::inches(8.0 / 3.0));
    let height = zone.to - zone.from;
    let (count, each) = redistribute(height, course);
    if (each / course - 1.0).abs() > 0.02 {
        shop.findings.push(Finding::look(
            Subject::Member(zone.cladding.name.clone()),
            format!("{count} courses on {} come out {:.3} in", wall.name, each.in_inches()),
            "set the height to whole courses",
        ));
    }
    let shapes = skin.cut.shapes((skin.left, skin.right), (zone.from, zone.to), &skin.cut.holes);
    let half = shop.size(zone.cladding.length.as_ref(), Full::inches(8.0)) / 2.0;
    shapes.iter().map(|shape| sheet(skin, zone, (count, half), shape)).collect()
}

/// One sheet of courses, its openings cut out.
fn sheet(
    skin: &Skin<'_>,
    zone: &Zone<'_>,
    (count, half): (u32, Full),
    shape: &Outline<Compressed>,
) -> Piece {
    let (low, high) = shape.bounds();
    let at = |x| skin.at_why(x, || as_built("edge of the sheet", x));
    let (from, to) = (at(low.x), at(high.x));
    let up = |y: Full| {
        skin.height_why(y, &from, || {
            skin.height_why(y, &to, || {
                let near = y.agrees(zone.from, Full::inches(TOUCH));
                let end = if near { Some(zone.why.0.clone()) } else { zone.why.1.clone() };
                end.unwrap_or_else(|| as_built("edge of the sheet", y))
            })
        })
    };
    let upright = between("height of the sheet", &up(low.y), &up(high.y));
    let mut piece = Piece::sheet(Kind::Brick, across("length of the sheet", &from, &to), upright)
        .of(format!("{} sheet", zone.cladding.name))
        .note(format!(
            "{count} courses, {:.1} half bricks long; wrap it round the corner, do not butt it",
            (high.x - low.x) / half
        ))
        .level_at(low.x, low.y);
    piece.covers = Full::inches(shape.square_inches()) * Full::inches(1.0);
    piece.shaped(shape)
}
