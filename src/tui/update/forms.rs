//! Forms: what is asked, and what is made of the answers.

use std::path::PathBuf;

use tui_input::Input;

use super::{bounds, broaden, close, edit, entry, jobs, mock_up, paper, photo, typing};
use crate::finding::Subject;
use crate::job::edit::Edit;
use crate::quantity::{Prototype, Reading as Spoken, Unit, parse, parse_number};
use crate::report::ViewId;
use crate::report::table::Act;
use crate::report::text;
use crate::tui::action::{Command, Key};
use crate::tui::choice;
use crate::tui::effect::Effect;
use crate::tui::screen::{self, cuts};
use crate::tui::state::{Field, Form, Over, Purpose, State};

/// Opens the form a command needs, where it has something to work on.
pub(super) fn open(state: &mut State, command: Command) {
    let form = match (command, state.act(command), state.subject().cloned()) {
        (_, Some(Act::Reading), Some(Subject::Reading(id)))
            if state.document.job().photo_reading(&id).is_some() =>
        {
            state.said = "a photograph's length follows from its marks".to_owned();
            return;
        }
        (_, Some(Act::Reading), Some(Subject::Reading(id))) => reading(state, id),
        (_, Some(Act::Adopt), Some(Subject::Dimension(name))) => adopt(state, name),
        (_, Some(Act::Weigh), Some(Subject::Feature(key))) => bounds::weigh(state, key),
        (_, Some(Act::Bound), Some(Subject::Element(path))) => bounds::bound(state, path),
        (_, Some(Act::Measure(on)), Some(Subject::Measured(name))) => {
            mock_up::measure(state, name, on)
        }
        (_, Some(Act::TakeBack), Some(Subject::Measured(name))) if mock_up::can_be_taken(state) => {
            mock_up::take(state, name)
        }
        (_, Some(Act::Switch), Some(Subject::Reading(id))) => switch_off(id),
        (_, Some(Act::Choose), Some(Subject::Alternative(key))) => choose(state, key),
        (_, Some(Act::TakeSize), Some(Subject::Member(name))) => take(state, &name),
        (Command::Cut, ..) if cuts::times(state).is_some() => cut(state),
        (Command::Space, ..) => bounds::space(state),
        (Command::Scale, ..) => scale(state),
        (Command::AddReading, ..) => new_readings(state),
        (Command::Broaden, ..) if broaden::factor(state).is_some() => broadening(state),
        (Command::SaveAs, ..) => save_as(state),
        (Command::Write, ..) if state.screen() == Some(ViewId::Templates) => paper::files(state),
        (Command::Write, ..) if state.view().is_some() => write(state),
        (Command::Bars, ..) => paper::bars(state),
        (Command::AddPhoto, ..) if screen::photo::is_here(state) => photo::marks::add_form(),
        (Command::KnownLength, ..) => match photo::marks::known_form(state) {
            Some(form) => form,
            None => {
                state.said = "mark a rectangle first: c at each corner".to_owned();
                return;
            }
        },
        (Command::Reads | Command::Alike | Command::InFront | Command::Picture, ..) => {
            match photo::bind::form(state, command) {
                Ok(form) => form,
                Err(trouble) => {
                    state.said = trouble;
                    return;
                }
            }
        }
        (Command::Filter, ..) if state.row().is_some() => filter(state),
        _ => {
            state.said = format!("{}: mark a row it can work on", command.words());
            return;
        }
    };
    state.over.push(Over::Form(form));
    preview(state);
}

pub(super) fn form(
    title: impl Into<String>,
    purpose: Purpose,
    about: &[&str],
    fields: &[(&str, &str)],
) -> Form {
    let fields = fields.iter().map(|(label, text)| Field {
        label: (*label).to_owned(),
        input: Input::new((*text).to_owned()),
    });
    Form {
        title: title.into(),
        purpose,
        about: about.iter().map(|line| (*line).to_owned()).collect(),
        fields: fields.collect(),
        at: 0,
        trouble: String::new(),
        preview: Vec::new(),
    }
}

