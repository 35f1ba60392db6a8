//! Brick: a sheet of courses for each wall.

use super::Shop;
use super::part::{Kind, Origin, Piece, no_area};
use super::wall::Wall;
use super::zone::Zone;
use crate::finding::{Finding, Subject};
use crate::quantity::CompressedLength;
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
    let mut covers = wall.area((Full::ZERO, wall.width), (zone.from, zone.to));
    for hole in &wall.holes {
        let tall = (hole.head().min(zone.to) - hole.foot.max(zone.from)).max(Full::ZERO);
        covers -= hole.width * tall;
    }
    if covers.in_square_inches() <= no_area().in_square_inches() {
        return Vec::new();
    }
    let mut piece = Piece::sheet(Kind::Brick, wall.width, height)
        .of(format!("{} sheet", zone.cladding.name))
        .from(vec![
            Origin::Cladding(zone.cladding.name.clone()),
            Origin::Body("length"),
            Origin::Rule("courses = height over the course, to the nearest whole".into()),
        ])
        .note(format!("{count} courses; wrap it round the corner, do not butt it"))
        .level_at(Full::ZERO, zone.from);
    piece.covers = covers;
    vec![piece]
}
