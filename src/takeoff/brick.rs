//! Brick: a sheet of courses for each wall.

use super::Shop;
use super::outline::Outline;
use super::part::{Kind, Origin, Piece};
use super::wall::Wall;
use super::zone::Zone;
use crate::finding::{Finding, Subject};
use crate::quantity::{Compressed, CompressedLength};
use crate::stock::redistribute;

type Full = CompressedLength;

/// The brick of a zone. Courses go by the coursing rule, not by adding brick
/// and joint: three modular courses are 8 in.
pub(super) fn pieces(shop: &mut Shop<'_>, wall: &Wall, zone: &Zone<'_>) -> Vec<Piece> {
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
    let shapes = wall.shapes((Full::ZERO, wall.width), (zone.from, zone.to), &wall.holes);
    let half = shop.size(zone.cladding.length.as_ref(), Full::inches(8.0)) / 2.0;
    shapes.iter().map(|shape| sheet(zone, (count, half), shape)).collect()
}

/// One sheet of courses, its openings cut out.
fn sheet(zone: &Zone<'_>, (count, half): (u32, Full), shape: &Outline<Compressed>) -> Piece {
    let (low, high) = shape.bounds();
    let mut piece = Piece::sheet(Kind::Brick, high.x - low.x, high.y - low.y)
        .of(format!("{} sheet", zone.cladding.name))
        .from(vec![
            Origin::Cladding(zone.cladding.name.clone()),
            Origin::Body("length"),
            Origin::Rule("courses = height over the course, to the nearest whole".into()),
        ])
        .note(format!(
            "{count} courses, {:.1} half bricks long; wrap it round the corner, do not butt it",
            (high.x - low.x) / half
        ))
        .level_at(low.x, low.y);
    piece.covers = Full::inches(shape.square_inches()) * Full::inches(1.0);
    piece.shaped(shape)
}
