//! The field notes as JSON.
//!
//! | key | holds |
//! |---|---|
//! | `dimensions[]` | `name`, `what`, `value_in`, `sigma_in` (null where nothing fixes it), `model_sigma_thou`, `status` (`checked`, `weakly`, `unchecked`, `unfixed`), `adopted_in`, `proposed_in`, `kinds[]`, `sources[]`, `network` |
//! | `readings[]` | `id`, `of`, `what` (`length`, `ratio`, `area`), `value`, `sigma`, `residual` (inches, plain, square inches), `z`, `redundancy`, `status`, `standing` |
//! | `rejected[]` | `id`, `z`, `why`, `slip`, `meant`, `expected`, `alike[]` |
//! | `networks[]` | `names[]`, `readings[]`, `chi_square`, `degrees`, `chi_square_of_all`, `degrees_of_all`, `limit` |
//! | `chi_square`, `degrees` | of what is kept, all networks together |
//! | `chi_square_of_all`, `degrees_of_all` | with nothing set aside |
//! | `measure_next` | `worst`, `worst_thou`, `hand_thou`, `stop`, `candidates[]` (`of`, `how`, `helps`, `from_thou`, `to_thou`, `worst_falls_thou`, `checks`) |
//! | `findings[]` | what to look at |

use serde_json::{Value, json as object};

use super::Seen;
use crate::survey::advice::Next;
use crate::survey::{DimensionFound, Network, ReadingFound, Rejected, Survey};

/// The view as JSON with stable keys.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    let survey = &seen.plan.survey;
    let sum = |of: fn(&Network) -> f64| survey.networks.iter().map(of).sum::<f64>();
    let count = |of: fn(&Network) -> usize| survey.networks.iter().map(of).sum::<usize>();
    object!({
        "dimensions": each(&survey.dimensions, |dimension| dimension_json(seen, dimension)),
        "readings": survey.said(seen.job).zip(&survey.readings)
            .map(|(said, found)| reading(&said.of.to_string(), found)).collect::<Vec<_>>(),
        "rejected": each(&survey.rejected, rejected),
        "networks": each(&survey.networks, |network| network_json(survey, network)),
        "chi_square": sum(|network| network.chi_square),
        "degrees": count(|network| network.degrees),
        "chi_square_of_all": sum(|network| network.chi_square_of_all),
        "degrees_of_all": count(|network| network.degrees_of_all),
        "measure_next": seen.plan.measure_next.as_ref().map(measure_next),
    })
}

fn each<T>(all: &[T], one: impl Fn(&T) -> Value) -> Vec<Value> {
    all.iter().map(one).collect()
}

fn dimension_json(seen: Seen<'_>, dimension: &DimensionFound) -> Value {
    let measured = dimension.measured.as_ref();
    let scale = seen.plan.scale.as_ref().ok();
    object!({
        "name": dimension.name,
        "what": dimension.what,
        "value_in": measured.map(|found| found.value.in_inches()),
        "sigma_in": measured.map(|found| found.sigma.in_inches()),
        "model_sigma_thou": measured.zip(scale)
            .map(|(found, scale)| scale.reduce(found.sigma).in_thou()),
        "status": dimension.checked,
        "proposed_in": dimension.proposal.as_ref().map(|proposal| proposal.figure.in_inches()),
        "adopted_in": dimension.adopted.map(|adopted| adopted.in_inches()),
        "kinds": dimension.kinds,
        "sources": measured.map_or(&[][..], |found| &found.sources),
        "network": dimension.network,
    })
}

fn reading(of: &str, found: &ReadingFound) -> Value {
    object!({
        "id": found.id,
        "of": of,
        "what": found.what,
        "value": found.read.map(|(value, _)| value),
        "sigma": found.read.map(|(_, sigma)| sigma),
        "residual": found.residual,
        "z": found.z,
        "redundancy": found.redundancy,
        "status": found.checked,
        "standing": found.standing,
    })
}

fn rejected(rejected: &Rejected) -> Value {
    object!({
        "id": rejected.id,
        "z": rejected.z,
        "why": rejected.why,
        "slip": rejected.slip.as_ref().map(|slip| slip.kind),
        "meant": rejected.slip.as_ref().map(|slip| slip.meant),
        "expected": rejected.expected,
        "alike": rejected.alike,
    })
}

fn network_json(survey: &Survey, network: &Network) -> Value {
    let ids: Vec<&str> =
        network.readings.iter().map(|at| survey.readings[*at].id.as_str()).collect();
    object!({
        "names": network.names,
        "readings": ids,
        "chi_square": network.chi_square,
        "degrees": network.degrees,
        "chi_square_of_all": network.chi_square_of_all,
        "degrees_of_all": network.degrees_of_all,
        "limit": network.limit,
    })
}

fn measure_next(next: &Next) -> Value {
    object!({
        "worst": next.worst,
        "worst_thou": next.worst_sigma.in_thou(),
        "hand_thou": next.hand.in_thou(),
        "stop": next.stop,
        "candidates": each(&next.candidates, |candidate| object!({
            "of": candidate.of.to_string(),
            "how": candidate.how,
            "helps": candidate.helps,
            "from_thou": candidate.from.map(|from| from.in_thou()),
            "to_thou": candidate.to.in_thou(),
            "worst_falls_thou": candidate.worst_falls.in_thou(),
            "checks": candidate.checks,
        })),
    })
}
