//! Quick entry: one line, one reading; the form stays open until an empty
//! line, and says what each reading does.

use tui_input::Input;

use super::{edit, jump};
use crate::finding::Subject;
use crate::job::entry::{self, Carried, Entry};
use crate::job::form::Form as Read;
use crate::quantity::{Denominator, Prototype, PrototypeLength, Reading as Spoken, parse_stated};
use crate::report::{VIEWS, ViewId};
use crate::survey::{Checked, ReadingFound, Standing, Survey};
use crate::tui::effect::Effect;
use crate::tui::state::{Form, Over, Purpose, State};

/// Names of the fields, in their order.
pub(super) const FIELDS: [&str; 5] = ["reads", "method", "source", "date", "unit"];

/// Shows the notes, where the effect of a reading can be seen, and what the
/// fields begin with.
pub(super) fn begin(state: &mut State) -> (Vec<String>, [String; 5]) {
    if let Some(at) = VIEWS.iter().position(|kind| kind.id == ViewId::Notes) {
        state.stage = at + 1;
    }
    state.entered.clear();
    let carried = state.carried.clone().unwrap_or_else(|| Carried::of(state.document.job()));
    let Carried { method, source, date, unit } = carried;
    (about(state), [String::new(), method, source, date, unit])
}

/// What is read next, and how else a line may be written.
fn about(state: &State) -> Vec<String> {
    let job = state.document.job();
    let next = match entry::next_dimension(job) {
        Some(name) => {
            let what = job.dimensions.iter().find(|one| one.name == name);
            let what = what.map_or("", |one| one.what.as_str());
            let what = if what.is_empty() { String::new() } else { format!(" ({what})") };
            format!("Next: {name}{what}. Enter takes it; an empty line ends.")
        }
        None => "Write NAME = 12 ft 6 in. Enter takes it; an empty line ends.".to_owned(),
    };
    vec![
        next,
        "Or: right - left = 7'-2\" \u{b1} 1/4\"   + porch = 6 ft   a pasted column".to_owned(),
    ]
}

fn text(form: &Form, at: usize) -> String {
    form.fields.get(at).map_or(String::new(), |field| field.input.value().trim().to_owned())
}

fn carried(form: &Form) -> Carried {
    Carried {
        method: text(form, 1),
        source: text(form, 2),
        date: text(form, 3),
        unit: text(form, 4),
    }
}

/// Takes the line typed, or many lines that were pasted: one edit.
pub(super) fn take(state: &mut State, form: &Form, lines: &str) -> Result<Vec<Effect>, String> {
    if lines.trim().is_empty() {
        return Ok(Vec::new());
    }
    let carried = carried(form);
    let made = entry::readings(state.document.job(), lines, &carried)?;
    let effects = edit::make(state, &made)?;
    if let crate::job::edit::Edit::AddReadings { readings, .. } = made {
        state.entered = readings.into_iter().map(|new| new.id).collect();
    }
    state.carried = Some(carried);
    Ok(effects)
}

/// Clears the line for the next reading.
pub(super) fn again(state: &mut State) {
    let about = about(state);
    if let Some(Over::Form(form)) = state.over.last_mut() {
        form.about = about;
        form.at = 0;
        form.trouble.clear();
        form.preview.clear();
        if let Some(field) = form.fields.first_mut() {
            field.input = Input::default();
        }
    }
}

/// Text from the clipboard: a column becomes readings at once, a line goes
/// into the field, with a sign for its tab.
pub(super) fn paste(state: &mut State, text: &str) -> Option<Vec<Effect>> {
    let Some(Over::Form(form)) = state.over.last().cloned() else { return None };
    let lines = text.replace("\r\n", "\n").replace('\r', "\n");
    let is_column = lines.trim().contains('\n');
    if form.purpose != Purpose::Enter || form.at != 0 || !is_column {
        return None;
    }
    Some(match take(state, &form, &lines) {
        Ok(effects) => {
            again(state);
            effects
        }
        Err(trouble) => {
            if let Some(Over::Form(form)) = state.over.last_mut() {
                form.trouble = format!("nothing was taken: {trouble}");
            }
            Vec::new()
        }
    })
}

