//! The body, roof, openings, cladding and timbers of a building.

use super::grammar::{
    FOOT, Kind, Named, Node, Reader, Rule, Text, Value, Wrong, choice, eg, keys, must, table,
};
use super::said::{Said, Size};
use super::track::Stands;
use crate::quantity::Model;

/// Claddings laid as upright boards.
const BOARDED: &[&str] = &["board-and-batten", "boards"];

keys! {
    /// The body of the building.
    #[derive(Clone, Debug)]
    pub struct Building [table("building")] {
        /// The face whose row gives the length.
        "front": pub front: String = must("track").of(Named::Face),
        /// Depth behind the front, wall face to wall face.
        "depth": pub depth: Size = must("32 ft").upto(2000.0 * FOOT)
            .agrees("the row or length of the end faces"),
        /// Height of the eave: where the roof plane meets the wall face.
        "eave": pub eave: Size = must("18 ft").upto(500.0 * FOOT).agrees("the ridge and pitch, and the storeys"),
        /// Foundation under the sill, full size.
        "foundation": pub foundation: Option<Size> = eg("4 ft").within(0.0, 200.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Storeys from the foot of the wall to the eave; one, never left out, when
        /// empty.
        "storeys": pub storeys: Vec<Storey> = eg("[{ name = \"ground\", height = \"12 ft\" }]").agrees("the eave: they add up to it"),
    }

    /// A storey, or several alike one above the other.
    #[derive(Clone, Debug)]
    pub struct Storey [table("building.storeys")] {
        /// Short name.
        "name": pub name: String = must("ground").names(Named::Storey),
        /// Floor to floor.
        "height": pub height: Size = must("12 ft").upto(100.0 * FOOT),
        /// How many there are; one when absent.
        "count": pub count: Option<u32> = eg("2").within(1.0, 100.0).unless("1", "judgement"),
        /// How many must stay; all of them when absent.
        "at-least": pub at_least: Option<u32> = eg("1").within(0.0, 100.0).agrees("the count"),
    }

    /// The roof.
    #[derive(Clone, Debug)]
    pub struct Roof [table("roof")] {
        /// Its kind.
        "kind": pub kind: RoofKind = must("gable"),
        /// Rise over run as `6:12` or a plain number; from the ridge when absent.
        "pitch": pub pitch: Option<String> = eg("6:12").text(Text::Pitch).within(0.0, 3.0)
            .agrees("the ridge, where both are given"),
        /// Ridge height; from the pitch when absent.
        "ridge": pub ridge: Option<Size> = eg("26 ft").upto(800.0 * FOOT)
            .agrees("the eave, the depth and the pitch"),
        /// Level projection beyond the wall at the eaves.
        "eave-overhang": pub eave_overhang: Option<Size> = eg("18 in").within(0.0, 30.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Projection beyond the gable walls.
        "rake-overhang": pub rake_overhang: Option<Size> = eg("12 in").within(0.0, 30.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Name of the cladding on it.
        "cladding": pub cladding: Option<String> = eg("shingles").of(Named::Cladding),
        /// Rafters at these centres.
        "rafters": pub rafters: Option<Size> = eg("24 in").within(6.0, 60.0 * FOOT),
        /// How far walls rise above a level or one-sloped roof, or gable ends
        /// above the rakes.
        "parapet": pub parapet: Option<Size> = eg("18 in").within(0.0, 50.0 * FOOT),
    }

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
        /// The bought part that fills it.
        "casting": pub casting: Option<Casting> = eg("{ width = \"0.75 in\", height = \"1.25 in\" }")
            .agrees("the opening at the scale of the model"),
    }

    /// The frame of a casting behind its flange.
    #[derive(Clone, Debug)]
    pub struct Frame [table("opening.casting")] {
        /// Its width.
        "width": pub width: Said<Model> = must("0.75 in").upto(12.0).agrees("the opening on the model"),
        /// Its height.
        "height": pub height: Said<Model> = must("1.25 in").upto(12.0).agrees("the opening on the model"),
    }

    /// What a wall or roof is covered with. Which keys count depends on the kind.
    #[derive(Clone, Debug)]
    pub struct Cladding [table("cladding").by("kind")] {
        /// Short name used by faces and roof.
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

    /// Core walls.
    #[derive(Clone, Debug, Default)]
    pub struct Core [table("core")] {
        /// Thickness of the core sheet.
        "thickness": pub thickness: Option<Said<Model>> = eg("40 thou").within(0.002, 2.0),
        /// How the walls meet.
        "corners": pub corners: Corners = eg("butt").unless("butt", "common practice, no source"),
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
    /// Kinds of roof.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum RoofKind {
        /// Two planes and a ridge.
        Gable = "gable",
        /// One plane.
        Shed = "shed",
        /// Four planes.
        Hip = "hip",
        /// A gable with a raised strip along the ridge.
        Monitor = "monitor",
        /// Level.
        Flat = "flat",
    }

    /// What an opening is.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum OpeningWhat {
        /// People or goods pass.
        Door = "door",
        /// Light passes.
        Window = "window",
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

    /// Corner joints of core walls.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Corners = Butt {
        /// Short walls between the long ones.
        Butt = "butt",
        /// Edges at half the angle.
        Mitre = "mitre",
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
