//! The bodies of a building: the main one, and what stands against it, out
//! from it, on its roof or beside it.

use std::fmt;

use serde::{Serialize, Serializer};

use super::carpentry::Trim;
use super::grammar::{
    FOOT, Kind, Named, Node, Reader, Rule, Text, Value, Word, Wrong, choice, eg, keys, must, table,
};
use super::said::{Said, Size};
use super::wall::{Corners, TrimBoard};
use crate::finding::short;
use crate::quantity::Model;

/// A side of a body. Seen by a person who looks at its front, the left is at
/// the left hand; the front of what stands against a wall faces away from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// The face that gives the length.
    Front,
    /// At the right of it.
    Right,
    /// Behind it.
    Back,
    /// At the left of it.
    Left,
}

impl Side {
    /// All four, round the body against the clock as seen from above.
    pub const ALL: [Self; 4] = [Self::Front, Self::Right, Self::Back, Self::Left];

    /// The word in labels and job files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Right => "right",
            Self::Back => "back",
            Self::Left => "left",
        }
    }

    /// Whether it runs across the body: the left and the right.
    #[must_use]
    pub fn is_end(self) -> bool {
        matches!(self, Self::Left | Self::Right)
    }

    /// The side a person outside sees beyond the left corner of this one.
    #[must_use]
    pub fn at_left(self) -> Self {
        match self {
            Self::Front => Self::Left,
            Self::Right => Self::Front,
            Self::Back => Self::Right,
            Self::Left => Self::Back,
        }
    }

    /// The side beyond the right corner.
    #[must_use]
    pub fn at_right(self) -> Self {
        match self {
            Self::Front => Self::Right,
            Self::Right => Self::Back,
            Self::Back => Self::Left,
            Self::Left => Self::Front,
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

impl std::str::FromStr for Side {
    type Err = String;

    fn from_str(word: &str) -> Result<Self, String> {
        Self::ALL.into_iter().find(|side| side.word() == word).ok_or_else(|| {
            format!("\"{}\" is no side: front, right, back or left", short::word(word))
        })
    }
}

impl Value for Side {
    fn kind() -> Kind {
        Kind::Choice(&[
            Word { word: "front", says: "The face that gives the length." },
            Word { word: "right", says: "At the right of it." },
            Word { word: "back", says: "Behind it." },
            Word { word: "left", says: "At the left of it." },
        ])
    }

    fn read(node: Node<'_>, _: &Reader<'_>, _: &Rule) -> Result<Self, Wrong> {
        let text = node.text("a side")?;
        text.trim().parse().map_err(|_| node.no_word(text, Self::ALL.into_iter().map(Self::word)))
    }
}

/// A wall by its body and side: `main/front`.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FaceId {
    /// The body's name.
    pub body: String,
    /// Which of its sides.
    pub side: Side,
}

impl FaceId {
    /// The wall of a body on a side.
    #[must_use]
    pub fn new(body: impl Into<String>, side: Side) -> Self {
        Self { body: body.into(), side }
    }
}

impl FaceId {
    /// The wall at the head of a path and what follows it: `main/front/bay#1`.
    #[must_use]
    pub fn split(path: &str) -> Option<(Self, &str)> {
        let (body, rest) = path.split_once('/')?;
        let (side, rest) = rest.split_once('/')?;
        Some((Self::new(body, side.parse().ok()?), rest)).filter(|_| !body.is_empty())
    }
}

impl fmt::Display for FaceId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.body, self.side)
    }
}

impl std::str::FromStr for FaceId {
    type Err = String;

    fn from_str(path: &str) -> Result<Self, String> {
        let parts = path.split_once('/').filter(|(body, _)| !body.is_empty());
        let (body, side) = parts.ok_or_else(|| {
            let path = short::word(path);
            format!("\"{path}\" is no wall: write body and side, as `main/front`")
        })?;
        Ok(Self::new(body, side.parse()?))
    }
}

