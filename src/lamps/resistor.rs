//! Resistors as they are sold: values and power ratings.

use crate::catalog::lamps::{Rating, Series};
use crate::quantity::{Power, Resistance};

/// How far below a wanted value a standard one may lie and still count as it:
/// the dust of the arithmetic, no tolerance.
const DUST: f64 = 1e-9;

/// The value of a series at or next above a resistance; nothing for none.
#[must_use]
pub fn next_up(series: &Series, wanted: Resistance) -> Option<Resistance> {
    let least = wanted.in_ohms() * (1.0 - DUST);
    around(series, wanted).find(|ohms| *ohms >= least).map(Resistance::ohms)
}

/// The value of a series with the least difference; nothing for none.
#[must_use]
pub fn nearest(series: &Series, wanted: Resistance) -> Option<Resistance> {
    let off = |ohms: &f64| (ohms - wanted.in_ohms()).abs();
    around(series, wanted).min_by(|a, b| off(a).total_cmp(&off(b))).map(Resistance::ohms)
}

/// The decade of a resistance and its neighbours, rising.
fn around(series: &Series, wanted: Resistance) -> impl Iterator<Item = f64> + '_ {
    let ohms = wanted.in_ohms();
    let decade = (ohms > 0.0 && ohms.is_finite()).then(|| ohms.log10().floor() as i32);
    let decades = decade.into_iter().flat_map(|decade| decade - 1..=decade + 1);
    decades.flat_map(|decade| {
        series.values.iter().map(move |value| scaled(f64::from(*value), decade - 1))
    })
}

/// A value times a power of ten, rounded once.
fn scaled(value: f64, power: i32) -> f64 {
    if power < 0 { value / 10_f64.powi(-power) } else { value * 10_f64.powi(power) }
}

/// What is left of a rating in heat: all of it up to `full_to` degrees Celsius,
/// none at `none_at`, a straight line between (component glossaries, READ).
#[must_use]
pub fn derated(watts: Power, full_to: f64, none_at: f64, degrees: f64) -> Power {
    let left = (none_at - degrees) / (none_at - full_to);
    watts * left.clamp(0.0, 1.0)
}

/// The least rating that stands so much heat in a place of `degrees` Celsius.
#[must_use]
pub fn rating(ratings: &[Rating], heat: Power, degrees: f64) -> Option<Power> {
    let stands = |row: &&Rating| derated(row.watts, row.full_to, row.none_at, degrees) >= heat;
    ratings.iter().find(stands).map(|row| row.watts)
}
