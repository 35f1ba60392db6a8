//! The building -> parts, each traceable to the readings.
//!
//! | file | what it takes off |
//! |---|---|
//! | `skin`, `zone` | a layer of a wall, and what each cladding covers of it |
//! | `courses` | rows of equal pieces: the rules on plain numbers |
//! | `boards` | vertical boards and battens |
//! | `scribed` | the same boards scribed on sheet |
//! | `clapboard`, `iron`, `brick` | the other claddings |
//! | `trim` | casings, sills, corner boards, friezes; what battens stop at |
//! | `core` | core walls with joints and splices, floor, castings |
//! | `stiff` | uprights, blocks, corner posts, the box of a roof that lifts off |
//! | `roof`, `covering` | planes, their bevels, what lies on them, fascia, rafters |
//! | `frame` | members with their end cuts, decks, stairs, doors, what stands on the ground |
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
mod level;
mod part;
pub mod roof;
mod scribed;
mod skin;
mod stiff;
mod trim;
mod why;
mod zone;

pub use assembly::Square;
pub use core::Joint;
pub use part::{Form, Kind, Part, Place, Runs};
pub use roof::RoofPlane;
pub use scribed::Engraved;
pub use why::{Step, why};

use std::sync::Arc;

use crate::building::{Body, Building, Inside, Layer, Origin, Role, Sized, Why, no_area};
pub use crate::building::{Outline, Point, Wall};
use crate::catalog::Catalog;
use crate::elevation::{Built, Hole};
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::body as said;
use crate::job::body::Side;
use crate::job::building::{Casting, CladdingKind, Opening};
use crate::job::carpentry::Trim;
use crate::job::said::{Said, Size};
use crate::quantity::{Area, Compressed, CompressedLength, Model, ModelLength, Scale};
use crate::stock::Choices;
use crate::survey::Survey;
use part::{Piece, number};
use skin::Skin;

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
    /// Level joints of sheets.
    pub joints: Vec<Joint>,
    /// Engraved sheets with their lines and splices.
    pub engraved: Vec<Engraved>,
    /// Courses up each slope.
    pub courses: Vec<Courses>,
}

/// Courses up a slope.
#[derive(Clone, Debug, PartialEq)]
pub struct Courses {
    /// The roof: `main/roof`.
    pub roof: String,
    /// Over which side it falls.
    pub over: Side,
    /// How many show.
    pub count: u32,
    /// What each shows.
    pub exposure: CompressedLength,
    /// What the last one shows.
    pub last: CompressedLength,
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
    pub(crate) building: &'a Building,
    pub(crate) catalog: &'a Catalog,
    pub(crate) survey: &'a Survey,
    pub(crate) built: &'a Built,
    pub(crate) stock: &'a Choices,
    pub(crate) scale: &'a Scale,
    pub(crate) findings: Vec<Finding>,
    pub(crate) runs: Vec<Run>,
    pub(crate) joints: Vec<Joint>,
    pub(crate) engraved: Vec<Engraved>,
    /// Where a wall may be spliced: its battens, with why they are there.
    pub(crate) splices: Vec<(CompressedLength, Arc<Origin>)>,
    pub(crate) courses: Vec<Courses>,
}

impl<'a> Shop<'a> {
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

    /// A fit of the data on the model, or its usual figure in thou.
    pub(crate) fn fit(&self, key: &str, otherwise: f64) -> ModelLength {
        let row = self.catalog.fits.get(key);
        row.map_or(ModelLength::thou(otherwise), |row| row.take.length())
    }

    /// The trim of a body: its own sizes, those of the job where it says none.
    fn trim_of(&self, body: &str) -> Trim {
        self.job.trim_of(body)
    }

    /// How far the flange of an opening's casting stands out beyond it.
    fn flange(&self, hole: &Hole<Compressed>) -> CompressedLength {
        let opening = self.job.openings.iter().find(|opening| opening.name == hole.kind);
        let Some(Casting::Measured(frame)) = opening.and_then(|it| it.casting.as_ref()) else {
            return CompressedLength::ZERO;
        };
        let Some(flange) = &frame.flange else { return CompressedLength::ZERO };
        let half = frame.frame[0].length() / 2.0 + flange.length();
        let half: CompressedLength = self.scale.enlarge(half);
        (half - hole.width / 2.0).max(CompressedLength::ZERO)
    }

