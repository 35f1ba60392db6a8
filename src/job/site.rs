//! The ground on the layout: outline, track and the car that passes.

use super::grammar::{FOOT, Text, choice, eg, keys, must, table};
use super::said::Said;
use crate::quantity::{Model, Prototype};

keys! {
    /// The ground the building may stand on, in model lengths. The front faces down
    /// the page: towards smaller `y`.
    #[derive(Clone, Debug)]
    pub struct Site [table("site")] {
        /// Corners in order, each `[x, y]`; concave outlines are allowed.
        "outline": pub outline: Vec<[Said<Model>; 2]> =
            must("[[\"0 in\", \"0 in\"], [\"9 in\", \"0 in\"], [\"9 in\", \"6 in\"], [\"0 in\", \"6 in\"]]")
            .within(-200.0 * FOOT, 200.0 * FOOT),
        /// How far the building may be turned either way, such as `20 deg`; not at
        /// all when absent.
        "turn": pub turn: Option<String> = eg("20 deg").text(Text::Angle).within(0.0, 90.0)
            .unless("0 deg", "judgement"),
        /// Least and most front over depth of the largest rectangle looked for; the
        /// building's own, a fifth either way, when absent.
        "aspect": pub aspect: Option<[f64; 2]> = eg("[1.2, 2.0]").within(0.01, 100.0),
        /// The curve of track it must stay clear of.
        "track": pub track: Option<SiteTrack> = eg(""),
    }

    /// A curve of track beside the building.
    #[derive(Clone, Debug)]
    pub struct SiteTrack [table("site.track")] {
        /// Radius of the centre line.
        "radius": pub radius: Said<Model> = must("30 in").within(1.0, 1000.0 * FOOT),
        /// Centre of the curve, `[x, y]`.
        "centre": pub centre: [Said<Model>; 2] = must("[\"4 in\", \"-31 in\"]").within(-1000.0 * FOOT, 1000.0 * FOOT),
        /// Whether the building stands inside the curve; outside when absent.
        "inside": pub inside: bool = eg("true"),
        /// The largest car that passes.
        "car": pub car: SiteCar = must("{ length = \"40 ft\", centres = \"30 ft\", width = \"10 ft\" }"),
        /// Kept free beyond the car's reach; 1/8 in when absent.
        "margin": pub margin: Option<Said<Model>> = eg("1/8 in").within(0.0, 12.0)
            .taken("1/8 in", "judgement"),
        /// The full-size clearance from the track centre that the person wants kept,
        /// such as `8 ft 6 in`.
        "rule": pub rule: Option<Said<Prototype>> = eg("8 ft 6 in").within(0.0, 100.0 * FOOT),
        /// Whether the building is set back to that rule, or only clear of the car.
        "keep": pub keep: Keep = eg("car").unless("car", "judgement"),
    }

    /// A car, full size.
    #[derive(Clone, Debug)]
    pub struct SiteCar [table("site.track.car")] {
        /// Length over its ends.
        "length": pub length: Said<Prototype> = must("40 ft").upto(200.0 * FOOT),
        /// Between truck centres.
        "centres": pub centres: Said<Prototype> = must("30 ft").upto(200.0 * FOOT)
            .agrees("the length: the trucks stand under the car"),
        /// Width.
        "width": pub width: Said<Prototype> = must("10 ft").upto(30.0 * FOOT),
    }
}

choice! {
    /// What the building keeps clear of.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Keep = Car {
        /// The model car and the margin.
        Car = "car",
        /// The full-size rule, where it is more.
        Rule = "rule",
    }
}
