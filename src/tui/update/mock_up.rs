//! Forms about the mock-up: what it measures, and sizes taken back from it.

use super::edit;
use super::forms::{form, value};
use crate::finding::Subject;
use crate::job::edit::{Edit, MeasuredText};
use crate::job::mock_up::On;
use crate::job::said::Said;
use crate::mockup::{Planned, TAKEN, signed, take_back};
use crate::quantity::Model;
use crate::tui::effect::Effect;
use crate::tui::state::{Form, Purpose, State};

fn planned<'a>(state: &'a State, name: &str) -> Option<&'a Planned> {
    state.plan.as_ref()?.mock_up.as_ref()?.get(name)
}

/// Whether a size was measured on the mock-up and can be taken back.
pub(super) fn can_be_taken(state: &State) -> bool {
    let Some(Subject::Measured(name)) = state.subject() else { return false };
    planned(state, name).is_some_and(|size| size.way.is_ok() && size.mock_up.is_some())
}

/// Asks what a size measures.
pub(super) fn measure(state: &State, name: String, on: On) -> Form {
    let said = &state.document.job().measured;
    let last = said.iter().rfind(|row| row.of == name && row.on == on);
    let reads = last.map_or("", |row| row.reads.text());
    let note = last.map_or("", |row| row.note.as_str());
    let notation = state.document.job().about.model_notation();
    let plan = planned(state, &name)
        .map_or(String::new(), |size| format!("Planned: {}", notation.show(&size.planned)));
    let about = [plan.as_str(), "With its unit: 4 1/4 in, 4.25 in, 108 mm. Empty forgets it."];
    let fields =
        [("measures", reads), ("seen on the table", note), ("on: mock-up or model", on.word())];
    form(format!("Measured: {name}"), Purpose::Measure(name), &about, &fields)
}

/// What the size typed would come to.
pub(super) fn preview(state: &State, form: &Form, name: &str) -> Vec<String> {
    let on = On::from_word(&value(form, 2)).unwrap_or_default();
    let line = || {
        let plan = state.plan.as_ref()?;
        let mock_up = plan.mock_up.as_ref()?;
        let reads = value(form, 0).parse::<Said<Model>>().ok()?.length();
        let off = reads - mock_up.get(name)?.planned;
        let tolerance = mock_up.tolerance(on);
        let job = state.document.job();
        let over = if off.abs() > tolerance.either_way { "over" } else { "within" };
        Some(format!(
            "{} off, {over} the tolerance of {} ({})",
            signed(job, off),
            job.about.model_notation().show(&tolerance.either_way),
            tolerance.source
        ))
    };
    line().into_iter().collect()
}

/// Writes down what a size measures.
pub(super) fn write(state: &mut State, form: &Form, of: &str) -> Result<Vec<Effect>, String> {
    let on = On::from_word(&value(form, 2)).ok_or("write mock-up or model")?;
    let reads = value(form, 0);
    if !reads.is_empty() {
        reads.parse::<Said<Model>>().map_err(|trouble| trouble.replace("\nhint: ", ": "))?;
    }
    let measured = MeasuredText { of: of.to_owned(), on, reads, note: value(form, 1) };
    edit::make(state, &Edit::Measure(measured))
}

/// Asks why a size is taken back.
pub(super) fn take(state: &State, name: String) -> Form {
    let notation = state.document.job().about.model_notation();
    let told = planned(state, &name).and_then(|size| Some((size, size.mock_up.as_ref()?)));
    let told = told.map_or(String::new(), |(size, found)| {
        format!(
            "Planned {}, the mock-up measures {}: what is built follows the mock-up.",
            notation.show(&size.planned),
            notation.show(&found.reads)
        )
    });
    let others = over(state).into_iter().filter(|other| *other != name).count();
    let others = format!("{others} other sizes are over tolerance.");
    let fields = [("why", TAKEN), ("the others too", "no")];
    form(format!("Take back: {name}"), Purpose::TakeBack(name), &[&told, &others], &fields)
}

/// Sizes that are over tolerance and can be taken back.
fn over(state: &State) -> Vec<String> {
    let mock_up = state.plan.as_ref().and_then(|plan| plan.mock_up.as_ref());
    let sizes = mock_up.into_iter().flat_map(|mock_up| &mock_up.sizes);
    sizes.filter(|size| size.is_to_take()).map(|size| size.name.clone()).collect()
}

/// The edit that takes sizes back as the form says.
pub(super) fn taken(state: &State, form: &Form, name: &str) -> Result<Edit, String> {
    let mut names = vec![name.to_owned()];
    if super::paper::yes(&value(form, 1))? {
        names.extend(over(state).into_iter().filter(|other| other != name));
    }
    let plan = state.plan.as_ref().ok_or("nothing is worked out yet")?;
    let told = |stop: &crate::finding::Stop| stop.told().replace('\n', " ");
    let faces = plan.faces.as_ref().map_err(told)?;
    let scale = plan.scale.as_ref().map_err(told)?;
    let compress = plan.compress.as_ref().map_err(told)?;
    // There wherever faces, scale and counts are.
    let mock_up = plan.mock_up.as_ref().ok_or("the mock-up has no sizes yet")?;
    let job = state.document.job();
    let why = value(form, 0);
    take_back(job, &state.catalog, (faces, scale), (compress, mock_up), (&names, &why))
        .map_err(|stop| format!("{} ({})", stop.trouble, stop.hint))
}
