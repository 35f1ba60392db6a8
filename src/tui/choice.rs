//! From an alternative of the compression to the choice as the job says it.

use super::state::State;
use crate::compress::{Alternative, Compression, choice_of};
use crate::job::edit::Chosen;

fn compression(state: &State) -> Option<&Compression> {
    state.plan.as_ref()?.compress.as_ref().ok()
}

fn find<'a>(state: &'a State, key: &str) -> Option<&'a Alternative> {
    compression(state)?.alternatives.iter().find(|one| one.key == key)
}

/// Whether the alternative is the one that will be built.
#[must_use]
pub fn is_built(state: &State, key: &str) -> bool {
    compression(state).is_some_and(|found| found.chosen().key == key)
}

/// The choice of an alternative.
///
/// # Errors
/// When the plan has no alternative of that key, or it cannot be built.
pub fn text(state: &State, key: &str, reason: String) -> Result<Chosen, String> {
    let found = find(state, key).ok_or("the alternative is not there any more")?;
    if !found.is_offered() {
        return Err(format!("{}: {}", found.standing.word(), found.standing.why()));
    }
    let choice = choice_of(found).ok_or("it cannot be built")?;
    Ok(Chosen { reason, ..choice })
}
