//! The mouse: nothing needs it.

use super::panes_of;
use super::{act, moves, photo, tables};
use crate::tui::action::Command;
use crate::tui::effect::Effect;
use crate::tui::keymap::Context;
use crate::tui::screen::photo::is_here;
use crate::tui::state::State;
use crate::tui::view::panes::{HEADS, side};
use crate::tui::view::pole::stage_at;
use crate::tui::view::{keys, photo as photo_view};

pub(super) fn click(state: &mut State, x: u16, y: u16) -> Vec<Effect> {
    let Some(panes) = panes_of(state).filter(|_| state.mouse && state.over.is_empty()) else {
        return Vec::new();
    };
    let at = ratatui::layout::Position { x, y };
    if panes.keys.contains(at) {
        let command = keys::at(state, panes.keys, x);
        return command.map_or(Vec::new(), |command| act::obey(state, command));
    }
    if is_here(state) && panes.drawing.contains(at) {
        if state.photos.open {
            return photo::click(state, x, y);
        }
        photo::open(state);
        return Vec::new();
    }
    if state.context() == Context::Picture && !panes.pole.contains(at) {
        let list = side(panes.table, state.photos.wall).list;
        if list.contains(at) {
            state.photos.row = photo_view::first_row(state, list) + usize::from(y - list.y);
        }
        return Vec::new();
    }
    if panes.pole.contains(at) {
        if let Some(stage) = stage_at(panes.pole, state, y) {
            state.stage = stage;
        }
    } else if panes.table.contains(at)
        && y >= panes.table.y + HEADS
        && let Some(spot) = state.spot_mut()
    {
        spot.mark(spot.table, spot.top + usize::from(y - panes.table.y - HEADS));
    }
    Vec::new()
}

pub(super) fn wheel(state: &mut State, rows: i16) -> Vec<Effect> {
    if state.mouse && state.context() == Context::Picture {
        photo::zoom(state, if rows < 0 { 0.5 } else { 2.0 });
    } else if state.mouse && state.stage == 0 && state.over.is_empty() {
        moves::rows(state, if rows < 0 { Command::PageUp } else { Command::PageDown });
    } else if state.mouse {
        let command = if rows < 0 { Command::Up } else { Command::Down };
        for _ in 0..rows.unsigned_abs() {
            match state.context() {
                Context::Tables | Context::Field => drop(tables::obey(state, command)),
                _ => moves::rows(state, command),
            }
        }
    }
    Vec::new()
}
