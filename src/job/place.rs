//! The place the model is to stand in, what counts in its look, and the choice.

use std::collections::BTreeMap;

use super::grammar::{FOOT, Named, Text, choice, eg, keys, must, table};
use super::said::Said;
use crate::quantity::{Compressed, Model, Prototype};

/// Keys of older jobs.
const GONE: &[(&str, &str)] = &[("overhangs", "write counts = \"walls\", \"eaves\" or \"all\"")];

keys! {
    /// The place on the layout, in model lengths.
    #[derive(Clone, Debug, Default)]
    pub struct Space [table("space").gone(GONE)] {
        /// Straight length between the things it must stay clear of.
        "length": pub length: Option<Said<Model>> = eg("19 in").upto(100.0 * FOOT),
        /// Left free at each end.
        "margin": pub margin: Option<Said<Model>> = eg("1/16 in").within(0.0, 2.0 * FOOT)
            .unless("0 in", "judgement"),
        /// What of the building counts in the space.
        "counts": pub counts: Counts = eg("eaves").unless("all", "judgement"),
        /// Depth for what counts.
        "depth": pub depth: Option<Said<Model>> = eg("7.5 in").upto(100.0 * FOOT),
        /// From the track centre to the backdrop, where the depth is what is left
        /// of it when the stack is taken off.
        "track-to-back": pub track_to_back: Option<Said<Model>> = eg("7 in").upto(100.0 * FOOT),
        /// What stands between the track centre and the building's front.
        "stack": pub stack: Vec<StackItem> = eg("[{ what = \"platform\", full = \"8 ft\" }]"),
        /// Height under a shelf or backdrop edge.
        "height": pub height: Option<Said<Model>> = eg("9 in").upto(100.0 * FOOT),
        /// Length over couplers of the car that is to be spotted here.
        "car": pub car: Option<Said<Prototype>> = eg("42 ft").upto(200.0 * FOOT),
    }

    /// One item of the stack between track centre and front.
    #[derive(Clone, Debug)]
    pub struct StackItem [table("space.stack")] {
        /// What it is.
        "what": pub what: String = must("platform"),
        /// Its size on the full-size building.
        "full": pub full: Option<Said<Prototype>> = eg("8 ft").within(0.0, 500.0 * FOOT),
        /// Its size on the model.
        "model": pub model: Option<Said<Model>> = eg("1/4 in").within(0.0, 20.0 * FOOT),
    }

    /// What counts in the look of this building.
    #[derive(Clone, Debug, Default)]
    pub struct Look [table("look")] {
        /// Features that count, keys of `data/look.toml`; those that apply when
        /// empty.
        "features": pub features: Vec<String> = eg("[\"gap\", \"void\"]").of(Named::Feature),
        /// Tolerances and weights of this job's own.
        "weigh": pub weights: Vec<Weigh> = eg("[{ feature = \"gap\", weight = 2.0 }]"),
    }

    /// A tolerance and weight in place of those of `data/look.toml`.
    #[derive(Clone, Debug)]
    pub struct Weigh [table("look.weigh")] {
        /// The feature.
        "feature": pub feature: String = must("gap").of(Named::Feature),
        /// Tolerance, or the fixed z of a yes-or-no feature.
        "tau": pub tau: Option<f64> = eg("0.10").upto(100.0),
        /// Weight.
        "weight": pub weight: Option<f64> = eg("3.0").within(0.0, 1000.0),
    }

    /// The alternative the person chose: the compression record.
    #[derive(Clone, Debug)]
    pub struct Choice [table("choice")] {
        /// Its kind, in the words of the compression stage.
        "kind": pub kind: String = must("drop-modules").text(Text::Name),
        /// Repeats kept, by element name.
        "counts": pub counts: BTreeMap<String, u32> = eg("{ module = 1 }").within(0.0, 500.0)
            .agrees("the elements of the faces"),
        /// Widths used, by element or group name.
        "widths": pub widths: BTreeMap<String, Said<Compressed>> = eg("{ bay = \"12 ft 6 in\" }").upto(2000.0 * FOOT)
            .agrees("the elements of the faces"),
        /// Storeys kept, by name; all of those not named.
        "storeys": pub storeys: BTreeMap<String, u32> = eg("{ upper = 1 }").within(0.0, 100.0),
        /// Depth used.
        "depth": pub depth: Option<Said<Compressed>> = eg("30 ft").upto(2000.0 * FOOT).agrees("the place"),
        /// How the roof follows.
        "roof": pub roof: Option<RoofFollows> = eg("keep-pitch"),
        /// Height of the eave, where it was set by hand.
        "eave": pub eave: Option<Said<Compressed>> = eg("16 ft").upto(500.0 * FOOT),
        /// Height of the ridge, where it was set by hand.
        "ridge": pub ridge: Option<Said<Compressed>> = eg("24 ft").upto(800.0 * FOOT).agrees("the eave: it lies below"),
        /// Why, in the person's words.
        "reason": pub reason: String = eg("room for a wagon scale").text(Text::Free),
        /// When it was decided.
        "date": pub date: String = eg("2026-05-17").text(Text::Name),
    }
}

choice! {
    /// What of a building counts in a space.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum Counts = All {
        /// The walls of all bodies.
        Walls = "walls",
        /// Their roofs too, out to the eaves.
        Eaves = "eaves",
        /// All that is modelled: canopies, decks, steps and the base too.
        All = "all",
    }

    /// How the roof follows a shallower depth.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum RoofFollows {
        /// Pitch kept; the ridge comes down.
        KeepPitch = "keep-pitch",
        /// Ridge kept; the pitch gets steeper.
        KeepRidge = "keep-ridge",
        /// Cut at the ridge against the backdrop; ridge and pitch kept.
        HalfRelief = "half-relief",
        /// The front alone.
        Flat = "flat",
    }
}
