//! What the person may do next about the dimensions: measure, adopt, look at
//! the years.

pub(super) mod adopt;
mod diagonals;
mod next;
mod years;

#[cfg(test)]
mod tests;

pub use adopt::Proposal;
pub use next::{Candidate, Next, next};

use crate::finding::{Finding, short};
use crate::job::Job;

use super::Survey;

/// Findings that speak of more than one reading.
pub(super) fn look_round(job: &Job, survey: &Survey, findings: &mut Vec<Finding>) {
    years::differ(job, survey, findings);
    proud(survey, findings);
    unchecked(survey, findings);
}

/// Sigmas that are too small for how the readings scatter.
fn proud(survey: &Survey, findings: &mut Vec<Finding>) {
    use crate::finding::Subject;
    for network in &survey.networks {
        let Some(factor) = network.proud() else { continue };
        let name = network.names.first().cloned().unwrap_or_default();
        findings.push(Finding::look(
            Subject::Dimension(name.clone()),
            format!(
                "the readings round {name} scatter more than their sigmas say: chi-square {:.1} on {}",
                network.chi_square, network.degrees
            ),
            format!("multiply their sigmas by {factor:.1}, or look for what they share"),
        ));
    }
}

/// Dimensions nothing checks, in one line.
fn unchecked(survey: &Survey, findings: &mut Vec<Finding>) {
    use super::Checked;
    use crate::finding::Subject;
    let named = |checked| -> Vec<&str> {
        let of = survey.dimensions.iter().filter(|dimension| dimension.checked == checked);
        of.map(|dimension| dimension.name.as_str()).collect()
    };
    let unchecked = named(Checked::Unchecked);
    if let Some(first) = unchecked.first() {
        findings.push(Finding::look(
            Subject::Dimension((*first).to_owned()),
            format!(
                "unchecked: {}; a blunder there could never show",
                short::list(unchecked.iter().copied())
            ),
            "read each once more, another way",
        ));
    }
    for name in named(Checked::Unfixed) {
        let adopted = survey.dimension(name).is_some_and(|found| found.adopted.is_some());
        let finding = if adopted { Finding::look } else { Finding::trouble };
        findings.push(finding(
            Subject::Dimension(name.to_owned()),
            format!("nothing fixes {name}"),
            "add a reading of it, or a tie to others".to_owned(),
        ));
    }
}
