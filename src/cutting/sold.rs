//! The sizes that can be bought: those the job names, else every size in which
//! the stock is sold, with prices where all of them have one.

use super::amount::Unit;
use super::sheets::SheetStock;
use super::sticks::StickStock;
use crate::job::Job;
use crate::job::said::Said;
use crate::quantity::{Model, ModelLength};
use crate::stock::{Choice, Sold};

/// Length of a stick where neither the job nor the stock says.
const STICK_INCHES: f64 = 24.0;
/// Sheet taken where neither names one: across the grain, along it.
const SHEET_INCHES: (f64, f64) = (4.0, 24.0);

/// A length the job says, or another.
pub(super) fn said(said: Option<&Said<Model>>, otherwise: f64) -> ModelLength {
    said.map_or(ModelLength::inches(otherwise), Said::length)
}

/// A number in hundredths.
pub(super) fn hundredths(number: f64) -> i64 {
    (number * 100.0).round() as i64
}

/// New strips: of the length the job names, else of every length sold.
pub(super) fn new_strips(
    job: &Job,
    name: &str,
    choice: Option<&Choice>,
) -> (Vec<StickStock>, Unit) {
    let cutting = &job.cutting;
    let trim = said(cutting.trim.as_ref(), 0.0);
    let usual = said(cutting.stick.as_ref(), STICK_INCHES);
    let (bought, usable) = choice.map_or((usual, usual - trim), |choice| choice.lengths(cutting));
    let strip = |bought: ModelLength, length, cost| StickStock {
        name: name.to_owned(),
        length,
        bought,
        cost,
        supply: None,
    };
    let sold: Vec<&Sold> = choice
        .into_iter()
        .filter(|choice| {
            cutting.stick.is_none() && choice.taken().is_some_and(|m| m.sheet.is_none())
        })
        .flat_map(|choice| &choice.sold)
        .filter(|sold| sold.length > trim)
        .collect();
    if sold.len() < 2 {
        return (vec![strip(bought, usable, 1)], Unit::Count);
    }
    let priced = sold.iter().all(|sold| sold.price.is_some());
    let cost = |sold: &Sold| {
        sold.price.filter(|_| priced).unwrap_or_else(|| hundredths(sold.length.in_inches()))
    };
    let strips = sold.iter().map(|sold| strip(sold.length, sold.length - trim, cost(sold)));
    (strips.collect(), if priced { Unit::Money } else { Unit::Length })
}

/// New sheets: of the sizes the job names for its flat parts, else of every
/// size sold; they cost their price where all have one, else their area.
pub(super) fn sheet_sizes(
    job: &Job,
    choice: Option<&Choice>,
    flat: bool,
) -> (Vec<SheetStock>, Unit) {
    let hair = ModelLength::thou(1.0);
    let sold = choice.map_or(&[][..], |choice| choice.sold.as_slice());
    let price = |width: ModelLength, height: ModelLength| {
        let same = |one: &&Sold| one.width.agrees(width, hair) && one.length.agrees(height, hair);
        sold.iter().find(same).and_then(|one| one.price)
    };
    let named = job.cutting.sheets.iter().filter(|_| flat);
    let mut sizes: Vec<(ModelLength, ModelLength)> =
        named.map(|[width, height]| (width.length(), height.length())).collect();
    if sizes.is_empty() {
        sizes.extend(sold.iter().map(|one| (one.width, one.length)));
    }
    if sizes.is_empty() {
        sizes.push((ModelLength::inches(SHEET_INCHES.0), ModelLength::inches(SHEET_INCHES.1)));
    }
    let priced = sizes.iter().all(|&(width, height)| price(width, height).is_some());
    let sheet = |&(width, height): &(ModelLength, ModelLength)| SheetStock {
        name: String::new(),
        width,
        height,
        cost: price(width, height)
            .filter(|_| priced)
            .unwrap_or_else(|| hundredths((width * height).in_square_inches())),
        supply: None,
    };
    let sheets = sizes.iter().map(sheet).collect();
    (sheets, if priced { Unit::Money } else { Unit::Area })
}
