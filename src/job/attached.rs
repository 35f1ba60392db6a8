//! Boxes built on to the body: a lean-to, a wing, a chimney, a cupola, a dormer.

use serde::Deserialize;

use super::building::RoofKind;
use super::said::Size;

/// A box that stands against a face or on the roof.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Attached {
    /// Short name: its faces are called after it.
    pub name: String,
    /// What it is, in words.
    #[serde(default)]
    pub what: String,
    /// What it stands on or against.
    pub stands: Stands,
    /// The face it stands against; the front when absent.
    pub face: Option<String>,
    /// Its left side from the left corner of that face, or along the ridge
    /// from the left end.
    pub at: Option<Size>,
    /// Along the face or the ridge.
    pub length: Size,
    /// Out from the face, or across the ridge.
    pub depth: Size,
    /// Height of its outer wall: from the ground, or from the roof.
    pub height: Size,
    /// Its roof; level when absent.
    pub roof: Option<RoofKind>,
    /// Rise over run of its roof, as `4:12`.
    pub pitch: Option<String>,
    /// Level projection of its roof.
    pub overhang: Option<Size>,
    /// Names of its claddings; those of the front when absent.
    pub cladding: Option<Vec<String>>,
    /// Name of the cladding on its roof.
    pub roof_cladding: Option<String>,
    /// Doors and windows on its outer face.
    #[serde(default)]
    pub openings: Vec<Set>,
}

/// Where a box stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stands {
    /// Against a face, its roof falling outwards or lying along it.
    Against,
    /// Against a face, its ridge running out from it: the other leg of an L.
    Out,
    /// On a slope of the roof: a dormer, a chimney beside the ridge.
    OnSlope,
    /// Astride the ridge: a cupola, a chimney, a stack.
    OnRidge,
}

/// An opening set in a plain face.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Set {
    /// The kind of opening.
    pub kind: String,
    /// Its left edge from the left corner of the face.
    pub at: Size,
}
