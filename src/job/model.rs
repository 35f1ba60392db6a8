//! The job file as types. Every table of the file is a struct here or in a
//! file beside this one; unknown keys are refused.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::body::{Body, FaceId, Roof, Side};
use super::building::{BoughtPart, Cladding, Cutting, Member, Opening, PickedStock};
use super::carpentry::{Base, Deck, Install, Terrace, Trim};
use super::form::{Equation, Form};
use super::lamps::Lamps;
use super::mock_up::Measured;
use super::paper::OnPaper;
use super::photo::{Photo, PhotoAsk};
use super::place::{Choice, Look, Space};
use super::rack::{CutPieces, Offcut};
use super::said::Said;
use super::site::Site;
use super::track::{Obstacle, Track};
use super::wall::{Corner, Layer, Wall, Walls};
use crate::catalog::cars::Car;
use crate::quantity::{Denominator, Model, Notation, Prototype, Unit};

/// Everything the person wrote about one building.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Job {
    /// What the job is, and how it is to be shown.
    #[serde(rename = "job")]
    pub about: About,
    /// Where the evidence comes from.
    #[serde(default, rename = "source")]
    pub sources: Vec<Source>,
    /// The named dimensions of the prototype.
    #[serde(default, rename = "dimension")]
    pub dimensions: Vec<Dimension>,
    /// Exact ties between dimensions.
    #[serde(default, rename = "tie")]
    pub ties: Vec<Tie>,
    /// The readings.
    #[serde(default, rename = "reading")]
    pub readings: Vec<Reading>,
    /// Photographs with their marks.
    #[serde(default, rename = "photo")]
    pub photos: Vec<Photo>,
    /// The bodies of the building, the main one first.
    #[serde(default, rename = "body")]
    pub bodies: Vec<Body>,
    /// Kinds of door and window.
    #[serde(default, rename = "opening")]
    pub openings: Vec<Opening>,
    /// What the walls are covered with.
    #[serde(default, rename = "cladding")]
    pub claddings: Vec<Cladding>,
    /// The sheets that walls and roofs are made of.
    #[serde(default, rename = "layer")]
    pub layers: Vec<Layer>,
    /// What walls have that say nothing.
    #[serde(default, rename = "walls")]
    pub usual: Walls,
    /// The walls, each a row of elements.
    #[serde(default, rename = "wall")]
    pub walls: Vec<Wall>,
    /// Corners that are not as their body says.
    #[serde(default, rename = "corner")]
    pub corners: Vec<Corner>,
    /// Posts, beams, rafters and other timbers.
    #[serde(default, rename = "member")]
    pub members: Vec<Member>,
    /// The place the model is to stand in.
    pub space: Option<Space>,
    /// The ground it is to stand on.
    pub site: Option<Site>,
    /// What counts in the look of the building.
    #[serde(default)]
    pub look: Look,
    /// The alternative chosen, with its reason.
    pub choice: Option<Choice>,
    /// Sticks, sheets and kerf.
    #[serde(default)]
    pub cutting: Cutting,
    /// Trim boards.
    #[serde(default)]
    pub trim: Trim,
    /// Platforms, docks and wharves.
    #[serde(default, rename = "deck")]
    pub decks: Vec<Deck>,
    /// Parts that are bought and stand on the building.
    #[serde(default, rename = "bought")]
    pub bought: Vec<BoughtPart>,
    /// Retaining walls.
    #[serde(default, rename = "terrace")]
    pub terraces: Vec<Terrace>,
    /// The plate that all of it stands on.
    pub base: Option<Base>,
    /// The track beside it.
    pub track: Option<Track>,
    /// Cars of the person's own, full size.
    #[serde(default, rename = "car")]
    pub cars: Vec<Car>,
    /// What else stands near the track.
    #[serde(default, rename = "obstacle")]
    pub obstacles: Vec<Obstacle>,
    /// Lamps inside it.
    pub lamps: Option<Lamps>,
    /// How the model is set down.
    #[serde(default)]
    pub install: Install,
    /// Materials in the order they are liked: for `all`, for a cladding or
    /// member by its name, or for one section of it.
    #[serde(default)]
    pub materials: BTreeMap<String, Vec<String>>,
    /// Stock picked by hand.
    #[serde(default, rename = "stock")]
    pub picked: Vec<PickedStock>,
    /// Paper, the print check, card and laser.
    #[serde(default)]
    pub paper: OnPaper,
    /// Sizes measured on the mock-up or the finished model.
    #[serde(default)]
    pub measured: Vec<Measured>,
    /// Offcuts on hand.
    #[serde(default, rename = "offcut")]
    pub offcuts: Vec<Offcut>,
    /// Pieces that are cut already.
    #[serde(default)]
    pub cut: Vec<CutPieces>,
    /// Parts that are ticked, by label.
    #[serde(default)]
    pub done: BTreeMap<String, Done>,
}

impl Job {
    /// The body that is shortened.
    #[must_use]
    pub fn main(&self) -> Option<&Body> {
        self.bodies.first()
    }

    /// Its roof.
    #[must_use]
    pub fn main_roof(&self) -> Option<&Roof> {
        self.main().and_then(|body| body.roof.as_ref())
    }

    /// The face whose row gives the length.
    #[must_use]
    pub fn front(&self) -> Option<FaceId> {
        self.main().map(|body| FaceId::new(&body.name, Side::Front))
    }

    /// What is said of a wall.
    #[must_use]
    pub fn wall(&self, id: &FaceId) -> Option<&Wall> {
        self.walls.iter().find(|wall| wall.of == *id)
    }

