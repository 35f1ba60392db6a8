//! A count of a regular unit: `count`, `unit`, and the `parts` left over.
//!
//! The length is `count` units and what is left over at the ends. Every count
//! of one unit shares the error of that unit, which is therefore an unknown
//! of its own, known beforehand within a spread.

use crate::solve::least_squares::Form;

use super::super::observed::{Observed, Unusable, no};
use super::{Bench, Given};

/// Uncertainty of where a count begins and ends, as a share of the unit
/// (judgement).
const ENDS: f64 = 0.1;

pub(super) fn observe(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<Observed, Unusable> {
    let mut terms = given.sum(bench.names)?;
    let (count, doubt) = given.number("count")?;
    if count <= 0.0 {
        return Err(no("a count is above zero", ""));
    }
    let (at, unit) = unit(bench, given)?;
    let (parts, ends) = match given.text("parts") {
        Some(_) => given.length("parts")?,
        None => (0.0, None),
    };
    terms.push((at, -count));
    let ends = ends.unwrap_or(ENDS * unit);
    let sigma = ends.hypot(doubt.unwrap_or(0.0) * unit);
    let sigma = given.own_sigma()?.unwrap_or(sigma);
    Ok(Observed { base: count * unit, ..Observed::new(Form::Sum(terms), parts, sigma) })
}

/// The unit as an unknown, and its size as far as known: a dimension of the
/// job, an object of `data/objects.toml`, a name with its `unit-size`, or a
/// size on the spot.
fn unit(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<(usize, f64), Unusable> {
    let text = given.want("unit")?;
    if bench.job.dimensions.iter().any(|dimension| dimension.name == text) {
        // Its size comes from the other readings; the ends need some figure.
        let (size, _) = given.length("unit-size").unwrap_or((12.0, None));
        return Ok((bench.names.own(text), size));
    }
    if given.text("unit-size").is_some() {
        let (size, sigma) = given.length("unit-size")?;
        let sigma = sigma.unwrap_or(given.method.relative * size);
        return Ok((bench.shared(&format!("unit {text}"), size, sigma)?, size));
    }
    if let Some(object) = bench.catalog.objects.get(text) {
        let size = object.size.length().in_inches();
        let spread = object.spread.length().in_inches();
        return Ok((bench.shared(&format!("unit {}", object.key), size, spread)?, size));
    }
    if !text.starts_with(|first: char| first.is_ascii_digit()) {
        return Err(no(
            format!("\"{text}\" is neither a dimension, a known object nor a size"),
            "give its size as unit-size = \"2.667 in \u{b1} 0.08 in\"",
        ));
    }
    let (size, sigma) = given.length("unit")?;
    let sigma = sigma.unwrap_or(given.method.relative * size);
    Ok((bench.shared(&format!("unit of {text}"), size, sigma)?, size))
}
