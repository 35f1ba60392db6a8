//! The building as built -> parts, each traceable to the readings.
//!
//! | file | what it takes off |
//! |---|---|
//! | `wall`, `zone` | the walls, and what each cladding covers of them |
//! | `courses` | rows of equal pieces: the rules on plain numbers |
//! | `boards` | vertical boards and battens |
//! | `clapboard`, `iron`, `brick` | the other claddings |
//! | `trim` | casings, sills, corner boards, friezes |
//! | `core` | core walls by their corner joint, floor, splices, castings |
//! | `roof` | planes, shingles, sheets, fascia, rafters |
//! | `frame` | members with their end angles, decks and stairs |
//! | `checks` | what a carpenter would notice |
//! | `why` | the chain from a part back to the readings |

mod boards;
mod brick;
mod checks;
mod clapboard;
pub mod core;
pub mod courses;
pub mod frame;
mod iron;
mod part;
pub mod roof;
mod trim;
mod wall;
mod why;
mod zone;

pub use part::{Form, Kind, Origin, Part, Place};
pub use wall::{Stand, Wall, walls};
pub use why::{Step, why};

use crate::catalog::Catalog;
use crate::compress::Built;
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::building::CladdingKind;
use crate::job::said::Size;
use crate::quantity::{Area, Compressed, CompressedLength, ModelLength, Scale};
use crate::stock::Choices;
use crate::survey::Survey;
use part::{Piece, number};

/// The parts of the building.
#[derive(Clone, Debug, Default)]
pub struct Takeoff {
    /// The parts: walls first, then roof, frame and decks.
    pub parts: Vec<Part>,
    /// Wall by wall, what was covered.
    pub cover: Vec<Cover>,
}

impl Takeoff {
    /// The part of a label.
    #[must_use]
    pub fn part(&self, label: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.label == label)
    }

    /// The parts of a face and kind.
    pub fn of<'a>(&'a self, face: &'a str, kind: Kind) -> impl Iterator<Item = &'a Part> {
        self.parts.iter().filter(move |part| part.face == face && part.kind == kind)
    }
}

/// Area of a wall, held against the cladding taken off for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Cover {
    /// The wall.
    pub wall: String,
    /// Its area less its openings, at full size.
    pub wanted: Area<Compressed>,
    /// What its cladding covers.
    pub covered: Area<Compressed>,
}

/// What the take-off works with.
pub(crate) struct Shop<'a> {
    pub(crate) job: &'a Job,
    pub(crate) catalog: &'a Catalog,
    pub(crate) survey: &'a Survey,
    pub(crate) built: &'a Built,
    pub(crate) stock: &'a Choices,
    pub(crate) scale: &'a Scale,
    pub(crate) findings: Vec<Finding>,
}

impl Shop<'_> {
    /// A size of the job at full size, or another where it is absent or not
    /// known; the survey has told the latter already.
    pub(crate) fn size(
        &self,
        size: Option<&Size>,
        otherwise: CompressedLength,
    ) -> CompressedLength {
        size.and_then(|size| self.survey.size(size).ok())
            .map_or(otherwise, |found| CompressedLength::kept(found.value))
    }

    /// The longest stick, at full size.
    pub(crate) fn stick(&self) -> CompressedLength {
        let cutting = &self.job.cutting;
        let said = |said: &Option<crate::job::said::Said<crate::quantity::Model>>, inches| {
            said.as_ref().map_or(ModelLength::inches(inches), |said| said.length())
        };
        self.scale.enlarge(said(&cutting.stick, 24.0) - said(&cutting.trim, 0.0))
    }

    /// Level runs are made of equal lengths that come out of a stick.
    pub(crate) fn split(&self, length: CompressedLength) -> (u32, CompressedLength) {
        courses::spaced(length, self.stick())
    }
}

