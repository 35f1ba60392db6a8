//! Two angles and a level distance: `up`, `down` or `eye`, `distance`.
//!
//! The distance may be a length, or a dimension (or a sum of them) that is
//! itself to be found: then the height over it is what was seen, and a second
//! sight from a known way further off, `distance = "far + walk"`, fixes both.

use crate::estimate::budget::propagate;
use crate::job::form::Linear;
use crate::solve::least_squares::{Form, Terms};

use super::super::observed::{Observed, Unusable, no};
use super::{Bench, Given, stranger};

/// How well the height of the eye is known where nothing is said, in inches
/// (judgement).
const EYE: f64 = 2.0;

pub(super) fn observe(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<Observed, Unusable> {
    let up = given.angle("up")?;
    if let Some(distance) = open_distance(bench, given)? {
        return over(bench, given, up, distance);
    }
    let (distance, sigma) = given.length("distance")?;
    // Paced, where nothing else is said.
    let distance = (distance, sigma.unwrap_or(0.02 * distance));
    let (value, sigma) = if given.text("down").is_some() {
        let inputs = [distance, up, given.angle("down")?];
        propagate(inputs, |[far, up, down]| far * (up.tan() + down.tan()))
    } else if given.text("eye").is_some() {
        let (eye, sigma) = given.length("eye")?;
        let inputs = [distance, up, (eye, sigma.unwrap_or(EYE))];
        propagate(inputs, |[far, up, eye]| far * up.tan() + eye)
    } else {
        return Err(one_angle());
    };
    given.found(bench.names, value, sigma)
}

fn one_angle() -> Unusable {
    no(
        "one angle alone gives no height",
        "sight the foot as well (down), or say the height of the eye (eye)",
    )
}

/// The distance as a sum of dimensions, where it is written as one.
fn open_distance(bench: &Bench<'_>, given: &Given<'_>) -> Result<Option<Terms>, Unusable> {
    // A length has the looks of a sum: `50 ft` is no dimension called ft.
    if given.length("distance").is_ok() {
        return Ok(None);
    }
    let Ok(form) = given.want("distance")?.parse::<Linear>() else { return Ok(None) };
    bench.names.terms(&form).map(Some).map_err(stranger)
}

/// The height over an open distance.
fn over(
    bench: &mut Bench<'_>,
    given: &Given<'_>,
    up: (f64, f64),
    distance: Terms,
) -> Result<Observed, Unusable> {
    let mut height = given.sum(bench.names)?;
    let (ratio, sigma) = if given.text("down").is_some() {
        propagate([up, given.angle("down")?], |[up, down]| up.tan() + down.tan())
    } else if given.text("eye").is_some() {
        let (eye, sigma) = given.length("eye")?;
        let name = format!("eye of {}", given.reading.id);
        height.push((bench.shared(&name, eye, sigma.unwrap_or(EYE))?, -1.0));
        propagate([up], |[up]| up.tan())
    } else {
        return Err(one_angle());
    };
    Ok(Observed::new(Form::Ratio(height, distance), ratio, sigma))
}
