//! Openings, cladding and timbers of a building.

use serde::Deserialize;

use super::said::{Said, Size};
use super::track::Stands;
use crate::quantity::Model;

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
    /// The leaves that hang in it.
    pub leaf: Option<Leaf>,
    /// The bought part that fills it.
    pub casting: Option<Casting>,
}

/// A door leaf of boards on ledges.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Leaf {
    /// Width of the leaf.
    pub width: Size,
    /// Height of the leaf.
    pub height: Size,
    /// Width of its boards.
    pub boards: Size,
    /// Middles of its ledges above its foot.
    #[serde(default)]
    pub ledges: Vec<Size>,
    /// Width of ledges and braces.
    pub ledge: Option<Size>,
    /// Whether a brace stands in each space between ledges, its foot at the
    /// hinge.
    #[serde(default)]
    pub braced: bool,
}

/// What an opening is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OpeningWhat {
    /// People or goods pass.
    Door,
    /// Light passes.
    Window,
    /// Light passes through a glazed frame that is bought or made alone, without
    /// a frame round it.
    Sash,
    /// Neither: a vent, a hatch.
    Hole,
}

/// The casting that fills an opening.
#[derive(Clone, Debug, Deserialize)]
#[serde(
    untagged,
    expecting = "a casting is a name on the rack, or { frame = [\"0.40 in\", \"0.68 in\"] }: width and \
                 height behind its flange"
)]
pub enum Casting {
    /// One on the rack, by its name there.
    Named(String),
    /// Measured on the bench.
    Measured(Frame),
}

/// A casting: the frame goes into the wall, the flange lies on it.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Frame {
    /// Width and height of the frame.
    pub frame: [Said<Model>; 2],
    /// How far the flange stands out beyond the frame on every side.
    pub flange: Option<Said<Model>>,
    /// Whether the flange is let into the cladding, so that it lies on the core.
    #[serde(default)]
    pub let_in: bool,
    /// Whether every layer has the hole of the layer that shows; the layers
    /// behind it are cut a little larger when absent.
    #[serde(default)]
    pub alike: bool,
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
    /// The same on the model, where it is known: that of what is bought.
    pub thick: Option<Said<Model>>,
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
    /// Of clapboards: heights that courses meet, between foot and top; the sills
    /// and heads of the openings when absent.
    pub lines: Option<Vec<Size>>,
}

/// A part that is bought and stands on a body: a stack, a vane, a bell.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct BoughtPart {
    /// Short name.
    pub name: String,
    /// What it is.
    #[serde(default)]
    pub what: String,
    /// The body it stands on; the main one when absent.
    pub of: Option<String>,
    /// How many; 1 when absent.
    pub count: Option<u32>,
    /// Where its middle stands: along the front of that body and behind it.
    pub at: Option<[Size; 2]>,
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
    /// The body they belong to; the main one when absent.
    pub of: Option<String>,
    /// Of rafters: they lie under the roof of their body, from its wall or
    /// ridge to the eave edge.
    #[serde(default)]
    pub under_roof: bool,
    /// Of posts: the beam they stand under. Of a beam: the rafters it carries.
    pub carries: Option<String>,
    /// Centre of the first from the left end, and of the last from the right.
    pub at: Option<Size>,
    /// Distance of their centres, from the first.
    pub every: Option<Size>,
    /// How deep they are let into the beam they cross, at its middle.
    pub let_in: Option<Size>,
    /// How the ends of an inclined one are cut.
    pub ends: Option<EndCut>,
    /// Foot of a post above the foot of the walls; the ground when absent.
    pub foot: Option<Size>,
    /// Where one begins and ends, seen from the wall: along it, out from it, up
    /// from the foot of the walls.
    pub from: Option<[Size; 3]>,
    /// Its other end.
    pub to: Option<[Size; 3]>,
    /// A train passes it: never made thicker than it should be.
    #[serde(default)]
    pub beside_track: bool,
}

/// How the ends of an inclined timber are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum EndCut {
    /// To lie flat on post and beam, as a knee brace does.
    Flat,
    /// Upright, as a rafter's.
    Plumb,
    /// Square to its length.
    Square,
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