    /// Thickness of the trim boards of a body at full size.
    fn trim_thickness(&self, body: &str) -> Sized<Compressed> {
        let trim = self.trim_of(body);
        if let Some(said) = &trim.thick {
            let why = Why::Stated(said.text().to_owned());
            let thick = Origin::plain("thickness of trim", said.length().in_inches(), why);
            return Sized::<Model>::of(thick).enlarged(self.scale);
        }
        let inch = CompressedLength::inches(1.0);
        let full = self.size(trim.thickness.as_ref(), inch);
        skin::said(
            "thickness of trim",
            full,
            trim.thickness.as_ref(),
            "1 in, common practice, no source",
        )
    }

    /// The key of the sheet that strips inside and floors are cut from: the
    /// first layer, else an engraved sheet that is the wall alone.
    fn core_section(&self) -> String {
        let layers = self.job.layers.iter().map(|layer| layer.name.clone());
        let engraved = self.job.claddings.iter().filter(|cladding| cladding.scribed);
        let engraved = engraved.map(|cladding| format!("{} sheet", cladding.name));
        layers.chain(engraved).next().unwrap_or_else(|| "core".to_owned())
    }

    /// The key of the sheet of a body's roof.
    fn roof_section(&self, body: &Body) -> String {
        let named =
            self.said(body).and_then(|said| said.roof.as_ref()).and_then(|roof| roof.sheet.clone());
        named.unwrap_or_else(|| self.core_section())
    }

    /// What the job says of a body.
    fn said(&self, body: &Body) -> Option<&'a said::Body> {
        self.job.bodies.get(body.index)
    }

    /// The length of the main body, with its reason.
    fn main_length(&self) -> Arc<Origin> {
        let main = self.building.bodies.first();
        main.map_or_else(skin::foot, |body| Arc::clone(&body.length.origin))
    }

    /// One of so many equal lengths.
    fn shared(&self, whole: &Sized<Compressed>, count: u32) -> Sized<Compressed> {
        if count <= 1 {
            return whole.clone();
        }
        let number = Origin::plain(
            "lengths",
            f64::from(count),
            Why::Default("as few as come out of a stick"),
        );
        let rule = "equal lengths that come out of a stick";
        Sized::rule(whole.origin.what.clone(), rule, &[&whole.origin, &number], |of| of[0] / of[1])
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
    (built, building): (&Built, &Building),
    stock: &Choices,
    scale: &Scale,
) -> Outcome<Takeoff> {
    let mut shop = Shop {
        job,
        building,
        catalog,
        survey,
        built,
        stock,
        scale,
        findings: Vec::new(),
        runs: Vec::new(),
        joints: Vec::new(),
        engraved: Vec::new(),
        splices: Vec::new(),
        courses: Vec::new(),
    };
    let mut out = Takeoff::default();
    let mut framed = frame::all(&mut shop);
    for body in &building.bodies {
        let own = framed.remove(&body.name).unwrap_or_default();
        out.add(&mut shop, body, own);
    }
    for (name, pieces) in framed {
        out.parts.extend(number(&name, pieces, scale));
    }
    out.walls.clone_from(&building.walls);
    assembly::seat(&mut shop);
    checks::rows(&mut shop);
    out.runs = std::mem::take(&mut shop.runs);
    out.joints = std::mem::take(&mut shop.joints);
    out.engraved = std::mem::take(&mut shop.engraved);
    out.courses = std::mem::take(&mut shop.courses);
    checks::parts(&mut shop, &out.parts);
    Outcome { value: out, findings: shop.findings }
}

impl Takeoff {
    /// The parts of one body: its walls, what is inside with its frame, its roof.
    fn add(&mut self, shop: &mut Shop<'_>, body: &Body, framed: Vec<Piece>) {
        let building = shop.building;
        let inside = building.insides.iter().find(|it| it.body == body.name);
        let walls: Vec<&Wall> = building.walls_of(&body.name).collect();
        for wall in &walls {
            let pieces = self.wall(shop, body, inside, wall);
            self.parts.extend(number(&wall.name, pieces, shop.scale));
            checks::wall(shop, wall);
        }
        let mut within = core::body_pieces(shop, body, inside, &walls);
        within.extend(framed);
        self.parts.extend(number(&body.name, within, shop.scale));
        let roof = roof::pieces(shop, body);
        self.parts.extend(number(&format!("{}/roof", body.name), roof, shop.scale));
        self.planes.extend(roof::whole(shop, body));
        self.boxes.extend(assembly::square(shop, body, inside));
        plain_walls(shop, &walls);
    }