fn reading(state: &State, id: String) -> Form {
    let found = state.document.job().readings.iter().find(|reading| reading.id == id);
    let value = found.and_then(|reading| reading.value.clone()).unwrap_or_default();
    let sigma = found.and_then(|reading| reading.sigma.clone()).unwrap_or_default();
    let of = found.map_or(String::new(), |reading| format!("What was read: {}", reading.of));
    let about = [of.as_str(), "With its unit: 12 ft 6 1/2 in, 150.5 in, 3.81 m"];
    let fields = [("reads", value.as_str()), ("± (1 sigma)", sigma.as_str())];
    form(format!("Reading {id}"), Purpose::Reading(id), &about, &fields)
}

pub(super) fn switch_off(id: String) -> Form {
    let about = ["The reading stays in the notes, out of the sums."];
    form(format!("Switch off {id}"), Purpose::SwitchOff(id), &about, &[("why", "")])
}

fn adopt(state: &State, name: String) -> Form {
    let found = state.document.job().dimensions.iter().find(|one| one.name == name);
    let adopted = found.and_then(|one| one.adopt.as_ref()).map(|said| said.text().to_owned());
    let reason = found.map_or(String::new(), |one| one.reason.clone());
    let survey = state.plan.as_ref().map(|plan| &plan.survey);
    let proposal = survey
        .and_then(|survey| survey.dimension(&name)?.proposal.as_ref())
        .filter(|_| adopted.is_none());
    let (figure, reason, offered) = match proposal {
        Some(proposal) => (
            state.document.job().about.full_notation().show(&proposal.figure),
            format!("assumed: {}", proposal.why),
            "Proposed, as an assumption; Enter adopts it, Esc leaves it.",
        ),
        None => (adopted.unwrap_or_default(), reason, ""),
    };
    let about = ["A round figure to build to; empty goes back to what was measured.", offered];
    let fields = [("adopt", figure.as_str()), ("why", reason.as_str())];
    form(format!("Dimension {name}"), Purpose::Adopt(name), &about, &fields)
}

fn choose(state: &State, key: String) -> Form {
    let cells = state.row().map_or(String::new(), |row| row.texts.join("  "));
    let intent = format!("What must survive: {}", state.document.job().about.intent);
    let about = [cells.as_str(), intent.as_str()];
    let old = state.document.job().choice.as_ref().map_or("", |choice| choice.reason.as_str());
    form(format!("Choose {key}"), Purpose::Choose(key), &about, &[("why this one", old)])
}

fn take(state: &State, name: &str) -> Form {
    let picked = state.document.job().picked.iter().find(|one| one.member == name);
    let size = picked.map_or("", |one| one.size.as_str());
    let reason = picked.map_or("", |one| one.reason.as_str());
    let about = ["A size as the catalogue names it; empty goes back to the nearest."];
    let fields = [("size", size), ("why", reason)];
    form(format!("Stock for {name}"), Purpose::Take(name.to_owned()), &about, &fields)
}

fn cut(state: &State) -> Form {
    let times = cuts::times(state).unwrap_or(1).to_string();
    let text = cuts::cut(state, 1).unwrap_or_default();
    let pieces = text.pieces.iter().map(|piece| format!("{} {}", piece.count, piece.part));
    let pieces = format!("Each gives {}", pieces.collect::<Vec<_>>().join(", "));
    let left = match &text.left {
        Some((length, None)) => format!("Left of each, for the rack: {length}"),
        Some((length, Some(width))) => format!("Left for the rack: {width} by {length}"),
        None => "What is left is too small to keep".to_owned(),
    };
    let about = [pieces.as_str(), left.as_str()];
    form(format!("{} is cut", text.stock), Purpose::Cut, &about, &[("how many", &times)])
}

fn scale(state: &State) -> Form {
    let now = state.document.job().about.scale.clone();
    let about = ["A name (HO, O, S) or a ratio (1:48, 1:87.1)"];
    form("Scale of the model", Purpose::Scale, &about, &[("scale", now.as_str())])
}

fn new_readings(state: &mut State) -> Form {
    let (about, texts) = entry::begin(state);
    let about: Vec<&str> = about.iter().map(String::as_str).collect();
    let fields: Vec<(&str, &str)> =
        entry::FIELDS.into_iter().zip(texts.iter().map(String::as_str)).collect();
    form("New readings, one a line", Purpose::Enter, &about, &fields)
}

fn broadening(state: &State) -> Form {
    let about = broaden::about(state);
    let factor = broaden::factor(state).map_or(String::new(), |factor| format!("{factor:.2}"));
    let fields = [("all times", factor.as_str())];
    form("Broaden the uncertainties", Purpose::Broaden, &[&about], &fields)
}

