//! Uncertainties that are too small for how the readings scatter.

use super::edit;
use crate::finding::Subject;
use crate::job::edit::Edit;
use crate::survey::{Network, WhatRead};
use crate::tui::effect::Effect;
use crate::tui::state::State;

/// The network whose readings scatter more than they say: the one of the row
/// marked before any other.
fn network(state: &State) -> Option<(&Network, f64)> {
    let survey = &state.plan.as_ref()?.survey;
    let marked = match state.subject() {
        Some(Subject::Dimension(name)) => survey.dimension(name).map(|found| found.network),
        Some(Subject::Reading(id)) => {
            survey.readings.iter().find(|found| found.id == *id).and_then(|found| found.network)
        }
        _ => None,
    };
    let first = marked.and_then(|at| survey.networks.get(at)).into_iter();
    first.chain(&survey.networks).find_map(|network| Some((network, network.proud()?)))
}

/// The factor that would make them agree, where there is anything to broaden.
pub(super) fn factor(state: &State) -> Option<f64> {
    network(state).map(|(_, factor)| factor)
}

/// Which readings it is about, in a line.
pub(super) fn about(state: &State) -> String {
    network(state).map_or(String::new(), |(network, _)| {
        format!(
            "Chi-square is {:.1} on {}: {} readings scatter more than they say. Look first for \
             what they share.",
            network.chi_square,
            network.degrees,
            own(state, network).len()
        )
    })
}

/// The readings of a network that the job itself holds.
fn own<'a>(state: &'a State, network: &'a Network) -> Vec<&'a crate::survey::ReadingFound> {
    let Some(plan) = state.plan.as_ref() else { return Vec::new() };
    let count = state.document.job().readings.len();
    let at = network.readings.iter().filter(|at| **at < count);
    at.filter_map(|at| plan.survey.readings.get(*at)).collect()
}

/// Multiplies them.
pub(super) fn take(state: &mut State, factor: &str) -> Result<Vec<Effect>, String> {
    let by: f64 = factor.parse().map_err(|_| "write a plain number such as 1.8".to_owned())?;
    if !(by.is_finite() && by > 0.0) {
        return Err("write a number above zero, such as 1.8".to_owned());
    }
    let (network, _) = network(state).ok_or("there is nothing to broaden")?;
    let sigma = |found: &crate::survey::ReadingFound| {
        let (_, sigma) = found.read?;
        let text = match found.what {
            WhatRead::Length => format!("{:.4} in", sigma * by),
            WhatRead::Ratio => format!("{:.6}", sigma * by),
            WhatRead::Area => format!("{:.3} sq in", sigma * by),
        };
        Some((found.id.clone(), text))
    };
    let sigmas = own(state, network).into_iter().filter_map(sigma).collect();
    edit::make(state, &Edit::BroadenReadings { factor: factor.to_owned(), sigmas })
}