    /// The parts of a wall, layer by layer from outside in, and its trim.
    fn wall(
        &mut self,
        shop: &mut Shop<'_>,
        body: &Body,
        inside: Option<&Inside>,
        wall: &Wall,
    ) -> Vec<Piece> {
        let bands = trim::Bands::of(shop, wall);
        let mut pieces = Vec::new();
        let mut battens = Vec::new();
        shop.splices.clear();
        for layer in &wall.layers {
            if layer.claddings.is_empty() {
                pieces.extend(core::sheet_pieces(shop, body, inside, wall, layer, &battens));
                continue;
            }
            let (clad, cover) = clad(shop, (body, inside), wall, layer, &bands);
            battens.extend(full_battens(&clad, wall));
            self.cover.extend(cover);
            pieces.extend(clad);
        }
        pieces.extend(trim::pieces(shop, wall, &bands));
        pieces.extend(frame::leaf_pieces(shop, wall));
        pieces
    }
}

/// The cladding of a wall, and how much of the wall it covers.
fn clad(
    shop: &mut Shop<'_>,
    within: (&Body, Option<&Inside>),
    wall: &Wall,
    layer: &Layer,
    bands: &trim::Bands,
) -> (Vec<Piece>, Option<Cover>) {
    let skin = Skin::of(wall, layer, shop.scale);
    let mut pieces: Vec<Piece> = Vec::new();
    let zones = zone::zones(shop, &skin);
    let mut wanted = no_area();
    for zone in &zones {
        let taken = match zone.cladding.kind {
            CladdingKind::BoardAndBatten | CladdingKind::Boards => {
                boarded(shop, within, &skin, zone, bands)
            }
            CladdingKind::Clapboard => clapboard::pieces(shop, &skin, zone),
            CladdingKind::Corrugated => iron::pieces(shop, &skin, zone),
            CladdingKind::Brick => brick::pieces(shop, &skin, zone),
            // On a wall shingles are courses like any other.
            CladdingKind::Shingle => clapboard::pieces(shop, &skin, zone),
        };
        wanted += net_area(&skin, zone);
        pieces.extend(taken);
    }
    let each = |piece: &Piece| piece.covers * f64::from(piece.count);
    let covered = pieces.iter().map(each).fold(no_area(), |sum, area| sum + area);
    let cover = (!zones.is_empty()).then(|| Cover { wall: wall.name.clone(), wanted, covered });
    (pieces, cover)
}

/// Area of a zone out to the edges of its layer, less its openings.
fn net_area(skin: &Skin<'_>, zone: &zone::Zone<'_>) -> Area<Compressed> {
    let zero = CompressedLength::ZERO;
    let mut area = skin.wall.area((skin.left, skin.right), (zone.from, zone.to));
    for hole in &skin.cut.holes {
        let tall = (hole.head().min(zone.to) - hole.foot.max(zone.from)).max(zero);
        area -= hole.width * tall;
    }
    area
}

fn boarded(
    shop: &mut Shop<'_>,
    within: (&Body, Option<&Inside>),
    skin: &Skin<'_>,
    zone: &zone::Zone<'_>,
    bands: &trim::Bands,
) -> Vec<Piece> {
    let foot = CompressedLength::inches(12.0);
    let name = &zone.cladding.name;
    let unit = shop.size(zone.cladding.unit.as_ref(), foot);
    let gap = shop.size(zone.cladding.gap.as_ref(), CompressedLength::ZERO);
    let row = boards::lay(skin, zone, unit, gap);
    shop.runs.push(Run {
        section: format!("{name} board"),
        face: skin.wall.name.clone(),
        count: u32::try_from(row.row.edges.len().saturating_sub(1)).unwrap_or(u32::MAX),
        length: skin.wall.width,
        nominal: unit + gap,
        used: row.row.pitch,
        by_width: true,
    });
    let mut pieces = if zone.cladding.scribed {
        let (mut pieces, engraved) = scribed::pieces(shop, skin, zone, unit + gap);
        if skin.layer.role == Role::Single {
            pieces.extend(core::behind_engraved(shop, within, skin, &engraved));
        }
        shop.engraved.push(engraved);
        pieces
    } else {
        boards::board_pieces(skin, zone, &row)
    };
    if zone.cladding.kind == CladdingKind::BoardAndBatten {
        pieces.extend(boards::batten_pieces(shop, skin, zone, &row, bands));
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
            let whole = place.foot + place.high >= wall.top_at(centre) - slack
                || place.high >= wall.eave() * 0.7;
            whole.then_some(centre)
        })
        .collect()
}

fn plain_walls(shop: &mut Shop<'_>, walls: &[&Wall]) {
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
