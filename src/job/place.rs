//! The place the model is to stand in, what counts in its look, and the choice.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::said::Said;
use crate::quantity::{Compressed, Model, Prototype};

/// The place on the layout, in model lengths.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Space {
    /// Straight length between the things it must stay clear of.
    pub length: Option<Said<Model>>,
    /// Left free at each end.
    pub margin: Option<Said<Model>>,
    /// What of the building counts in the space.
    #[serde(default)]
    pub counts: Counts,
    /// Depth for what counts.
    pub depth: Option<Said<Model>>,
    /// From the track centre to the backdrop, where the depth is what is left
    /// of it when the stack is taken off.
    pub track_to_back: Option<Said<Model>>,
    /// What stands between the track centre and the building's front.
    #[serde(default)]
    pub stack: Vec<StackItem>,
    /// Height under a shelf or backdrop edge.
    pub height: Option<Said<Model>>,
    /// Length over couplers of the car that is to be spotted here.
    pub car: Option<Said<Prototype>>,
}

/// What of a building counts in a space.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Deserialize, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Counts {
    /// The walls of all bodies.
    Walls,
    /// Their roofs too, out to the eaves.
    Eaves,
    /// All that is modelled: canopies, decks, steps and the base too.
    #[default]
    All,
}

/// One item of the stack between track centre and front.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct StackItem {
    /// What it is.
    pub what: String,
    /// Its size on the full-size building.
    pub full: Option<Said<Prototype>>,
    /// Its size on the model.
    pub model: Option<Said<Model>>,
}

/// What counts in the look of this building.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Look {
    /// Features that count, keys of `data/look.toml`; those that apply when
    /// empty.
    #[serde(default)]
    pub features: Vec<String>,
    /// Tolerances and weights of this job's own.
    #[serde(default, rename = "weigh")]
    pub weights: Vec<Weigh>,
}

/// A tolerance and weight in place of those of `data/look.toml`.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Weigh {
    /// The feature.
    pub feature: String,
    /// Tolerance, or the fixed z of a yes-or-no feature.
    pub tau: Option<f64>,
    /// Weight.
    pub weight: Option<f64>,
}

/// The alternative the person chose: the compression record.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Choice {
    /// Its kind, in the words of the compression stage.
    pub kind: String,
    /// Repeats kept, by element name.
    #[serde(default)]
    pub counts: BTreeMap<String, u32>,
    /// Widths used, by element or group name.
    #[serde(default)]
    pub widths: BTreeMap<String, Said<Compressed>>,
    /// Storeys kept, by name; all of those not named.
    #[serde(default)]
    pub storeys: BTreeMap<String, u32>,
    /// Depth used.
    pub depth: Option<Said<Compressed>>,
    /// How the roof follows.
    pub roof: Option<RoofFollows>,
    /// Height of the eave, where it was set by hand.
    pub eave: Option<Said<Compressed>>,
    /// Height of the ridge, where it was set by hand.
    pub ridge: Option<Said<Compressed>>,
    /// Why, in the person's words.
    #[serde(default)]
    pub reason: String,
    /// When it was decided.
    #[serde(default)]
    pub date: String,
}

/// How the roof follows a shallower depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RoofFollows {
    /// Pitch kept; the ridge comes down.
    KeepPitch,
    /// Ridge kept; the pitch gets steeper.
    KeepRidge,
    /// Cut at the ridge against the backdrop; ridge and pitch kept.
    HalfRelief,
    /// The front alone.
    Flat,
}
