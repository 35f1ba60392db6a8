//! Readings -> one set of prototype dimensions.
//!
//! Readings that hang together through dimensions and ties form a network.
//! Each network is adjusted by least squares with its ties exact; the reading
//! that fits worst is set aside when its standardized residual is beyond the
//! limit, and the rest adjusted again, one at a time, largest first. Nothing
//! is dropped: what is set aside stays, with its figures and the likely slip.

pub mod advice;
mod blunder;
mod found;
mod method;
mod names;
mod network;
mod observed;
mod pictures;
mod rejected;
mod slip;

#[cfg(test)]
mod tests;

pub use found::{Checked, DimensionFound, ReadingFound, Standing, WhatRead};
pub use network::Network;
pub use rejected::Rejected;
pub use slip::{Slip, SlipKind};

use crate::catalog::Catalog;
use crate::estimate::Estimate;
use crate::finding::{Finding, Outcome, Stop, Subject};
use crate::job::Job;
use crate::job::form::Linear;
use crate::job::model::Reading;
use crate::job::said::Size;
use crate::photo::from_job::Seen;
use crate::quantity::PrototypeLength;

use pictures::Pictures;

/// The prototype dimensions that the readings, taken together, speak for.
#[derive(Clone, Debug, Default)]
pub struct Survey {
    /// The dimensions, in the order of the job.
    pub dimensions: Vec<DimensionFound>,
    /// The readings, in the order of the job; behind them those of its
    /// photographs.
    pub readings: Vec<ReadingFound>,
    /// The readings of the photographs, as if they were written in the job.
    pub photographed: Vec<Reading>,
    /// What hangs together, in the order of the dimensions.
    pub networks: Vec<Network>,
    /// The readings set aside, in the order they were.
    pub rejected: Vec<Rejected>,
}

/// A size of the building: what is built to, and what was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeFound {
    /// The figure to build to: the one taken, else the adopted one, else the
    /// measured one.
    pub value: PrototypeLength,
    /// What the survey makes of it; nothing where the size is only written.
    pub measured: Option<Estimate<PrototypeLength>>,
}

/// Adjusts the readings of a job. No job stops this: a reading that cannot be
/// used is left out and named in a finding.
#[must_use]
pub fn run(job: &Job, catalog: &Catalog) -> Outcome<Survey> {
    run_seeing(job, catalog, &[])
}

/// The same, with photographs that were measured to first order already.
#[must_use]
pub fn run_seeing(job: &Job, catalog: &Catalog, seen: &[Seen]) -> Outcome<Survey> {
    let mut findings = Vec::new();
    let pictures = Pictures::read(job, seen);
    let job = pictures.added(job);
    let mut names = names::Names::new(&job);
    let observed = observed::read_all(&job, catalog, &pictures, &mut names, &mut findings);
    let networks = network::split(&job, &names, &observed, &mut findings);
    let mut survey = found::collect(&job, catalog, &observed, networks, &mut findings);
    for (at, found) in survey.readings.iter_mut().enumerate() {
        found.read = found.read.or_else(|| pictures.length(at)?.read());
    }
    survey.photographed = pictures.readings;
    advice::look_round(&job, &survey, &mut findings);
    Outcome { value: survey, findings }
}

impl Survey {
    /// What was read, in the order of [`Self::readings`]: the readings of the
    /// job, then those of its photographs.
    pub fn said<'a>(&'a self, job: &'a Job) -> impl Iterator<Item = &'a Reading> {
        job.readings.iter().chain(&self.photographed)
    }

    /// What a size of the job comes to.
    ///
    /// # Errors
    /// When it rests on a dimension that nothing fixes.
    pub fn size(&self, size: &Size) -> Result<SizeFound, Stop> {
        let measured = size.measured.as_ref().map(|form| (form, self.estimate(form)));
        match (&size.take, measured) {
            (Some(said), measured) => Ok(SizeFound {
                value: said.length(),
                measured: measured.and_then(|(_, estimate)| estimate.ok()),
            }),
            (None, Some((form, estimate))) => match (self.adopted(form), estimate) {
                (Some(value), estimate) => Ok(SizeFound { value, measured: estimate.ok() }),
                (None, estimate) => {
                    let estimate = estimate?;
                    Ok(SizeFound { value: estimate.value, measured: Some(estimate) })
                }
            },
            (None, None) => Err(Stop::new("finding a size", "neither taken nor measured", "")),
        }
    }

    /// The dimension of that name.
    #[must_use]
    pub fn dimension(&self, name: &str) -> Option<&DimensionFound> {
        self.dimensions.iter().find(|dimension| dimension.name == name)
    }

    /// A sum of dimensions from the figures adopted for them, when each has
    /// one.
    fn adopted(&self, form: &Linear) -> Option<PrototypeLength> {
        let figure = |name: &str| Some(self.dimension(name)?.adopted?.in_inches());
        form.value(figure).map(PrototypeLength::inches)
    }

    /// What the readings make of a sum of dimensions, with the covariance of
    /// all of them.
    ///
    /// # Errors
    /// When a dimension is not in the job, or nothing fixes the sum.
    pub fn estimate(&self, form: &Linear) -> Result<Estimate<PrototypeLength>, Stop> {
        let doing = || format!("finding {form}");
        let (mut value, mut variance) = (0.0, 0.0);
        let mut sources = Vec::new();
        let mut left = form.terms.len();
        for network in &self.networks {
            let terms = network.terms(form);
            if terms.is_empty() {
                continue;
            }
            left -= terms.len();
            let (part, sigma) = network.estimate(&terms).ok_or_else(|| {
                Stop::new(
                    doing(),
                    "no reading fixes it",
                    "add a reading, adopt a figure, or write the size down",
                )
            })?;
            value += part;
            variance += sigma * sigma;
            sources.extend(network.sources(&terms).map(|at| self.readings[at].id.clone()));
        }
        if left > 0 {
            let known = |name: &str| self.networks.iter().any(|n| n.place(name).is_some());
            let missing = form.terms.iter().find(|term| !known(&term.name));
            let missing = missing.map_or("", |term| term.name.as_str());
            return Err(Stop::new(doing(), format!("no dimension is called \"{missing}\""), ""));
        }
        Ok(Estimate::new(
            PrototypeLength::inches(value),
            PrototypeLength::inches(variance.sqrt()),
            sources,
        ))
    }
}

fn unusable(id: &str, trouble: &str, hint: &str) -> Finding {
    Finding::trouble(Subject::Reading(id.to_owned()), format!("{id} is left out: {trouble}"), hint)
}
