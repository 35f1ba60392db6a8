//! The tables of the job on the screen: going about in them, and the edits that
//! need no field.

mod draft;
mod field;

pub(super) use field::{begin, typed};

use super::{close, edit};
use crate::finding::Subject;
use crate::job::edit::{Edit, RowEdit};
use crate::job::slot::{Holds, Line, Slot};
use crate::tui::action::Command;
use crate::tui::effect::Effect;
use crate::tui::screen::tables::{Asked, Level, Tables, asks, place_of, place_of_stage};
use crate::tui::state::{Over, State};

/// Opens the tables at their list.
pub(super) fn open(state: &mut State) {
    show(state, &Slot::root());
}

/// Opens the tables at what the row marked speaks of.
pub(super) fn describe(state: &mut State) {
    let file = state.document.file();
    let subject = state.subject().filter(|subject| **subject != Subject::Job);
    let own = subject.and_then(|subject| place_of(&file, state.document.job(), subject));
    let of_stage = || place_of_stage(&file, State::stage_name(state.stage));
    show(state, &own.unwrap_or_else(of_stage));
}

fn show(state: &mut State, slot: &Slot) {
    let tables = Tables::at(&state.document.file(), slot);
    if matches!(state.over.last(), Some(Over::Tables(_))) {
        close(state);
    }
    state.over.push(Over::Tables(Box::new(tables)));
}

/// Opens the tables at a list or table that the job lacks, and begins it.
pub(super) fn begin_at(state: &mut State, path: &str) {
    let Ok(slot) = Slot::find(&state.document.file(), path) else { return };
    show(state, &slot);
    draft::begin(state, &slot);
}

fn tables(state: &mut State) -> Option<&mut Tables> {
    match state.over.last_mut() {
        Some(Over::Tables(tables)) => Some(tables),
        _ => None,
    }
}

fn seen(state: &State) -> Option<&Tables> {
    match state.over.last() {
        Some(Over::Tables(tables)) => Some(tables),
        _ => None,
    }
}

/// Shows the job as it is now.
fn refresh(state: &mut State) {
    let file = state.document.file();
    if let Some(tables) = tables(state) {
        tables.refresh(&file);
    }
}

/// Makes an edit and shows what came of it; trouble is said in the tables.
fn make(state: &mut State, made: RowEdit) -> Option<Vec<Effect>> {
    match edit::make(state, &Edit::Row(made)) {
        Ok(effects) => {
            refresh(state);
            Some(effects)
        }
        Err(trouble) => {
            if let Some(tables) = tables(state) {
                tables.trouble = trouble;
            }
            None
        }
    }
}

/// Does what was asked for in the tables; nothing where it means the same as
/// elsewhere.
pub(super) fn obey(state: &mut State, command: Command) -> Option<Vec<Effect>> {
    if let Some(tables) = tables(state) {
        tables.trouble.clear();
    }
    if seen(state)?.entry.is_some() {
        return field::obey(state, command);
    }
    let page = usize::from(state.size.1 / 2).max(1);
    let mark = seen(state)?.mark();
    let mut effects = Vec::new();
    match command {
        Command::Up => tables(state)?.go(mark.saturating_sub(1)),
        Command::Down => tables(state)?.go(mark + 1),
        Command::PageUp => tables(state)?.go(mark.saturating_sub(page)),
        Command::PageDown => tables(state)?.go(mark + page),
        Command::First => tables(state)?.go(0),
        Command::Last => tables(state)?.go(usize::MAX),
        Command::Accept => enter(state),
        Command::Right => {
            if seen(state)?.line().is_some_and(|line| !matches!(line.holds, Holds::Value)) {
                enter(state);
            }
        }
        Command::Left | Command::Cancel => out(state),
        Command::Close => drop(close(state)),
        Command::Tables => open(state),
        Command::AddRow if seen(state)?.draft.is_some() => effects = draft::go_on(state),
        Command::AddRow => add(state),
        Command::RemoveRow => effects = remove(state),
        Command::CopyRow => copy(state),
        Command::NameRow => rename(state),
        Command::Filter => field::find(state),
        Command::RowUp => effects = shift(state, false),
        Command::RowDown => effects = shift(state, true),
        Command::Undo | Command::Redo => {
            effects = edit::history(state, command);
            let tables = tables(state)?;
            if tables.draft.take().is_some() {
                tables.open.pop();
            }
            refresh(state);
        }
        _ => return None,
    }
    Some(effects)
}