/// Marks the last reading entered in the notes, once they are worked out.
pub(super) fn show(state: &mut State) {
    let entering =
        matches!(state.over.last(), Some(Over::Form(form)) if form.purpose == Purpose::Enter);
    let Some(id) = state.entered.last().filter(|_| entering).cloned() else { return };
    let Some(at) = state.stage.checked_sub(1) else { return };
    if let Some((table, row)) = jump::row_of(state, at, &Subject::Reading(id))
        && let Some(spot) = state.spot_mut()
    {
        spot.mark(table, row);
    }
}

/// What the line typed would say; what the last ones said, while it is empty.
pub(super) fn preview(state: &State, form: &Form) -> Vec<String> {
    let Some(plan) = state.plan.as_ref() else { return Vec::new() };
    let typed = text(form, 0);
    if typed.is_empty() {
        if state.waiting || state.entered.is_empty() {
            return Vec::new();
        }
        return effect(state, &plan.survey);
    }
    let job = state.document.job();
    let next = entry::next_dimension(job);
    let Ok(entry) = entry::line(job, &typed, next, &text(form, 4)) else { return Vec::new() };
    expected(state, &plan.survey, &entry, &text(form, 1)).into_iter().collect()
}

/// What the readings so far make of it.
fn expected(state: &State, survey: &Survey, entry: &Entry, method: &str) -> Option<String> {
    let Read::Linear(sum) = &entry.of else { return None };
    let job = state.document.job();
    let how = Spoken { unit: None, surveyor: job.about.surveyor.and_then(Denominator::new) };
    let said = parse_stated::<Prototype>(&entry.value, &how).ok()?;
    let Ok(others) = survey.estimate(sum) else {
        return Some(format!("{sum}: nothing fixes it yet"));
    };
    let value = said.value.length();
    let usual = state.catalog.methods.get(method).map(|method| method.sigma(value.abs()));
    let sigma = said.sigma.map(|sigma| sigma.length()).or(usual).unwrap_or(PrototypeLength::ZERO);
    let notation = job.about.full_notation();
    let off = (value - others.value).in_inches();
    let z = off / others.sigma.in_inches().hypot(sigma.in_inches());
    let side = if off < 0.0 { "under" } else { "over" };
    let others = notation.show(&others.value);
    Some(format!("the others say {others}: {:.2} in {side}, z {z:+.1}", off.abs()))
}

/// What the last readings entered turned out to be.
fn effect(state: &State, survey: &Survey) -> Vec<String> {
    let found = |id: &String| survey.readings.iter().find(|found| found.id == *id);
    let mut lines: Vec<String> = state
        .entered
        .iter()
        .rev()
        .take(1)
        .filter_map(found)
        .map(|found| format!("{}: {}", found.id, stands(found)))
        .collect();
    if state.entered.len() > 1 {
        lines.insert(0, format!("{} readings taken; u takes them back", state.entered.len()));
    }
    let aside: Vec<&str> = survey.rejected.iter().map(|rejected| rejected.id.as_str()).collect();
    if !aside.is_empty() {
        lines.push(format!("set aside: {}", aside.join(", ")));
    }
    lines
}

fn stands(found: &ReadingFound) -> String {
    match (found.standing, found.checked) {
        (Standing::Rejected, _) => "set aside: it does not fit the others".to_owned(),
        (Standing::LeftOut | Standing::Off, _) => "left out".to_owned(),
        (_, Some(Checked::Unchecked)) => "in; nothing else checks it".to_owned(),
        _ => {
            let z = found.z.map_or(String::new(), |z| format!(", z {z:+.1}"));
            let word = found.checked.map_or("", Checked::word);
            format!("in, {word}{z}")
        }
    }
}
