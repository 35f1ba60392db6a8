//! The catalogue's rows as stock that can be had, and its lumber by era.

use super::offer::{Offer, OfferForm};
use super::section::Section;
use crate::catalog::Catalog;
use crate::catalog::lumber::Nominal;
use crate::catalog::stock::{Sheet, Strip};
use crate::job::Job;
use crate::quantity::{ModelLength, Prototype};

/// The era of a job without era and year: rough lumber of full size.
const ROUGH: &str = "full-dimension";
/// The length of strip taken where a size is sold in several.
const USUAL_INCHES: f64 = 24.0;

/// Every size of the catalogue, one offer a section.
#[must_use]
pub fn offers(catalog: &Catalog) -> Vec<Offer> {
    let strips = catalog.stock.strips.iter().flat_map(strip_offers);
    let sheets = catalog.stock.sheets.iter().filter_map(sheet_offer);
    strips.chain(sheets).collect()
}

fn strip_offers(strip: &Strip) -> impl Iterator<Item = Offer> {
    let length = usual(strip.lengths.iter().map(|written| written.length()));
    strip.widths.iter().map(move |width| Offer {
        name: format!("{} {} x {}", strip.material, strip.thickness, width),
        material: strip.material.clone(),
        form: OfferForm::Strip { thickness: strip.thickness.length(), width: width.length() },
        length,
        on_hand: false,
    })
}

/// The longest up to the usual length, else the longest.
fn usual(lengths: impl Iterator<Item = ModelLength>) -> ModelLength {
    let limit = ModelLength::inches(USUAL_INCHES + 1e-6);
    lengths.fold(ModelLength::ZERO, |best, length| match (best <= limit, length <= limit) {
        (true, false) if best > ModelLength::ZERO => best,
        (false, true) => length,
        _ => best.max(length),
    })
}

fn sheet_offer(sheet: &Sheet) -> Option<Offer> {
    let [width, length] = sheet.sheets.first()?;
    // The first words of a note tell two boards of one thickness apart; a
    // remark on labels does not.
    let kind = sheet.note.split(',').next().filter(|kind| !kind.starts_with("often"));
    let more =
        kind.filter(|kind| !kind.is_empty()).map_or(String::new(), |kind| format!(" ({kind})"));
    Some(Offer {
        name: format!("{} sheet {}{more}", sheet.material, sheet.thickness),
        material: sheet.material.clone(),
        form: OfferForm::Sheet { thickness: sheet.thickness.length(), width: width.length() },
        length: length.length(),
        on_hand: false,
    })
}

/// The lumber era of a job: the one named, else the first its year belongs
/// to, else rough lumber.
#[must_use]
pub fn era(job: &Job, catalog: &Catalog) -> String {
    let by_year = || {
        let eras = catalog.lumber.eras_of_year(job.about.year?);
        eras.first().map(|era| era.key.clone())
    };
    job.about.lumber.clone().or_else(by_year).unwrap_or_else(|| ROUGH.to_owned())
}

/// The actual size of a nominal one in an era.
#[must_use]
pub fn actual(catalog: &Catalog, era: &str, nominal: &str) -> Option<Section<Prototype>> {
    let nominal: Nominal = nominal.parse().ok()?;
    let actual = catalog.lumber.actual(nominal, era).ok()?;
    Some(Section::new(actual.thickness.length(), actual.width.length()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_and_strips_become_offers_with_a_usual_length() {
        let catalog = Catalog::built_in().expect("the shipped data");
        let offers = offers(&catalog);
        let wood = offers.iter().find(|offer| offer.name.starts_with("wood 1/32 in x 1/16"));
        assert!(wood.is_some_and(|offer| {
            offer.length.agrees(ModelLength::inches(24.0), ModelLength::thou(1.0))
        }));
        let mut names: Vec<_> = offers.iter().map(|offer| &offer.name).collect();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), offers.len(), "no two are called alike");
    }
}
