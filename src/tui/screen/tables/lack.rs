//! What an empty stage lacks.

use crate::job::Job;
use crate::report::ViewId;
use crate::tui::state::State;

/// The list or table that the stage in sight wants first, where the job has none
/// of it and the stage nothing to show.
#[must_use]
pub fn lack(state: &State) -> Option<&'static str> {
    if state.row().is_some() {
        return None;
    }
    let job = state.document.job();
    let view = state.screen()?;
    if let ViewId::Photo | ViewId::FieldSheet | ViewId::Record = view {
        return None;
    }
    if job.bodies.is_empty() {
        return Some("body");
    }
    match view {
        ViewId::Faces if job.walls.is_empty() => Some("wall"),
        ViewId::Site if job.site.is_none() => Some("site"),
        ViewId::Clearance => track(job),
        ViewId::Lamps => lamps(job),
        ViewId::Takeoff | ViewId::Stock | ViewId::Layout if job.layers.is_empty() => Some("layer"),
        _ => None,
    }
}

fn track(job: &Job) -> Option<&'static str> {
    match &job.track {
        None => Some("track"),
        Some(track) if track.pieces.is_empty() => Some("track.piece"),
        Some(_) => None,
    }
}

fn lamps(job: &Job) -> Option<&'static str> {
    match &job.lamps {
        Some(lamps) if !lamps.supplies.is_empty() => {
            (lamps.strings.is_empty() && lamps.loads.is_empty()).then_some("lamps.string")
        }
        _ => Some("lamps.supply"),
    }
}
