//! What lies on a roof: shingles in courses, corrugated sheet.

use super::courses::{boards, slope_courses, tiers};
use super::mass::Mass;
use super::part::{Kind, Origin, Piece};
use super::roof::Planes;
use super::{Run, Shop, iron};
use crate::finding::{Finding, Subject};
use crate::job::building::{Cladding, CladdingKind, Remainder};
use crate::quantity::CompressedLength;

type Full = CompressedLength;

/// The covering of planes alike.
pub(super) fn pieces(shop: &mut Shop<'_>, mass: &Mass, planes: Planes) -> Vec<Piece> {
    let job = shop.job;
    let named = mass.roof_cladding.as_ref();
    let cladding =
        named.and_then(|name| job.claddings.iter().find(|cladding| &cladding.name == name));
    let Some(cladding) = cladding else { return Vec::new() };
    match cladding.kind {
        CladdingKind::Shingle | CladdingKind::Clapboard => shingles(shop, mass, cladding, planes),
        CladdingKind::Corrugated => sheets(shop, cladding, planes),
        CladdingKind::Boards | CladdingKind::BoardAndBatten | CladdingKind::Brick => {
            shop.findings.push(Finding::look(
                Subject::Member(cladding.name.clone()),
                format!("{} on the roof is not taken off", cladding.name),
                "roofs take shingles or corrugated sheet",
            ));
            Vec::new()
        }
    }
}

fn origins(cladding: &Cladding) -> Vec<Origin> {
    vec![Origin::Cladding(cladding.name.clone()), Origin::Body("depth")]
}

/// Courses and one starter a slope. The last course is whole.
fn shingles(shop: &mut Shop<'_>, mass: &Mass, cladding: &Cladding, planes: Planes) -> Vec<Piece> {
    let nominal = shop.size(cladding.exposure.as_ref(), Full::inches(5.0));
    let (courses, exposure) = slope_courses(planes.slope, nominal);
    let section = format!("{} strip", cladding.name);
    shop.runs.push(Run {
        section: section.clone(),
        face: mass.group("roof"),
        count: courses,
        length: planes.slope,
        nominal,
        used: exposure,
        by_width: false,
    });
    let (pieces, length) = shop.split(&section, (planes.long + planes.short) / 2.0);
    let strip = |covers: bool, note: String| {
        let mut piece = Piece::stick(Kind::Shingle, length, exposure)
            .of(format!("{} strip", cladding.name))
            .from(origins(cladding))
            .note(note);
        if covers {
            piece.covers = length * exposure;
        }
        piece
    };
    let shown = format!("{courses} courses a slope, {:.4} in each", exposure.in_inches());
    vec![
        strip(true, shown).times(planes.count * courses * pieces),
        strip(false, "starter: doubled at the eave".to_owned()).times(planes.count * pieces),
    ]
}

fn sheets(shop: &Shop<'_>, cladding: &Cladding, planes: Planes) -> Vec<Piece> {
    let (cover, length, lap) = iron::sheet(shop, cladding);
    let row = boards(planes.long, cover, Remainder::Leave);
    let count = tiers((planes.slope - lap).max(Full::inches(1.0)), length, lap);
    let mut pieces = Vec::new();
    for edges in row.edges.windows(2) {
        for tier in 0..count {
            let foot = (length - lap) * f64::from(tier);
            let last = tier + 1 == count;
            let shown = if last { planes.slope - foot } else { length - lap };
            let over = if last { Full::ZERO } else { lap };
            let mut piece = Piece::sheet(Kind::Iron, shown + over, edges[1] - edges[0])
                .of(format!("{} sheet", cladding.name))
                .from(origins(cladding))
                .times(planes.count);
            piece.covers = shown * (edges[1] - edges[0]);
            pieces.push(piece);
        }
    }
    pieces
}
