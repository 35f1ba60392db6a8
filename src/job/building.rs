//! The body, roof, openings, cladding and timbers of a building.

use serde::Deserialize;

use super::said::{Said, Size};
use super::track::Stands;
use crate::quantity::Model;

/// The body of the building.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Building {
    /// The face whose row gives the length.
    pub front: String,
    /// Depth behind the front, wall face to wall face.
    pub depth: Size,
    /// Height of the eave: where the roof plane meets the wall face.
    pub eave: Size,
    /// Foundation under the sill, full size.
    pub foundation: Option<Size>,
    /// Storeys from the foot of the wall to the eave; one, never left out, when
    /// empty.
    #[serde(default)]
    pub storeys: Vec<Storey>,
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

/// The roof.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Roof {
    /// Its kind.
    pub kind: RoofKind,
    /// Rise over run as `6:12` or a plain number; from the ridge when absent.
    pub pitch: Option<String>,
    /// Ridge height; from the pitch when absent.
    pub ridge: Option<Size>,
    /// Level projection beyond the wall at the eaves.
    pub eave_overhang: Option<Size>,
    /// Projection beyond the gable walls.
    pub rake_overhang: Option<Size>,
    /// Name of the cladding on it.
    pub cladding: Option<String>,
    /// Rafters at these centres.
    pub rafters: Option<Size>,
    /// How far walls rise above a level or one-sloped roof, or gable ends
    /// above the rakes.
    pub parapet: Option<Size>,
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
    /// A gable with a raised strip along the ridge.
    Monitor,
    /// Level.
    Flat,
}

/// A kind of door or window.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Opening {
    /// Short name used in rows.
    pub name: String,
    /// Door, window, or a plain hole.
    pub what: OpeningWhat,
    /// Width inside the trim.
    pub width: Size,
    /// Height inside the trim.
    pub height: Size,
    /// Height of its foot above the foot of the wall; 0 when absent.
    pub sill: Option<Size>,
    /// Width of the trim round it.
    pub trim: Option<Size>,
    /// The bought part that fills it.
    pub casting: Option<Casting>,
}

/// What an opening is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OpeningWhat {
    /// People or goods pass.
    Door,
    /// Light passes.
    Window,
    /// Neither: a vent, a hatch.
    Hole,
}

/// The casting that fills an opening.
#[derive(Clone, Debug, Deserialize)]
#[serde(untagged)]
pub enum Casting {
    /// One on the rack, by its name there.
    Named(String),
    /// Measured on the bench.
    Measured(Frame),
}

/// The frame of a casting behind its flange.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Frame {
    /// Its width.
    pub width: Said<Model>,
    /// Its height.
    pub height: Said<Model>,
}

/// What a wall or roof is covered with. Which keys count depends on the kind.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Cladding {
    /// Short name used by faces and roof.
    pub name: String,
    /// Its kind.
    pub kind: CladdingKind,
    /// Height at which it begins; the foot of the wall when absent.
    pub from: Option<Size>,
    /// Height at which it ends; the eave when absent.
    pub to: Option<Size>,
    /// Board width (boards), sheet cover (corrugated), course (brick).
    pub unit: Option<Size>,
    /// Gap between boards.
    pub gap: Option<Size>,
    /// Part left to the weather: clapboards, shingles.
    pub exposure: Option<Size>,
    /// Batten width.
    pub batten: Option<Size>,
    /// Thickness of board, sheet or shingle.
    pub thickness: Option<Size>,
    /// Thickness of the batten.
    pub batten_thickness: Option<Size>,
    /// Length of a sheet (corrugated) or shingle.
    pub length: Option<Size>,
    /// End lap of sheets.
    pub lap: Option<Size>,
    /// Distance from crest to crest of corrugated sheet.
    pub pitch: Option<Size>,
    /// Boards scribed on sheet instead of laid one by one.
    #[serde(default)]
    pub scribed: bool,
    /// What to do with the last board.
    #[serde(default)]
    pub remainder: Remainder,
}

