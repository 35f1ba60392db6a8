//! What to measure next.
//!
//! A further observation with row `a` and sigma `s` lowers the variance of a
//! dimension `x` by `cov(x, a)^2 / (var(a) + s^2)`: no reading is needed to
//! know what it would be worth. One that binds networks together is of several
//! parts, which so far know nothing of each other: `var(a)` is their sum, and
//! the formula holds for the dimensions of each.

use std::collections::HashSet;

use crate::catalog::Catalog;
use crate::catalog::methods::Kind;
use crate::job::Job;
use crate::job::form::{Form, Linear, Term};
use crate::quantity::{ModelLength, PrototypeLength, Scale};

use super::super::{Checked, DimensionFound, Standing, Survey};
use super::diagonals;

/// How many candidates are told.
const TOLD: usize = 8;
/// Of how many dimensions candidates are weighed.
const WEIGHED: usize = 40;
/// What a hand can cut to where the job does not say.
const HAND_THOU: f64 = 5.0;

/// An observation that might be taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// What of.
    pub of: Form,
    /// How, in words.
    pub how: String,
    /// Its sigma.
    pub sigma: PrototypeLength,
    /// The dimension it helps most.
    pub helps: String,
    /// That dimension's sigma on the model now, and with it; nothing now where
    /// nothing fixes it.
    pub from: Option<ModelLength>,
    /// And with it.
    pub to: ModelLength,
    /// How much the worst dimension of all falls.
    pub worst_falls: ModelLength,
    /// Whether it also checks a dimension that nothing checks now.
    pub checks: bool,
}

/// What to measure next, the most useful first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Next {
    /// The worst dimension.
    pub worst: String,
    /// Its sigma on the model.
    pub worst_sigma: ModelLength,
    /// What the hand can cut to.
    pub hand: ModelLength,
    /// Whether every dimension is known better than can be cut, and checked.
    pub stop: bool,
    /// Whether every dimension is known better than can be cut.
    pub fine: bool,
    /// The candidates.
    pub candidates: Vec<Candidate>,
}

/// Weighs what might be measured next.
#[must_use]
pub fn next(job: &Job, catalog: &Catalog, survey: &Survey, scale: &Scale) -> Next {
    let hand = job.about.hand.as_ref().map_or(ModelLength::thou(HAND_THOU), |hand| hand.length());
    let unfixed = survey.dimensions.iter().any(|found| found.checked == Checked::Unfixed);
    let unchecked = survey.dimensions.iter().any(|found| found.checked == Checked::Unchecked);
    let worst = worst(survey);
    let worst_sigma = scale.reduce(worst.1);
    let fine = !unfixed && worst_sigma <= hand && !survey.dimensions.is_empty();
    let open = most_open(survey);
    let mut candidates: Vec<Candidate> = observations(job, catalog, survey)
        .into_iter()
        .filter(|taken| taken.of.names().any(|name| open.contains(name)))
        .filter_map(|taken| weigh(survey, scale, worst.1, taken))
        .collect();
    // Falls within two parts in a hundred of the worst are the same to a person.
    let step = 0.02 * worst_sigma.in_thou().max(1e-6);
    let fall = |candidate: &Candidate| {
        let before = candidate.from.map_or(f64::INFINITY, |from| from.in_thou());
        let of_worst = (candidate.worst_falls.in_thou() / step).round();
        (of_worst, candidate.checks, before - candidate.to.in_thou())
    };
    candidates.sort_by(|a, b| {
        let (a, b) = (fall(a), fall(b));
        b.0.total_cmp(&a.0).then(b.1.cmp(&a.1)).then(b.2.total_cmp(&a.2))
    });
    candidates.truncate(TOLD);
    Next { worst: worst.0, worst_sigma, hand, stop: fine && !unchecked, fine, candidates }
}

/// The dimensions with most to gain: what nothing fixes or checks, then the
/// largest sigmas. Others are not worth weighing one by one.
fn most_open(survey: &Survey) -> HashSet<&str> {
    let sigma = |found: &DimensionFound| {
        found.measured.as_ref().map_or(f64::INFINITY, |found| found.sigma.in_inches())
    };
    let mut all: Vec<&DimensionFound> = survey.dimensions.iter().collect();
    all.sort_by(|a, b| {
        let order = |found: &DimensionFound| found.checked > Checked::Unchecked;
        order(a).cmp(&order(b)).then(sigma(b).total_cmp(&sigma(a)))
    });
    let worst = all.iter().max_by(|a, b| sigma(a).total_cmp(&sigma(b)));
    all.iter().take(WEIGHED).chain(worst).map(|found| found.name.as_str()).collect()
}

