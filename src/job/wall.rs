//! Walls: what they are made of from outside in, what is in them, and how they
//! meet.

use serde::Deserialize;

use super::body::{CornerId, FaceId, Side};
use super::face::Element;
use super::model::Job;
use super::said::{Said, Size};
use crate::quantity::Model;

/// A wall of a body, seen from outside.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Wall {
    /// Body and side: `main/front`.
    pub of: FaceId,
    /// What it is called in drawings.
    #[serde(default)]
    pub title: String,
    /// Wall height; the body's eave when absent.
    pub height: Option<Size>,
    /// Length from corner to corner, to check the row against or, where there
    /// is no row, to build to.
    pub length: Option<Size>,
    /// Its layers from outside in: names of `[[cladding]]` and `[[layer]]`,
    /// claddings one above the other as `brick + boards`. Those of its body or
    /// of `[walls]` when absent.
    pub layers: Option<Vec<String>>,
    /// Its trim; that of its body or of `[walls]` when absent.
    pub trim: Option<Vec<TrimBoard>>,
    /// Battens stop at this height, and none begins above it.
    pub battens_to: Option<Size>,
    /// The elements, left to right: what may stretch and repeat.
    #[serde(default)]
    pub row: Vec<Element>,
    /// Doors and windows at their place, beside those of the row.
    #[serde(default)]
    pub openings: Vec<Placed>,
}

/// An opening at its place.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Placed {
    /// Its kind: the name of an `[[opening]]`.
    pub kind: String,
    /// Its left edge from the left corner of the wall.
    pub at: Size,
    /// Its foot, where that is not the sill of its kind.
    pub sill: Option<Size>,
}

/// What all walls have that say nothing.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Walls {
    /// Layers from outside in.
    #[serde(default)]
    pub layers: Vec<String>,
    /// Trim; all that `[trim]` has a width for when absent.
    pub trim: Option<Vec<TrimBoard>>,
    /// Width of the strips behind joints, on the model; 1/4 in when absent.
    pub doubler: Option<Said<Model>>,
    /// Width of the uprights inside, on the model; 1/4 in when absent.
    pub bracing: Option<Said<Model>>,
    /// Side of the blocks in the inside corners, on the model; 1/4 in when
    /// absent.
    pub block: Option<Said<Model>>,
}

/// A trim board of a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TrimBoard {
    /// A board at the left corner.
    CornerLeft,
    /// A board at the right corner.
    CornerRight,
    /// A board under the eave, or along the rakes.
    Frieze,
    /// A board at the foot.
    WaterTable,
}

/// A sheet that walls and roofs are made of.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Layer {
    /// Short name used by walls and roofs.
    pub name: String,
    /// What it does.
    #[serde(default)]
    pub does: Does,
    /// Its thickness on the model; that of the stock taken when absent.
    pub thick: Option<Said<Model>>,
    /// Its material, such as `wood` or `card`; by `[materials]` when absent.
    pub material: Option<String>,
    /// Which way its grain runs; along the wall when absent, none in card.
    pub grain: Option<Grain>,
}

impl Layer {
    /// Which way its grain runs on a wall.
    #[must_use]
    pub fn grain(&self) -> Grain {
        let plain = self.material.as_deref().is_some_and(|it| it != "wood");
        self.grain.unwrap_or(if plain { Grain::None } else { Grain::Along })
    }
}

/// What a layer does.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Does {
    /// Carries the wall.
    #[default]
    Core,
    /// Is the sheet of a roof.
    Roof,
    /// Is a floor or a base.
    Floor,
}

/// Which way the grain of a sheet runs on its wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Grain {
    /// Level, along the wall.
    Along,
    /// Upright.
    Up,
    /// It has none.
    None,
}

/// How two walls meet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Deserialize, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Corners {
    /// One wall runs through, the other stops at it.
    #[default]
    Butt,
    /// Both edges at half the angle.
    Mitre,
    /// Both stop at a post.
    Post,
}

/// A corner that is not as its body says.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Corner {
    /// Which corner: `main/front-left`.
    pub of: CornerId,
    /// How the cores meet; as the body says when absent.
    pub joint: Option<Corners>,
    /// The wall whose core runs through; the front or back when absent.
    pub core: Option<Side>,
    /// The wall whose cladding covers the edge of the other's; the front, or at
    /// the back the end, when absent.
    pub cladding: Option<Side>,
    /// Side of the corner post, on the model.
    pub post: Option<Said<Model>>,
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
