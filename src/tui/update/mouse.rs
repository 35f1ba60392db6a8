//! The mouse: nothing needs it.

use super::moves;
use super::panes_of;
use crate::tui::action::Command;
use crate::tui::effect::Effect;
use crate::tui::state::State;
use crate::tui::view::panes::HEADS;
use crate::tui::view::pole::stage_at;

pub(super) fn click(state: &mut State, x: u16, y: u16) -> Vec<Effect> {
    let Some(panes) = panes_of(state).filter(|_| state.mouse && state.over.is_empty()) else {
        return Vec::new();
    };
    let at = ratatui::layout::Position { x, y };
    if panes.pole.contains(at) {
        if let Some(stage) = stage_at(panes.pole, state, y) {
            state.stage = stage;
        }
    } else if panes.table.contains(at)
        && y >= panes.table.y + HEADS
        && let Some(spot) = state.spot_mut()
    {
        spot.row = spot.top + usize::from(y - panes.table.y - HEADS);
    }
    Vec::new()
}

pub(super) fn wheel(state: &mut State, rows: i16) -> Vec<Effect> {
    if state.mouse {
        let command = if rows < 0 { Command::Up } else { Command::Down };
        for _ in 0..rows.unsigned_abs() {
            moves::rows(state, command);
        }
    }
    Vec::new()
}
