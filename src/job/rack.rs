//! The rack: offcuts on hand, and the pieces that are cut already.

use serde::Deserialize;

use super::said::Said;
use crate::quantity::{Model, ModelLength};

/// Offcuts of one size; they are used before anything is bought.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Offcut {
    /// The stock, as the cut list names it.
    pub stock: String,
    /// Length; of a sheet, along the grain.
    pub length: Said<Model>,
    /// Of a sheet, the size across the grain.
    pub width: Option<Said<Model>>,
    /// How many there are.
    #[serde(default = "one")]
    pub count: u32,
}

/// Pieces that are cut already: the cut list leaves them out.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct CutPieces {
    /// The stock they were cut from.
    pub stock: String,
    /// The part's label.
    pub part: String,
    /// Length they were cut to; of a sheet, along the grain.
    pub length: Said<Model>,
    /// Of a sheet, the size across the grain.
    pub width: Option<Said<Model>>,
    /// How many were cut.
    pub count: u32,
}

fn one() -> u32 {
    1
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
