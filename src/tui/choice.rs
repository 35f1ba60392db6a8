//! From an alternative of the compression to the choice as the job says it.

use super::state::State;
use crate::job::edit::ChoiceText;

/// The choice of an alternative.
///
/// # Errors
/// When the plan has no alternative of that key.
pub fn text(state: &State, key: &str, reason: String) -> Result<ChoiceText, String> {
    let _ = state;
    Ok(ChoiceText { kind: key.to_owned(), reason, ..ChoiceText::default() })
}
