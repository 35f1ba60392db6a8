//! Openings, cladding and timbers of a building.

use super::grammar::{
    FOOT, Kind, Named, Node, Reader, Rule, Text, Value, Wrong, choice, eg, keys, must, table,
};
use super::said::{Said, Size};
use super::track::Stands;
use crate::quantity::Model;

/// Claddings laid as upright boards.
const BOARDED: &[&str] = &["board-and-batten", "boards"];

keys! {
    /// A kind of door or window.
    #[derive(Clone, Debug)]
    pub struct Opening [table("opening")] {
        /// Short name used in rows.
        "name": pub name: String = must("freight-door").names(Named::Opening),
        /// Door, window, or a plain hole.
        "what": pub what: OpeningWhat = must("door"),
        /// Width inside the trim.
        "width": pub width: Size = must("8 ft").upto(200.0 * FOOT).agrees("the casting, and the wall it stands in"),
        /// Height inside the trim.
        "height": pub height: Size = must("9 ft").upto(200.0 * FOOT).agrees("the eave, with the sill"),
        /// Height of its foot above the foot of the wall; 0 when absent.
        "sill": pub sill: Option<Size> = eg("4 ft").within(0.0, 500.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Width of the trim round it.
        "trim": pub trim: Option<Size> = eg("5 in").within(0.0, 5.0 * FOOT).agrees("the plain wall beside it"),
        /// The leaves that hang in it.
        "leaf": pub leaf: Option<Leaf> = eg("{ width = \"4 ft\", height = \"9 ft\", boards = \"8 in\" }")
            .agrees("the width and height of the opening"),
        /// The bought part that fills it.
        "casting": pub casting: Option<Casting> = eg("{ frame = [\"0.75 in\", \"1.25 in\"] }")
            .agrees("the opening at the scale of the model"),
    }

    /// A door leaf of boards on ledges.
    #[derive(Clone, Debug)]
    pub struct Leaf [table("opening.leaf")] {
        /// Width of the leaf.
        "width": pub width: Size = must("4 ft").upto(200.0 * FOOT).agrees("the width of the opening"),
        /// Height of the leaf.
        "height": pub height: Size = must("9 ft").upto(200.0 * FOOT).agrees("the height of the opening"),
        /// Width of its boards.
        "boards": pub boards: Size = must("8 in").within(0.5, 20.0 * FOOT),
        /// Middles of its ledges above its foot.
        "ledges": pub ledges: Vec<Size> = eg("[\"10 in\", \"49 in\", \"88 in\"]").within(0.0, 200.0 * FOOT)
            .agrees("the height of the leaf"),
        /// Width of ledges and braces.
        "ledge": pub ledge: Option<Size> = eg("6 in").upto(10.0 * FOOT),
        /// Whether a brace stands in each space between ledges, its foot at the
        /// hinge.
        "braced": pub braced: bool = eg("true"),
    }

    /// A casting: the frame goes into the wall, the flange lies on it.
    #[derive(Clone, Debug)]
    pub struct Frame [table("opening.casting")] {
        /// Width and height of the frame.
        "frame": pub frame: [Said<Model>; 2] = must("[\"0.75 in\", \"1.25 in\"]").upto(12.0)
            .agrees("the opening on the model"),
        /// How far the flange stands out beyond the frame on every side.
        "flange": pub flange: Option<Said<Model>> = eg("0.025 in").within(0.0, 2.0),
        /// Whether the flange is let into the cladding, so that it lies on the core.
        "let-in": pub let_in: bool = eg("true"),
        /// Whether every layer has the hole of the layer that shows; the layers
        /// behind it are cut a little larger when absent.
        "alike": pub alike: bool = eg("true"),
    }

    /// What a wall or roof is covered with. Which keys count depends on the kind.
    #[derive(Clone, Debug)]
    pub struct Cladding [table("cladding").by("kind")] {
        /// Short name used by walls and roofs.
        "name": pub name: String = must("boards").names(Named::Cladding),
        /// Its kind.
        "kind": pub kind: CladdingKind = must("board-and-batten"),
        /// Height at which it begins; the foot of the wall when absent.
        "from": pub from: Option<Size> = eg("12 ft").within(0.0, 500.0 * FOOT).unless("0 in", "judgement"),
        /// Height at which it ends; the eave when absent.
        "to": pub to: Option<Size> = eg("12 ft").within(0.0, 500.0 * FOOT),
        /// Board width (boards), sheet cover (corrugated), course (brick).
        "unit": pub unit: Option<Size> = eg("12 in").within(0.5, 20.0 * FOOT)
            .taken("12 in for boards, 24 in for iron, 2 2/3 in for brick", "common practice, no source")
            .only(&["board-and-batten", "boards", "corrugated", "brick"]),
        /// Gap between boards.
        "gap": pub gap: Option<Size> = eg("1/8 in").within(0.0, 12.0).unless("0 in", "judgement")
            .only(BOARDED),
        /// Part left to the weather: clapboards, shingles.
        "exposure": pub exposure: Option<Size> = eg("4 1/2 in").within(0.5, 4.0 * FOOT)
            .taken("4 1/2 in on a wall, 5 in on a roof", "common practice, no source")
            .only(&["clapboard", "shingle"]),
        /// Batten width.
        "batten": pub batten: Option<Size> = eg("3 in").upto(2.0 * FOOT).only(BOARDED)
            .taken_for(&["board-and-batten"], "3 in", "common practice, no source"),
        /// Thickness of board, sheet or shingle.
        "thickness": pub thickness: Option<Size> = eg("1 in").upto(2.0 * FOOT)
            .taken_for(&["board-and-batten", "boards", "clapboard", "shingle"],
                "1 in for boards, 1/2 in for clapboard and shingles", "common practice, no source"),
        /// The same on the model, where it is known: that of what is bought.
        "thick": pub thick: Option<Said<Model>> = eg("1/32 in").upto(2.0),
        /// Thickness of the batten.
        "batten-thickness": pub batten_thickness: Option<Size> = eg("1 in").upto(12.0).only(BOARDED)
            .taken_for(&["board-and-batten"], "1 in", "common practice, no source"),
        /// Length of a sheet (corrugated) or shingle.
        "length": pub length: Option<Size> = eg("10 ft").within(4.0, 60.0 * FOOT)
            .taken_for(&["corrugated"], "10 ft", "common practice, no source")
            .only(&["corrugated", "shingle"]).agrees("the width of the sheet: the length lies up the slope"),
        /// End lap of sheets.
        "lap": pub lap: Option<Size> = eg("6 in").within(0.0, 4.0 * FOOT).only(&["corrugated"])
            .taken("6 in", "common practice, no source").agrees("the length of the sheet"),
        /// Distance from crest to crest of corrugated sheet.
        "pitch": pub pitch: Option<Size> = eg("2 1/2 in").within(0.25, 2.0 * FOOT).only(&["corrugated"]).agrees("the width of the sheet"),
        /// Boards scribed on sheet instead of laid one by one.
        "scribed": pub scribed: bool = eg("true").only(BOARDED),
        /// What to do with the last board.
        "remainder": pub remainder: Remainder = eg("centre").unless("leave", "judgement"),
        /// Of clapboards: heights that courses meet, between foot and top; the sills
        /// and heads of the openings when absent.
        "lines": pub lines: Option<Vec<Size>> = eg("[\"7 ft 3 in\", \"12 ft 3 in\"]").within(0.0, 500.0 * FOOT)
            .only(&["clapboard"]).unless("the sills and heads of the openings", "judgement"),
    }

    /// A part that is bought and stands on a body: a stack, a vane, a bell.
    #[derive(Clone, Debug)]
    pub struct BoughtPart [table("bought")] {
        /// Short name.
        "name": pub name: String = must("stack").text(Text::Name),
        /// What it is.
        "what": pub what: String = eg("sheet-iron stack"),
        /// The body it stands on; the main one when absent.
        "of": pub of: Option<String> = eg("main").of(Named::Body).unless("the main one", "judgement"),
        /// How many; 1 when absent.
        "count": pub count: Option<u32> = eg("2").within(0.0, 10_000.0).unless("1", "judgement"),
        /// Where its middle stands: along the front of that body and behind it.
        "at": pub at: Option<[Size; 2]> = eg("[\"7 ft\", \"4 ft\"]").within(-2000.0 * FOOT, 2000.0 * FOOT)
            .agrees("the length and depth of that body"),
    }

    /// Timbers of one kind.
    #[derive(Clone, Debug)]
    pub struct Member [table("member")] {
        /// Short name.
        "name": pub name: String = must("canopy-post").names(Named::Member),
        /// What it is.
        "what": pub what: String = eg("post of the platform canopy"),
        /// Nominal lumber size, such as `8x8`; its actual size goes by the era.
        "lumber": pub lumber: Option<String> = eg("8x8").text(Text::Name).agrees("the era of the job"),
        /// Actual thickness, where no nominal size is given.
        "thickness": pub thickness: Option<Size> = eg("8 in").upto(10.0 * FOOT),
        /// Actual width, where no nominal size is given.
        "width": pub width: Option<Size> = eg("8 in").upto(10.0 * FOOT),
        /// Length of one, before joints.
        "length": pub length: Option<Size> = eg("12 ft").upto(2000.0 * FOOT),
        /// How many; by the spacing along the front when absent.
        "count": pub count: Option<u32> = eg("9").within(0.0, 10_000.0),
        /// Greatest spacing along the front.
        "spacing": pub spacing: Option<Size> = eg("12 ft").within(3.0, 500.0 * FOOT),
        /// Inclined members: level leg and upright leg of the line.
        "legs": pub legs: Option<[Size; 2]> = eg("[\"30 in\", \"30 in\"]").within(0.0, 500.0 * FOOT),
        /// Cross braces in the bays between posts of this name, over this height.
        "cross": pub cross: Option<Cross> = eg("{ posts = \"canopy-post\", height = \"8 ft\" }"),
        /// How many stand at each place given by count or spacing.
        "each": pub each: Option<u32> = eg("2").within(1.0, 100.0).unless("1", "judgement"),
        /// Where they stand, to hold them against the track.
        "stands": pub stands: Option<Stands> = eg("{ out = \"6 ft 9 in\" }"),
        /// The body they belong to; the main one when absent.
        "of": pub of: Option<String> = eg("canopy").of(Named::Body).unless("the main one", "judgement"),
        /// Of rafters: they lie under the roof of their body, from its wall or
        /// ridge to the eave edge.
        "under-roof": pub under_roof: bool = eg("true"),
        /// Of posts: the beam they stand under. Of a beam: the rafters it carries.
        "carries": pub carries: Option<String> = eg("beam").of(Named::Member),
        /// Centre of the first from the left end, and of the last from the right.
        "at": pub at: Option<Size> = eg("12 in").within(0.0, 2000.0 * FOOT),
        /// Distance of their centres, from the first.
        "every": pub every: Option<Size> = eg("24 in").within(3.0, 500.0 * FOOT),
        /// How deep they are let into the beam they cross, at its middle.
        "let-in": pub let_in: Option<Size> = eg("2 in").within(0.0, 10.0 * FOOT)
            .agrees("the width of the timber: it is deeper"),
        /// How the ends of an inclined one are cut.
        "ends": pub ends: Option<EndCut> = eg("flat"),
        /// Foot of a post above the foot of the walls; the ground when absent.
        "foot": pub foot: Option<Size> = eg("-4 ft").within(-500.0 * FOOT, 500.0 * FOOT)
            .unless("the ground", "judgement"),
        /// Where one begins and ends, seen from the wall: along it, out from it, up
        /// from the foot of the walls.
        "from": pub from: Option<[Size; 3]> = eg("[\"2 ft\", \"0 in\", \"9 ft\"]")
            .within(-2000.0 * FOOT, 2000.0 * FOOT),
        /// Its other end.
        "to": pub to: Option<[Size; 3]> = eg("[\"2 ft\", \"3 ft\", \"12 ft\"]")
            .within(-2000.0 * FOOT, 2000.0 * FOOT),
        /// A train passes it: never made thicker than it should be.
        "beside-track": pub beside_track: bool = eg("true"),
    }

    /// Two braces crossed in each bay between posts.
    #[derive(Clone, Debug)]
    pub struct Cross [table("member.cross")] {
        /// The member that stands at each end of the bay.
        "posts": pub posts: String = must("canopy-post").of(Named::Member),
        /// Height from the foot of one brace to its head.
        "height": pub height: Size = must("8 ft").upto(500.0 * FOOT),
    }

    /// Sticks, sheets and kerf.
    #[derive(Clone, Debug, Default)]
    pub struct Cutting [table("cutting")] {
        /// Length of a stick as bought; 24 in when absent.
        "stick": pub stick: Option<Said<Model>> = eg("24 in").within(1.0, 20.0 * FOOT)
            .unless("as sold, 24 in", "data/stock.toml"),
        /// Lost at the ends of each stick, both together.
        "trim": pub trim: Option<Said<Model>> = eg("1/4 in").within(0.0, 4.0)
            .unless("0 in", "judgement").agrees("the stick: it is shorter"),
        /// Width of a saw cut; 0 for a knife.
        "kerf": pub kerf: Option<Said<Model>> = eg("15 thou").within(0.0, 0.25)
            .unless("0 in", "judgement"),
        /// How often a sheet is turned on the way to any part, cut with a knife;
        /// 3 when absent, 2 at least.
        "stages": pub stages: Option<u32> = eg("3").within(2.0, 20.0).unless("3", "judgement"),
        /// How sheets are cut.
        "method": pub method: CutBy = eg("laser").unless("knife", "judgement"),
        /// Kept free along the edges of every sheet.
        "margin": pub margin: Option<Said<Model>> = eg("1/16 in").within(0.0, 4.0)
            .unless("0 in", "judgement").agrees("the sheets: they are larger"),
        /// The bed of the laser: across the grain, along it; a larger sheet is cut
        /// down to it first.
        "bed": pub bed: Option<[Said<Model>; 2]> = eg("[\"12 in\", \"20 in\"]").within(0.25, 20.0 * FOOT),
        /// Sheet sizes on hand: width across the grain, length along it.
        "sheets": pub sheets: Vec<[Said<Model>; 2]> = eg("[[\"4 in\", \"24 in\"]]").within(0.25, 20.0 * FOOT)
            .agrees("the grain: the length lies along it"),
    }

    /// Stock picked by hand for a member or board.
    #[derive(Clone, Debug)]
    pub struct PickedStock [table("stock")] {
        /// The member, board or cladding it is for.
        "member": pub member: String = must("canopy-post").text(Text::Line).agrees("the sections of the building"),
        /// Stock size, as the catalogue or rack names it.
        "size": pub size: String = must("wood 3/16 in x 3/16 in").text(Text::Line),
        /// Why.
        "reason": pub reason: String = eg("on hand"),
    }
}

choice! {
    /// What an opening is.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum OpeningWhat {
        /// People or goods pass.
        Door = "door",
        /// Light passes.
        Window = "window",
        /// Light passes through a glazed frame that is bought or made alone, without
        /// a frame round it.
        Sash = "sash",
        /// Neither: a vent, a hatch.
        Hole = "hole",
    }

    /// Kinds of cladding.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum CladdingKind {
        /// Vertical boards with a batten over each joint.
        BoardAndBatten = "board-and-batten",
        /// Vertical boards alone.
        Boards = "boards",
        /// Tapered horizontal boards, lapped.
        Clapboard = "clapboard",
        /// Corrugated metal sheet.
        Corrugated = "corrugated",
        /// Brick in courses.
        Brick = "brick",
        /// Wood shingles in courses.
        Shingle = "shingle",
    }

    /// What becomes of the board that does not come out whole (trade: leave it
    /// narrow, centre the layout, or adjust the width of all).
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Remainder = Leave {
        /// Leave the narrow last board.
        Leave = "leave",
        /// Two equal end boards.
        Centre = "centre",
        /// Widen or narrow all boards a little.
        Adjust = "adjust",
    }

    /// How the ends of an inclined timber are cut.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum EndCut {
        /// To lie flat on post and beam, as a knee brace does.
        Flat = "flat",
        /// Upright, as a rafter's.
        Plumb = "plumb",
        /// Square to its length.
        Square = "square",
    }

    /// How sheets are cut.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum CutBy = Knife {
        /// From edge to edge, along a fence or rule.
        Knife = "knife",
        /// Round each part.
        Laser = "laser",
    }
}

/// The casting that fills an opening.
#[derive(Clone, Debug)]
pub enum Casting {
    /// One on the rack, by its name there.
    Named(String),
    /// Measured on the bench.
    Measured(Frame),
}

impl Value for Casting {
    fn kind() -> Kind {
        Kind::Either(String::kind, Frame::kind)
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        match node {
            Node::Table(..) => Frame::read(node, reader, rule).map(Self::Measured),
            _ => String::read(node, reader, rule).map(Self::Named),
        }
    }
}
