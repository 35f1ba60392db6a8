//! The job file as types: its table of keys, in the order of the work. Every
//! table of the file is a struct here or in a file beside this one; keys that
//! are not in it are refused.

use std::collections::BTreeMap;

use super::body::{Body, FaceId, Roof, Side};
use super::building::{BoughtPart, Cladding, Cutting, Member, Opening, PickedStock};
use super::carpentry::{Base, Deck, Install, Terrace, Trim};
use super::form::{Equation, Form};
use super::grammar::{FOOT, INCH, Named, Taken, Text, choice, eg, keys, must, table};
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

/// Tables of older jobs, and what stands in their place.
const OLD: &[(&str, &str)] = &[
    (
        "building",
        "the building is a list of [[body]], the main one first: name = \"main\", depth, eave; \
         its front is the wall main/front",
    ),
    ("roof", "a roof belongs to its body: write it as [body.roof] behind the [[body]]"),
    ("face", "a face is a [[wall]] of a body and side: of = \"main/front\", main/left, main/back"),
    (
        "core",
        "the core is a [[layer]] with does = \"core\" and thick, named in the layers of \
         [walls]; `corners` stands in the [[body]]",
    ),
    (
        "attached",
        "it is a [[body]] of its own: stands = { against = \"main/front\", at = \"4 ft\" }, \
         eave for its height, and its roof as roof = { kind = \"shed\", pitch = \"3:12\" }",
    ),
];

keys! {
    /// Everything the person wrote about one building.
    #[derive(Clone, Debug)]
    pub struct Job [table("file").gone(OLD)] {
        /// What the job is, and how it is to be shown.
        "job": pub about: About = must(""),
        /// Where the evidence comes from.
        "source": pub sources: Vec<Source> = eg(""),
        /// The named dimensions of the prototype.
        "dimension": pub dimensions: Vec<Dimension> = eg(""),
        /// Exact ties between dimensions.
        "tie": pub ties: Vec<Tie> = eg(""),
        /// The readings.
        "reading": pub readings: Vec<Reading> = eg(""),
        /// Photographs with their marks.
        "photo": pub photos: Vec<Photo> = eg(""),
        /// The bodies of the building, the main one first.
        "body": pub bodies: Vec<Body> = eg(""),
        /// Kinds of door and window.
        "opening": pub openings: Vec<Opening> = eg(""),
        /// What the walls are covered with.
        "cladding": pub claddings: Vec<Cladding> = eg(""),
        /// The sheets that walls and roofs are made of.
        "layer": pub layers: Vec<Layer> = eg(""),
        /// What walls have that say nothing.
        "walls": pub usual: Walls = eg(""),
        /// The walls, each a row of elements.
        "wall": pub walls: Vec<Wall> = eg(""),
        /// Corners that are not as their body says.
        "corner": pub corners: Vec<Corner> = eg(""),
        /// Posts, beams, rafters and other timbers.
        "member": pub members: Vec<Member> = eg(""),
        /// The place the model is to stand in.
        "space": pub space: Option<Space> = eg(""),
        /// The ground it is to stand on.
        "site": pub site: Option<Site> = eg(""),
        /// What counts in the look of the building.
        "look": pub look: Look = eg(""),
        /// The alternative chosen, with its reason.
        "choice": pub choice: Option<Choice> = eg(""),
        /// Sticks, sheets and kerf.
        "cutting": pub cutting: Cutting = eg(""),
        /// Trim boards.
        "trim": pub trim: Trim = eg(""),
        /// Platforms, docks and wharves.
        "deck": pub decks: Vec<Deck> = eg(""),
        /// Parts that are bought and stand on the building.
        "bought": pub bought: Vec<BoughtPart> = eg(""),
        /// Retaining walls.
        "terrace": pub terraces: Vec<Terrace> = eg(""),
        /// The plate that all of it stands on.
        "base": pub base: Option<Base> = eg(""),
        /// The track beside it.
        "track": pub track: Option<Track> = eg(""),
        /// Cars of the person's own, full size.
        "car": pub cars: Vec<Car> = eg(""),
        /// What else stands near the track.
        "obstacle": pub obstacles: Vec<Obstacle> = eg(""),
        /// Lamps inside it.
        "lamps": pub lamps: Option<Lamps> = eg(""),
        /// How the model is set down.
        "install": pub install: Install = eg(""),
        /// Materials in the order they are liked: for `all`, for a cladding or
        /// member by its name, or for one section of it.
        "materials": pub materials: BTreeMap<String, Vec<String>> = eg("{ all = [\"wood\"] }").of(Named::Material)
            .agrees("the sections of the building, and the materials sold or on the rack"),
        /// Stock picked by hand.
        "stock": pub picked: Vec<PickedStock> = eg(""),
        /// Paper, the print check, card and laser.
        "paper": pub paper: OnPaper = eg(""),
        /// Sizes measured on the mock-up or the finished model.
        "measured": pub measured: Vec<Measured> = eg(""),
        /// Offcuts on hand.
        "offcut": pub offcuts: Vec<Offcut> = eg(""),
        /// Pieces that are cut already.
        "cut": pub cut: Vec<CutPieces> = eg(""),
        /// Parts that are ticked, by label.
        "done": pub done: BTreeMap<String, Done> = eg("{ track-batten-1 = \"cut\" }");
        /// What was taken because the job does not say it.
        also pub taken: Vec<Taken>
    }
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

choice! {
    /// How far a part is.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    pub enum Done {
        /// Cut to size.
        Cut = "cut",
        /// Coloured.
        Stained = "stained",
        /// On the model.
        Fitted = "fitted",
    }

    /// The notation the person reads.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Units = FeetInches {
        /// Feet, inches and fractions; thou on the model.
        FeetInches = "feet-inches",
        /// Metres and millimetres; hundredths of a millimetre on the model.
        Metric = "metric",
    }
}

