//! Round figures within the uncertainty.
//!
//! Carpenters built to whole feet, boards and sheets; a surveyed size that
//! lies within one standard uncertainty of such a figure may be taken for it.
//! That is an assumption, and is recorded as one.

use crate::job::Job;
use crate::job::model::{Dimension, Units};
use crate::quantity::{PrototypeLength, Unit};

use super::super::DimensionFound;

/// A round figure that might be adopted.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The figure.
    pub figure: PrototypeLength,
    /// What it is a whole number of, and how many.
    pub module: PrototypeLength,
    /// How many.
    pub count: f64,
    /// How far it lies from the measured value, in standard uncertainties.
    pub off: f64,
    /// Why, in words.
    pub why: String,
}

/// The roundest figure within one standard uncertainty of what was measured.
pub(in super::super) fn propose(
    job: &Job,
    said: &Dimension,
    found: &DimensionFound,
) -> Option<Proposal> {
    let measured = found.measured.as_ref()?;
    let (value, sigma) = (measured.value.in_inches(), measured.sigma.in_inches());
    let own = said.module.as_ref().map(|module| (module.length().in_inches(), module.text()));
    modules(job, own).into_iter().find_map(|(module, word)| {
        let count = (value / module).round();
        let off = (count * module - value).abs() / sigma;
        // Where the uncertainty spans modules, being near one says nothing.
        let telling = sigma < module || own.is_some_and(|(own, _)| (own - module).abs() < 1e-9);
        (count >= 1.0 && off <= 1.0 && telling).then(|| Proposal {
            figure: PrototypeLength::inches(count * module),
            module: PrototypeLength::inches(module),
            count,
            off,
            why: format!("{count} of {word}, {off:.1} standard deviations away"),
        })
    })
}

/// The dimension's own module first, then whole feet and half feet, or whole
/// tenths and twentieths of a metre.
fn modules<'t>(job: &Job, own: Option<(f64, &'t str)>) -> Vec<(f64, &'t str)> {
    let usual: [(f64, &str); 2] = match job.about.units {
        Units::FeetInches => [(12.0, "1 ft"), (6.0, "6 in")],
        Units::Metric => [(inches_of_mm(100.0), "100 mm"), (inches_of_mm(50.0), "50 mm")],
    };
    own.into_iter().filter(|(module, _)| *module > 0.0).chain(usual).collect()
}

fn inches_of_mm(mm: f64) -> f64 {
    mm * Unit::Millimetre.in_inches()
}
