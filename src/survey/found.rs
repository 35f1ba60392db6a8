//! What the survey found, reading by reading and dimension by dimension.

use serde::Serialize;

use crate::catalog::Catalog;
use crate::catalog::methods::Kind;
use crate::estimate::Estimate;
use crate::finding::Finding;
use crate::job::Job;
use crate::job::form::{Form, Linear};
use crate::quantity::PrototypeLength;
use crate::solve::least_squares;

use super::Survey;
use super::advice::{Proposal, adopt};
use super::blunder::UNCHECKED;
use super::network::Network;
use super::observed::Observed;
use super::rejected;

/// Redundancy under which a check is weak (common practice, no source).
const WEAK: f64 = 0.3;

/// How well the other readings check a reading or a dimension.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Checked {
    /// Nothing fixes it.
    Unfixed,
    /// A blunder here could never show.
    Unchecked,
    /// Only a large blunder would show.
    Weakly,
    /// A blunder would show.
    Checked,
}

impl Checked {
    /// From a redundancy number.
    #[must_use]
    pub fn from_redundancy(redundancy: f64) -> Self {
        if redundancy < UNCHECKED {
            Self::Unchecked
        } else if redundancy < WEAK {
            Self::Weakly
        } else {
            Self::Checked
        }
    }

    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Unfixed => "nothing fixes it",
            Self::Unchecked => "unchecked",
            Self::Weakly => "weakly checked",
            Self::Checked => "checked",
        }
    }
}

/// A dimension after the adjustment.
#[derive(Clone, Debug, PartialEq)]
pub struct DimensionFound {
    /// Its name.
    pub name: String,
    /// What it is, in words.
    pub what: String,
    /// What the readings make of it; nothing where they do not fix it.
    pub measured: Option<Estimate<PrototypeLength>>,
    /// The figure adopted.
    pub adopted: Option<PrototypeLength>,
    /// A round figure that might be adopted; it is an assumption.
    pub proposal: Option<Proposal>,
    /// How well it is checked.
    pub checked: Checked,
    /// How it is known: the kinds of its readings, the weightiest first.
    pub kinds: Vec<Kind>,
    /// Which network it is in.
    pub network: usize,
}

/// In what a reading is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WhatRead {
    /// Inches.
    Length,
    /// A plain number.
    Ratio,
    /// Square inches.
    Area,
}

impl WhatRead {
    fn of(form: &least_squares::Form) -> Self {
        match form {
            least_squares::Form::Sum(_) | least_squares::Form::Diagonal(..) => Self::Length,
            least_squares::Form::Ratio(..) => Self::Ratio,
            least_squares::Form::Product(..) => Self::Area,
        }
    }
}

/// How a reading stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// In the adjustment.
    Kept,
    /// Set aside: it does not fit.
    Rejected,
    /// Switched off by the person.
    Off,
    /// It says nothing that can be used; a finding says why.
    LeftOut,
}

/// A reading after the adjustment. Figures are in inches, square inches or
/// plain, as [`WhatRead`] says.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadingFound {
    /// Its id.
    pub id: String,
    /// In what it is.
    pub what: WhatRead,
    /// What was read, and its sigma; nothing where it could not be used.
    pub read: Option<(f64, f64)>,
    /// What the others together with it, or without it where it is set aside,
    /// make of the same.
    pub adjusted: Option<f64>,
    /// Read less adjusted.
    pub residual: Option<f64>,
    /// Its redundancy number among what is kept.
    pub redundancy: Option<f64>,
    /// Its standardized residual: among what is kept, or when it was set aside.
    pub z: Option<f64>,
    /// How well the others check it.
    pub checked: Option<Checked>,
    /// How it stands.
    pub standing: Standing,
    /// Which network it is in.
    pub network: Option<usize>,
}

/// Gathers what the networks found.
pub(super) fn collect(
    job: &Job,
    catalog: &Catalog,
    observed: &[Observed],
    networks: Vec<Network>,
    findings: &mut Vec<Finding>,
) -> Survey {
    let mut survey = Survey {
        readings: job.readings.iter().map(unused).collect(),
        networks,
        ..Survey::default()
    };
    for seen in observed {
        if let Some(at) = seen.reading {
            survey.readings[at].read = Some((seen.value + seen.base, seen.sigma));
            survey.readings[at].what = WhatRead::of(&seen.form);
        }
    }
    for network in 0..survey.networks.len() {
        readings_of(&mut survey, network);
        rejected::gather(job, catalog, &mut survey, network, findings);
    }
    survey.dimensions =
        job.dimensions.iter().map(|said| dimension(job, catalog, &survey, said)).collect();
    survey
}

