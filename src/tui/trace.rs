//! What rests on what: from a part or an element back to the readings.

use crate::finding::Subject;
use crate::job::Job;
use crate::job::body::FaceId;
use crate::job::face::{Element, ElementKind};
use crate::job::form::Form;
use crate::job::photo::Photo;
use crate::job::said::Size;
use crate::takeoff::{Step, why};
use crate::tui::state::State;

/// What a subject rests on, one step back.
#[must_use]
pub fn rests_on(job: &Job, subject: &Subject) -> Vec<Subject> {
    match subject {
        Subject::Dimension(name) => readings_of(job, name),
        Subject::Reading(id) => source_of(job, id),
        Subject::Element(path) => element_sizes(job, path).flat_map(dimensions).collect(),
        Subject::Measured(name) => element_of(name).into_iter().map(Subject::Element).collect(),
        Subject::Member(name) => job
            .members
            .iter()
            .filter(|member| member.name == *name)
            .flat_map(|member| [&member.thickness, &member.width, &member.length])
            .flatten()
            .flat_map(dimensions)
            .collect(),
        _ => Vec::new(),
    }
}

/// The whole chain behind a subject, each once, with how far back it is.
#[must_use]
pub fn chain(job: &Job, subject: &Subject) -> Vec<(usize, Subject)> {
    let mut seen = vec![(0, subject.clone())];
    let mut at = 0;
    while let Some((depth, next)) = seen.get(at).cloned() {
        for behind in rests_on(job, &next) {
            if !seen.iter().any(|(_, known)| *known == behind) {
                seen.push((depth + 1, behind));
            }
        }
        at += 1;
    }
    seen
}

/// The chain of a part, as the take-off tells it; nothing without a plan.
#[must_use]
pub fn part(state: &State, label: &str) -> Vec<Step> {
    let Some(plan) = &state.plan else { return Vec::new() };
    let (Ok(found), Ok(scale)) = (&plan.takeoff, &plan.scale) else { return Vec::new() };
    let job = state.document.job();
    found.part(label).map_or_else(Vec::new, |part| why(part, job, &plan.survey, scale))
}

/// Elements to be marked for the row in sight.
#[must_use]
pub fn marked(state: &State) -> Vec<String> {
    match state.subject() {
        Some(Subject::Part(label)) => part(state, label)
            .into_iter()
            .flat_map(|step| elements(state.document.job(), &step.subject))
            .collect(),
        Some(subject) => elements(state.document.job(), subject),
        None => Vec::new(),
    }
}

/// Elements of faces, as `face/element`, to be marked in the drawing for a
/// subject.
#[must_use]
pub fn elements(job: &Job, subject: &Subject) -> Vec<String> {
    match subject {
        Subject::Element(path) => vec![path.clone()],
        Subject::Measured(name) => element_of(name).into_iter().collect(),
        Subject::Dimension(name) => with_dimension(job, name),
        Subject::Reading(id) => job
            .readings
            .iter()
            .filter(|reading| reading.id == *id)
            .flat_map(|reading| form_names(&reading.of))
            .flat_map(|name| with_dimension(job, &name))
            .collect(),
        _ => Vec::new(),
    }
}

/// The element a size of the mock-up is named after: `main/front: bay`.
fn element_of(name: &str) -> Option<String> {
    name.split_once(": ").map(|(face, element)| format!("{face}/{element}"))
}

fn with_dimension(job: &Job, name: &str) -> Vec<String> {
    let mut found = Vec::new();
    for face in &job.walls {
        walk(&face.row, &mut |element| {
            let named =
                |size: &Size| dimensions(size).contains(&Subject::Dimension(name.to_owned()));
            if width(element).is_some_and(named) {
                found.push(format!("{}/{}", face.of, element.name));
            }
        });
    }
    found
}

fn readings_of(job: &Job, dimension: &str) -> Vec<Subject> {
    let photographed = job.photos.iter().flat_map(Photo::readings).filter_map(|(id, ask)| {
        let of = form_names(ask.reads.as_ref()?);
        of.iter().any(|name| name == dimension).then_some(Subject::Reading(id))
    });
    job.readings
        .iter()
        .filter(|reading| form_names(&reading.of).iter().any(|name| name == dimension))
        .map(|reading| Subject::Reading(reading.id.clone()))
        .chain(photographed)
        .collect()
}

fn source_of(job: &Job, id: &str) -> Vec<Subject> {
    job.readings
        .iter()
        .filter(|reading| reading.id == id)
        .filter_map(|reading| reading.source.clone())
        .chain(job.photo_reading(id).and_then(|(photo, _)| photo.source.clone()))
        .map(Subject::Source)
        .collect()
}

fn element_sizes<'a>(job: &'a Job, path: &str) -> impl Iterator<Item = &'a Size> {
    let (face, name) = FaceId::split(path).map_or((None, path), |(id, name)| (Some(id), name));
    // A repeat is named `module#1/door-window`; its last word is the element's.
    let name = name.rsplit('/').next().unwrap_or(name);
    let name = name.split('#').next().unwrap_or(name).to_owned();
    let mut sizes = Vec::new();
    for face in job.walls.iter().filter(|known| Some(&known.of) == face.as_ref()) {
        walk(&face.row, &mut |element| {
            if element.name == name {
                sizes.extend(width(element));
            }
        });
    }
    sizes.into_iter()
}

fn walk<'a>(row: &'a [Element], visit: &mut impl FnMut(&'a Element)) {
    for element in row {
        visit(element);
        if let ElementKind::Repeat { row, .. } = &element.kind {
            walk(row, visit);
        }
    }
}

fn width(element: &Element) -> Option<&Size> {
    match &element.kind {
        ElementKind::Corner { width }
        | ElementKind::Plain { width, .. }
        | ElementKind::Bays { width, .. } => Some(width),
        ElementKind::Opening { .. } | ElementKind::Repeat { .. } => None,
    }
}

fn dimensions(size: &Size) -> Vec<Subject> {
    let terms = size.measured.iter().flat_map(|form| &form.terms);
    terms.map(|term| Subject::Dimension(term.name.clone())).collect()
}

fn form_names(form: &Form) -> Vec<String> {
    form.names().map(str::to_owned).collect()
}
