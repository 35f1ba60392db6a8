//! Readings as observations: what each says, in inches, with its sigma.

use std::sync::Arc;

use crate::catalog::Catalog;
use crate::finding::Finding;
use crate::job::Job;
use crate::quantity;
use crate::solve::least_squares::Form;

use super::method::{self, Bench};
use super::names::Names;
use super::pictures::Pictures;
use super::unusable;

/// An observation of the unknowns. Lengths are in inches, areas in square
/// inches, ratios plain.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Observed {
    /// The reading it comes from; nothing for what is known beforehand.
    pub(super) reading: Option<usize>,
    /// The unknown it is about, where it is known beforehand.
    pub(super) prior: String,
    pub(super) form: Form,
    pub(super) value: f64,
    pub(super) sigma: f64,
    /// What to add so that the value is one of the reading's own form: a
    /// count of units is observed as what is left over after the units.
    pub(super) base: f64,
    /// The errors it shares with others of its picture.
    pub(super) shared: Option<Shared>,
}

/// The correlations of the readings of one picture, row by row.
pub(super) type Correlations = Arc<Vec<Vec<f64>>>;

/// Errors shared by the readings of one picture.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Shared {
    /// The correlations of all of them.
    pub(super) correlations: Correlations,
    /// The row that is this reading's.
    pub(super) row: usize,
}

impl Observed {
    /// An observation by a reading that is still to be numbered.
    pub(super) fn new(form: Form, value: f64, sigma: f64) -> Self {
        Self { reading: None, prior: String::new(), form, value, sigma, base: 0.0, shared: None }
    }

    /// What is known of an unknown before anything is read.
    pub(super) fn prior(name: &str, at: usize, value: f64, sigma: f64) -> Self {
        Self { prior: name.to_owned(), ..Self::new(Form::Sum(vec![(at, 1.0)]), value, sigma) }
    }
}

/// Why a reading says nothing.
#[derive(Debug)]
pub(super) struct Unusable {
    pub(super) trouble: String,
    pub(super) hint: String,
}

pub(super) fn no(trouble: impl Into<String>, hint: impl Into<String>) -> Unusable {
    Unusable { trouble: trouble.into(), hint: hint.into() }
}

impl From<quantity::NotationError> for Unusable {
    fn from(error: quantity::NotationError) -> Self {
        no(format!("\"{}\": {}", error.text, error.message), error.hint)
    }
}

/// Every reading that is not switched off and says something, and what is
/// known beforehand of the unknowns they bring along.
pub(super) fn read_all(
    job: &Job,
    catalog: &Catalog,
    pictures: &Pictures,
    names: &mut Names,
    findings: &mut Vec<Finding>,
) -> Vec<Observed> {
    let mut all = Vec::new();
    let mut priors = Vec::new();
    for (at, reading) in job.readings.iter().enumerate().filter(|(_, reading)| !reading.off) {
        let mut bench = Bench { job, catalog, names, priors: &mut priors };
        let seen = match pictures.length(at) {
            Some(length) => length.observe(bench.names, reading),
            None => method::observe(&mut bench, reading),
        }
        .and_then(sound);
        match seen {
            Ok(seen) => all.push(Observed { reading: Some(at), ..seen }),
            Err(why) => findings.push(unusable(&reading.id, &why.trouble, &why.hint)),
        }
    }
    all.extend(priors);
    all
}

/// Refuses what cannot be weighed.
fn sound(seen: Observed) -> Result<Observed, Unusable> {
    if !seen.value.is_finite() {
        return Err(no("its value comes to no number", ""));
    }
    if !seen.sigma.is_finite() || seen.sigma <= 0.0 {
        return Err(no(
            format!("its sigma comes to {}, which is not above zero", seen.sigma),
            "give it a sigma: half of the smallest division you could read",
        ));
    }
    Ok(seen)
}
