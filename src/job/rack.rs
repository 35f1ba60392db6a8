//! The rack: offcuts on hand, and the pieces that are cut already.

use super::grammar::{FOOT, Text, eg, keys, must, table};
use super::said::Said;
use crate::quantity::{Model, ModelLength};

keys! {
    /// Offcuts of one size; they are used before anything is bought.
    #[derive(Clone, Debug)]
    pub struct Offcut [table("offcut")] {
        /// The stock, as the cut list names it.
        "stock": pub stock: String = must("wood 1/16 in x 1/8 in").text(Text::Line),
        /// Length; of a sheet, along the grain.
        "length": pub length: Said<Model> = must("7 in").upto(20.0 * FOOT),
        /// Of a sheet, the size across the grain.
        "width": pub width: Option<Said<Model>> = eg("2 in").upto(20.0 * FOOT),
        /// How many there are.
        "count": pub count: u32 = eg("3").within(0.0, 10_000.0).unless("1", "judgement"),
    }

    /// Pieces that are cut already: the cut list leaves them out.
    #[derive(Clone, Debug)]
    pub struct CutPieces [table("cut")] {
        /// The stock they were cut from.
        "stock": pub stock: String = must("wood 1/16 in x 1/8 in").text(Text::Line),
        /// The part's label.
        "part": pub part: String = must("track-batten-1").text(Text::Line),
        /// Length they were cut to; of a sheet, along the grain.
        "length": pub length: Said<Model> = must("4.5 in").upto(20.0 * FOOT),
        /// Of a sheet, the size across the grain.
        "width": pub width: Option<Said<Model>> = eg("2 in").upto(20.0 * FOOT),
        /// How many were cut.
        "count": pub count: u32 = must("12").within(0.0, 100_000.0),
    }
}

/// Lengths are written to the thou, or the hundredth of a millimetre.
const WRITTEN_THOU: f64 = 1.0;

impl CutPieces {
    /// Whether pieces of this size are what they would be cut as.
    #[must_use]
    pub fn fit(&self, length: ModelLength, width: Option<ModelLength>) -> bool {
        let slack = ModelLength::thou(WRITTEN_THOU);
        let agrees = |said: &Said<Model>, wanted: ModelLength| said.length().agrees(wanted, slack);
        let wide = match (&self.width, width) {
            (Some(said), Some(wanted)) => agrees(said, wanted),
            (None, None) => true,
            _ => false,
        };
        wide && agrees(&self.length, length)
    }
}