/// A corner of a body, named by the two walls that meet there: `main/front-left`.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CornerId {
    /// The body's name.
    pub body: String,
    /// The front or the back.
    pub along: Side,
    /// The left or the right.
    pub end: Side,
}

impl fmt::Display for CornerId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}-{}", self.body, self.along, self.end)
    }
}

impl std::str::FromStr for CornerId {
    type Err = String;

    fn from_str(path: &str) -> Result<Self, String> {
        let wrong = || {
            let path = short::word(path);
            format!("\"{path}\" is no corner: write body and two sides, as `main/front-left`")
        };
        let (body, corner) =
            path.split_once('/').filter(|(body, _)| !body.is_empty()).ok_or_else(wrong)?;
        let (along, end) = corner.split_once('-').ok_or_else(wrong)?;
        let (along, end): (Side, Side) = (along.parse()?, end.parse()?);
        if along.is_end() || !end.is_end() {
            return Err(wrong());
        }
        Ok(Self { body: body.to_owned(), along, end })
    }
}

/// What a body on a roof stands on: the ridge of a body, or one of its slopes.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum RoofPlace {
    /// Astride the ridge: `main/ridge`.
    Ridge(String),
    /// On the slope over a wall: `main/front`.
    Slope(FaceId),
}

impl RoofPlace {
    /// The body whose roof it is.
    #[must_use]
    pub fn body(&self) -> &str {
        match self {
            Self::Ridge(body) => body,
            Self::Slope(face) => &face.body,
        }
    }
}

impl fmt::Display for RoofPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Ridge(body) => write!(f, "{body}/ridge"),
            Self::Slope(face) => face.fmt(f),
        }
    }
}

impl std::str::FromStr for RoofPlace {
    type Err = String;

    fn from_str(path: &str) -> Result<Self, String> {
        match path.split_once('/') {
            Some((body, "ridge")) if !body.is_empty() => Ok(Self::Ridge(body.to_owned())),
            _ => path.parse().map(Self::Slope).map_err(|_| {
                let path = short::word(path);
                format!("\"{path}\" is no place on a roof: write `main/ridge` or, for a slope, `main/front`")
            }),
        }
    }
}

/// Text in the file that stands for a path; its body counts as named there.
macro_rules! as_text {
    ($($name:ty: $body:expr;)*) => {$(
        impl Value for $name {
            fn kind() -> Kind {
                Kind::Text
            }

            fn read(node: Node<'_>, reader: &Reader<'_>, _: &Rule) -> Result<Self, Wrong> {
                let plain = Rule { text: Text::Name, ..Rule::NONE };
                let path = String::read(node, reader, &plain)?;
                let id: Self =
                    path.parse().map_err(|said: String| Wrong::new(node.at(), said, ""))?;
                let body: fn(&Self) -> &str = $body;
                reader.uses(Named::Body, body(&id), node.at());
                Ok(id)
            }
        }
        impl Serialize for $name {
            fn serialize<Z: Serializer>(&self, to: Z) -> Result<Z::Ok, Z::Error> {
                to.collect_str(self)
            }
        }
    )*};
}
as_text! {
    FaceId: |id| id.body.as_str();
    CornerId: |id| id.body.as_str();
    RoofPlace: |place| place.body();
}

