//! The catalogue's rows as stock that can be had, and its lumber by era.

use super::offer::{Offer, OfferForm};
use super::section::Section;
use crate::catalog::Catalog;
use crate::catalog::lumber::Nominal;
use crate::catalog::rack::{OnHand, RackForm};
use crate::catalog::stock::{Sheet, Strip};
use crate::job::Job;
use crate::quantity::{ModelLength, Prototype};

/// The era of a job without era and year: rough lumber of full size.
const ROUGH: &str = "full-dimension";
/// The length of strip taken where a size is sold in several.
const USUAL_INCHES: f64 = 24.0;

/// What is on the rack, then every size of the catalogue, one offer a section.
#[must_use]
pub fn offers(catalog: &Catalog) -> Vec<Offer> {
    let grainless: Vec<&str> = catalog
        .stock
        .sheets
        .iter()
        .filter(|sheet| !sheet.grain)
        .map(|sheet| sheet.material.as_str())
        .collect();
    let has_grain = |material: &str| !grainless.contains(&material);
    let rack = catalog.rack.rows.iter().filter_map(|row| rack_offer(row, &has_grain));
    let strips = catalog.stock.strips.iter().flat_map(strip_offers);
    let sheets = catalog.stock.sheets.iter().filter_map(sheet_offer);
    rack.chain(strips).chain(sheets).collect()
}

/// A row of the rack as measured. A row counted down to none is an offer only
/// where it says what one costs: then it can be bought.
fn rack_offer(row: &OnHand, has_grain: &dyn Fn(&str) -> bool) -> Option<Offer> {
    if row.count == Some(0) && row.price.is_none() {
        return None;
    }
    let (thickness, width) = (row.thickness.as_ref()?.length(), row.width.length());
    let form = match row.form {
        RackForm::Strip => {
            OfferForm::Strip { thickness: thickness.min(width), width: thickness.max(width) }
        }
        RackForm::Sheet => OfferForm::Sheet { thickness, width },
        RackForm::Casting => return None,
    };
    Some(Offer {
        name: row.name.clone(),
        material: row.material.clone(),
        form,
        length: row.length.length(),
        on_hand: row.count != Some(0),
        count: row.count,
        price: row.price,
        sizes: if row.offcut { Vec::new() } else { vec![(width, row.length.length())] },
        grain: has_grain(&row.material),
    })
}

fn strip_offers(strip: &Strip) -> impl Iterator<Item = Offer> {
    let length = usual(strip.lengths.iter().map(|written| written.length()));
    strip.widths.iter().map(move |width| Offer {
        name: format!("{} {} x {}", strip.material, strip.thickness, width),
        material: strip.material.clone(),
        form: OfferForm::Strip { thickness: strip.thickness.length(), width: width.length() },
        length,
        on_hand: false,
        count: None,
        price: None,
        sizes: strip.lengths.iter().map(|length| (width.length(), length.length())).collect(),
        grain: true,
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
        count: None,
        price: None,
        sizes: sheet.sheets.iter().map(|[wide, long]| (wide.length(), long.length())).collect(),
        grain: sheet.grain,
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

/// The era taken because the job names none, with what it is; nothing where it
/// does, or where nothing goes by it.
#[must_use]
pub fn assumed_era(job: &Job, catalog: &Catalog) -> Option<(String, String)> {
    let nominal = job.members.iter().any(|member| member.lumber.is_some());
    let goes_by_it = nominal || !job.decks.is_empty() || rafters_are_assumed(job);
    if job.about.lumber.is_some() || !goes_by_it {
        return None;
    }
    let era = era(job, catalog);
    let name = catalog.lumber.era(&era).map_or(String::new(), |row| row.name.clone());
    Some((era, name))
}

/// Whether rafters are spaced, and no member says of what section they are.
#[must_use]
pub fn rafters_are_assumed(job: &Job) -> bool {
    let named = job.members.iter().any(|member| member.name == "rafter");
    !named && job.main_roof().is_some_and(|roof| roof.rafters.is_some())
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
    fn the_rack_comes_first_and_an_empty_row_not_at_all() {
        let rack = "form,material,thickness,width,length,count\n\
                    strip,wood,0.06 in,0.03 in,24 in,4\nstrip,wood,1 mm,2 mm,1 m,0\n";
        let catalog = Catalog::built_in().expect("the shipped data");
        let catalog = catalog.with_own("rack.csv", rack).expect("a rack");
        let offers = offers(&catalog);
        assert!(offers[0].on_hand && offers[0].count == Some(4));
        assert!(!offers[1].on_hand);
        assert!(offers[0].thickness().agrees(ModelLength::thou(30.0), ModelLength::thou(0.01)));
    }

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
