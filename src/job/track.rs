//! The track beside the building, and what stands near it.

use serde::Deserialize;

use super::said::{Said, Size};
use crate::quantity::Model;

/// The track as it lies on the layout: a chain of pieces.
///
/// Model lengths on the plan of the building: `x` along the front from its left
/// corner, `y` backwards, so that what lies before the front is below zero.
/// With a `[site]` they count on its outline.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Track {
    /// Where the first piece begins.
    pub at: [Said<Model>; 2],
    /// Which way it goes, against the clock from `x`: `-2 deg`; along `x` when
    /// absent.
    pub heading: Option<String>,
    /// Rail head above the foot of the wall; level with it when absent.
    pub rail: Option<Said<Model>>,
    /// Gauge, where an outer rail is raised; full-size standard gauge when
    /// absent.
    pub gauge: Option<Said<Model>>,
    /// The pieces.
    #[serde(default, rename = "piece")]
    pub pieces: Vec<TrackPiece>,
    /// The cars that pass: names of `[[car]]` or of `data/cars.toml`.
    #[serde(default)]
    pub cars: Vec<String>,
    /// Full-size rules held beside them: keys of `data/clearances.toml`.
    #[serde(default)]
    pub rules: Vec<String>,
    /// Published outlines held beside them: keys of `data/clearances.toml`.
    #[serde(default)]
    pub outlines: Vec<String>,
    /// Whether a wire hangs over the track: outlines are held with the part they
    /// keep free for it.
    #[serde(default)]
    pub wire: bool,
    /// Kept free beyond the car; 1/8 in when absent.
    pub margin: Option<Said<Model>>,
    /// Paint and glue on what stands there; by `data/fits.toml` when absent.
    pub paint: Option<Said<Model>>,
    /// What the platform is for, where a rule asks, such as `refrigerator
    /// loading`.
    pub platform_for: Option<String>,
    /// Middle of the first car spotted, along the front; where the doors fit
    /// best when absent.
    pub first_car: Option<Said<Model>>,
}

/// A piece of the track.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct TrackPiece {
    /// Length of a straight.
    pub straight: Option<Said<Model>>,
    /// Turn of an arc, such as `30 deg`.
    pub arc: Option<String>,
    /// Radius of an arc.
    pub radius: Option<Said<Model>>,
    /// Length of an easement from the bend before it.
    pub easement: Option<Said<Model>>,
    /// Radius an easement leads to; straight when absent.
    pub to: Option<Said<Model>>,
    /// Which way it turns; left when absent.
    #[serde(default)]
    pub turn: Turn,
    /// How far the outer rail is raised at the end of the piece.
    pub raised: Option<Said<Model>>,
}

/// Which way a curve turns.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Turn {
    /// Against the clock.
    #[default]
    Left,
    /// With the clock.
    Right,
}

/// Something near the track that is no part of the building.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Obstacle {
    /// Short name.
    pub name: String,
    /// One end: along, back, up from the foot of the wall.
    pub from: [Said<Model>; 3],
    /// The other end.
    pub to: [Said<Model>; 3],
    /// Thickness across it.
    pub thickness: Option<Said<Model>>,
    /// Whether it goes down to the ground, as a wall or platform does.
    #[serde(default)]
    pub solid: bool,
}

/// Where timbers of one kind stand on the finished building, full size.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Stands {
    /// Their line from the front's wall face outwards.
    pub out: Size,
    /// Their lower end above the foot of the wall.
    pub foot: Option<Size>,
    /// Which way they run.
    #[serde(default)]
    pub runs: Runs,
}

/// Which way timbers run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Runs {
    /// Upright.
    #[default]
    Up,
    /// Along the front.
    Along,
    /// Outwards, square to the front.
    Out,
}
