//! Readings on one pull of the tape share where its zero was held.

use crate::solve::least_squares::Form;

use super::super::observed::{Observed, Unusable, no};
use super::{Bench, Given};

/// How well a tape is held at its zero, in inches, where the method does not
/// say: the slip of a hook (common practice, no source).
const HELD: f64 = 0.125;

/// The name of the unknown that is the zero of a pull.
pub(in super::super) fn zero_of(pull: &str) -> String {
    format!("zero of pull {pull}")
}

/// Adds the zero of its pull to what a reading says.
pub(super) fn shift(
    bench: &mut Bench<'_>,
    given: &Given<'_>,
    mut seen: Observed,
) -> Result<Observed, Unusable> {
    let Some(pull) = &given.reading.pull else { return Ok(seen) };
    let Form::Sum(terms) = &mut seen.form else {
        return Err(no("only a length is read on a pull", "take the pull out"));
    };
    let held = given.method.zero.as_ref().map_or(HELD, |zero| zero.length().in_inches());
    terms.push((bench.shared(&zero_of(pull), 0.0, held)?, 1.0));
    Ok(seen)
}