/// Takes off the whole building.
///
/// Never stops: what cannot be taken off is a finding.
#[must_use]
pub fn run(
    job: &Job,
    catalog: &Catalog,
    survey: &Survey,
    built: &Built,
    stock: &Choices,
    scale: &Scale,
) -> Outcome<Takeoff> {
    let mut shop = Shop { job, catalog, survey, built, stock, scale, findings: Vec::new() };
    let walls = walls(job, built);
    let mut out = Takeoff::default();
    for wall in &walls {
        let (pieces, covered) = clad(&mut shop, wall);
        let mut pieces = pieces;
        let full_battens = full_battens(&pieces, wall);
        pieces.extend(trim::pieces(&shop, wall));
        pieces.extend(core::wall_pieces(&mut shop, wall, &full_battens));
        out.cover.extend(covered);
        out.parts.extend(number(&wall.name, pieces, scale));
        checks::wall(&mut shop, wall);
    }
    for (face, pieces) in [
        ("body", core::body_pieces(&mut shop, &walls)),
        ("roof", roof::pieces(&mut shop)),
        ("frame", frame::member_pieces(&shop)),
        ("deck", frame::deck_pieces(&shop)),
    ] {
        out.parts.extend(number(face, pieces, scale));
    }
    plain_walls(&mut shop, &walls);
    checks::parts(&mut shop, &out.parts);
    Outcome { value: out, findings: shop.findings }
}

/// The cladding of a wall, and how much of the wall it covers.
fn clad(shop: &mut Shop<'_>, wall: &Wall) -> (Vec<Piece>, Option<Cover>) {
    let mut pieces: Vec<Piece> = Vec::new();
    let zones = zone::zones(shop, wall);
    let mut wanted = part::no_area();
    for zone in &zones {
        let taken = match zone.cladding.kind {
            CladdingKind::BoardAndBatten | CladdingKind::Boards => boarded(shop, wall, zone),
            CladdingKind::Clapboard => clapboard::pieces(shop, wall, zone),
            CladdingKind::Corrugated => iron::pieces(shop, wall, zone),
            CladdingKind::Brick => brick::pieces(shop, wall, zone),
            // On a wall shingles are courses like any other.
            CladdingKind::Shingle => clapboard::pieces(shop, wall, zone),
        };
        wanted += net_area(wall, zone);
        pieces.extend(taken);
    }
    let each = |piece: &Piece| piece.covers * f64::from(piece.count);
    let covered = pieces.iter().map(each).fold(part::no_area(), |sum, area| sum + area);
    let cover = (!zones.is_empty()).then(|| Cover { wall: wall.name.clone(), wanted, covered });
    (pieces, cover)
}

/// Area of a zone less its openings.
fn net_area(wall: &Wall, zone: &zone::Zone<'_>) -> Area<Compressed> {
    let zero = CompressedLength::ZERO;
    let mut area = wall.area((zero, wall.width), (zone.from, zone.to));
    for hole in &wall.holes {
        let tall = (hole.head().min(zone.to) - hole.foot.max(zone.from)).max(zero);
        area -= hole.width * tall;
    }
    area
}

fn boarded(shop: &Shop<'_>, wall: &Wall, zone: &zone::Zone<'_>) -> Vec<Piece> {
    let foot = CompressedLength::inches(12.0);
    let unit = shop.size(zone.cladding.unit.as_ref(), foot);
    let gap = shop.size(zone.cladding.gap.as_ref(), CompressedLength::ZERO);
    let row = boards::lay(wall, zone, unit, gap);
    let mut pieces = boards::board_pieces(wall, zone, &row);
    if zone.cladding.kind == CladdingKind::BoardAndBatten {
        let batten = shop.size(zone.cladding.batten.as_ref(), CompressedLength::inches(3.0));
        pieces.extend(boards::batten_pieces(wall, zone, &row, batten));
    }
    pieces
}

/// Centres of the battens that run the whole height: where a wall may be
/// spliced.
fn full_battens(pieces: &[Piece], wall: &Wall) -> Vec<CompressedLength> {
    let slack = CompressedLength::inches(0.1);
    let battens = pieces.iter().filter(|piece| piece.kind == Kind::Batten);
    battens
        .filter_map(|piece| {
            let place = piece.place?;
            let centre = place.left + place.wide / 2.0;
            (place.high >= wall.top_at(centre) - slack).then_some(centre)
        })
        .collect()
}

fn plain_walls(shop: &mut Shop<'_>, walls: &[Wall]) {
    let plain: Vec<&str> =
        walls.iter().filter(|wall| !wall.described).map(|wall| wall.title.as_str()).collect();
    if !plain.is_empty() {
        shop.findings.push(Finding::note(
            Subject::Job,
            format!(
                "not described, and taken as plain wall clad as the front: {}",
                plain.join(", ").to_lowercase()
            ),
        ));
    }
}

#[cfg(test)]
mod tests;
