//! Boxes built on to the body: a lean-to, a wing, a chimney, a cupola, a dormer.

use super::building::RoofKind;
use super::grammar::{FOOT, Named, Text, choice, eg, keys, must, table};
use super::said::Size;

keys! {
    /// A box that stands against a face or on the roof.
    #[derive(Clone, Debug)]
    pub struct Attached [table("attached")] {
        /// Short name: its faces are called after it.
        "name": pub name: String = must("lean-to").names(Named::Attached),
        /// What it is, in words.
        "what": pub what: String = eg("coal shed"),
        /// What it stands on or against.
        "stands": pub stands: Stands = must("against"),
        /// The face it stands against; the front when absent.
        "face": pub face: Option<String> = eg("track").of(Named::Face),
        /// Its left side from the left corner of that face, or along the ridge
        /// from the left end.
        "at": pub at: Option<Size> = eg("10 ft").within(-500.0 * FOOT, 2000.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Along the face or the ridge.
        "length": pub length: Size = must("14 ft").upto(2000.0 * FOOT),
        /// Out from the face, or across the ridge.
        "depth": pub depth: Size = must("9 ft").upto(2000.0 * FOOT),
        /// Height of its outer wall: from the ground, or from the roof.
        "height": pub height: Size = must("7 ft").upto(500.0 * FOOT),
        /// Its roof; level when absent.
        "roof": pub roof: Option<RoofKind> = eg("shed").unless("flat", "judgement"),
        /// Rise over run of its roof, as `4:12`.
        "pitch": pub pitch: Option<String> = eg("4:12").text(Text::Pitch).within(0.0, 3.0),
        /// Level projection of its roof.
        "overhang": pub overhang: Option<Size> = eg("12 in").within(0.0, 20.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Names of its claddings; those of the front when absent.
        "cladding": pub cladding: Option<Vec<String>> = eg("[\"boards\"]").of(Named::Cladding),
        /// Name of the cladding on its roof.
        "roof-cladding": pub roof_cladding: Option<String> = eg("shingles").of(Named::Cladding),
        /// Doors and windows on its outer face.
        "openings": pub openings: Vec<Set> = eg("[{ kind = \"door\", at = \"3 ft\" }]"),
    }

    /// An opening set in a plain face.
    #[derive(Clone, Debug)]
    pub struct Set [table("attached.openings")] {
        /// The kind of opening.
        "kind": pub kind: String = must("door").of(Named::Opening),
        /// Its left edge from the left corner of the face.
        "at": pub at: Size = must("3 ft").within(0.0, 2000.0 * FOOT),
    }
}

choice! {
    /// Where a box stands.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Stands {
        /// Against a face, its roof falling outwards or lying along it.
        Against = "against",
        /// Against a face, its ridge running out from it: the other leg of an L.
        Out = "out",
        /// On a slope of the roof: a dormer, a chimney beside the ridge.
        OnSlope = "on-slope",
        /// Astride the ridge: a cupola, a chimney, a stack.
        OnRidge = "on-ridge",
    }
}