/// Kinds of cladding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CladdingKind {
    /// Vertical boards with a batten over each joint.
    BoardAndBatten,
    /// Vertical boards alone.
    Boards,
    /// Tapered horizontal boards, lapped.
    Clapboard,
    /// Corrugated metal sheet.
    Corrugated,
    /// Brick in courses.
    Brick,
    /// Wood shingles in courses.
    Shingle,
}

/// What becomes of the board that does not come out whole (trade: leave it
/// narrow, centre the layout, or adjust the width of all).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Remainder {
    /// Leave the narrow last board.
    #[default]
    Leave,
    /// Two equal end boards.
    Centre,
    /// Widen or narrow all boards a little.
    Adjust,
}

/// Timbers of one kind.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Member {
    /// Short name.
    pub name: String,
    /// What it is.
    #[serde(default)]
    pub what: String,
    /// Nominal lumber size, such as `8x8`; its actual size goes by the era.
    pub lumber: Option<String>,
    /// Actual thickness, where no nominal size is given.
    pub thickness: Option<Size>,
    /// Actual width, where no nominal size is given.
    pub width: Option<Size>,
    /// Length of one, before joints.
    pub length: Option<Size>,
    /// How many; by the spacing along the front when absent.
    pub count: Option<u32>,
    /// Greatest spacing along the front.
    pub spacing: Option<Size>,
    /// Inclined members: level leg and upright leg of the line.
    pub legs: Option<[Size; 2]>,
    /// Cross braces in the bays between posts of this name, over this height.
    pub cross: Option<Cross>,
    /// How many stand at each place given by count or spacing.
    pub each: Option<u32>,
    /// Where they stand, to hold them against the track.
    pub stands: Option<Stands>,
    /// A train passes it: never made thicker than it should be.
    #[serde(default)]
    pub beside_track: bool,
}

/// Two braces crossed in each bay between posts.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Cross {
    /// The member that stands at each end of the bay.
    pub posts: String,
    /// Height from the foot of one brace to its head.
    pub height: Size,
}

/// Core walls.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Core {
    /// Thickness of the core sheet.
    pub thickness: Option<Said<Model>>,
    /// How the walls meet.
    #[serde(default)]
    pub corners: Corners,
}

/// Corner joints of core walls.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Corners {
    /// Short walls between the long ones.
    #[default]
    Butt,
    /// Edges at half the angle.
    Mitre,
}

/// How sheets are cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CutBy {
    /// From edge to edge, along a fence or rule.
    #[default]
    Knife,
    /// Round each part.
    Laser,
}

/// Sticks, sheets and kerf.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Cutting {
    /// Length of a stick as bought; 24 in when absent.
    pub stick: Option<Said<Model>>,
    /// Lost at the ends of each stick, both together.
    pub trim: Option<Said<Model>>,
    /// Width of a saw cut; 0 for a knife.
    pub kerf: Option<Said<Model>>,
    /// How often a sheet is turned on the way to any part, cut with a knife;
    /// 3 when absent, 2 at least.
    pub stages: Option<u32>,
    /// How sheets are cut.
    #[serde(default)]
    pub method: CutBy,
    /// Kept free along the edges of every sheet.
    pub margin: Option<Said<Model>>,
    /// The bed of the laser: across the grain, along it; a larger sheet is cut
    /// down to it first.
    pub bed: Option<[Said<Model>; 2]>,
    /// Sheet sizes on hand: width across the grain, length along it.
    #[serde(default)]
    pub sheets: Vec<[Said<Model>; 2]>,
}

/// Stock picked by hand for a member or board.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PickedStock {
    /// The member, board or cladding it is for.
    pub member: String,
    /// Stock size, as the catalogue or rack names it.
    pub size: String,
    /// Why.
    #[serde(default)]
    pub reason: String,
}