/// The dimension with the largest sigma.
fn worst(survey: &Survey) -> (String, PrototypeLength) {
    let sigma = |found: &DimensionFound| Some(found.measured.as_ref()?.sigma);
    survey
        .dimensions
        .iter()
        .filter_map(|found| Some((found.name.clone(), sigma(found)?)))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap_or_default()
}

/// An observation that might be taken.
struct Taken {
    of: Form,
    /// How it changes with the dimensions.
    slope: Linear,
    how: String,
    sigma: PrototypeLength,
}

impl Taken {
    fn sum(of: Linear, how: String, sigma: PrototypeLength) -> Self {
        Self { slope: of.clone(), of: Form::Linear(of), how, sigma }
    }
}

/// What might be taken: each dimension by tape or by the way it was read, the
/// step between two that follow each other on one run, diagonals, and each
/// kept reading once more.
fn observations(job: &Job, catalog: &Catalog, survey: &Survey) -> Vec<Taken> {
    let usual = |key: &str, value: PrototypeLength| {
        catalog.methods.get(key).map_or(PrototypeLength::inches(0.5), |method| method.sigma(value))
    };
    let size = |name: &str| {
        let found = survey.dimension(name).and_then(|found| found.measured.as_ref());
        found.map_or(PrototypeLength::ZERO, |found| found.value)
    };
    let mut all: Vec<Taken> = Vec::new();
    let reach = if is_within_reach(job, catalog) { "" } else { ", if you can get at it" };
    for dimension in &job.dimensions {
        let name = &dimension.name;
        let how = format!("tape {name}{reach}");
        all.push(Taken::sum(Linear::of(name), how, usual("tape", size(name))));
    }
    for pair in steps(job) {
        let form = Linear {
            terms: vec![
                Term { factor: 1.0, name: pair.1.clone() },
                Term { factor: -1.0, name: pair.0.clone() },
            ],
        };
        let value = size(&pair.1) - size(&pair.0);
        let how = format!("tape from {} to {}", pair.0, pair.1);
        all.push(Taken::sum(form, how, usual("tape", value)));
    }
    for (what, one, other) in diagonals::of(job) {
        all.extend(diagonal(survey, one, other, |long| usual("tape", long)).map(|mut taken| {
            taken.how = format!("tape the diagonal {what}{reach}");
            taken
        }));
    }
    for (said, found) in job.readings.iter().zip(&survey.readings) {
        let (Form::Linear(form), Some((_, sigma))) = (&said.of, found.read) else { continue };
        if found.standing != Standing::Kept || !is_taken_on_site(catalog, &said.method) {
            continue;
        }
        let how = format!("take {} once more, the same way ({})", said.id, said.method);
        all.push(Taken::sum(form.clone(), how, PrototypeLength::inches(sigma)));
    }
    all
}

/// The diagonal over two lengths that are both known.
fn diagonal(
    survey: &Survey,
    one: Linear,
    other: Linear,
    sigma: impl Fn(PrototypeLength) -> PrototypeLength,
) -> Option<Taken> {
    let value = |form: &Linear| Some(survey.estimate(form).ok()?.value.in_inches());
    let (a, b) = (value(&one)?, value(&other)?);
    let long = a.hypot(b);
    if long.is_nan() || long <= 0.0 {
        return None;
    }
    let scaled = |form: &Linear, by: f64| -> Vec<Term> {
        let term = |t: &Term| Term { factor: t.factor * by, name: t.name.clone() };
        form.terms.iter().map(term).collect()
    };
    let slope = Linear { terms: [scaled(&one, a / long), scaled(&other, b / long)].concat() };
    let sigma = sigma(PrototypeLength::inches(long));
    Some(Taken { of: Form::Diagonal(one, other), slope, how: String::new(), sigma })
}

/// Whether anything was taped yet, or nothing read at all.
fn is_within_reach(job: &Job, catalog: &Catalog) -> bool {
    let kind = |key: &str| catalog.methods.get(key).map(|method| method.kind);
    job.readings.is_empty() || job.readings.iter().any(|r| kind(&r.method) == Some(Kind::Taped))
}

