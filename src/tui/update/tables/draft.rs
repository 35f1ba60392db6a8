//! A row that is being made: what must be there is asked, the rest left open.

use super::{field, make, refresh, say, seen, tables};
use crate::job::edit::RowEdit;
use crate::job::slot::{Holds, Slot};
use crate::tui::effect::Effect;
use crate::tui::screen::tables::{Asked, Draft, Entry, Level, Words, asks};
use crate::tui::state::State;
use tui_input::Input;

/// Begins a row of a list, or a table.
pub(super) fn begin(state: &mut State, target: &Slot) {
    let file = state.document.file();
    let Some(draft) = Draft::of(&file, target) else { return };
    if matches!(target.holds(), Holds::Table(_)) && !asks(draft.shape) {
        // Nothing must be there: its keys are set one by one.
        if let Some(tables) = tables(state) {
            tables.open.push(Level { slot: target.clone(), at: 0 });
            tables.refresh(&file);
        }
        return;
    }
    let kinds = draft.kinds();
    let wants_kind = draft.wants_kind();
    let Some(tables) = tables(state) else { return };
    tables.draft = Some(draft);
    tables.open.push(Level { slot: target.clone(), at: 0 });
    tables.refresh(&file);
    if wants_kind {
        tables.entry = Some(Entry {
            asked: Asked::Kind,
            input: Input::default(),
            picks: kinds,
            marked: Some(0),
            closed: true,
            words: Words::One,
        });
    } else {
        ask_missing(state);
    }
}

/// What kind of row it is to be.
pub(super) fn kind(state: &mut State, word: &str) {
    let Some(tables) = tables(state) else { return };
    let Some(draft) = tables.draft.as_mut() else { return };
    if !draft.shape.head.one_of.contains(&word) {
        let words = draft.shape.head.one_of.join(", ");
        return say(state, &format!("one of {words}"));
    }
    draft.kind = Some(word.to_owned());
    tables.entry = None;
    refresh(state);
    ask_missing(state);
}

/// Opens the field of the first key that must be there; whether there was one.
fn ask_missing(state: &mut State) -> bool {
    let missing = seen(state).and_then(|tables| tables.draft.as_ref()?.missing());
    let Some(at) = missing else { return false };
    if let Some(tables) = tables(state) {
        tables.go(at);
    }
    field::open(state, None);
    true
}

/// After an answer: the next question, or the row is made.
pub(super) fn go_on_from(state: &mut State, go: isize) -> Vec<Effect> {
    if go != 0 {
        field::open(state, None);
        return Vec::new();
    }
    if ask_missing(state) { Vec::new() } else { finish(state) }
}

/// The person asks for the row as it is.
pub(super) fn go_on(state: &mut State) -> Vec<Effect> {
    go_on_from(state, 0)
}

/// Puts the row into the job; where it is refused it stays open, at the key that
/// the refusal names.
fn finish(state: &mut State) -> Vec<Effect> {
    let Some(draft) = seen(state).and_then(|tables| tables.draft.clone()) else {
        return Vec::new();
    };
    let edit = RowEdit::Add { slot: draft.target.clone(), keys: draft.said.clone() };
    // While it is made the job is shown, not the draft.
    let Some(effects) = make(state, edit) else {
        to_what_is_named(state, &draft);
        return Vec::new();
    };
    let file = state.document.file();
    if let Some(tables) = tables(state) {
        tables.draft = None;
        tables.open.pop();
        if let (Holds::Rows(_), Some(level)) = (draft.target.holds(), tables.open.last_mut())
            && level.slot == draft.target
        {
            level.at = draft.row.number().unwrap_or(0);
        }
        let made = draft.row.again(&file).unwrap_or(draft.row);
        tables.open.push(Level { slot: made, at: 0 });
        tables.refresh(&file);
        let open = tables.lines.iter().position(|line| line.text.is_none()).unwrap_or(0);
        tables.go(open);
    }
    effects
}

/// Marks the first key of the row that the refusal names, and opens it where
/// nothing is said under it.
fn to_what_is_named(state: &mut State, draft: &Draft) {
    let Some(tables) = tables(state) else { return };
    let named = tables.trouble.split('`').skip(1).step_by(2);
    let words = named.map(|part| part.split(['=', ' ']).next().unwrap_or(part).to_owned());
    let lines = draft.lines();
    let mut found = words.filter_map(|word| lines.iter().position(|it| it.slot.word() == word));
    let Some(at) = found.next() else { return };
    tables.go(at);
    let is_open = lines.get(at).is_some_and(|line| line.text.is_none());
    if is_open {
        let trouble = tables.trouble.clone();
        field::open(state, None);
        say(state, &trouble);
    }
}
