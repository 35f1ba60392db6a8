//! The bodies of a building: the main one, and what stands against it, out
//! from it, on its roof or beside it.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};

use super::said::{Said, Size};
use super::wall::Corners;
use crate::quantity::Model;

/// A side of a body. Seen by a person who looks at its front, the left is at
/// the left hand; the front of what stands against a wall faces away from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize, Serialize)]
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
        Self::ALL
            .into_iter()
            .find(|side| side.word() == word)
            .ok_or_else(|| format!("\"{word}\" is no side: front, right, back or left"))
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
        let wrong =
            || format!("\"{path}\" is no corner: write body and two sides, as `main/front-left`");
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
                format!("\"{path}\" is no place on a roof: write `main/ridge` or, for a slope, `main/front`")
            }),
        }
    }
}

/// Text in the file that stands for a path.
macro_rules! as_text {
    ($($name:ty),*) => {$(
        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                String::deserialize(from)?.parse().map_err(D::Error::custom)
            }
        }
        impl Serialize for $name {
            fn serialize<Z: Serializer>(&self, to: Z) -> Result<Z::Ok, Z::Error> {
                to.collect_str(self)
            }
        }
    )*};
}
as_text!(FaceId, CornerId, RoofPlace);

/// A body of the building. The first is the one that is shortened: the row of
/// its front gives its length.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Body {
    /// Short name: its walls are called after it.
    pub name: String,
    /// What it is, in words.
    #[serde(default)]
    pub what: String,
    /// Where it stands; the main body says nothing.
    pub stands: Option<Stands>,
    /// Along the wall or ridge it stands against or on; of the main body, where
    /// its front has no row. Out from a wall it is the width of the wing.
    pub length: Option<Size>,
    /// Out from that wall, or across the ridge; of the main body and of one that
    /// stands free, behind its front.
    pub depth: Size,
    /// Height of the eave, where the roof's underside meets the wall face: above
    /// the foot of the walls, of a body on a roof above the roof at its outer
    /// wall.
    pub eave: Option<Size>,
    /// Of a roof against a wall, instead of the eave: where it meets that wall.
    pub meets: Option<Size>,
    /// Walls that rise level to this height, above the roof: a parapet.
    pub parapet: Option<Size>,
    /// Foundation under the sill, full size.
    pub foundation: Option<Size>,
    /// Storeys from the foot of the wall to the eave; one, never left out, when
    /// empty.
    #[serde(default)]
    pub storeys: Vec<Storey>,
    /// The sides that have a wall; those its place asks for when absent, none
    /// for a roof on posts.
    pub walls: Option<Vec<Side>>,
    /// Layers of its walls, from outside in; those of `[walls]` when absent.
    pub layers: Option<Vec<String>>,
    /// Trim of its walls; that of `[walls]` when absent.
    pub trim: Option<Vec<super::wall::TrimBoard>>,
    /// Widths of its trim where they are not those of `[trim]`.
    pub trim_sizes: Option<super::carpentry::Trim>,
    /// How its walls meet, where no `[[corner]]` says else.
    pub corners: Option<Corners>,
    /// The wall behind it, if it stands against one.
    #[serde(default)]
    pub behind: Behind,
    /// Whether it has a floor of its own; every body on the ground has when
    /// absent.
    pub floor: Option<bool>,
    /// Thickness of its floor, on the model; that of its core when absent.
    pub floor_thick: Option<Said<Model>>,
    /// Of a roof against a wall: the strip on that wall which carries its
    /// rafters.
    pub wall_ledger: Option<WallLedger>,
    /// Its roof; none, for a body open above.
    pub roof: Option<Roof>,
}

/// A strip on a wall that carries rafters; its top is planed to them.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct WallLedger {
    /// Its underside above the foot of the walls.
    pub foot: Size,
    /// Its thickness.
    pub thick: Size,
}

impl Body {
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

/// What is left of the wall behind a body that stands against it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Behind {
    /// No cladding there: the body's ends run on to the bare core.
    #[default]
    Bare,
    /// Clad all over, as seen from inside too.
    Clad,
}

