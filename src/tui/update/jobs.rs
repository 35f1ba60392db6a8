//! Jobs: which one is worked on, a new one, and what another program made of
//! this one meanwhile.

use super::{after_edit, close, forms, start};
use crate::job::document::Document;
use crate::job::hold::Hold;
use crate::job::new::{Answers, text};
use crate::job::open::{Opened, Wanted};
use crate::tui::effect::Effect;
use crate::tui::screen::beside::Beside;
use crate::tui::screen::jobs::{Offer, offers};
use crate::tui::state::{After, Form, Over, Place, Purpose, State};
use crate::writers::save::file_stem;

/// Offers the jobs that can be opened.
pub(super) fn offer(state: &mut State) {
    state.over.push(Over::Jobs(0));
}

/// Opens the offer marked.
pub(super) fn take_offer(state: &mut State) -> Vec<Effect> {
    let Some(Over::Jobs(at)) = close(state) else { return Vec::new() };
    match offers(&state.last).into_iter().nth(at) {
        Some(Offer::New) => {
            ask(state);
            Vec::new()
        }
        Some(Offer::Last(path)) => leave(state, After::Open(Wanted::File(path))),
        Some(Offer::BuiltIn(name, _)) => {
            leave(state, After::Open(Wanted::BuiltIn(name.to_owned())))
        }
        None => Vec::new(),
    }
}

/// Leaves the job for something else, asking first where it is not saved.
pub(super) fn leave(state: &mut State, after: After) -> Vec<Effect> {
    if state.document.is_changed() {
        state.after = Some(after);
        state.over.push(Over::Leave);
        return Vec::new();
    }
    go(state, after)
}

/// What was to be done once the job is left.
pub(super) fn go(state: &mut State, after: After) -> Vec<Effect> {
    match after {
        After::Quit => vec![Effect::Quit],
        After::Open(wanted) => {
            // Else the same job, opened again, would be open twice.
            state.place.hold = Hold::Unknown;
            let (own, folder) = (state.own.clone(), state.folder.clone());
            vec![Effect::Open { wanted, own, folder }]
        }
    }
}

/// The five questions.
pub(super) fn ask(state: &mut State) {
    let about = [
        "Sizes are full size and may be first figures: 48 ft, or 48 ft \u{b1} 2 ft, or 14.6 m.",
        "What is not known yet stays empty. Better readings move the building later.",
    ];
    let scale = state.document.job().about.scale.clone();
    let fields = [
        ("What is it called?", ""),
        ("Scale of the model?", scale.as_str()),
        ("How long is its front?", ""),
        ("How deep is it?", ""),
        ("How high to the eaves?", ""),
    ];
    state.over.push(Over::Form(forms::form("A new job", Purpose::NewJob, &about, &fields)));
}

/// Makes a job of the five answers; what is wrong with one is said in the form.
pub(super) fn answered(state: &mut State, form: &Form) -> Result<Vec<Effect>, String> {
    let text_at = |at: usize| forms::value(form, at);
    let scale = text_at(1);
    state.own.scales.find(&scale).map_err(|stop| format!("{stop} ({})", stop.hint))?;
    let name = Some(text_at(0)).filter(|name| !name.is_empty());
    let name = name.ok_or("give it a name: any will do")?;
    let answers = Answers {
        name: name.clone(),
        scale,
        front: text_at(2),
        deep: text_at(3),
        eaves: text_at(4),
        ..Answers::default()
    };
    let text = text(&answers).map_err(|stop| match stop.hint.as_str() {
        "" => stop.to_string(),
        hint => format!("{stop} ({hint})"),
    })?;
    let stem = file_stem(&name);
    Document::read(&stem, &text, &state.own).map_err(|error| error.message)?;
    Ok(leave(state, After::Open(Wanted::New(stem, text))))
}

/// Works on another job from now on. Size, colours and mouse stay.
pub(super) fn opened(
    state: &mut State,
    opened: Opened,
    last: Vec<std::path::PathBuf>,
) -> Vec<Effect> {
    let Opened { read, keep, left, hold } = opened;
    let is_new = read.document.is_changed();
    let text = if is_new { String::new() } else { read.document.text().to_owned() };
    let place = Place { path: read.path, opened: text, keep, hold, differs: false };
    let said = shared(&place);
    let mut next = State::new(read.document, place, read.catalog.into(), state.look);
    next.size = state.size;
    next.mouse = state.mouse;
    next.own = state.own.clone();
    next.folder = state.folder.clone();
    next.asked = state.asked;
    next.last = last;
    next.said = said;
    next.over.extend(left.map(Over::Left));
    let ending = state.long.is_some().then_some(Effect::EndLong);
    *state = next;
    let begun = if is_new { after_edit(state) } else { start(state) };
    ending.into_iter().chain(begun).collect()
}

/// What is said of a job that another window has open too.
pub(super) fn shared(place: &Place) -> String {
    if place.hold.is_shared() {
        "this job is open in another window too: whoever saves last is shown both texts".to_owned()
    } else {
        String::new()
    }
}

/// The file holds something else than when it was opened: both are shown.
pub(super) fn differs(state: &mut State, theirs: String) {
    let beside = Beside::of(state.document.text(), theirs);
    state.place.differs = true;
    state.over.push(Over::Beside(beside));
}

/// Saves what is here over what was shown to be on disk; that stays beside the
/// file as the text before. Another change meanwhile is shown again.
pub(super) fn keep_mine(state: &mut State) -> Vec<Effect> {
    let after = state.after.take();
    let (Some(Over::Beside(beside)), Some(path)) = (close(state), state.place.path.clone()) else {
        return Vec::new();
    };
    state.after = after;
    let text = state.document.text().to_owned();
    vec![Effect::Save { path, text, opened: beside.theirs }]
}

/// Takes what is on disk, as an edit that can be undone.
pub(super) fn take_theirs(state: &mut State) -> Vec<Effect> {
    let Some(Over::Beside(beside)) = state.over.last().cloned() else { return Vec::new() };
    let catalog = state.catalog.clone();
    match state.document.take_up(&beside.theirs, "take the text on disk", &catalog) {
        Ok(()) => {
            close(state);
            state.document.mark_saved();
            state.place.opened = beside.theirs;
            state.place.differs = false;
            state.said = "the text on disk is taken; u brings back what was here".to_owned();
            after_edit(state)
        }
        Err(error) => {
            state.said = format!("what is on disk is no job: {}", error.message);
            Vec::new()
        }
    }
}
