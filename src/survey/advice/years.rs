//! Readings of different years that disagree: a building changes.

use std::collections::BTreeMap;

use crate::finding::{Finding, Subject};
use crate::job::Job;

use super::super::{Standing, Survey};

/// How far two years may differ, in standard deviations, before it is said
/// (95 percent, both sides).
const LIMIT: f64 = 1.96;

/// Sets the readings of each year against those of the others.
pub(super) fn differ(job: &Job, survey: &Survey, findings: &mut Vec<Finding>) {
    set_aside(job, survey, findings);
    for network in 0..survey.networks.len() {
        between_years(job, survey, network, findings);
    }
}

fn year_of(job: &Job, reading: usize) -> Option<i32> {
    let reading = &job.readings[reading];
    let own = reading.date.get(..4).and_then(|year| year.parse().ok());
    if own.is_some() {
        return own;
    }
    let source = reading.source.as_ref()?;
    job.sources.iter().find(|each| each.id == *source)?.year
}

/// A reading set aside whose year is none of the others'.
fn set_aside(job: &Job, survey: &Survey, findings: &mut Vec<Finding>) {
    for rejected in survey.rejected.iter().filter(|rejected| rejected.slip.is_none()) {
        let Some(year) = rejected.reading.and_then(|at| year_of(job, at)) else { continue };
        let kept = |at: &&usize| survey.readings[**at].standing == Standing::Kept;
        let network = &survey.networks[rejected.network];
        let mut years: Vec<i32> =
            network.readings.iter().filter(kept).filter_map(|at| year_of(job, *at)).collect();
        years.sort_unstable();
        years.dedup();
        if years.is_empty() || years.contains(&year) {
            continue;
        }
        let others: Vec<String> = years.iter().map(i32::to_string).collect();
        findings.push(Finding::look(
            Subject::Reading(rejected.id.clone()),
            format!(
                "{} is of {year}, those it disagrees with of {}: the building may have changed",
                rejected.id,
                others.join(", ")
            ),
            "decide which year the model shows, and switch the other readings off",
        ));
    }
}

/// Readings of one dimension that agree within each year and not between.
fn between_years(job: &Job, survey: &Survey, network: usize, findings: &mut Vec<Finding>) {
    let mut by_form: BTreeMap<String, BTreeMap<i32, Vec<usize>>> = BTreeMap::new();
    for at in &survey.networks[network].readings {
        let Some(year) = year_of(job, *at) else { continue };
        if survey.readings[*at].standing == Standing::Kept {
            let form = job.readings[*at].of.to_string();
            by_form.entry(form).or_default().entry(year).or_default().push(*at);
        }
    }
    for (form, years) in by_form {
        let means: Vec<(i32, crate::estimate::mean::Mean)> = years
            .iter()
            .filter_map(|(year, at)| {
                let read: Option<Vec<_>> = at.iter().map(|at| survey.readings[*at].read).collect();
                Some((*year, crate::estimate::mean::Mean::of(&read?)?))
            })
            .collect();
        for pair in means.windows(2) {
            let ((early, before), (late, after)) = (&pair[0], &pair[1]);
            let z = (after.value - before.value) / after.sigma.hypot(before.sigma);
            if z.abs() > LIMIT {
                findings.push(Finding::look(
                    Subject::Dimension(form.clone()),
                    format!(
                        "{form} reads {:.1} in in {early} and {:.1} in in {late}, {:.1} standard deviations apart: the building may have changed",
                        before.value, after.value, z.abs()
                    ),
                    "decide which year the model shows, and switch the other readings off",
                ));
            }
        }
    }
}
