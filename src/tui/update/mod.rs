//! What each action does to the state, and which effects follow. Nothing here
//! touches the terminal, the disk or the clock.

mod act;
mod answer;
mod bounds;
mod broaden;
mod edit;
mod entry;
mod forms;
mod jobs;
mod jump;
mod long;
mod mock_up;
mod mouse;
mod moves;
mod paper;
mod photo;
mod tables;
mod typing;

use super::action::{Action, Command, Key};
use super::choice;
use super::effect::Effect;
use super::keymap::{self, Context};
use super::screen;
use super::state::{Over, State};
use super::view::panes::{Panes, panes};
use super::view::sheet::lead_lines;
use crate::finding::Subject;
use crate::job::edit::Edit;

/// Applies an action.
pub fn update(state: &mut State, action: Action) -> Vec<Effect> {
    let mut effects = match action {
        Action::Key(key) => key_pressed(state, key),
        Action::Paste(text) => typing::paste(state, &text),
        Action::Click(x, y) => mouse::click(state, x, y),
        Action::Wheel(rows) => mouse::wheel(state, rows),
        Action::Resize(wide, high) => {
            state.size = (wide, high);
            Vec::new()
        }
        Action::Do(command) => act::obey(state, command),
        Action::Answer(answer) => answer::answer(state, answer),
    };
    moves::settle(state);
    effects.extend(preview(state));
    effects.extend(long::settle(state));
    effects.extend(bounds::trial(state));
    effects.extend(photo::settle(state));
    effects
}

/// Where everything stands now; the view asks the same.
#[must_use]
pub fn panes_of(state: &State) -> Option<Panes> {
    if state.photos.open && screen::photo::is_here(state) {
        return super::view::panes::photo(state.size);
    }
    let pole =
        if state.size.0 >= 72 { super::view::panes::POLE } else { super::view::panes::NARROW };
    let wide = state.size.0.saturating_sub(pole + 1) as usize;
    let lead = state.view().map_or(0, |view| lead_lines(view, wide.max(1)).len());
    panes(state.size, u16::try_from(lead).unwrap_or(u16::MAX), state.stage == 0)
}

fn key_pressed(state: &mut State, key: Key) -> Vec<Effect> {
    let context = state.context();
    if context == Context::Bench
        && let Some(command) = state.bench.arrow(key)
    {
        return act::obey(state, command);
    }
    match keymap::command(context, key) {
        Some(command) => {
            state.said.clear();
            act::obey(state, command)
        }
        None => typing::typed(state, key),
    }
}

/// Has the alternative marked laid out, once, so that it can be drawn.
fn preview(state: &mut State) -> Option<Effect> {
    let Some(Subject::Alternative(key)) = state.subject().cloned() else { return None };
    if state.waiting || state.previews.contains_key(&key) || choice::is_built(state, &key) {
        return None;
    }
    state.previews.insert(key.clone(), None);
    let mut document = state.document.clone();
    let choice = choice::text(state, &key, String::new()).ok()?;
    document.apply(&Edit::Choose(choice), &state.catalog).ok()?;
    Some(Effect::Preview { asked: state.asked, key, job: Box::new(document.job().clone()) })
}

/// The effects that follow every edit: keep the work, work everything out.
fn after_edit(state: &mut State) -> Vec<Effect> {
    let mut effects = start(state);
    if let Some(at) = state.place.keep.clone() {
        effects.push(if state.document.is_changed() {
            Effect::Keep { at, text: state.document.text().to_owned() }
        } else {
            Effect::Forget(at)
        });
    }
    if let Some(path) = state.place.path.clone().filter(|_| !state.place.differs) {
        effects.push(Effect::Glance { path, opened: state.place.opened.clone() });
    }
    effects
}

/// The effects of the start: work everything out.
#[must_use]
pub fn start(state: &mut State) -> Vec<Effect> {
    state.asked += 1;
    state.waiting = true;
    let job = Box::new(state.document.job().clone());
    vec![Effect::Plan { asked: state.asked, job, known: state.known.clone() }]
}

/// Whether a command can do something here; the bottom line and the finder
/// leave out those that cannot.
#[must_use]
pub fn applies(state: &State, command: Command) -> bool {
    act::applies(state, command)
}

/// What is said of a job that another window has open too.
#[must_use]
pub fn shared(place: &super::state::Place) -> String {
    jobs::shared(place)
}

fn close(state: &mut State) -> Option<Over> {
    state.over.pop()
}