fn save_as(state: &State) -> Form {
    let name = match &state.place.path {
        Some(path) => path.display().to_string(),
        None => format!("{}.toml", state.document.name()),
    };
    let about = ["A new file; one that is there already is not written over."];
    form("Save as", Purpose::SaveAs, &about, &[("file", name.as_str())])
}

fn write(state: &State) -> Form {
    let name = format!("{}.txt", State::stage_name(state.stage));
    form("Write this view to a text file", Purpose::Write, &[], &[("file", name.as_str())])
}

fn filter(state: &State) -> Form {
    let now = state.spot().map_or(String::new(), |spot| spot.filter.clone());
    form("Show only rows that hold", Purpose::Filter, &[], &[("text", now.as_str())])
}

/// A key typed into the form.
pub(super) fn typed(state: &mut State, key: Key) {
    if let Some(Over::Form(form)) = state.over.last_mut() {
        form.trouble.clear();
        if let Some(field) = form.fields.get_mut(form.at) {
            typing::feed(&mut field.input, key);
        }
    }
    preview(state);
}

/// Begins the first field anew with a figure that was typed on the view.
pub(super) fn begin(state: &mut State, figure: char) {
    if let Some(Over::Form(form)) = state.over.last_mut()
        && let Some(field) = form.fields.first_mut()
    {
        field.input = Input::new(figure.to_string());
    }
    preview(state);
}

/// What the answers would come to, as far as it can be said at once.
pub(super) fn preview(state: &mut State) {
    let Some(Over::Form(form)) = state.over.last() else { return };
    let lines = match &form.purpose {
        Purpose::Reading(_) | Purpose::Adopt(_) => {
            form.fields.iter().take(2).filter_map(|field| worth(state, field)).collect()
        }
        Purpose::Enter => entry::preview(state, form),
        Purpose::Reads(of) => photo::bind::preview(state, of, &value(form, 0)),
        Purpose::Measure(name) => mock_up::preview(state, form, name),
        _ => Vec::new(),
    };
    let filter = (form.purpose == Purpose::Filter).then(|| value(form, 0));
    if let Some(Over::Form(form)) = state.over.last_mut() {
        form.preview = lines;
    }
    // A filter works while it is typed.
    if let (Some(filter), Some(spot)) = (filter, state.spot_mut()) {
        spot.filter = filter;
    }
}

/// A length as full size and model size.
fn worth(state: &State, field: &Field) -> Option<String> {
    if field.label == "why" {
        return None;
    }
    let about = &state.document.job().about;
    let length = parse::<Prototype>(field.input.value(), &Spoken::in_unit(Unit::Inch)).ok()?;
    let full = about.full_notation().show(&length.exact());
    let plan = state.plan.as_ref()?;
    let scale = plan.scale.as_ref().ok()?;
    let model = about.model_notation().show(&scale.reduce(length.length()));
    Some(format!("{}: {full} full size, {model} on the model", field.label))
}

pub(super) fn value(form: &Form, at: usize) -> String {
    form.fields.get(at).map_or(String::new(), |field| field.input.value().trim().to_owned())
}

/// Takes the form on top; it stays open with its trouble when it cannot be
/// taken.
pub(super) fn accept(state: &mut State) -> Vec<Effect> {
    let Some(Over::Form(form)) = state.over.last().cloned() else { return Vec::new() };
    match fulfil(state, &form) {
        Ok(effects) => {
            if form.purpose == Purpose::Enter && !value(&form, 0).is_empty() {
                entry::again(state);
            } else {
                close(state);
            }
            effects
        }
        Err(trouble) => {
            if let Some(Over::Form(form)) = state.over.last_mut() {
                form.trouble = trouble;
            }
            Vec::new()
        }
    }
}

