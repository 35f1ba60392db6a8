//! A rise from the pitch on a square-on gable picture: `pitch`, `run`.

use crate::estimate::budget::propagate;

use super::super::observed::{Observed, Unusable};
use super::{Bench, Given};

/// What a pitch off a picture is good to, near 6:12 about one degree.
const SLOPE: f64 = 0.02;

pub(super) fn observe(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<Observed, Unusable> {
    let (pitch, slope) = given.pitch("pitch")?;
    let (run, sigma) = given.length("run")?;
    let inputs = [(pitch, slope.unwrap_or(SLOPE)), (run, sigma.unwrap_or(0.02 * run))];
    let (value, sigma) = propagate(inputs, |[pitch, run]| pitch * run);
    given.found(bench.names, value, sigma)
}