keys! {
    /// A body of the building. The first is the one that is shortened: the row of
    /// its front gives its length.
    #[derive(Clone, Debug)]
    pub struct Body [table("body").scoped()] {
        /// Short name: its walls are called after it.
        "name": pub name: String = must("main").names(Named::Body),
        /// What it is, in words.
        "what": pub what: String = eg("annex against the left end"),
        /// Where it stands; the main body says nothing.
        "stands": pub stands: Option<Stands> = eg("{ against = \"main/left\", at = \"4 ft\" }")
            .agrees("the order of the bodies: the first stands by itself"),
        /// Along the wall or ridge it stands against or on; of the main body, where
        /// its front has no row. Out from a wall it is the width of the wing.
        "length": pub length: Option<Size> = eg("42 ft").upto(2000.0 * FOOT)
            .agrees("the row of its front"),
        /// Out from that wall, or across the ridge; of the main body and of one that
        /// stands free, behind its front. A main body without it is one wall alone:
        /// its front, without a roof.
        "depth": pub depth: Option<Size> = eg("32 ft").upto(2000.0 * FOOT)
            .agrees("the row or length of its ends"),
        /// Height of the eave, where the roof's underside meets the wall face: above
        /// the foot of the walls, of a body on a roof above the roof at its outer
        /// wall.
        "eave": pub eave: Option<Size> = eg("18 ft").upto(500.0 * FOOT)
            .agrees("the ridge and pitch, and the storeys"),
        /// Of a roof against a wall, instead of the eave: where it meets that wall.
        "meets": pub meets: Option<Size> = eg("12 ft 5 in").upto(500.0 * FOOT)
            .agrees("the eave and pitch, where both are given"),
        /// Walls that rise level to this height, above the roof: a parapet.
        "parapet": pub parapet: Option<Size> = eg("9 ft 4 in").upto(500.0 * FOOT).agrees("the eave"),
        /// Foundation under the sill, full size.
        "foundation": pub foundation: Option<Size> = eg("4 ft").within(0.0, 200.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Storeys from the foot of the wall to the eave; one, never left out, when
        /// empty.
        "storeys": pub storeys: Vec<Storey> = eg("[{ name = \"ground\", height = \"12 ft\" }]")
            .agrees("the eave: they add up to it"),
        /// The sides that have a wall; those its place asks for when absent, none
        /// for a roof on posts.
        "walls": pub walls: Option<Vec<Side>> = eg("[\"front\", \"left\", \"right\"]"),
        /// Layers of its walls, from outside in; those of `[walls]` when absent.
        "layers": pub layers: Option<Vec<String>> = eg("[\"boards\", \"core\"]")
            .of(Named::InWall).text(Text::Line),
        /// Trim of its walls; that of `[walls]` when absent.
        "trim": pub trim: Option<Vec<TrimBoard>> = eg("[\"corner-left\", \"frieze\"]")
            .agrees("the widths under [trim]"),
        /// Widths of its trim where they are not those of `[trim]`.
        "trim-sizes": pub trim_sizes: Option<Trim> = eg("{ frieze = \"5 in\" }"),
        /// How its walls meet, where no `[[corner]]` says else.
        "corners": pub corners: Option<Corners> = eg("butt").unless("butt", "common practice, no source"),
        /// The wall behind it, if it stands against one.
        "behind": pub behind: Behind = eg("bare").unless("bare", "judgement"),
        /// Whether it has a floor of its own; every body on the ground has when
        /// absent.
        "floor": pub floor: Option<bool> = eg("false").unless("as it stands on the ground", "judgement"),
        /// Thickness of its floor, on the model; that of its core when absent.
        "floor-thick": pub floor_thick: Option<Said<Model>> = eg("1/16 in").within(0.002, 2.0)
            .unless("that of its core", "judgement"),
        /// Of a roof against a wall: the strip on that wall which carries its
        /// rafters.
        "wall-ledger": pub wall_ledger: Option<WallLedger> = eg("{ foot = \"11 ft 3 in\", thick = \"1 1/2 in\" }"),
        /// Its roof; none, for a body open above.
        "roof": pub roof: Option<Roof> = eg("{ kind = \"gable\", pitch = \"6:12\" }"),
    }

    /// A strip on a wall that carries rafters; its top is planed to them.
    #[derive(Clone, Debug)]
    pub struct WallLedger [table("body.wall-ledger")] {
        /// Its underside above the foot of the walls.
        "foot": pub foot: Size = must("11 ft 3 in").within(0.0, 500.0 * FOOT)
            .agrees("where the roof meets that wall"),
        /// Its thickness.
        "thick": pub thick: Size = must("1 1/2 in").upto(10.0 * FOOT),
    }

    /// A storey, or several alike one above the other.
    #[derive(Clone, Debug)]
    pub struct Storey [table("body.storeys")] {
        /// Short name.
        "name": pub name: String = must("ground").names(Named::Storey),
        /// Floor to floor.
        "height": pub height: Size = must("12 ft").upto(100.0 * FOOT),
        /// How many there are; one when absent.
        "count": pub count: Option<u32> = eg("2").within(1.0, 100.0).unless("1", "judgement"),
        /// How many must stay; all of them when absent.
        "at-least": pub at_least: Option<u32> = eg("1").within(0.0, 100.0).agrees("the count"),
    }

    /// A roof.
    #[derive(Clone, Debug)]
    pub struct Roof [table("body.roof")] {
        /// Its kind.
        "kind": pub kind: RoofKind = must("gable"),
        /// Rise over run as `6:12` or a plain number; from the ridge when absent. Of
        /// a gambrel that of the lower slope.
        "pitch": pub pitch: Option<String> = eg("6:12").text(Text::Pitch).within(0.0, 3.0)
            .agrees("the ridge, where both are given"),
        /// Of a gambrel: rise over run of the upper slope.
        "upper-pitch": pub upper_pitch: Option<String> = eg("5:12").text(Text::Pitch).within(0.0, 3.0)
            .agrees("the pitch of the lower slope: that one is steeper"),
        /// Of a gambrel: level run of the lower slope, from the wall face.
        "lower-run": pub lower_run: Option<Size> = eg("5 ft").upto(1000.0 * FOOT)
            .agrees("the depth"),
        /// Ridge height; from the pitch when absent.
        "ridge": pub ridge: Option<Size> = eg("26 ft").upto(800.0 * FOOT)
            .agrees("the eave, the depth and the pitch"),
        /// Level projection beyond the wall at the eaves.
        "eave": pub eave: Option<Size> = eg("18 in").within(0.0, 30.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Projection beyond the gable walls.
        "rake": pub rake: Option<Size> = eg("12 in").within(0.0, 30.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Name of the cladding on it.
        "cladding": pub cladding: Option<String> = eg("shingles").of(Named::Cladding),
        /// Name of the `[[layer]]` its sheet is; a sheet as thick as the core when
        /// absent.
        "sheet": pub sheet: Option<String> = eg("roof-sheet").of(Named::Layer)
            .unless("a sheet as thick as the core", "judgement"),
        /// Rafters at these centres.
        "rafters": pub rafters: Option<Size> = eg("24 in").within(6.0, 60.0 * FOOT),
        /// Rafter tails under the eaves, at these centres, and their section.
        "tails": pub tails: Option<Tails> = eg("{ every = \"24 in\", lumber = \"2x4\" }"),
        /// Depth of a board under the edge of the sheet along the eaves.
        "fascia": pub fascia: Option<Size> = eg("5 in").within(0.0, 5.0 * FOOT),
        /// How far walls rise above a level or one-sloped roof, or gable ends
        /// above the rakes.
        "parapet": pub parapet: Option<Size> = eg("18 in").within(0.0, 50.0 * FOOT),
        /// Whether it lifts off; glued down when absent.
        "lifts-off": pub lifts_off: bool = eg("true").unless("false", "judgement"),
        /// The ledger inside the walls that a lift-off roof is kept in place by.
        "ledger": pub ledger: Option<Ledger> = eg("{ thick = \"1/8 in\", under = \"3/8 in\" }"),
        /// Thickness of the box under a lift-off roof, on the model; that of the
        /// roof sheet when absent.
        "box-thick": pub box_thick: Option<Said<Model>> = eg("1/16 in").within(0.002, 2.0)
            .unless("that of the roof sheet", "judgement"),
    }

    /// Rafter tails.
    #[derive(Clone, Debug)]
    pub struct Tails [table("body.roof.tails")] {
        /// Distance of their centres.
        "every": pub every: Size = must("24 in").within(3.0, 60.0 * FOOT),
        /// Nominal lumber size, such as `2x4`.
        "lumber": pub lumber: Option<String> = eg("2x4").text(Text::Name).agrees("the era of the job"),
        /// Thickness and depth, where no nominal size is given.
        "section": pub section: Option<[Size; 2]> = eg("[\"2 in\", \"4 in\"]").upto(10.0 * FOOT),
    }

    /// A strip inside the walls.
    #[derive(Clone, Debug)]
    pub struct Ledger [table("body.roof.ledger")] {
        /// Its side, on the model: it is square.
        "thick": pub thick: Said<Model> = must("1/8 in").upto(2.0),
        /// Its top under the eave, on the model.
        "under": pub under: Said<Model> = must("3/8 in").within(0.0, 12.0).agrees("the eave"),
    }
}

impl Body {
    /// Whether it is one wall alone: a front without a depth.
    #[must_use]
    pub fn is_one_wall(&self) -> bool {
        self.depth.is_none() && self.stands.is_none()
    }

    /// The sides it is said to have a wall on.
    #[must_use]
    pub fn said_walls(&self) -> Option<&[Side]> {
        if self.is_one_wall() { Some(&[Side::Front]) } else { self.walls.as_deref() }
    }

    /// Whether the gable triangle stands on a side: its ends, but of a wing and
    /// a dormer its front, for their ridge runs out from the wall.
    #[must_use]
    pub fn has_gable(&self, side: Side) -> bool {
        let kind = self.roof.as_ref().map(|roof| roof.kind);
        kind.is_some_and(RoofKind::has_gables) && side.is_end() != self.ridge_runs_out()
    }

    /// Whether its ridge runs out from the wall it stands against, or from the
    /// slope it stands on.
    #[must_use]
    pub fn ridge_runs_out(&self) -> bool {
        self.stands.as_ref().is_some_and(|stands| {
            matches!(stands.place, BodyPlace::Out(_) | BodyPlace::On(RoofPlace::Slope(_)))
        })
    }
}

choice! {
    /// What is left of the wall behind a body that stands against it.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Behind = Bare {
        /// No cladding there: the body's ends run on to the bare core.
        Bare = "bare",
        /// Clad all over, as seen from inside too.
        Clad = "clad",
    }

    /// Kinds of roof.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum RoofKind {
        /// Two planes and a ridge.
        Gable = "gable",
        /// One plane.
        Shed = "shed",
        /// Four planes.
        Hip = "hip",
        /// Two planes a side, the lower one steeper.
        Gambrel = "gambrel",
        /// A gable with a raised strip along the ridge, which is a body of its own.
        Monitor = "monitor",
        /// Level.
        Flat = "flat",
    }
}

/// Where a body stands. One of `against`, `out`, `on`, `beside`.
#[derive(Clone, Debug)]
pub struct Stands {
    /// On what.
    pub place: BodyPlace,
    /// Its place along that wall or ridge.
    pub along: Along,
    /// Of a body on a slope: how far its outer wall stands in from the wall
    /// below, level; of one beside a wall, how far in from the front's line.
    pub back: Option<Size>,
}

/// What a body stands against or on.
#[derive(Clone, Debug, PartialEq)]
pub enum BodyPlace {
    /// Against a wall, its roof falling away from it or lying along it.
    Against(FaceId),
    /// Out from a wall, its ridge square to it: the other leg of an L or T.
    Out(FaceId),
    /// On a roof.
    On(RoofPlace),
    /// Free, beside a wall, with this between them.
    Beside(FaceId, Size),
}

/// A place along a wall.
#[derive(Clone, Debug, PartialEq)]
pub enum Along {
    /// Its left edge this far from the left corner.
    Left(Size),
    /// Its right edge this far from the right corner.
    Right(Size),
    /// Its middle on the middle of an element of that wall's row.
    Element(String),
    /// In the middle.
    Middle,
}

keys! {
    /// Where a body stands: against a wall, out from one, on a roof, or free
    /// beside a wall.
    #[derive(Clone, Debug)]
    struct RawStands [table("body.stands").one_of(&["against", "out", "on", "beside"])] {
        /// The wall it stands against, its roof falling away from it or lying
        /// along it.
        "against": against: Option<FaceId> = eg("main/left").of(Named::Wall),
        /// The wall it stands out from, its ridge square to it: the other leg of
        /// an L or T.
        "out": out: Option<FaceId> = eg("main/back").of(Named::Wall),
        /// The ridge or slope it stands on: `main/ridge`, or `main/front` for the
        /// slope over that wall.
        "on": on: Option<RoofPlace> = eg("main/ridge").text(Text::Name),
        /// The wall it stands beside, free, with a gap between them.
        "beside": beside: Option<FaceId> = eg("main/right").of(Named::Wall),
        /// What lies between it and the wall it stands beside.
        "gap": gap: Option<Size> = eg("8 ft").within(0.0, 2000.0 * FOOT).only(&["beside"])
            .needed(&["beside"]),
        /// Its left edge from the left corner of that wall; in the middle when
        /// neither this nor `at-right` nor `with` is given.
        "at": at: Option<Size> = eg("4 ft").within(-2000.0 * FOOT, 2000.0 * FOOT)
            .agrees("at-right and with: one of them is given"),
        /// Its right edge from the right corner of that wall.
        "at-right": at_right: Option<Size> = eg("4 ft").within(-2000.0 * FOOT, 2000.0 * FOOT)
            .agrees("at and with: one of them is given"),
        /// The element of that wall's row whose middle it stands on.
        "with": with: Option<String> = eg("bay").text(Text::Name)
            .agrees("the row of that wall"),
        /// Of a body on a slope: how far its outer wall stands in from the wall
        /// below, level; of one beside a wall, how far in from the front's line.
        "back": back: Option<Size> = eg("3 ft").within(-2000.0 * FOOT, 2000.0 * FOOT)
            .only(&["on", "beside"]),
    }
}

impl Value for Stands {
    fn kind() -> Kind {
        RawStands::kind()
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        let raw = RawStands::read(node, reader, rule)?;
        Self::try_from(raw)
            .map_err(|said| Wrong::new(node.at(), said, "see `scantling keys body.stands`"))
    }
}

impl TryFrom<RawStands> for Stands {
    type Error = String;

    fn try_from(raw: RawStands) -> Result<Self, String> {
        let places = [
            raw.against.map(BodyPlace::Against),
            raw.out.map(BodyPlace::Out),
            raw.on.map(BodyPlace::On),
            raw.beside.zip(raw.gap).map(|(face, gap)| BodyPlace::Beside(face, gap)),
        ];
        let mut places = places.into_iter().flatten();
        let (Some(place), None) = (places.next(), places.next()) else {
            return Err("a body stands on one thing: give `against`, `out` or `on`, or \
                        `beside` with its `gap`"
                .to_owned());
        };
        let along = match (raw.at, raw.at_right, raw.with) {
            (Some(at), None, None) => Along::Left(at),
            (None, Some(at), None) => Along::Right(at),
            (None, None, Some(element)) => Along::Element(element),
            (None, None, None) => Along::Middle,
            _ => return Err("give one of `at`, `at-right` and `with`".to_owned()),
        };
        Ok(Self { place, along, back: raw.back })
    }
}

impl Stands {
    /// The name of the body it stands against or on.
    #[must_use]
    pub fn body(&self) -> &str {
        match &self.place {
            BodyPlace::Against(face) | BodyPlace::Out(face) | BodyPlace::Beside(face, _) => {
                &face.body
            }
            BodyPlace::On(roof) => roof.body(),
        }
    }
}

impl RoofKind {
    /// Whether its ends are gables.
    #[must_use]
    pub fn has_gables(self) -> bool {
        matches!(self, Self::Gable | Self::Gambrel | Self::Monitor)
    }
}