fn fulfil(state: &mut State, form: &Form) -> Result<Vec<Effect>, String> {
    let text = |at: usize| value(form, at);
    let some = |at: usize| Some(text(at)).filter(|text| !text.is_empty());
    match &form.purpose {
        Purpose::Reading(id) => write_reading(state, id, text(0), text(1)),
        Purpose::SwitchOff(id) => {
            let reason = some(0).ok_or("write the reason: in two years you will want it")?;
            edit::make(state, &Edit::SwitchReading { id: id.clone(), off: true, reason })
        }
        Purpose::Adopt(name) => {
            let adopted = Edit::Adopt { dimension: name.clone(), figure: some(0), reason: text(1) };
            edit::make(state, &adopted)
        }
        Purpose::Choose(key) => {
            let reason = some(0).ok_or("write the reason: it stands in the build record")?;
            let choice = choice::text(state, key, reason)?;
            edit::make(state, &Edit::Choose(choice))
        }
        Purpose::Take(member) => {
            let pick = Edit::PickStock { member: member.clone(), size: some(0), reason: text(1) };
            edit::make(state, &pick)
        }
        Purpose::Cut => {
            let most = cuts::times(state).unwrap_or(0);
            let times = text(0).parse().ok().filter(|times| (1..=most).contains(times));
            let times = times.ok_or_else(|| format!("write a number from 1 to {most}"))?;
            let cut = cuts::cut(state, times).ok_or("there is nothing here to cut")?;
            edit::make(state, &Edit::Cut(cut))
        }
        Purpose::Space | Purpose::Weigh(_) | Purpose::Bound(..) => {
            let mut effects = Vec::new();
            for change in bounds::edits(state, form) {
                effects = edit::make(state, &change)?;
            }
            Ok(effects)
        }
        Purpose::Scale => {
            state
                .catalog
                .scales
                .find(&text(0))
                .map_err(|stop| format!("{stop} ({})", stop.hint))?;
            edit::make(state, &Edit::SetAbout { key: "scale".to_owned(), to: text(0) })
        }
        Purpose::Enter => entry::take(state, form, &text(0)),
        Purpose::NewJob => jobs::answered(state, form),
        Purpose::Broaden => broaden::take(state, &text(0)),
        Purpose::SaveAs => {
            let name = some(0).ok_or("write the name of a file")?;
            let text = state.document.text().to_owned();
            Ok(vec![Effect::SaveNew { path: PathBuf::from(name), text }])
        }
        Purpose::Write => {
            let name = some(0).ok_or("write the name of a file")?;
            let text = state.view().map(text::view).unwrap_or_default();
            Ok(vec![Effect::Write { path: PathBuf::from(name), text }])
        }
        Purpose::Files => paper::write(state, [&text(0), &text(1), &text(2), &text(3)]),
        Purpose::Bars => paper::check(state, [text(0), text(1), text(2), text(3)]),
        Purpose::Measure(name) => mock_up::write(state, form, name),
        Purpose::TakeBack(name) => {
            some(0).ok_or("write the reason: it stands in the build record")?;
            let taken = mock_up::taken(state, form, name)?;
            edit::make(state, &taken)
        }
        Purpose::AddPhoto => photo::marks::add(state, &text(0), &text(1), &text(2)),
        Purpose::Reads(_) | Purpose::Alike(_) | Purpose::InFront(_) | Purpose::Picture => {
            photo::bind::take(state, form)
        }
        Purpose::Know(of) => {
            if let Some(value) = some(0) {
                readable(&value, false)?;
                readable(&text(1), false)?;
            }
            photo::marks::know(state, of, text(0), text(1))
        }
        Purpose::Filter => Ok(Vec::new()),
    }
}

/// Writes a reading's value and what it is good to.
fn write_reading(
    state: &mut State,
    id: &str,
    value: String,
    sigma: String,
) -> Result<Vec<Effect>, String> {
    let ratio =
        state.document.job().readings.iter().any(|reading| {
            reading.id == id && matches!(reading.of, crate::job::form::Form::Ratio(..))
        });
    readable(&value, ratio)?;
    if !sigma.is_empty() {
        readable(&sigma, ratio)?;
    }
    let (id, value, sigma) = (id.to_owned(), Some(value), Some(sigma));
    edit::make(state, &Edit::SetReading { id, value, sigma })
}

/// A reading says a length with its unit, or a plain number where it is a ratio.
fn readable(text: &str, ratio: bool) -> Result<(), String> {
    let error = match (parse::<Prototype>(text, &Spoken::default()), ratio) {
        (Ok(_), _) => return Ok(()),
        (Err(_), true) => parse_number(text).err(),
        (Err(error), false) => Some(error),
    };
    match error {
        None => Ok(()),
        Some(error) if error.hint.is_empty() => Err(error.message),
        Some(error) => Err(format!("{} ({})", error.message, error.hint)),
    }
}
