//! The cut list: which stick or sheet is in sight, and what it is to cut it.

use super::sheet::order;
use crate::cutting::saw;
use crate::job::edit::CutText;
use crate::report::layout::shown::{OnSheet, Shown, shown};
use crate::tui::state::State;

/// What the row marked shows, on the view of the cut list.
#[must_use]
pub fn in_sight(state: &State) -> Option<Shown<'_>> {
    if State::stage_name(state.stage) != "layout" {
        return None;
    }
    let (view, spot) = (state.view()?, state.spot()?);
    let row = *order(view.tables.get(spot.table)?, spot).get(spot.row)?;
    let rack = !state.document.job().offcuts.is_empty();
    shown(state.plan.as_ref()?.layout.as_ref().ok()?, rack, spot.table, row)
}

/// How many sticks or sheets the row marked stands for; nothing where it
/// stands for none.
#[must_use]
pub fn times(state: &State) -> Option<u32> {
    match in_sight(state)? {
        Shown::Sticks(group, at) if on_its_table(state, &group.stock) => {
            group.layout.cuts.get(at).map(|cut| cut.times)
        }
        Shown::Sheet(_, _, OnSheet::Part(_) | OnSheet::Cut(_)) => Some(1),
        _ => None,
    }
}

/// Whether the table in sight is the one of that stock, and not the list of
/// what to buy.
fn on_its_table(state: &State, stock: &str) -> bool {
    let table = state.view().zip(state.spot()).and_then(|(v, spot)| v.tables.get(spot.table));
    table.is_some_and(|table| table.title == stock)
}

/// The edit that says so many of them are cut.
#[must_use]
pub fn cut(state: &State, times: u32) -> Option<CutText> {
    let job = state.document.job();
    let takeoff = state.plan.as_ref()?.takeoff.as_ref().ok()?;
    match in_sight(state)? {
        Shown::Sticks(group, at) => {
            Some(saw::sticks(job, takeoff, group, group.layout.cuts.get(at)?, times))
        }
        Shown::Sheet(group, at, _) => {
            let layout = state.plan.as_ref()?.layout.as_ref().ok()?;
            Some(saw::sheet(job, takeoff, layout, group, group.layout.sheets.get(at)?))
        }
    }
}
