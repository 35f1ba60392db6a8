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
    /// How many there are; nothing where it is bought as wanted.
    pub count: Option<u32>,
    /// Price of one, in the smallest coin, where it is known.
    pub price: Option<i64>,
    /// Every size it is sold in: its width, and its length along the grain.
    /// Nothing where it cannot be bought: an offcut.
    pub sizes: Vec<(ModelLength, ModelLength)>,
    /// Whether it has a grain that parts must follow.
    pub grain: bool,
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

    /// Its width: of a strip the larger way across, of a sheet across the grain.
    #[must_use]
    pub fn width(&self) -> ModelLength {
        match self.form {
            OfferForm::Strip { width, .. } | OfferForm::Sheet { width, .. } => width,
        }
    }

    /// Whether parts meant for `other` can be cut from this: the same material
    /// and section to a thou; sheets may be of any size.
    #[must_use]
    pub fn does_as_well_as(&self, other: &Self) -> bool {
        let thou = ModelLength::thou(1.0);
        self.material == other.material
            && self.thickness().agrees(other.thickness(), thou)
            && match (self.form, other.form) {
                (OfferForm::Strip { width: a, .. }, OfferForm::Strip { width: b, .. }) => {
                    a.agrees(b, thou)
                }
                (OfferForm::Sheet { .. }, OfferForm::Sheet { .. }) => true,
                _ => false,
            }
    }
}
