//! Moving about: rows, tables, stages.

use super::panes_of;
use crate::report::table::Mark;
use crate::tui::action::Command;
use crate::tui::screen::beside::Beside;
use crate::tui::screen::jobs::offers;
use crate::tui::screen::sheet::{most_shift, order, settle as settle_spot};
use crate::tui::state::{Over, Spot, State};
use crate::tui::view;

/// Rows of a list over the view that are seen at once.
fn list_rows(state: &State) -> usize {
    usize::from(state.size.1.saturating_sub(6)).max(1)
}

pub(super) fn rows(state: &mut State, command: Command) {
    let page = panes_of(state).map_or(1, |panes| panes.rows()).max(1);
    let list_page = list_rows(state);
    match state.over.last_mut() {
        Some(Over::List(list)) => {
            list.at = moved(list.at, list.lines.len(), list_page, command);
            return;
        }
        Some(Over::Finder { at, .. }) => {
            *at = moved(*at, usize::MAX, list_page, command);
            return;
        }
        Some(Over::Jobs(at)) => {
            *at = moved(*at, offers(&state.last).len(), list_page, command);
            return;
        }
        Some(Over::Beside(beside)) => {
            let lines = beside.pairs(Beside::half(state.size.0)).len();
            let seen = Beside::rows(state.size.1);
            let count = (lines + 1).saturating_sub(seen);
            beside.top = moved(beside.top, count, seen, command);
            return;
        }
        Some(Over::Tables(_)) => return,
        _ => {}
    }
    if state.stage == 0 {
        on_the_bench(state, command);
        return;
    }
    let Some(count) = count(state) else { return };
    let tables = state.view().map_or(0, |view| view.shown().len());
    let Some(spot) = state.spot_mut() else { return };
    // Past the last row comes the next table.
    match command {
        Command::Down if spot.row + 1 >= count && spot.table + 1 < tables => {
            spot.mark(spot.table + 1, 0);
        }
        Command::Up if spot.row == 0 && spot.table > 0 => {
            spot.mark(spot.table - 1, usize::MAX);
        }
        _ => spot.mark(spot.table, moved(spot.row, count, page, command)),
    }
}

/// Another field, or another part of an answer longer than its room.
fn on_the_bench(state: &mut State, command: Command) {
    let back = match command {
        Command::Up => return state.bench.go(-1),
        Command::PageUp => true,
        Command::PageDown => false,
        _ => return state.bench.go(1),
    };
    let Some(panes) = panes_of(state) else { return };
    let most = view::bench::most(state, panes.table);
    let step = (panes.table.height / 2).max(1);
    let top = state.bench.top.min(most);
    state.bench.top = if back { top.saturating_sub(step) } else { (top + step).min(most) };
}

fn moved(at: usize, count: usize, page: usize, command: Command) -> usize {
    let to = match command {
        Command::Up => at.saturating_sub(1),
        Command::Down => at.saturating_add(1),
        Command::PageUp => at.saturating_sub(page),
        Command::PageDown => at.saturating_add(page),
        Command::First => 0,
        _ => usize::MAX,
    };
    to.min(count.saturating_sub(1))
}

/// Rows shown of the table in sight.
fn count(state: &State) -> Option<usize> {
    Some(order(state.table()?, state.spot()?).len())
}

pub(super) fn sideways(state: &mut State, command: Command) {
    let back = command == Command::Left;
    if state.stage == 0 {
        state.bench.turn(if back { -1 } else { 1 }, &state.catalog);
        return;
    }
    let tables = state.view().map_or(0, |view| view.shown().len());
    if let Some(spot) = state.spot_mut().filter(|_| tables > 1) {
        let table = (spot.table + if back { tables - 1 } else { 1 }) % tables;
        *spot = Spot { table, filter: spot.filter.clone(), ..Spot::default() };
    }
}

pub(super) fn shift(state: &mut State, command: Command) {
    let most = state.table().map_or(0, most_shift);
    if let Some(spot) = state.spot_mut() {
        spot.shift = match command {
            Command::ShiftLeft => spot.shift.saturating_sub(1),
            _ => (spot.shift + 1).min(most),
        };
    }
}

pub(super) fn stage(state: &mut State, step: isize) {
    let count = state.stages() as isize;
    state.stage = (state.stage as isize + step).rem_euclid(count) as usize;
    if state.stage == 0 {
        state.bench.typing = true;
    }
}

/// The next row that asks for a look, as table and row shown, from the one
/// marked on and round.
pub(super) fn look_from(state: &State) -> Option<(usize, usize)> {
    let (view, spot) = (state.view()?, state.spot()?);
    let all: Vec<(usize, usize)> = view
        .shown()
        .into_iter()
        .enumerate()
        .flat_map(|(at, table)| {
            let shown = if at == spot.table { spot.clone() } else { Spot::default() };
            let rows = order(table, &shown).into_iter().enumerate();
            rows.filter(|(_, row)| matches!(table.rows[*row].mark, Mark::Look | Mark::Refused))
                .map(move |(shown, _)| (at, shown))
                .collect::<Vec<_>>()
        })
        .collect();
    let here = (spot.table, spot.row);
    all.iter().find(|place| **place > here).or_else(|| all.first()).copied()
}

pub(super) fn next_look(state: &mut State) {
    match look_from(state) {
        Some((table, row)) => {
            if let Some(spot) = state.spot_mut() {
                if spot.table != table {
                    *spot = Spot::default();
                }
                spot.mark(table, row);
            }
        }
        None => state.said = "no row here asks for a look".to_owned(),
    }
}

pub(super) fn next_face(state: &mut State) {
    let Some(Ok(faces)) = state.plan.as_ref().map(|plan| &plan.faces) else { return };
    let count = faces.rows.len().max(1);
    state.face = (state.face + 1) % count;
    if let Some(face) = faces.rows.get((faces.front + state.face) % count) {
        state.said = format!("drawn: {}", face.title);
    }
}

pub(super) fn sort(state: &mut State, command: Command) {
    let columns = state.table().map_or(0, |table| table.heads().len());
    let Some(spot) = state.spot_mut().filter(|_| columns > 0) else { return };
    if command == Command::Reverse {
        spot.reverse = !spot.reverse;
        return;
    }
    spot.sort = match spot.sort {
        None => Some(0),
        Some(at) if at + 1 < columns => Some(at + 1),
        Some(_) => None,
    };
}

/// Brings every place back inside what there is, and into sight.
pub(super) fn settle(state: &mut State) {
    let rows = panes_of(state).map_or(1, |panes| panes.rows());
    if let Some(at) = state.stage.checked_sub(1)
        && let (Some(view), Some(spot)) = (state.views.get(at), state.spots.get_mut(at))
    {
        settle_spot(spot, view, rows);
    }
    let hits = match state.over.last() {
        Some(Over::Finder { input, .. }) => crate::tui::finder::hits(state, input.value()).len(),
        _ => 0,
    };
    match state.over.last_mut() {
        Some(Over::Finder { at, .. }) => *at = (*at).min(hits.saturating_sub(1)),
        Some(Over::List(list)) => list.at = list.at.min(list.lines.len().saturating_sub(1)),
        Some(Over::Jobs(at)) => *at = (*at).min(offers(&state.last).len().saturating_sub(1)),
        _ => {}
    }
}
