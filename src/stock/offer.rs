//! Stock that can be had, on the rack or in the catalogue.

use crate::quantity::ModelLength;

/// One size of stock. Sizes are as measured or as sold, on the model.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// Its name in lists and in the job.
    pub name: String,
    /// What it is made of.
    pub material: String,
    /// Strip or sheet.
    pub form: OfferForm,
    /// Length along the grain as sold.
    pub length: ModelLength,
    /// Whether it is on the person's own rack.
    pub on_hand: bool,
}

/// Strip or sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OfferForm {
    /// Strip of this section, the smaller way first.
    Strip {
        /// The smaller way across.
        thickness: ModelLength,
        /// The other way across.
        width: ModelLength,
    },
    /// Sheet that parts are ripped from.
    Sheet {
        /// Its thickness.
        thickness: ModelLength,
        /// Its width across the grain.
        width: ModelLength,
    },
}

impl Offer {
    /// Its thickness.
    #[must_use]
    pub fn thickness(&self) -> ModelLength {
        match self.form {
            OfferForm::Strip { thickness, .. } | OfferForm::Sheet { thickness, .. } => thickness,
        }
    }
}
