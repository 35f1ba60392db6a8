//! Letters: into fields, into the finder, or to where numbers are expected.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use tui_input::Input;
use tui_input::backend::crossterm::EventHandler as _;

use super::{act, entry, forms, tables};
use crate::tui::action::{Command, Key};
use crate::tui::effect::Effect;
use crate::tui::finder;
use crate::tui::keymap::Context;
use crate::tui::state::{Over, State};

/// A key that no table row takes.
pub(super) fn typed(state: &mut State, key: Key) -> Vec<Effect> {
    match state.context() {
        Context::Bench => state.bench.typed(key),
        Context::Form => forms::typed(state, key),
        Context::Finder => {
            if let Some(Over::Finder { input, at }) = state.over.last_mut() {
                feed(input, key);
                *at = 0;
            }
        }
        Context::Field => tables::typed(state, key),
        Context::Tables => tables::begin(state, key),
        Context::View => return number(state, key),
        Context::Picture | Context::List | Context::Leave | Context::Left | Context::Beside => {}
    }
    Vec::new()
}

/// Gives a key to a field.
pub(super) fn feed(input: &mut Input, key: Key) {
    let modifiers = if key.ctrl { KeyModifiers::CONTROL } else { KeyModifiers::NONE };
    input.handle_event(&Event::Key(KeyEvent::new(key.code, modifiers)));
}

/// A figure typed on a view: into the reading marked, else onto the bench.
fn number(state: &mut State, key: Key) -> Vec<Effect> {
    let KeyCode::Char(c) = key.code else { return Vec::new() };
    if key.ctrl || !c.is_ascii_digit() {
        return Vec::new();
    }
    if act::applies(state, Command::Edit) {
        forms::open(state, Command::Edit);
        forms::begin(state, c);
    } else {
        state.stage = 0;
        state.bench.begin(c);
    }
    Vec::new()
}

pub(super) fn paste(state: &mut State, text: &str) -> Vec<Effect> {
    if let Some(effects) = entry::paste(state, text) {
        return effects;
    }
    // A tab between a name and its figure is the sign between them.
    for c in text.trim_end().replace('\t', " = ").chars().filter(|c| !c.is_control()) {
        typed_char(state, c);
    }
    Vec::new()
}

/// Text from the clipboard is never a command.
fn typed_char(state: &mut State, c: char) {
    let key = Key::plain(KeyCode::Char(c));
    match state.context() {
        Context::Bench => state.bench.typed(key),
        Context::Form => forms::typed(state, key),
        Context::Field => tables::typed(state, key),
        _ => {}
    }
}

pub(super) fn field(state: &mut State, step: isize) {
    if let Some(Over::Form(form)) = state.over.last_mut() {
        let count = form.fields.len().max(1) as isize;
        form.at = (form.at as isize + step).rem_euclid(count) as usize;
    } else {
        state.bench.go(step);
    }
}

pub(super) fn find(state: &mut State) {
    state.over.push(Over::Finder { input: Input::default(), at: 0 });
}

/// Does what the finder found.
pub(super) fn found(state: &mut State) -> Vec<Effect> {
    let Some(Over::Finder { input, at }) = super::close(state) else { return Vec::new() };
    match finder::hits(state, input.value()).into_iter().nth(at) {
        Some(finder::Hit::Command(command)) => act::obey(state, command),
        Some(finder::Hit::Stage(stage)) => {
            state.stage = stage;
            Vec::new()
        }
        None => Vec::new(),
    }
}
