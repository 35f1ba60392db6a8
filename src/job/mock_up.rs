//! Sizes measured on the card mock-up or on the finished model.

use super::grammar::{FOOT, Text, choice, eg, keys, must, table};
use super::said::Said;
use crate::quantity::Model;

keys! {
    /// One size measured on the table.
    #[derive(Clone, Debug)]
    pub struct Measured [table("measured")] {
        /// Which size, by its name on the mock-up view: `depth`, `main/front: bay`.
        "of": pub of: String = must("depth").text(Text::Line),
        /// What it was measured on.
        "on": pub on: On = eg("model").unless("mock-up", "judgement"),
        /// What it measures there.
        "reads": pub reads: Said<Model> = must("7.52 in").upto(200.0 * FOOT).agrees("the size planned"),
        /// Free note: what was seen.
        "note": pub note: String = eg("looks squat from the aisle").text(Text::Free),
        /// What was planned when it was taken back; absent where it was not.
        "was": pub was: Option<Said<Model>> = eg("7.500 in").within(0.0, 200.0 * FOOT),
        /// Why it was taken back.
        "reason": pub reason: String = eg("the backdrop stands nearer").text(Text::Free),
    }
}

choice! {
    /// What a size was measured on.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum On = MockUp {
        /// The trial body in card.
        MockUp = "mock-up",
        /// The finished model.
        Model = "model",
    }
}
