//! A field of the tables: opened, typed into, taken.

use tui_input::Input;

use super::{draft, make, refresh, seen, tables};
use crate::job::edit::RowEdit;
use crate::job::slot::{Holds, Slot, check, name_of};
use crate::tui::action::{Command, Key};
use crate::tui::effect::Effect;
use crate::tui::screen::tables::{Asked, Entry, Pick, Tables, Words, picks};
use crate::tui::state::State;
use crate::tui::update::typing::feed;

/// Asks which line to go to.
pub(super) fn find(state: &mut State) {
    ask(state, Asked::Go, "");
    if let Some(tables) = tables(state) {
        let picks = tables.to_go();
        if let Some(entry) = &mut tables.entry {
            (entry.picks, entry.closed) = (picks, true);
        }
    }
}

/// Goes to a line, and into it where it is more than a value.
fn go_to(state: &mut State, word: &str) {
    let Some(tables) = tables(state) else { return };
    tables.entry = None;
    let is_it = |pick: &Pick| pick.word == word;
    if let Some(at) = tables.to_go().iter().position(is_it) {
        tables.go(at);
        super::enter(state);
    }
}

/// Asks for a name.
pub(super) fn ask(state: &mut State, asked: Asked, text: &str) {
    let entry = Entry {
        asked,
        input: Input::new(text.to_owned()),
        picks: Vec::new(),
        marked: None,
        closed: false,
        words: Words::One,
    };
    if let Some(tables) = tables(state) {
        tables.entry = Some(entry);
    }
}

/// Opens the field of the line marked; with `first` it begins anew.
pub(super) fn open(state: &mut State, first: Option<char>) {
    let Some(line) = seen(state).and_then(Tables::line).cloned() else { return };
    let Some(key) = line.key else { return };
    let file = state.document.file();
    let (picks, closed) = picks(&file, &state.catalog, &line.slot, key);
    let now = line.text.unwrap_or_default();
    let marked = picks.iter().position(|pick| pick.word == now).filter(|_| closed);
    let text = match first {
        Some(first) => first.to_string(),
        // A choice is marked among the words, not typed over.
        None if closed => String::new(),
        None => now,
    };
    let marked = marked.or_else(|| (closed && line.needed && first.is_none()).then_some(0));
    let asked = Asked::Value(line.slot);
    let words = Words::of(key);
    let entry = Entry { asked, input: Input::new(text), picks, marked, closed, words };
    if let Some(tables) = tables(state) {
        tables.entry = Some(entry);
    }
}

/// A figure typed on a line begins its field anew.
pub(in crate::tui::update) fn begin(state: &mut State, key: Key) {
    let is_value = seen(state)
        .and_then(Tables::line)
        .is_some_and(|line| matches!(line.holds, Holds::Value) && line.slot.number().is_none());
    if let crossterm::event::KeyCode::Char(c) = key.code
        && !key.ctrl
        && is_value
        && (c.is_ascii_digit() || c == '"')
    {
        open(state, Some(c));
    }
}

/// A key typed into the field: what is wrong with it is said at once.
pub(in crate::tui::update) fn typed(state: &mut State, key: Key) {
    let Some(tables) = tables(state) else { return };
    let Some(entry) = &mut tables.entry else { return };
    feed(&mut entry.input, key);
    entry.marked = None;
    tables.trouble.clear();
}

pub(super) fn obey(state: &mut State, command: Command) -> Option<Vec<Effect>> {
    match command {
        Command::Up => step(state, -1),
        Command::Down => step(state, 1),
        Command::Accept => return Some(take(state, 0)),
        Command::NextField => return Some(take(state, 1)),
        Command::PrevField => return Some(take(state, -1)),
        Command::Cancel => cancel(state),
        _ => return None,
    }
    Some(Vec::new())
}

fn cancel(state: &mut State) {
    if let Some(tables) = tables(state) {
        let asked = tables.entry.take().map(|entry| entry.asked);
        if asked == Some(Asked::Kind) {
            tables.draft = None;
            tables.open.pop();
        }
    }
    refresh(state);
}

/// To the next pick that fits.
fn step(state: &mut State, step: isize) {
    let Some(entry) = tables(state).and_then(|tables| tables.entry.as_mut()) else { return };
    let many = entry.fitting().len() as isize;
    if many > 0 {
        let at = entry.picked().map_or(if step > 0 { -1 } else { 0 }, |(at, _)| at as isize);
        entry.marked = Some((at + step).rem_euclid(many) as usize);
    }
}

