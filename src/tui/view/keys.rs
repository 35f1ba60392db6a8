//! The line of keys, and the list of all keys: both printed from the table.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::palette::Role;
use super::text::{cells, set};
use crate::report::table::Act;
use crate::tui::action::Command;
use crate::tui::keymap::{self, Binding, Context};
use crate::tui::screen::photo;
use crate::tui::screen::tables::lack;
use crate::tui::state::{Line, State};
use crate::tui::update::applies;

/// Most keys in the bottom line.
const MOST: usize = 6;

/// The keys that matter now: those that can do something, the first by rank.
#[must_use]
pub fn now(state: &State) -> Vec<&'static Binding> {
    let context = state.context();
    let mut rows: Vec<&Binding> = keymap::of(context)
        .filter(|row| row.rank > 0 && (context != Context::View || applies(state, row.command)))
        .collect();
    rows.sort_by_key(|row| row.rank);
    // What Enter does already needs no second key.
    let mut said = Vec::new();
    rows.retain(|row| {
        let words = words(state, row);
        let new = !said.contains(&words);
        said.push(words);
        new
    });
    // Help and the way out are always among them.
    while rows.len() > MOST {
        rows.remove(rows.len().saturating_sub(3));
    }
    rows
}

/// What a key is called in the bottom line: by what it does to this row.
fn words(state: &State, row: &Binding) -> &'static str {
    match (row.command, state.act(row.command)) {
        (Command::Act, Some(Act::Reading | Act::Bound)) => "edit",
        (Command::Act, Some(Act::Adopt)) => "adopt",
        (Command::Act, Some(Act::Weigh)) => "weigh",
        (Command::Act, Some(Act::Choose)) => "choose",
        (Command::Act, Some(Act::TakeSize)) => "take size",
        (Command::Act, Some(Act::Tick)) => "tick",
        (Command::Act, Some(Act::Measure(_))) => "measure",
        (Command::Take, Some(Act::TakeBack)) => "take back",
        (Command::Act, Some(Act::Write)) => "write files",
        (Command::Act, _) if state.stage == 0 => "type",
        (Command::Act, _) if lack(state).is_some() => "describe",
        (Command::Act, _) if photo::is_here(state) => act_on_photo(state),
        (Command::Act, _) => "why",
        (Command::Down, _) if state.context() == Context::Field => "pick",
        (Command::Accept, _) if state.context() == Context::Tables => "open, edit",
        (Command::Right, _) if state.stage == 0 => "kind",
        (command, _) => command.words(),
    }
}

/// What Enter does there.
fn act_on_photo(state: &State) -> &'static str {
    match (&state.photos.held, state.photos.open) {
        (Some(_), _) => "put down",
        (None, true) => "mark, hold",
        (None, false) => "picture",
    }
}

/// The command whose key stands at a column of the bottom line.
#[must_use]
pub fn at(state: &State, area: Rect, x: u16) -> Option<Command> {
    let mut end = usize::from(area.x);
    now(state).into_iter().find_map(|row| {
        end += cells(&row.key.name()) + 1 + cells(words(state, row)) + 3;
        (usize::from(x) < end).then_some(row.command)
    })
}

/// Draws the bottom line.
pub fn bottom(state: &State, area: Rect, buf: &mut Buffer) {
    let look = state.look;
    let mut x = area.x;
    for row in now(state) {
        let key = row.key.name();
        let word = words(state, row);
        let wide = cells(&key) + 1 + cells(word) + 3;
        if usize::from(x) + wide > usize::from(area.right()) + 3 {
            break;
        }
        x = set(buf, area, x, area.y, &key, look.style(Role::Strong));
        x = set(buf, area, x, area.y, &format!(" {word}   "), look.style(Role::Text));
    }
}

/// All keys as lines: those of one context first.
#[must_use]
pub fn help(context: Context) -> Vec<Line> {
    let first = Context::ALL.iter().filter(|(one, _)| *one == context);
    let others = Context::ALL.iter().filter(|(one, _)| *one != context);
    let mut lines = Vec::new();
    for (one, heading) in first.chain(others) {
        lines.push(Line { text: format!("{heading}:"), target: None });
        for row in keymap::of(*one) {
            let text = format!("  {:<10} {}", row.key.name(), row.command.help());
            lines.push(Line { text, target: None });
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn help_lists_every_command() {
        let lines = help(Context::View);
        for command in Command::ALL {
            assert!(lines.iter().any(|line| line.text.contains(command.help())), "{command:?}");
        }
    }
}
