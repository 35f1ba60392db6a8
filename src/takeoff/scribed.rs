//! Vertical boards scribed on sheet, joined where two boards meet.

use super::Shop;
use super::courses::BoardRow;
use super::part::{Kind, Origin, Piece};
use super::wall::Wall;
use super::zone::Zone;
use crate::finding::{Finding, Subject};
use crate::quantity::{Compressed, CompressedLength, ModelLength};

type Full = CompressedLength;

/// Longest wall whose scribed sheet stays flat without bracing (trade: 4 in).
const FLAT_INCHES: f64 = 4.0;

/// The sheets of a zone: as many whole boards side by side as the sheet is
/// wide across its grain, which runs up with the boards.
pub(super) fn pieces(
    shop: &mut Shop<'_>,
    wall: &Wall,
    zone: &Zone<'_>,
    row: &BoardRow<Compressed>,
) -> Vec<Piece> {
    let name = &zone.cladding.name;
    let section = format!("{name} sheet");
    let taken = shop.stock.of(&section).and_then(|choice| choice.taken());
    let across = taken.and_then(|made| made.sheet).unwrap_or(ModelLength::inches(4.0));
    let most: Full = shop.scale.enlarge(across);
    let mut pieces = Vec::new();
    for (left, right) in stretches(&row.edges, most) {
        for shape in wall.shapes((left, right), (zone.from, zone.to), &wall.holes) {
            let (low, high) = shape.bounds();
            let mut piece = Piece::sheet(Kind::Scribed, high.y - low.y, high.x - low.x)
                .of(&section)
                .from(vec![
                    Origin::Cladding(name.clone()),
                    Origin::Body("eave"),
                    Origin::Rule("joined where two boards meet; openings are cut out of it".into()),
                ])
                .note(format!("scribe every {}", pitch(shop, row)))
                .at(low.x, low.y)
                .shaped(&shape);
            piece.covers = Full::inches(shape.square_inches()) * Full::inches(1.0);
            pieces.push(piece);
        }
    }
    grain_across(shop, wall, name);
    pieces
}

fn pitch(shop: &Shop<'_>, row: &BoardRow<Compressed>) -> String {
    shop.job.about.model_notation().show(&shop.scale.reduce(row.pitch))
}

/// Whole boards together, none wider than the sheet.
fn stretches(edges: &[Full], most: Full) -> Vec<(Full, Full)> {
    let mut out = Vec::new();
    let mut left = edges.first().copied().unwrap_or(Full::ZERO);
    for pair in edges.windows(2) {
        if pair[1] - left > most && pair[0] > left {
            out.push((left, pair[0]));
            left = pair[0];
        }
    }
    out.extend(edges.last().filter(|right| **right > left).map(|right| (left, *right)));
    out
}

/// A long wall of sheet whose grain runs up bends along its length.
fn grain_across(shop: &mut Shop<'_>, wall: &Wall, name: &str) {
    let long: ModelLength = shop.scale.reduce(wall.width);
    let core = shop.job.core_thick().is_some();
    if long <= ModelLength::inches(FLAT_INCHES) || core {
        return;
    }
    shop.findings.push(Finding::look(
        Subject::Member(name.to_owned()),
        format!(
            "the grain of the scribed sheet runs across {}, {:.1} in long",
            wall.name,
            long.in_inches()
        ),
        "glue it to a core with its grain along the wall, and seal both faces first",
    ));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_part_where_boards_meet() {
        let edges: Vec<Full> = [0.0, 12.0, 24.0, 36.0, 42.0].map(Full::inches).to_vec();
        let ends: Vec<f64> = stretches(&edges, Full::inches(30.0))
            .iter()
            .map(|(_, to)| to.in_inches().round())
            .collect();
        assert_eq!(ends, [24.0, 42.0]);
    }
}