/// Where a body stands. One of `against`, `out`, `on`, `beside`.
#[derive(Clone, Debug, Deserialize)]
#[serde(try_from = "RawStands")]
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

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct RawStands {
    against: Option<FaceId>,
    out: Option<FaceId>,
    on: Option<RoofPlace>,
    beside: Option<FaceId>,
    gap: Option<Size>,
    at: Option<Size>,
    at_right: Option<Size>,
    with: Option<String>,
    back: Option<Size>,
}

impl TryFrom<RawStands> for Stands {
    type Error = String;

    fn try_from(raw: RawStands) -> Result<Self, String> {
        let places = [
            raw.against.map(BodyPlace::Against),
            raw.out.map(BodyPlace::Out),
            raw.on.map(BodyPlace::On),
            raw.beside.zip(raw.gap.clone()).map(|(face, gap)| BodyPlace::Beside(face, gap)),
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
        if raw.gap.is_some() && !matches!(place, BodyPlace::Beside(..)) {
            return Err("`gap` means nothing but with `beside`".to_owned());
        }
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

/// A storey, or several alike one above the other.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Storey {
    /// Short name.
    pub name: String,
    /// Floor to floor.
    pub height: Size,
    /// How many there are; one when absent.
    pub count: Option<u32>,
    /// How many must stay; all of them when absent.
    pub at_least: Option<u32>,
}

/// A roof.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Roof {
    /// Its kind.
    pub kind: RoofKind,
    /// Rise over run as `6:12` or a plain number; from the ridge when absent. Of
    /// a gambrel that of the lower slope.
    pub pitch: Option<String>,
    /// Of a gambrel: rise over run of the upper slope.
    pub upper_pitch: Option<String>,
    /// Of a gambrel: level run of the lower slope, from the wall face.
    pub lower_run: Option<Size>,
    /// Ridge height; from the pitch when absent.
    pub ridge: Option<Size>,
    /// Level projection beyond the wall at the eaves.
    pub eave: Option<Size>,
    /// Projection beyond the gable walls.
    pub rake: Option<Size>,
    /// Name of the cladding on it.
    pub cladding: Option<String>,
    /// Name of the `[[layer]]` its sheet is; a sheet as thick as the core when
    /// absent.
    pub sheet: Option<String>,
    /// Rafters at these centres.
    pub rafters: Option<Size>,
    /// Rafter tails under the eaves, at these centres, and their section.
    pub tails: Option<Tails>,
    /// Depth of a board under the edge of the sheet along the eaves.
    pub fascia: Option<Size>,
    /// How far walls rise above a level or one-sloped roof, or gable ends
    /// above the rakes.
    pub parapet: Option<Size>,
    /// Whether it lifts off; glued down when absent.
    #[serde(default)]
    pub lifts_off: bool,
    /// The ledger inside the walls that a lift-off roof is kept in place by.
    pub ledger: Option<Ledger>,
    /// Thickness of the box under a lift-off roof, on the model; that of the
    /// roof sheet when absent.
    pub box_thick: Option<Said<Model>>,
}

/// Rafter tails.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Tails {
    /// Distance of their centres.
    pub every: Size,
    /// Nominal lumber size, such as `2x4`.
    pub lumber: Option<String>,
    /// Thickness and depth, where no nominal size is given.
    pub section: Option<[Size; 2]>,
}

/// A strip inside the walls.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Ledger {
    /// Its side, on the model: it is square.
    pub thick: Said<Model>,
    /// Its top under the eave, on the model.
    pub under: Said<Model>,
}

/// Kinds of roof.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RoofKind {
    /// Two planes and a ridge.
    Gable,
    /// One plane.
    Shed,
    /// Four planes.
    Hip,
    /// Two planes a side, the lower one steeper.
    Gambrel,
    /// A gable with a raised strip along the ridge, which is a body of its own.
    Monitor,
    /// Level.
    Flat,
}

impl RoofKind {
    /// Whether its ends are gables.
    #[must_use]
    pub fn has_gables(self) -> bool {
        matches!(self, Self::Gable | Self::Gambrel | Self::Monitor)
    }
}