fn unused(reading: &crate::job::model::Reading) -> ReadingFound {
    let what = match reading.of {
        Form::Linear(_) | Form::Diagonal(..) => WhatRead::Length,
        Form::Ratio(..) => WhatRead::Ratio,
        Form::Product(..) => WhatRead::Area,
    };
    ReadingFound {
        id: reading.id.clone(),
        what,
        read: None,
        adjusted: None,
        residual: None,
        redundancy: None,
        z: None,
        checked: None,
        standing: if reading.off { Standing::Off } else { Standing::LeftOut },
        network: None,
    }
}

fn readings_of(survey: &mut Survey, network: usize) {
    let searched = &survey.networks[network].searched;
    for (at, seen) in searched.part.observed.iter().enumerate() {
        let Some(reading) = seen.reading else { continue };
        let found = &mut survey.readings[reading];
        let residual = seen.value - seen.form.value(searched.solution.values());
        found.network = Some(network);
        found.adjusted = Some(seen.value + seen.base - residual);
        found.residual = Some(residual);
        if let Some(fit) = searched.fit(at) {
            found.standing = Standing::Kept;
            found.redundancy = Some(fit.redundancy);
            found.checked = Some(Checked::from_redundancy(fit.redundancy));
            found.z = fit.standardized.filter(|_| fit.redundancy >= UNCHECKED);
        }
    }
    for rejected in &searched.rejected {
        if let Some(reading) = searched.part.observed[rejected.observation].reading {
            survey.readings[reading].standing = Standing::Rejected;
            survey.readings[reading].z = Some(rejected.z);
        }
    }
}

fn dimension(
    job: &Job,
    catalog: &Catalog,
    survey: &Survey,
    said: &crate::job::model::Dimension,
) -> DimensionFound {
    let form = Linear::of(&said.name);
    let network = survey.networks.iter().position(|n| n.place(&said.name).is_some());
    let shares = network.map_or(Vec::new(), |network| {
        let network = &survey.networks[network];
        network.shares(&network.terms(&form))
    });
    let measured = survey.estimate(&form).ok();
    let mut found = DimensionFound {
        name: said.name.clone(),
        what: said.what.clone(),
        checked: match &measured {
            Some(_) => checked(survey, &shares),
            None => Checked::Unfixed,
        },
        measured,
        adopted: said.adopt.as_ref().map(crate::job::said::Said::length),
        proposal: None,
        kinds: kinds(job, catalog, shares),
        network: network.unwrap_or(0),
    };
    found.proposal = adopt::propose(job, said, &found);
    found
}

/// How well a dimension is checked, from the readings that bear on it, each
/// with its share of the variance: not at all where the most of it comes from
/// readings that nothing checks.
fn checked(survey: &Survey, shares: &[(usize, f64)]) -> Checked {
    let redundancy = |at: usize| survey.readings[at].redundancy.unwrap_or(0.0);
    let open = shares.iter().filter(|(at, _)| redundancy(*at) < UNCHECKED);
    if open.map(|(_, share)| share).sum::<f64>() >= 0.5 {
        return Checked::Unchecked;
    }
    Checked::from_redundancy(shares.iter().map(|(at, share)| share * redundancy(*at)).sum())
}

/// The kinds of the readings that bear on a dimension, the weightiest first.
fn kinds(job: &Job, catalog: &Catalog, mut shares: Vec<(usize, f64)>) -> Vec<Kind> {
    shares.retain(|(_, share)| *share > 0.05);
    shares.sort_by(|a, b| b.1.total_cmp(&a.1));
    let mut kinds: Vec<Kind> = Vec::new();
    for (reading, _) in shares {
        let kind = catalog.methods.get(&job.readings[reading].method).map(|method| method.kind);
        kinds.extend(kind.filter(|kind| !kinds.contains(kind)));
    }
    kinds
}
