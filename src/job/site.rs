//! The ground on the layout: outline, track and the car that passes.

use serde::Deserialize;

use super::said::Said;
use crate::quantity::{Model, Prototype};

/// The ground the building may stand on, in model lengths. The front faces down
/// the page: towards smaller `y`.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Site {
    /// Corners in order, each `[x, y]`; concave outlines are allowed.
    pub outline: Vec<[Said<Model>; 2]>,
    /// How far the building may be turned either way, such as `20 deg`; not at
    /// all when absent.
    pub turn: Option<String>,
    /// Least and most front over depth of the largest rectangle looked for; the
    /// building's own, a fifth either way, when absent.
    pub aspect: Option<[f64; 2]>,
    /// The curve of track it must stay clear of.
    pub track: Option<SiteTrack>,
}

/// A curve of track beside the building.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct SiteTrack {
    /// Radius of the centre line.
    pub radius: Said<Model>,
    /// Centre of the curve, `[x, y]`.
    pub centre: [Said<Model>; 2],
    /// Whether the building stands inside the curve; outside when absent.
    #[serde(default)]
    pub inside: bool,
    /// The largest car that passes.
    pub car: SiteCar,
    /// Kept free beyond the car's reach; 1/8 in when absent.
    pub margin: Option<Said<Model>>,
    /// The full-size clearance from the track centre that the person wants kept,
    /// such as `8 ft 6 in`.
    pub rule: Option<Said<Prototype>>,
    /// Whether the building is set back to that rule, or only clear of the car.
    #[serde(default)]
    pub keep: Keep,
}

/// What the building keeps clear of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Keep {
    /// The model car and the margin.
    #[default]
    Car,
    /// The full-size rule, where it is more.
    Rule,
}

/// A car, full size.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct SiteCar {
    /// Length over its ends.
    pub length: Said<Prototype>,
    /// Between truck centres.
    pub centres: Said<Prototype>,
    /// Width.
    pub width: Said<Prototype>,
}
