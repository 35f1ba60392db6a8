//! The layers of a wall: how thick each is, where it ends at its corners, its
//! holes, and where it is left off.

use std::fmt;

use super::origin::Sized;
use super::wall::Line;
use crate::elevation::Hole;
use crate::job::body::FaceId;
use crate::job::wall::{Corners, Grain};
use crate::quantity::{Compressed, Model};

/// A layer of a wall: `main/front/core`.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct LayerId {
    /// The wall.
    pub face: FaceId,
    /// The name of the `[[layer]]` or `[[cladding]]`.
    pub layer: String,
}

impl fmt::Display for LayerId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.face, self.layer)
    }
}

/// What a layer is in its wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// It covers what carries the wall.
    Cladding,
    /// It carries the wall.
    Core,
    /// It is the wall alone.
    Single,
}

/// A layer of a wall.
#[derive(Clone, Debug)]
pub struct Layer {
    /// Wall and layer.
    pub id: LayerId,
    /// What it is.
    pub role: Role,
    /// Names of its claddings, from the foot up; one of them is its own name.
    pub claddings: Vec<String>,
    /// Its thickness on the model.
    pub thick: Sized<Model>,
    /// The same at full size, inches.
    pub full: f64,
    /// From the finished face to its outer face, at full size, inches.
    pub out: f64,
    /// Its left edge, from the wall's left corner.
    pub left: Sized<Compressed>,
    /// Its right edge, from the same corner.
    pub right: Sized<Compressed>,
    /// How its edges are cut.
    pub edges: [EdgeCut; 2],
    /// Its foot: above what stands against the wall, where it is left off.
    pub foot: Line,
    /// Its holes.
    pub holes: Vec<LayerHole>,
    /// Which way its grain runs.
    pub grain: Grain,
    /// Its material, where the job says.
    pub material: Option<String>,
    /// Whether it is seen from outside.
    pub shows: bool,
}

impl Layer {
    /// Its length along the wall.
    #[must_use]
    pub fn length(&self) -> Sized<Compressed> {
        Sized::rule(
            format!("length of {}", self.id),
            "from edge to edge",
            &[&self.left.origin, &self.right.origin],
            |of| of[1] - of[0],
        )
    }
}

/// How an upright edge of a layer meets its neighbour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EdgeCut {
    /// The joint there.
    pub joint: Corners,
    /// Whether there is a neighbour at all.
    pub met: bool,
}

/// A hole in a layer.
#[derive(Clone, Debug)]
pub struct LayerHole {
    /// The hole, as cut in this layer.
    pub hole: Hole<Compressed>,
    /// Its width on the model.
    pub width: Sized<Model>,
    /// Its height on the model.
    pub height: Sized<Model>,
}