/// Whether taking it again tells anything new: a record says the same twice.
fn is_taken_on_site(catalog: &Catalog, method: &str) -> bool {
    let kind = catalog.methods.get(method).map(|method| method.kind);
    matches!(kind, Some(Kind::Taped | Kind::Paced | Kind::Sighted | Kind::Counted))
}

/// Neighbours on a run: dimensions read alone, one after the other, from the
/// same source by running tape.
fn steps(job: &Job) -> Vec<(String, String)> {
    let running: Vec<_> = job
        .readings
        .iter()
        .filter(|reading| reading.method == "running-tape")
        .filter_map(|reading| match &reading.of {
            Form::Linear(form) => Some((form.single()?.to_owned(), &reading.source)),
            _ => None,
        })
        .collect();
    let pairs = running.windows(2).filter(|pair| pair[0].1 == pair[1].1);
    pairs.map(|pair| (pair[0].0.clone(), pair[1].0.clone())).collect()
}

/// What an observation would be worth; nothing where it helps nothing.
fn weigh(
    survey: &Survey,
    scale: &Scale,
    worst: PrototypeLength,
    taken: Taken,
) -> Option<Candidate> {
    let Taken { of, slope, how, sigma } = taken;
    let fixes = |found: &DimensionFound| {
        found.checked == Checked::Unfixed && slope.single() == Some(&found.name)
    };
    if let Some(found) = survey.dimensions.iter().find(|found| fixes(found)) {
        return Some(Candidate {
            helps: found.name.clone(),
            from: None,
            to: scale.reduce(sigma),
            worst_falls: ModelLength::ZERO,
            checks: false,
            of,
            how,
            sigma,
        });
    }
    let helped = helped(survey, &slope, sigma)?;
    let after = |found: &DimensionFound| {
        helped.iter().find(|(name, _, _)| *name == found.name).map(|h| h.2)
    };
    let worst_after = survey
        .dimensions
        .iter()
        .filter_map(|found| after(found).or_else(|| Some(found.measured.as_ref()?.sigma)))
        .fold(PrototypeLength::ZERO, PrototypeLength::max);
    let (name, before, after) = helped
        .iter()
        .max_by(|a, b| (a.1 - a.2).total_cmp(&(b.1 - b.2)))
        .filter(|(_, before, after)| *after < *before * 0.99)?;
    let checks = survey.dimension(name).is_some_and(|found| found.checked == Checked::Unchecked);
    Some(Candidate {
        helps: (*name).to_owned(),
        from: Some(scale.reduce(*before)),
        to: scale.reduce(*after),
        worst_falls: scale.reduce((worst - worst_after).max(PrototypeLength::ZERO)),
        checks,
        of,
        how,
        sigma,
    })
}

/// Every dimension of the networks it speaks of, its sigma now and with the
/// further observation; nothing where a part of it is not fixed.
fn helped<'s>(
    survey: &'s Survey,
    of: &Linear,
    sigma: PrototypeLength,
) -> Option<Vec<(&'s str, PrototypeLength, PrototypeLength)>> {
    let mut parts = Vec::new();
    let mut variance = sigma.in_inches().powi(2);
    let mut spoken_of = 0;
    for (at, network) in survey.networks.iter().enumerate() {
        let terms = network.terms(of);
        if terms.is_empty() {
            continue;
        }
        spoken_of += terms.len();
        let with_all = network.searched.solution.covariance_with_all(&terms)?;
        variance += terms.iter().map(|(at, factor)| factor * with_all[*at]).sum::<f64>();
        parts.push((at, with_all));
    }
    if spoken_of < of.terms.len() {
        return None;
    }
    let mut all = Vec::new();
    for found in &survey.dimensions {
        let Some((at, with_all)) = parts.iter().find(|(at, _)| *at == found.network) else {
            continue;
        };
        let (Some(place), Some(measured)) =
            (survey.networks[*at].place(&found.name), &found.measured)
        else {
            continue;
        };
        let with = with_all[place];
        let after = measured.sigma.in_inches().powi(2) - with * with / variance;
        let after = PrototypeLength::inches(after.max(0.0).sqrt());
        all.push((found.name.as_str(), measured.sigma, after));
    }
    Some(all)
}
