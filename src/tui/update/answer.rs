//! What the worker says.

use std::sync::Arc;

use super::{entry, forms, jobs, long, photo};
use crate::elevation::Built;
use crate::job::store::Keep;
use crate::plan::Plan;
use crate::report::table::View;
use crate::tui::effect::{Answer, Effect};
use crate::tui::state::{Over, State};

pub(super) fn answer(state: &mut State, answer: Answer) -> Vec<Effect> {
    match answer {
        Answer::Planned { asked, plan, views, pages } => {
            if asked == state.asked {
                state.pages = pages;
            }
            planned(state, asked, plan, views);
        }
        Answer::Preview { asked, key, built } => {
            if asked == state.asked {
                state.previews.insert(key, built);
            }
        }
        Answer::LongStands { input, standing } => long::stands(state, input, standing),
        Answer::LongDone { input, answer } => return long::done(state, input, answer),
        Answer::Tried { number, lines, built } => tried(state, number, lines, built),
        Answer::Saved { path, text } => return saved(state, path, text),
        Answer::Picture(news) => return photo::news(state, news),
        Answer::Written(path) => state.said = format!("written to {}", path.display()),
        Answer::Failed(trouble) => {
            state.after = None;
            state.said = trouble;
        }
        Answer::Opened { opened, last } => return jobs::opened(state, *opened, last),
        Answer::Beside { theirs } => jobs::differs(state, theirs),
        Answer::ChangedOnDisk => {
            state.place.differs = true;
            state.said = "another program changed this job's file: s shows both texts".to_owned();
        }
        Answer::Held { hold, last } => {
            state.place.hold = hold;
            state.last = last;
        }
    }
    Vec::new()
}

/// Shows what the change being typed would come to, unless more was typed.
fn tried(state: &mut State, number: u64, lines: Vec<String>, built: Option<Arc<Built>>) {
    if number != state.trial.number {
        return;
    }
    if let Some(Over::Form(form)) = state.over.last_mut() {
        form.preview = lines;
        state.trial.built = built;
    }
}

/// Takes a plan, unless a newer one was asked for.
fn planned(state: &mut State, asked: u64, plan: Arc<Plan>, views: Vec<View>) {
    if asked != state.asked {
        return;
    }
    state.plan = Some(plan);
    state.views = views;
    state.previews.clear();
    state.waiting = false;
    entry::show(state);
    forms::preview(state);
}

fn saved(state: &mut State, path: std::path::PathBuf, text: String) -> Vec<Effect> {
    state.said = format!("saved: {}", path.display());
    // An edit made while the file was written stays unsaved.
    if state.document.text() == text {
        state.document.mark_saved();
    }
    state.document.rename(&path.display().to_string());
    let mut effects: Vec<Effect> = Vec::new();
    if !state.document.is_changed() {
        effects.extend(state.place.keep.clone().map(Effect::Forget));
    }
    if state.place.path.as_ref() != Some(&path) {
        state.place.keep = Some(Keep::of(&path, state.folder.as_deref()));
        effects.push(Effect::Hold { path: path.clone(), folder: state.folder.clone() });
    }
    state.place.path = Some(path);
    state.place.opened = text;
    state.place.differs = false;
    state.over.retain(|over| !matches!(over, Over::Beside(_)));
    if !state.document.is_changed()
        && let Some(after) = state.after.take()
    {
        effects.extend(jobs::go(state, after));
    }
    effects
}
