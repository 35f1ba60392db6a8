//! Walls: what they are made of from outside in, what is in them, and how they
//! meet.

use super::body::{CornerId, FaceId, Side};
use super::face::Element;
use super::grammar::{FOOT, Named, Text, choice, eg, keys, must, table};
use super::model::Job;
use super::said::{Said, Size};
use crate::quantity::Model;

keys! {
    /// A wall of a body, seen from outside.
    #[derive(Clone, Debug)]
    pub struct Wall [table("wall").scoped()] {
        /// Body and side: `main/front`.
        "of": pub of: FaceId = must("main/front").of(Named::Wall),
        /// What it is called in drawings.
        "title": pub title: String = eg("Track face"),
        /// Wall height; the body's eave when absent.
        "height": pub height: Option<Size> = eg("18 ft").upto(500.0 * FOOT).agrees("the eave"),
        /// Length from corner to corner, to check the row against or, where there
        /// is no row, to build to.
        "length": pub length: Option<Size> = eg("96 ft").upto(2000.0 * FOOT)
            .agrees("the row: its elements add up to it"),
        /// Its layers from outside in: names of `[[cladding]]` and `[[layer]]`,
        /// claddings one above the other as `brick + boards`. Those of its body or
        /// of `[walls]` when absent.
        "layers": pub layers: Option<Vec<String>> = eg("[\"brick + boards\", \"core\"]")
            .of(Named::InWall).text(Text::Line),
        /// Its trim; that of its body or of `[walls]` when absent.
        "trim": pub trim: Option<Vec<TrimBoard>> = eg("[\"corner-left\", \"frieze\"]")
            .agrees("the widths under [trim]"),
        /// Battens stop at this height, and none begins above it.
        "battens-to": pub battens_to: Option<Size> = eg("11 ft 3 in").within(0.0, 500.0 * FOOT),
        /// The elements, left to right: what may stretch and repeat.
        "row": pub row: Vec<Element> = eg("[{ plain = \"wall\", width = \"96 ft\" }]")
            .agrees("the length of the wall, and the readings of the whole"),
        /// Doors and windows at their place, beside those of the row.
        "openings": pub openings: Vec<Placed> = eg("[{ kind = \"freight-door\", at = \"6 ft\" }]")
            .agrees("the length of the wall"),
    }

    /// An opening at its place.
    #[derive(Clone, Debug)]
    pub struct Placed [table("wall.openings")] {
        /// Its kind: the name of an `[[opening]]`.
        "kind": pub kind: String = must("freight-door").of(Named::Opening),
        /// Its left edge from the left corner of the wall.
        "at": pub at: Size = must("6 ft").within(0.0, 2000.0 * FOOT).agrees("the length of the wall"),
        /// Its foot, where that is not the sill of its kind.
        "sill": pub sill: Option<Size> = eg("4 ft").within(0.0, 500.0 * FOOT)
            .unless("that of its kind", "judgement"),
    }

    /// What all walls have that say nothing.
    #[derive(Clone, Debug, Default)]
    pub struct Walls [table("walls")] {
        /// Layers from outside in.
        "layers": pub layers: Vec<String> = eg("[\"boards\", \"core\"]").of(Named::InWall).text(Text::Line),
        /// Trim; all that `[trim]` has a width for when absent.
        "trim": pub trim: Option<Vec<TrimBoard>> = eg("[\"frieze\"]").agrees("the widths under [trim]"),
        /// Width of the strips behind joints, on the model; 1/4 in when absent.
        "doubler": pub doubler: Option<Said<Model>> = eg("1/4 in").within(0.0, 6.0)
            .unless("1/4 in", "common practice, no source"),
        /// Width of the uprights inside, on the model; 1/4 in when absent.
        "bracing": pub bracing: Option<Said<Model>> = eg("1/4 in").within(0.0, 6.0)
            .unless("1/4 in", "common practice, no source"),
        /// Side of the blocks in the inside corners, on the model; 1/4 in when
        /// absent.
        "block": pub block: Option<Said<Model>> = eg("1/4 in").within(0.0, 6.0)
            .unless("1/4 in", "common practice, no source"),
    }

    /// A sheet that walls and roofs are made of.
    #[derive(Clone, Debug)]
    pub struct Layer [table("layer")] {
        /// Short name used by walls and roofs.
        "name": pub name: String = must("core").names(Named::Layer),
        /// What it does.
        "does": pub does: Does = eg("core").unless("core", "judgement"),
        /// Its thickness on the model; that of the stock taken when absent.
        "thick": pub thick: Option<Said<Model>> = eg("1/16 in").within(0.002, 2.0)
            .unless("that of the stock taken", "data/stock.toml"),
        /// Its material, such as `wood` or `card`; by `[materials]` when absent.
        "material": pub material: Option<String> = eg("wood").text(Text::Name),
        /// Which way its grain runs; along the wall when absent, none in card.
        "grain": pub grain: Option<Grain> = eg("along")
            .unless("along the wall, none in card", "common practice, no source"),
    }

    /// A corner that is not as its body says.
    #[derive(Clone, Debug)]
    pub struct Corner [table("corner")] {
        /// Which corner: `main/front-left`.
        "of": pub of: CornerId = must("main/front-left").text(Text::Name),
        /// How the cores meet; as the body says when absent.
        "joint": pub joint: Option<Corners> = eg("mitre").unless("as the body says", "judgement"),
        /// The wall whose core runs through; the front or back when absent.
        "core": pub core: Option<Side> = eg("front").unless("the front or back", "judgement")
            .agrees("the two walls that meet there"),
        /// The wall whose cladding covers the edge of the other's; the front, or at
        /// the back the end, when absent.
        "cladding": pub cladding: Option<Side> = eg("front")
            .unless("the front, at the back the end", "judgement")
            .agrees("the two walls that meet there"),
        /// Side of the corner post, on the model.
        "post": pub post: Option<Said<Model>> = eg("3/64 in").upto(2.0),
    }
}

