//! The building as built -> parts, each traceable to the readings.
//!
//! | file | what it takes off |
//! |---|---|
//! | `mass` | the boxes of a building: its body and what is attached |
//! | `wall`, `zone` | the walls, and what each cladding covers of them |
//! | `courses` | rows of equal pieces: the rules on plain numbers |
//! | `boards` | vertical boards and battens |
//! | `scribed` | the same boards scribed on sheet |
//! | `clapboard`, `iron`, `brick` | the other claddings |
//! | `trim` | casings, sills, corner boards, friezes |
//! | `outline` | the shape of a flat part, with its openings |
//! | `core` | core walls by their corner joint, floor, splices, castings |
//! | `roof`, `covering` | planes, their bevels, what lies on them, fascia, rafters |
//! | `frame` | members with their end angles, decks and stairs |
//! | `assembly` | diagonals of each box, the height it stands at |
//! | `checks` | what a carpenter would notice |
//! | `why` | the chain from a part back to the readings |

pub mod assembly;
mod boards;
mod brick;
mod checks;
mod clapboard;
pub mod core;
pub mod courses;
mod covering;
pub mod frame;
mod iron;
mod mass;
pub mod outline;
mod part;
pub mod roof;
mod scribed;
mod trim;
mod wall;
mod why;
mod zone;

pub use assembly::Square;
pub use outline::{Outline, Point};
pub use part::{Form, Kind, Origin, Part, Place, Runs};
pub use roof::RoofPlane;
pub use wall::{Stand, Wall};
pub use why::{Step, why};

use crate::catalog::Catalog;
use crate::elevation::Built;
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::building::{Casting, CladdingKind, Opening};
use crate::job::said::{Said, Size};
use crate::quantity::{Area, Compressed, CompressedLength, Model, ModelLength, Scale};
use crate::stock::Choices;
use crate::survey::Survey;
use mass::Mass;
use part::{Piece, number};

/// The parts of the building.
#[derive(Clone, Debug, Default)]
pub struct Takeoff {
    /// The parts: walls first, then roof, frame and decks.
    pub parts: Vec<Part>,
    /// Wall by wall, what was covered.
    pub cover: Vec<Cover>,
    /// The walls that were taken off: those of the body, then of what is
    /// attached.
    pub walls: Vec<Wall>,
    /// The planes of the roofs, strips and all.
    pub planes: Vec<RoofPlane>,
    /// The rows of pieces alike.
    pub runs: Vec<Run>,
    /// Box by box, what its diagonals must be.
    pub boxes: Vec<Square>,
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

/// Pieces alike in a row: boards, courses, planks.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The key of their section in the stock.
    pub section: String,
    /// Where they are.
    pub face: String,
    /// How many.
    pub count: u32,
    /// What they fill.
    pub length: CompressedLength,
    /// What one is meant to take of it.
    pub nominal: CompressedLength,
    /// What one takes.
    pub used: CompressedLength,
    /// Whether the width of the stock sets the pitch: boards side by side do,
    /// courses that lap go by marks.
    pub by_width: bool,
}

/// A casting, from the bench or the rack.
#[derive(Clone, Debug, PartialEq)]
pub struct Bought {
    /// What it is called in lists.
    pub name: String,
    /// Width and height of its frame behind the flange.
    pub frame: (ModelLength, ModelLength),
}

/// The casting of an opening: as measured, or the one on the rack; nothing
/// where it has none, or the rack does not know it.
#[must_use]
pub fn casting(opening: &Opening, catalog: &Catalog) -> Option<Bought> {
    match opening.casting.as_ref()? {
        Casting::Measured(frame) => Some(Bought {
            name: format!("{} casting", opening.name),
            frame: (frame.frame[0].length(), frame.frame[1].length()),
        }),
        Casting::Named(name) => {
            let own = catalog.rack.casting(name)?;
            let frame = (own.width.length(), own.length.length());
            Some(Bought { name: own.name.clone(), frame })
        }
    }
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
    pub(crate) runs: Vec<Run>,
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

    /// The longest stick of a section, at full size.
    pub(crate) fn stick(&self, section: &str) -> CompressedLength {
        let cutting = &self.job.cutting;
        let usable = match self.stock.of(section) {
            Some(choice) => choice.lengths(cutting).1,
            None => {
                let length = |said: &Option<Said<Model>>, inches| {
                    said.as_ref().map_or(ModelLength::inches(inches), Said::length)
                };
                length(&cutting.stick, 24.0) - length(&cutting.trim, 0.0)
            }
        };
        self.scale.enlarge(usable)
    }

    /// Level runs are made of equal lengths that come out of a stick.
    pub(crate) fn split(&self, section: &str, length: CompressedLength) -> (u32, CompressedLength) {
        courses::spaced(length, self.stick(section))
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
    let mut shop =
        Shop { job, catalog, survey, built, stock, scale, findings: Vec::new(), runs: Vec::new() };
    let mut out = Takeoff::default();
    for mass in &mass::masses(&mut shop) {
        out.add(&mut shop, mass);
    }
    for (face, pieces) in
        [("frame", frame::member_pieces(&mut shop)), ("deck", frame::deck_pieces(&mut shop))]
    {
        out.parts.extend(number(face, pieces, scale));
    }
    assembly::seat(&mut shop);
    checks::rows(&mut shop);
    out.runs = std::mem::take(&mut shop.runs);
    checks::parts(&mut shop, &out.parts);
    Outcome { value: out, findings: shop.findings }
}

impl Takeoff {
    /// The parts of one box: its walls, floor and roof.
    fn add(&mut self, shop: &mut Shop<'_>, mass: &Mass) {
        for wall in &mass.walls {
            let (mut pieces, covered) = clad(shop, wall);
            let full_battens = full_battens(&pieces, wall);
            pieces.extend(trim::pieces(shop, wall));
            pieces.extend(core::wall_pieces(shop, mass, wall, &full_battens));
            self.cover.extend(covered);
            self.parts.extend(number(&wall.name, pieces, shop.scale));
            checks::wall(shop, wall);
        }
        let body = core::body_pieces(shop, mass);
        self.parts.extend(number(&mass.name, body, shop.scale));
        let roof = roof::pieces(shop, mass);
        self.parts.extend(number(&mass.group("roof"), roof, shop.scale));
        self.planes.extend(roof::whole(shop, mass));
        self.walls.extend(mass.walls.iter().cloned());
        self.boxes.extend(assembly::square(shop, mass));
        plain_walls(shop, &mass.walls);
    }
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

fn boarded(shop: &mut Shop<'_>, wall: &Wall, zone: &zone::Zone<'_>) -> Vec<Piece> {
    let foot = CompressedLength::inches(12.0);
    let name = &zone.cladding.name;
    let unit = shop.size(zone.cladding.unit.as_ref(), foot);
    let gap = shop.size(zone.cladding.gap.as_ref(), CompressedLength::ZERO);
    let row = boards::lay(wall, zone, unit, gap);
    shop.runs.push(Run {
        section: format!("{name} board"),
        face: wall.name.clone(),
        count: u32::try_from(row.edges.len().saturating_sub(1)).unwrap_or(u32::MAX),
        length: wall.width,
        nominal: unit + gap,
        used: row.pitch,
        by_width: true,
    });
    let mut pieces = if zone.cladding.scribed {
        scribed::pieces(shop, wall, zone, &row)
    } else {
        boards::board_pieces(wall, zone, &row)
    };
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
