//! Shadows of a stick and of the building: `stick`, `stick-shadow`, `shadow`.

use crate::estimate::budget::propagate;

use super::super::observed::{Observed, Unusable};
use super::{Bench, Given};

pub(super) fn observe(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<Observed, Unusable> {
    // An inch on the stick's shadow, three where the building's ends: edges
    // of shadows are soft (judgement).
    let usual = [("stick", 0.5), ("stick-shadow", 1.0), ("shadow", 3.0)];
    let mut inputs = [(0.0, 0.0); 3];
    for (input, (key, sigma)) in inputs.iter_mut().zip(usual) {
        let (value, own) = given.length(key)?;
        *input = (value, own.unwrap_or(sigma));
    }
    let (value, sigma) = propagate(inputs, |[stick, short, long]| stick * long / short);
    given.found(bench.names, value, sigma)
}