impl Layer {
    /// Which way its grain runs on a wall.
    #[must_use]
    pub fn grain(&self) -> Grain {
        let plain = self.material.as_deref().is_some_and(|it| it != "wood");
        self.grain.unwrap_or(if plain { Grain::None } else { Grain::Along })
    }
}

choice! {
    /// A trim board of a wall.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum TrimBoard {
        /// A board at the left corner.
        CornerLeft = "corner-left",
        /// A board at the right corner.
        CornerRight = "corner-right",
        /// A board under the eave, or along the rakes.
        Frieze = "frieze",
        /// A board at the foot.
        WaterTable = "water-table",
    }

    /// What a layer does.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum Does = Core {
        /// Carries the wall.
        Core = "core",
        /// Is the sheet of a roof.
        Roof = "roof",
        /// Is a floor or a base.
        Floor = "floor",
    }

    /// Which way the grain of a sheet runs on its wall.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum Grain {
        /// Level, along the wall.
        Along = "along",
        /// Upright.
        Up = "up",
        /// It has none.
        None = "none",
    }

    /// How two walls meet.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum Corners = Butt {
        /// One wall runs through, the other stops at it.
        Butt = "butt",
        /// Both edges at half the angle.
        Mitre = "mitre",
        /// Both stop at a post.
        Post = "post",
    }
}

impl Job {
    /// The layers of a wall, from outside in: its own, else those of its body,
    /// else those of `[walls]`.
    #[must_use]
    pub fn layers_of(&self, id: &FaceId) -> &[String] {
        let own = self.wall(id).and_then(|wall| wall.layers.as_deref());
        let body = || self.body(&id.body).and_then(|body| body.layers.as_deref());
        own.or_else(body).unwrap_or(&self.usual.layers)
    }

    /// The claddings of a wall, from the ground up.
    #[must_use]
    pub fn claddings_of(&self, id: &FaceId) -> Vec<String> {
        let names = self.layers_of(id).iter().flat_map(|layer| one_above_the_other(layer));
        let clad = |name: &&str| self.claddings.iter().any(|cladding| cladding.name == **name);
        names.filter(clad).map(str::to_owned).collect()
    }

    /// How thick the core of the walls is on the model, where the job says it.
    #[must_use]
    pub fn core_thick(&self) -> Option<&Said<Model>> {
        let core = self.layers.iter().find(|layer| layer.does == Does::Core);
        core.and_then(|layer| layer.thick.as_ref())
    }
}

/// The names of a layer that is made of several, one above the other: `brick +
/// boards`.
pub(crate) fn one_above_the_other(layer: &str) -> impl Iterator<Item = &str> {
    layer.split('+').map(str::trim).filter(|name| !name.is_empty())
}