/// Takes the field; `go` opens the one behind or before it.
fn take(state: &mut State, go: isize) -> Vec<Effect> {
    let Some(entry) = seen(state).and_then(|tables| tables.entry.clone()) else {
        return Vec::new();
    };
    let text = match entry.picked() {
        Some((_, pick)) if entry.words == Words::One => pick.word.clone(),
        Some((_, pick)) => {
            // One word of several is taken; the field stays open.
            let text = entry.with(pick);
            if let Some(entry) = tables(state).and_then(|tables| tables.entry.as_mut()) {
                entry.input = Input::new(text.clone());
                entry.marked = None;
            }
            if go == 0 {
                return Vec::new();
            }
            text
        }
        None => entry.input.value().trim().to_owned(),
    };
    match entry.asked {
        Asked::Value(slot) => value(state, &slot, text, go),
        Asked::Kind => {
            draft::kind(state, &text);
            Vec::new()
        }
        Asked::Go => {
            go_to(state, &text);
            Vec::new()
        }
        Asked::Name(slot) => named(state, RowEdit::Rename { slot, to: text }, false),
        Asked::Copy(slot) => named(state, RowEdit::Copy { slot, name: text }, true),
        Asked::Entry(map) => entry_of(state, &map, &text),
    }
}

/// Makes an edit that asked for a name; of a copy the copy is marked then.
fn named(state: &mut State, edit: RowEdit, further: bool) -> Vec<Effect> {
    let Some(effects) = make(state, edit) else { return Vec::new() };
    if let Some(tables) = tables(state) {
        tables.entry = None;
        let mark = tables.mark();
        let is_list = matches!(tables.here().holds(), Holds::Rows(_));
        if further && is_list {
            tables.go(mark + 1);
        }
    }
    effects
}

/// The name of a new entry: its value is asked next.
fn entry_of(state: &mut State, map: &Slot, name: &str) -> Vec<Effect> {
    if name.is_empty() {
        super::say(state, "write the name of the entry");
    } else {
        ask(state, Asked::Value(map.key(name)), "");
    }
    Vec::new()
}

fn value(state: &mut State, slot: &Slot, text: String, go: isize) -> Vec<Effect> {
    if let Some(draft) = tables(state).and_then(|tables| tables.draft.as_mut()) {
        let key = draft.shape.key(slot.word());
        let trouble = key.filter(|_| !text.is_empty()).and_then(|key| check(key, &text).err());
        if let Some(trouble) = trouble {
            super::say(state, &trouble);
            return Vec::new();
        }
        draft.say(slot.word(), &text);
        leave(state, go);
        return draft::go_on_from(state, go);
    }
    let now = seen(state).and_then(Tables::line).and_then(|line| line.text.clone());
    let effects = if now.unwrap_or_default() == text && !is_new_entry(state, slot) {
        Vec::new()
    } else {
        let edit = match named_row(state, slot) {
            Some(row) if !text.is_empty() => RowEdit::Rename { slot: row, to: text },
            _ => RowEdit::Set { slot: slot.clone(), to: text },
        };
        let Some(effects) = make(state, edit) else { return Vec::new() };
        effects
    };
    let step = if go == 0 { 1 } else { go };
    leave(state, step);
    if go != 0
        && seen(state).and_then(Tables::line).is_some_and(|line| matches!(line.holds, Holds::Value))
    {
        open(state, None);
    }
    effects
}

/// Whether the value belongs to an entry that the list by name has not yet.
fn is_new_entry(state: &State, slot: &Slot) -> bool {
    let Some(tables) = seen(state) else { return false };
    tables.lines.iter().all(|line| line.slot != *slot)
}

/// The row whose name a key is.
fn named_row(state: &State, slot: &Slot) -> Option<Slot> {
    let row = slot.parent().filter(|row| row.number().is_some())?;
    let file = state.document.file();
    let name = name_of(row.shape()?, row.node(&file))?;
    let is_name = row.shape()?.key(slot.word())?.rule.declares.is_some()
        && slot.node(&file).text("").is_ok_and(|said| said == name);
    is_name.then_some(row)
}

/// Closes the field and marks the line behind or before it.
fn leave(state: &mut State, step: isize) {
    if let Some(tables) = tables(state) {
        tables.entry = None;
        let at = tables.mark().saturating_add_signed(step);
        tables.go(at);
    }
    refresh(state);
}
