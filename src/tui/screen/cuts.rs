//! The cut list: which stick or sheet is in sight, and what it is to cut it.

use crate::cutting::saw;
use crate::job::edit::CutText;
use crate::report::ViewId;
use crate::report::layout::shown::{Shown, shown};
use crate::tui::action::Command;
use crate::tui::state::State;

/// What the row marked shows, on the view of the cut list.
#[must_use]
pub fn in_sight(state: &State) -> Option<Shown<'_>> {
    if state.screen() != Some(ViewId::Layout) {
        return None;
    }
    shown(state.plan.as_ref()?.layout.as_ref().ok()?, state.row()?.key.place()?)
}

/// How many sticks or sheets the row marked stands for; nothing where it
/// stands for none.
#[must_use]
pub fn times(state: &State) -> Option<u32> {
    state.act(Command::Cut)?;
    match in_sight(state)? {
        Shown::Sticks(group, at) => group.layout.cuts.get(at).map(|cut| cut.times),
        Shown::Sheet(..) => Some(1),
    }
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
