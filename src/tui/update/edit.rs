//! Edits of the job, and their history.

use super::{act, after_edit, forms};
use crate::finding::Subject;
use crate::job::edit::Edit;
use crate::job::model::Done;
use crate::tui::action::Command;
use crate::tui::effect::Effect;
use crate::tui::state::State;

/// Makes an edit; the trouble when it cannot be made.
pub(super) fn make(state: &mut State, edit: &Edit) -> Result<Vec<Effect>, String> {
    let catalog = state.catalog.clone();
    state.document.apply(edit, &catalog).map_err(|error| error.trouble)?;
    state.said = edit.name();
    Ok(after_edit(state))
}

/// Makes an edit that needs no form; trouble is said in the bottom line.
pub(super) fn make_or_say(state: &mut State, edit: &Edit) -> Vec<Effect> {
    make(state, edit).unwrap_or_else(|trouble| {
        state.said = format!("{}: {trouble}", edit.name());
        Vec::new()
    })
}

/// Off asks for a reason first; on again needs none.
pub(super) fn switch(state: &mut State) -> Vec<Effect> {
    let Some(Subject::Reading(id)) = state.subject().cloned() else { return Vec::new() };
    let job = state.document.job();
    let photographed = job.photo_reading(&id).is_some_and(|(_, ask)| ask.off);
    if photographed || job.readings.iter().any(|reading| reading.id == id && reading.off) {
        let on = Edit::SwitchReading { id, off: false, reason: String::new() };
        return make_or_say(state, &on);
    }
    forms::open(state, Command::Switch);
    Vec::new()
}

/// The next tick of the part marked; after the last, none.
pub(super) fn tick(state: &mut State) -> Vec<Effect> {
    let Some(Subject::Part(label)) = state.subject().cloned() else { return Vec::new() };
    let next = match state.document.job().done.get(&label) {
        None => Some("cut"),
        Some(Done::Cut) => Some("stained"),
        Some(Done::Stained) => Some("fitted"),
        Some(Done::Fitted) => None,
    };
    make_or_say(state, &Edit::MarkPart { label, state: next.map(str::to_owned) })
}

pub(super) fn history(state: &mut State, command: Command) -> Vec<Effect> {
    let catalog = state.catalog.clone();
    let (done, word) = match command {
        Command::Undo => (state.document.undo(&catalog), "undone"),
        _ => (state.document.redo(&catalog), "done again"),
    };
    match done {
        Some(name) => {
            state.said = format!("{word}: {name}");
            after_edit(state)
        }
        None => {
            state.said = "there is nothing to take back".to_owned();
            Vec::new()
        }
    }
}

/// Saves; a built-in job is asked for a name first.
pub(super) fn save(state: &mut State) -> Vec<Effect> {
    if matches!(state.over.last(), Some(crate::tui::state::Over::Leave)) {
        state.over.pop();
    }
    match &state.place.path {
        Some(path) => vec![Effect::Save {
            path: path.clone(),
            text: state.document.text().to_owned(),
            opened: state.place.opened.clone(),
        }],
        None => {
            forms::open(state, Command::SaveAs);
            Vec::new()
        }
    }
}

/// Takes over the work an earlier run left: the file stays as it is until the
/// next save.
pub(super) fn take_left(state: &mut State, text: &str) -> Vec<Effect> {
    let catalog = state.catalog.clone();
    match state.document.take_up(text, "take up unsaved work", &catalog) {
        Ok(()) => {
            state.said = "unsaved work taken up again; s saves it".to_owned();
            act::plan_again(state)
        }
        Err(error) => {
            state.said = format!("the unsaved work cannot be read: {}", error.message);
            Vec::new()
        }
    }
}