keys! {
    /// What the job is.
    #[derive(Clone, Debug)]
    pub struct About [table("job")] {
        /// The building's name.
        "name": pub name: String = must("Grain store").text(Text::Line),
        /// One line: what must survive.
        "intent": pub intent: String = eg("a long iron wall with door, window, door in it"),
        /// Scale by name or ratio; see `data/scales.toml`.
        "scale": pub scale: String = must("1:48").text(Text::Name),
        /// Other scales to compare it at, up to three; the usual ones when empty.
        "compare": pub compare: Vec<String> = eg("[\"1:64\", \"1:87.1\"]").text(Text::Name),
        /// The year shown.
        "year": pub year: Option<i32> = eg("1935").within(1500.0, 2200.0)
            .agrees("the year of each source, and the lumber era"),
        /// Lumber era, a key of `data/lumber.toml`; by the year when absent.
        "lumber": pub lumber: Option<String> = eg("1924-1969").text(Text::Name).agrees("the year shown"),
        /// A rack of the person's own, as a table of commas beside the job.
        "rack": pub rack: Option<String> = eg("rack.csv").text(Text::File),
        /// The notation used in tables.
        "units": pub units: Units = eg("feet-inches").unless("feet-inches", "judgement"),
        /// Finest fraction of an inch shown: 2, 4, 8, 16, 32 or 64.
        "fraction": pub fraction: u32 = eg("16").within(2.0, 64.0).unless("16", "common practice, no source"),
        /// What the hand can cut to, on the model; 5 thou when absent.
        "hand": pub hand: Option<Said<Model>> = eg("10 thou").upto(0.25 * INCH)
            .unless("5 thou", "judgement"),
        /// From where the model is seen; 24 in when absent.
        "seen-from": pub seen_from: Option<Said<Model>> = eg("24 in").within(4.0 * INCH, 20.0 * FOOT)
            .unless("24 in", "judgement"),
        /// How often a network of good readings may lose one to the search for
        /// blunders; one in a hundred when absent.
        "rejection-level": pub rejection_level: Option<f64> = eg("0.01").within(1e-6, 0.2)
            .unless("0.01", "common practice, no source"),
        /// What a surveyor's last figure counts: 4 for quarters, 16 for sixteenths.
        "surveyor": pub surveyor: Option<u32> = eg("16").within(2.0, 64.0),
        /// Free notes.
        "notes": pub notes: String = eg("the owner allows measuring").text(Text::Free),
    }

    /// A field book, photograph, map or record.
    #[derive(Clone, Debug)]
    pub struct Source [table("source")] {
        /// Short name used by readings.
        "id": pub id: String = must("book").names(Named::Source),
        /// `field book`, `photograph`, `map`, `record`, or another word.
        "kind": pub kind: String = must("field book").text(Text::Name),
        /// What it is.
        "title": pub title: String = must("Track face measured from the platform"),
        /// When it was made, as far as known.
        "date": pub date: String = eg("2026-05-16").text(Text::Name),
        /// The year whose building it shows.
        "year": pub year: Option<i32> = eg("2026").within(1500.0, 2200.0)
            .agrees("the year shown: a building may have changed between them"),
        /// How good it is, in words.
        "quality": pub quality: String = eg("steel tape, two people"),
        /// The owner's terms.
        "terms": pub terms: String = eg("own picture"),
    }

    /// A named dimension of the prototype: an unknown of the survey.
    #[derive(Clone, Debug)]
    pub struct Dimension [table("dimension")] {
        /// Name used in forms: letters, digits and underscores.
        "name": pub name: String = must("door_left").names(Named::Dimension).text(Text::Letters),
        /// What it is, in words.
        "what": pub what: String = eg("door 1, left edge"),
        /// The round figure the person adopted.
        "adopt": pub adopt: Option<Said<Prototype>> = eg("8 ft").within(-2000.0 * FOOT, 2000.0 * FOOT)
            .agrees("the readings, and every tie"),
        /// Why that figure.
        "reason": pub reason: String = eg("whole feet"),
        /// Module it should be a whole number of: 1 ft, a board, a sheet.
        "module": pub module: Option<Said<Prototype>> = eg("24 in").upto(100.0 * FOOT).agrees("the figure adopted"),
    }

    /// An exact tie between dimensions.
    #[derive(Clone, Debug)]
    pub struct Tie [table("tie")] {
        /// Short name.
        "id": pub id: String = must("C1").names(Named::Tie),
        /// The equation.
        "says": pub says: Equation = must("front = 7 bay + 2 pier").agrees("the figures adopted"),
        /// How it is known: counted, by symmetry, sum of parts.
        "why": pub why: String = eg("counted on both photographs"),
    }

    /// One reading.
    #[derive(Clone, Debug)]
    pub struct Reading [table("reading")] {
        /// Short name.
        "id": pub id: String = must("D1-left").names(Named::Reading),
        /// What was read.
        "of": pub of: Form = must("door_right - door_left"),
        /// How: a key of `data/methods.toml`.
        "method": pub method: String = must("tape").of(Named::Method),
        /// What was read off, as text: a length with its unit, or a plain number
        /// for a ratio. Absent when `given` has the figures it is worked out from.
        "value": pub value: Option<String> = eg("96 1/4 in").text(Text::Name)
            .agrees("the other readings of the same dimensions"),
        /// One standard uncertainty, in the same unit; the method's own when absent.
        "sigma": pub sigma: Option<String> = eg("1/2 in").text(Text::Name),
        /// The figures a method works from, such as `paces`, `angle-up`, `object`.
        "given": pub given: BTreeMap<String, String> = eg("{ paces = \"85\", pace = \"2.5 ft\" }").text(Text::Name),
        /// Readings with the same word share one pull of the tape, and its zero.
        "pull": pub pull: Option<String> = eg("front").text(Text::Name),
        /// The source it belongs to.
        "source": pub source: Option<String> = eg("book").of(Named::Source),
        /// When it was read, the year first, where that is not the source's date.
        "date": pub date: String = eg("2026-05-17").text(Text::Name),
        /// Free note.
        "note": pub note: String = eg("overall in two pulls").text(Text::Free),
        /// Switched off by the person.
        "off": pub off: bool = eg("true"),
        /// Why it is switched off.
        "off-reason": pub off_reason: String = eg("blurred"),
    }
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
