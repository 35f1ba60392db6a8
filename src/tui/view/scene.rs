//! Which faces are drawn, and what is marked on them.

use super::building::Outline;
use crate::clearance::Clearance;
use crate::compress::Standpoint;
use crate::elevation::Built;
use crate::elevation::Elevation;
use crate::finding::Subject;
use crate::job::body::FaceId;
use crate::quantity::FullSize;
use crate::report::ViewId;
use crate::tui::choice;
use crate::tui::state::State;
use crate::tui::trace;

/// The face in sight: the prototype, then what will be built.
#[must_use]
pub fn faces(state: &State) -> Vec<Outline> {
    let Some(plan) = &state.plan else { return Vec::new() };
    let Ok(faces) = &plan.faces else { return Vec::new() };
    let marked = trace::marked(state);
    let face = shown(state, faces.front, &faces.faces, &marked);
    let mut out = Vec::new();
    if let Some(face) = faces.faces.get(face) {
        out.push(Outline::of(face, caption(state, &format!("{}:", title(face)), face), &marked));
    }
    if let Some(built) = built(state)
        && let Some(face) = built.faces.get(face)
    {
        let built = Outline::of(face, caption(state, word(state), face), &marked);
        out.push(match out.first() {
            Some(original) if is_compress(state) => {
                Outline { car: car(state), ..built.before(original) }
            }
            _ => built,
        });
    }
    out
}

/// The clearance, on its own stage and where there is one.
#[must_use]
pub fn track(state: &State) -> Option<&Clearance> {
    if state.screen() != Some(ViewId::Clearance) {
        return None;
    }
    state.plan.as_ref()?.clearance.as_ref().ok()?.as_ref()
}

/// Whether ways to shorten the building are looked at.
fn is_compress(state: &State) -> bool {
    state.screen() == Some(ViewId::Compress)
}

/// The car that is to be spotted, feet.
fn car(state: &State) -> Option<f64> {
    let space = state.document.job().space.as_ref()?;
    Some(space.car.as_ref()?.length().in_feet()).filter(|length| *length > 0.0)
}

/// The ground, on the view of the site, with what stands over it.
#[must_use]
pub fn ground(state: &State) -> Option<(&Standpoint, String)> {
    let compress = state.plan.as_ref()?.compress.as_ref().ok()?;
    let stand = compress.ground.as_ref().filter(|_| state.screen() == Some(ViewId::Site))?;
    let body = &compress.built.body;
    let notation = state.document.job().about.model_notation();
    let scale = state.plan.as_ref()?.scale.as_ref().ok()?;
    let size = |length| notation.show(&scale.reduce(length));
    let caption =
        format!("from above: {} by {}, track and largest car", size(body.length), size(body.depth));
    Some((stand, caption))
}

/// The alternative marked, where it is laid out; else what will be built.
fn built(state: &State) -> Option<&Built> {
    if let Some(tried) = &state.trial.built {
        return Some(tried);
    }
    if let Some(Subject::Alternative(key)) = state.subject()
        && !choice::is_built(state, key)
    {
        return state.previews.get(key)?.as_deref();
    }
    state.plan.as_ref()?.compress.as_ref().ok().map(|found| &found.built)
}

fn word(state: &State) -> &'static str {
    match state.subject() {
        _ if state.trial.built.is_some() => "it would be:",
        Some(Subject::Alternative(key)) if !choice::is_built(state, key) => "this one:",
        _ if state.document.job().choice.is_some() => "chosen:",
        _ => "would be built:",
    }
}

/// The face drawn: the one an element marked is on, else the one asked for.
fn shown<S: FullSize>(
    state: &State,
    front: usize,
    faces: &[Elevation<S>],
    marked: &[String],
) -> usize {
    let wall = |path: &String| match FaceId::split(path) {
        Some((id, _)) => id.to_string(),
        None => path.clone(),
    };
    let of_mark = marked.first().map(wall);
    faces
        .iter()
        .position(|face| Some(&face.name) == of_mark.as_ref())
        .unwrap_or((front + state.face) % faces.len().max(1))
}

/// Full size and model, always in that order.
fn caption<S: FullSize>(state: &State, word: &str, face: &Elevation<S>) -> String {
    let about = &state.document.job().about;
    let full = about.full_notation().show(&face.length);
    let scale = state.plan.as_ref().and_then(|plan| plan.scale.as_ref().ok());
    let model = scale.map_or(String::new(), |scale| {
        format!("  {}", about.model_notation().show(&scale.reduce(face.length)))
    });
    format!("{word} {full}{model}")
}

/// What a face is called in drawings.
fn title<S: FullSize>(face: &Elevation<S>) -> &str {
    if face.title.is_empty() { &face.name } else { &face.title }
}
