//! Paces counted and the pace known: `paces`, and `pace`, or `calibration`
//! with `walks`.

use crate::estimate::budget::propagate;

use super::super::observed::{Observed, Unusable, no};
use super::{Bench, Given};

pub(super) fn observe(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<Observed, Unusable> {
    let (paces, counted) = given.number("paces")?;
    let pace = pace(given)?;
    // Counted to half a pace.
    let inputs = [(paces, counted.unwrap_or(0.25)), pace];
    let (value, sigma) = propagate(inputs, |[paces, pace]| paces * pace);
    given.found(bench.names, value, sigma)
}

/// The pace and its sigma: as given, or from walks over a known length with
/// the best and the worst thrown out.
fn pace(given: &Given<'_>) -> Result<(f64, f64), Unusable> {
    let usual = |pace: f64| given.method.relative * pace;
    if given.text("pace").is_some() {
        let (pace, sigma) = given.length("pace")?;
        return Ok((pace, sigma.unwrap_or(usual(pace))));
    }
    let (length, _) = given.length("calibration")?;
    let text = given.want("walks")?;
    let walks = text.split([' ', ',']).filter(|word| !word.is_empty()).map(str::parse::<f64>);
    let mut walks: Vec<f64> = walks
        .collect::<Result<_, _>>()
        .map_err(|_| no(format!("\"{text}\" is no list of paces"), "write 40 41 39.5 40"))?;
    walks.sort_by(f64::total_cmp);
    let kept = if walks.len() > 4 { &walks[1..walks.len() - 1] } else { &walks[..] };
    let count = kept.len() as f64;
    let mean = kept.iter().sum::<f64>() / count;
    if !mean.is_finite() || mean <= 0.0 {
        return Err(no(format!("\"{text}\" holds no walks"), "write 40 41 39.5 40"));
    }
    let pace = length / mean;
    let variance =
        kept.iter().map(|walk| (walk - mean).powi(2)).sum::<f64>() / (count - 1.0).max(1.0);
    let scatter = pace * (variance / count).sqrt() / mean;
    // The ground is not that of the calibration: half the usual share stays.
    Ok((pace, scatter.hypot(usual(pace) / 2.0)))
}
