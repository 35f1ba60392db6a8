//! A length by comparison with an object of known size on one print.

use crate::finding::{Finding, Stop, Subject};
use crate::quantity::{Length, Paper, Prototype, PrototypeLength, Space, Stated, Written};

/// Two readings on a print, one of them of an object of known size. Both must
/// lie in one plane square to the line of sight.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// Size of the known object, with its spread from one such object to another.
    pub known: Stated<Written<Prototype>>,
    /// The known object on the print.
    pub known_print: Stated<Written<Paper>>,
    /// The wanted length on the print.
    pub print: Stated<Written<Paper>>,
    /// Where the known object stands nearer to the camera than the wanted length.
    pub set_back: Option<SetBack>,
}

/// How the known object stands before the wanted length.
#[derive(Clone, Debug)]
pub struct SetBack {
    /// By how much it is nearer; negative when it stands behind.
    pub nearer: Stated<Written<Prototype>>,
    /// From the camera to the wanted length.
    pub distance: Stated<Written<Prototype>>,
}

/// A length found by comparison.
#[derive(Clone, Debug)]
pub struct Compared {
    /// The length.
    pub size: PrototypeLength,
    /// One standard uncertainty of it.
    pub sigma: PrototypeLength,
    /// What the set-back was corrected by: 1 where there is none.
    pub correction: f64,
    /// What each reading brings to the uncertainty.
    pub shares: Vec<Share>,
}

/// What one reading brings to the uncertainty.
#[derive(Clone, Debug)]
pub struct Share {
    /// The reading.
    pub from: &'static str,
    /// What it alone would make of the uncertainty.
    pub sigma: PrototypeLength,
}

/// The length, by proportion: known · print / known-print, times D/(D - d) where
/// the known object is nearer by d and the camera at D, because it then looks
/// larger by d/(D - d). The uncertainty is of first order, the readings taken as
/// independent (JCGM 100:2008 equation 10).
///
/// # Errors
///
/// When a size is not above zero, or the known object would stand at or behind
/// the camera.
pub(super) fn compare(
    comparison: &Comparison,
    findings: &mut Vec<Finding>,
) -> Result<Compared, Stop> {
    let known = above_zero("known object", &comparison.known)?;
    let known_print = above_zero("known object on the print", &comparison.known_print)?;
    let print = above_zero("wanted length on the print", &comparison.print)?;
    let mut relative = vec![
        ("the known object's own spread", share(&comparison.known)),
        ("reading the known object", share(&comparison.known_print)),
        ("reading the wanted length", share(&comparison.print)),
    ];
    let correction = match &comparison.set_back {
        Some(set_back) => set_back_factor(set_back, &mut relative)?,
        None => 1.0,
    };
    let size = known * (print / known_print) * correction;
    let shares: Vec<Share> =
        relative.into_iter().map(|(from, part)| Share { from, sigma: size * part }).collect();
    silent(comparison, findings);
    let sigma = shares.iter().fold(0.0, |sum: f64, share| sum.hypot(share.sigma.in_inches()));
    Ok(Compared { size, sigma: PrototypeLength::inches(sigma), correction, shares })
}

fn above_zero<S: Space>(what: &str, stated: &Stated<Written<S>>) -> Result<Length<S>, Stop> {
    let length = stated.value.length();
    if length > Length::ZERO {
        return Ok(length);
    }
    let trouble = format!("the {what} is {}", stated.value);
    Err(Stop::new("comparing two lengths on a print", trouble, "give a length above zero"))
}

/// The relative standard uncertainty; nothing stated counts as none.
fn share<S: Space>(stated: &Stated<Written<S>>) -> f64 {
    stated.sigma.as_ref().map_or(0.0, |sigma| sigma.length() / stated.value.length()).abs()
}

/// D/(D - d), and what the uncertainty of both brings.
fn set_back_factor(
    set_back: &SetBack,
    relative: &mut Vec<(&'static str, f64)>,
) -> Result<f64, Stop> {
    let distance = above_zero("distance of the camera", &set_back.distance)?.in_inches();
    let nearer = set_back.nearer.value.length().in_inches();
    let left = distance - nearer;
    if left <= 0.0 {
        return Err(Stop::new(
            "correcting for the set-back",
            "the known object would stand at the camera or behind it",
            "the distance is from the camera to the wanted length, the set-back is part of it",
        ));
    }
    let sigma = |stated: &Stated<Written<Prototype>>| {
        stated.sigma.as_ref().map_or(0.0, |sigma| sigma.length().in_inches())
    };
    relative.push(("how far it stands before", sigma(&set_back.nearer) / left));
    let by_distance = (nearer / (distance * left)).abs();
    relative.push(("the distance of the camera", sigma(&set_back.distance) * by_distance));
    Ok(distance / left)
}

/// Says which readings came without an uncertainty.
fn silent(comparison: &Comparison, findings: &mut Vec<Finding>) {
    let readings = [
        ("the known object", comparison.known.sigma.is_none()),
        ("the known object on the print", comparison.known_print.sigma.is_none()),
        ("the wanted length on the print", comparison.print.sigma.is_none()),
    ];
    let missing: Vec<&str> =
        readings.iter().filter(|(_, missing)| *missing).map(|(name, _)| *name).collect();
    if !missing.is_empty() {
        findings.push(Finding::look(
            Subject::Job,
            format!("taken as exact, because no ± was given: {}", missing.join(", ")),
            "write for example \"80 in ± 1 in\" and \"23 mm ± 0.3 mm\"",
        ));
    }
    if comparison.set_back.is_none() {
        findings.push(Finding::note(
            Subject::Job,
            "holds where both lie in one plane square to the line of sight",
        ));
    }
}
