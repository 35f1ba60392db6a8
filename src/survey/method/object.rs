//! So many times a known object on a picture: `object` or `size`, `times`,
//! and where the object stood nearer, `nearer` and `camera`.
//!
//! Readings by the same object of `data/objects.toml` on the same picture
//! share the error of its size, which is an unknown of its own.

use crate::estimate::budget::propagate;
use crate::solve::least_squares::Form;

use super::super::observed::{Observed, Unusable, no};
use super::{Bench, Given};

pub(super) fn observe(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<Observed, Unusable> {
    let (times, sigma) = given.number("times")?;
    let times = (times, sigma.unwrap_or(0.015 * times.abs()));
    // An object in front of the wall by d, seen from D, shows too big by
    // d/(D - d): so many times it are too few.
    let depth = depth(given)?;
    let (factor, spread) = propagate([times, depth], |[times, depth]| times * depth);
    match given.text("object") {
        Some(key) => shared(bench, given, key, factor, spread),
        None => {
            let (size, sigma) = given.length("size")?;
            let size = (size, sigma.unwrap_or(given.method.relative * size));
            let (value, sigma) = propagate([size, (factor, spread)], |[size, times]| size * times);
            given.found(bench.names, value, sigma)
        }
    }
}

fn shared(
    bench: &mut Bench<'_>,
    given: &Given<'_>,
    key: &str,
    factor: f64,
    spread: f64,
) -> Result<Observed, Unusable> {
    let object = bench.catalog.objects.get(key).ok_or_else(|| {
        no(
            format!("no known object is called \"{key}\""),
            "see data/objects.toml, or give its size",
        )
    })?;
    let size = object.size.length().in_inches();
    let own = object.spread.length().in_inches();
    let picture = given.reading.source.as_deref().unwrap_or(&given.reading.id);
    let at = bench.shared(&format!("{} in {picture}", object.key), size, own)?;
    let mut terms = given.sum(bench.names)?;
    terms.push((at, -factor));
    let sigma = given.own_sigma()?.unwrap_or(spread * size);
    Ok(Observed { base: factor * size, ..Observed::new(Form::Sum(terms), 0.0, sigma) })
}

/// What the wall shows larger than the object would, for its distance.
fn depth(given: &Given<'_>) -> Result<(f64, f64), Unusable> {
    if given.text("nearer").is_none() {
        return Ok((1.0, 0.0));
    }
    let (nearer, camera) = (given.length("nearer")?, given.length("camera")?);
    let known = |(value, sigma): (f64, Option<f64>)| (value, sigma.unwrap_or(0.1 * value));
    let (factor, sigma) = propagate([known(nearer), known(camera)], |[d, far]| far / (far - d));
    if factor.is_finite() && factor > 0.0 && nearer.0 < camera.0 {
        Ok((factor, sigma))
    } else {
        Err(no("the object stands behind the camera", "nearer is less than camera"))
    }
}