    /// The body of a name.
    #[must_use]
    pub fn body(&self, name: &str) -> Option<&Body> {
        self.bodies.iter().find(|body| body.name == name)
    }

    /// The trim of a body: its own sizes, those of `[trim]` where it says none.
    #[must_use]
    pub fn trim_of(&self, body: &str) -> Trim {
        let own = self.body(body).and_then(|body| body.trim_sizes.as_ref());
        own.map_or_else(|| self.trim.clone(), |own| own.or(&self.trim))
    }

    /// The photograph and the length of it that are a reading of that id.
    #[must_use]
    pub fn photo_reading(&self, id: &str) -> Option<(&Photo, &PhotoAsk)> {
        self.photos.iter().find_map(|photo| {
            let (_, ask) = photo.readings().find(|(known, _)| known == id)?;
            Some((photo, ask))
        })
    }
}

/// How far a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Done {
    /// Cut to size.
    Cut,
    /// Coloured.
    Stained,
    /// On the model.
    Fitted,
}

/// What the job is.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct About {
    /// The building's name.
    pub name: String,
    /// One line: what must survive.
    #[serde(default)]
    pub intent: String,
    /// Scale by name or ratio; see `data/scales.toml`.
    pub scale: String,
    /// Other scales to compare it at, up to three; the usual ones when empty.
    #[serde(default)]
    pub compare: Vec<String>,
    /// The year shown.
    pub year: Option<i32>,
    /// Lumber era, a key of `data/lumber.toml`; by the year when absent.
    pub lumber: Option<String>,
    /// A rack of the person's own, as a table of commas beside the job.
    pub rack: Option<String>,
    /// The notation used in tables.
    #[serde(default)]
    pub units: Units,
    /// Finest fraction of an inch shown: 2, 4, 8, 16, 32 or 64.
    #[serde(default = "sixteenths")]
    pub fraction: u32,
    /// What the hand can cut to, on the model; 5 thou when absent.
    pub hand: Option<Said<Model>>,
    /// From where the model is seen; 24 in when absent.
    pub seen_from: Option<Said<Model>>,
    /// How often a network of good readings may lose one to the search for
    /// blunders; one in a hundred when absent.
    pub rejection_level: Option<f64>,
    /// What a surveyor's last figure counts: 4 for quarters, 16 for sixteenths.
    pub surveyor: Option<u32>,
    /// Free notes.
    #[serde(default)]
    pub notes: String,
}

fn sixteenths() -> u32 {
    16
}

impl About {
    /// How full-size lengths are written for this person.
    #[must_use]
    pub fn full_notation(&self) -> Notation {
        match self.units {
            Units::FeetInches => Notation::FeetInches(
                Denominator::new(self.fraction).unwrap_or(Denominator::SIXTEENTHS),
            ),
            Units::Metric => Notation::Decimal(Unit::Metre, 3),
        }
    }

    /// How model lengths are written for this person.
    #[must_use]
    pub fn model_notation(&self) -> Notation {
        match self.units {
            Units::FeetInches => Notation::Decimal(Unit::Inch, 3),
            Units::Metric => Notation::HUNDREDTHS,
        }
    }
}

/// The notation the person reads.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// Feet, inches and fractions; thou on the model.
    #[default]
    FeetInches,
    /// Metres and millimetres; hundredths of a millimetre on the model.
    Metric,
}

/// A field book, photograph, map or record.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Source {
    /// Short name used by readings.
    pub id: String,
    /// `field book`, `photograph`, `map`, `record`, or another word.
    pub kind: String,
    /// What it is.
    pub title: String,
    /// When it was made, as far as known.
    #[serde(default)]
    pub date: String,
    /// The year whose building it shows.
    pub year: Option<i32>,
    /// How good it is, in words.
    #[serde(default)]
    pub quality: String,
    /// The owner's terms.
    #[serde(default)]
    pub terms: String,
}

/// A named dimension of the prototype: an unknown of the survey.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Dimension {
    /// Name used in forms: letters, digits and underscores.
    pub name: String,
    /// What it is, in words.
    #[serde(default)]
    pub what: String,
    /// The round figure the person adopted.
    pub adopt: Option<Said<Prototype>>,
    /// Why that figure.
    #[serde(default)]
    pub reason: String,
    /// Module it should be a whole number of: 1 ft, a board, a sheet.
    pub module: Option<Said<Prototype>>,
}

/// An exact tie between dimensions.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Tie {
    /// Short name.
    pub id: String,
    /// The equation.
    pub says: Equation,
    /// How it is known: counted, by symmetry, sum of parts.
    #[serde(default)]
    pub why: String,
}

/// One reading.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Reading {
    /// Short name.
    pub id: String,
    /// What was read.
    pub of: Form,
    /// How: a key of `data/methods.toml`.
    pub method: String,
    /// What was read off, as text: a length with its unit, or a plain number
    /// for a ratio. Absent when `given` has the figures it is worked out from.
    pub value: Option<String>,
    /// One standard uncertainty, in the same unit; the method's own when absent.
    pub sigma: Option<String>,
    /// The figures a method works from, such as `paces`, `angle-up`, `object`.
    #[serde(default)]
    pub given: BTreeMap<String, String>,
    /// Readings with the same word share one pull of the tape, and its zero.
    pub pull: Option<String>,
    /// The source it belongs to.
    pub source: Option<String>,
    /// When it was read, the year first, where that is not the source's date.
    #[serde(default)]
    pub date: String,
    /// Free note.
    #[serde(default)]
    pub note: String,
    /// Switched off by the person.
    #[serde(default)]
    pub off: bool,
    /// Why it is switched off.
    #[serde(default)]
    pub off_reason: String,
}