/// Goes into the line marked: a field for a value, its lines for a table.
fn enter(state: &mut State) {
    let Some(line) = seen(state).and_then(Tables::line).cloned() else {
        // An empty list begins with its first row.
        return add(state);
    };
    if seen(state).is_some_and(|tables| tables.draft.is_some()) {
        return field::open(state, None);
    }
    match line.holds {
        Holds::Value => field::open(state, None),
        Holds::Table(shape) if line.text.is_none() && asks(shape) => {
            draft::begin(state, &line.slot);
        }
        Holds::Rows(_) if line.rows == 0 => {
            go_in(state, &line);
            draft::begin(state, &line.slot);
        }
        _ => go_in(state, &line),
    }
}

fn go_in(state: &mut State, line: &Line) {
    let file = state.document.file();
    if let Some(tables) = tables(state) {
        tables.open.push(Level { slot: line.slot.clone(), at: 0 });
        tables.refresh(&file);
    }
}

/// One step out: of a row being made, of a place, of the tables.
fn out(state: &mut State) {
    let file = state.document.file();
    let Some(tables) = tables(state) else { return };
    tables.draft = None;
    tables.open.pop();
    if tables.open.is_empty() {
        close(state);
    } else {
        tables.refresh(&file);
    }
}

/// Begins a row of the list in sight, or one more like the row in sight; where
/// neither is, a row of the list marked, or the table marked.
fn add(state: &mut State) {
    let Some(tables) = seen(state) else { return };
    let here = tables.here();
    let marked = tables.line().cloned();
    match (here.holds(), marked) {
        (Holds::Rows(_), _) => draft::begin(state, &here),
        (Holds::Map(_), _) => field::ask(state, Asked::Entry(here), ""),
        _ if here.number().is_some() => {
            let Some(list) = here.parent() else { return };
            out(state);
            draft::begin(state, &list);
        }
        (_, Some(line)) if matches!(line.holds, Holds::Rows(_)) => {
            go_in(state, &line);
            draft::begin(state, &line.slot);
        }
        (_, Some(line)) if matches!(line.holds, Holds::Map(_)) => {
            go_in(state, &line);
            field::ask(state, Asked::Entry(line.slot), "");
        }
        (_, Some(line)) if matches!(line.holds, Holds::Table(_)) && line.text.is_none() => {
            enter(state);
        }
        _ => say(state, "mark a list, or go into a row: one like it is added"),
    }
}

fn say(state: &mut State, trouble: &str) {
    if let Some(tables) = tables(state) {
        trouble.clone_into(&mut tables.trouble);
    }
}

fn remove(state: &mut State) -> Vec<Effect> {
    let Some(line) = seen(state).and_then(Tables::line).cloned() else { return Vec::new() };
    let draft = tables(state).and_then(|tables| tables.draft.as_mut());
    if let Some(draft) = draft {
        draft.say(line.slot.word(), "");
        refresh(state);
        return Vec::new();
    }
    if line.text.is_none() {
        say(state, "nothing is written here");
        return Vec::new();
    }
    make(state, RowEdit::Remove { slot: line.slot }).unwrap_or_default()
}

/// The row meant: that marked in a list, else the one in sight.
fn row(state: &State) -> Option<Slot> {
    let tables = seen(state).filter(|tables| tables.draft.is_none())?;
    let marked = tables.line().map(|line| &line.slot).filter(|slot| slot.number().is_some());
    marked.cloned().or_else(|| Some(tables.here()).filter(|here| here.number().is_some()))
}

fn copy(state: &mut State) {
    match row(state) {
        Some(row) => field::ask(state, Asked::Copy(row), ""),
        None => say(state, "only rows are copied: mark one in a list"),
    }
}

fn rename(state: &mut State) {
    match row(state) {
        Some(row) => {
            let name = row.word().trim_matches('"').to_owned();
            field::ask(state, Asked::Name(row), &name);
        }
        None => say(state, "only rows have names: mark one in a list"),
    }
}

fn shift(state: &mut State, down: bool) -> Vec<Effect> {
    let Some(row) = row(state) else {
        say(state, "only rows are moved: mark one in a list");
        return Vec::new();
    };
    let at = row.number().unwrap_or(0);
    let Some(effects) = make(state, RowEdit::Move { slot: row.clone(), down }) else {
        return Vec::new();
    };
    let to = if down { at + 1 } else { at.saturating_sub(1) };
    let file = state.document.file();
    if let (Some(tables), Some(list)) = (tables(state), row.parent()) {
        let moved = list.row(&file, to);
        for level in tables.open.iter_mut().filter(|level| level.slot.is_at(&row)) {
            level.slot = moved.clone();
        }
        if tables.here() == list {
            tables.go(to);
        }
        tables.refresh(&file);
    }
    effects
}
