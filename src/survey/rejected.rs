//! The readings set aside, each with its reason.

use crate::catalog::Catalog;
use crate::finding::{Finding, Subject};
use crate::job::Job;

use super::Survey;
use super::blunder::Found;
use super::network::Network;
use super::observed::Observed;
use super::slip::{self, Case, Slip};

/// A reading set aside.
#[derive(Clone, Debug, PartialEq)]
pub struct Rejected {
    /// Its id; or the name of what was taken as known beforehand, such as the
    /// zero of a pull, which then was not as it should be.
    pub id: String,
    /// Its place in the job; nothing for what was known beforehand.
    pub reading: Option<usize>,
    /// Its standardized residual when it was set aside.
    pub z: f64,
    /// Ids of readings that cannot be told from it: one of them is wrong.
    pub alike: Vec<String>,
    /// What the rest make of it, in its own unit.
    pub expected: f64,
    /// How large the blunder comes out, in its own unit: read less expected.
    pub off: f64,
    /// The likely slip; nothing where none explains it.
    pub slip: Option<Slip>,
    /// Why, in a sentence.
    pub why: String,
    /// Which network it is in.
    pub network: usize,
}

/// Gathers what was set aside in a network.
pub(super) fn gather(
    job: &Job,
    catalog: &Catalog,
    survey: &mut Survey,
    network: usize,
    findings: &mut Vec<Finding>,
) {
    let part = &survey.networks[network];
    for found in &part.searched.rejected {
        let rejected = describe(job, catalog, part, network, found);
        findings.push(finding(&rejected));
        survey.rejected.push(rejected);
    }
}

fn finding(rejected: &Rejected) -> Finding {
    let hint = match rejected.reading {
        Some(_) => "look at the field book, or measure it again",
        None => "look at how the tape was held, or what the unit was",
    };
    let subject = match rejected.reading {
        Some(_) => Subject::Reading(rejected.id.clone()),
        None => Subject::Job,
    };
    Finding::look(subject, format!("{} is set aside: {}", rejected.id, rejected.why), hint)
}

fn describe(
    job: &Job,
    catalog: &Catalog,
    part: &Network,
    network: usize,
    found: &Found,
) -> Rejected {
    let searched = &part.searched;
    let seen = &searched.part.observed[found.observation];
    let off = seen.value - seen.form.value(searched.solution.values());
    let expected = seen.value + seen.base - off;
    let slip = match seen.reading {
        Some(reading) => {
            let spread = searched.solution.sigma(&seen.form.slope(searched.solution.values()));
            slip::name(&Case {
                job,
                catalog,
                reading: &job.readings[reading],
                value: seen.value + seen.base,
                expected,
                sigma: seen.sigma.hypot(spread.unwrap_or(0.0)),
                repeats: repeats(job, part),
                overalls: overalls(part),
            })
        }
        None => slip::zero(expected),
    };
    let alike: Vec<String> =
        found.alike.iter().map(|at| name(job, &searched.part.observed[*at])).collect();
    Rejected {
        id: name(job, seen),
        reading: seen.reading,
        z: found.z,
        why: match seen.reading {
            Some(_) => why(found.z, searched.limit, &alike, slip.as_ref()),
            None => why_not_as_known(expected, found.z, slip.as_ref()),
        },
        alike,
        expected,
        off,
        slip,
        network,
    }
}

fn name(job: &Job, seen: &Observed) -> String {
    seen.reading.map_or(seen.prior.clone(), |at| job.readings[at].id.clone())
}

fn why(z: f64, limit: f64, alike: &[String], slip: Option<&Slip>) -> String {
    let side = if z > 0.0 { "over" } else { "under" };
    let mut why = format!(
        "it stands {:.1} standard deviations {side} what the others say (limit {limit:.2})",
        z.abs(),
    );
    if let Some(slip) = slip {
        let or: Vec<&str> = slip.or.iter().map(|kind| kind.name()).collect();
        let or = if or.is_empty() { String::new() } else { format!(", or {}", or.join(", or ")) };
        why.push_str(&format!("; likely {}: {}{or}", slip.kind.name(), slip.words));
    }
    if !alike.is_empty() {
        let others = alike.join(" or ");
        why.push_str(&format!("; it or {others} is wrong, and nothing here tells which"));
    }
    why
}

fn why_not_as_known(expected: f64, z: f64, slip: Option<&Slip>) -> String {
    let words = slip.map_or(String::new(), |slip| format!("; likely {}", slip.words));
    format!(
        "the readings put it at {expected:.2} in, {:.1} standard deviations off{words}",
        z.abs()
    )
}

/// Dimensions that a tie takes more than once: bays.
fn repeats(job: &Job, network: &Network) -> Vec<f64> {
    let mut names: Vec<&str> = Vec::new();
    for tie in &job.ties {
        for term in tie.says.left.terms.iter().chain(&tie.says.right.terms) {
            let whole = term.factor.abs().fract() < 1e-9 && term.factor.abs() > 1.5;
            if whole && !names.contains(&term.name.as_str()) {
                names.push(&term.name);
            }
        }
    }
    let value = |name: &str| Some(network.estimate(&[(network.place(name)?, 1.0)])?.0);
    names.into_iter().filter_map(value).collect()
}

/// The longest dimension of a network.
fn overalls(network: &Network) -> Vec<f64> {
    let value = |at: usize| Some(network.estimate(&[(at, 1.0)])?.0);
    (0..network.names.len()).filter_map(value).max_by(f64::total_cmp).into_iter().collect()
}
