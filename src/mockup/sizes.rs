//! The sizes that can be measured on a mock-up, and how each is taken back.

use super::Planned;
use crate::compress::measured::{Settable, key};
use crate::elevation::Built;
use crate::elevation::Faces;
use crate::elevation::sized::{Element, Kind};
use crate::finding::Subject;
use crate::job::Job;
use crate::job::body::FaceId;
use crate::job::said::Said;
use crate::quantity::{CompressedLength, Model, ModelLength, Scale};
use crate::scaling::{Sized, Sizes};

/// How a size is taken back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Way {
    /// By the choice: the building changes.
    Choice(Settable),
    /// By a key of `[space]`.
    Space(&'static str),
}

const FIXED: &str = "it is never stretched: change it in the faces";
const SUM: &str = "it follows from the body and the overhang: take those back";

/// Every size of the plan, each once.
pub(super) fn planned(
    job: &Job,
    faces: &Faces,
    built: &Built,
    sizes: &Sizes,
    scale: &Scale,
) -> Vec<Planned> {
    let is_body = |size: &&Sized| size.subject == Subject::Job;
    let own = |size: &Sized| Planned {
        name: size.name.clone(),
        planned: size.model.value,
        subject: size.subject.clone(),
        way: way(job, faces, size),
        mock_up: None,
        model: None,
    };
    let body = sizes.sizes.iter().filter(is_body).map(own);
    let rest = sizes.sizes.iter().filter(|size| !is_body(size)).map(own);
    let all = body.chain(over_the_roof(built, scale)).chain(space(job)).chain(rest);
    all.filter(|size| size.planned > ModelLength::ZERO).collect()
}

fn plain(name: &str, planned: ModelLength, way: Result<Way, &'static str>) -> Planned {
    let name = name.to_owned();
    Planned { name, planned, subject: Subject::Job, way, mock_up: None, model: None }
}

/// Length and depth over eaves and rakes, which a mock-up to the wall faces
/// forgets.
fn over_the_roof(built: &Built, scale: &Scale) -> Vec<Planned> {
    let body = &built.body;
    let none = CompressedLength::inches(0.01);
    [
        ("length over the roof", body.length, body.rake_overhang),
        ("depth over the roof", body.depth, body.eave_overhang),
    ]
    .into_iter()
    .filter(|(_, size, overhang)| *overhang > none && *size > none)
    .map(|(name, size, overhang)| plain(name, scale.reduce(size + overhang * 2.0), Err(SUM)))
    .collect()
}

/// The place the mock-up stands in, measured on the table with it.
fn space(job: &Job) -> Vec<Planned> {
    let Some(space) = &job.space else { return Vec::new() };
    let length = |said: &Option<Said<Model>>| said.as_ref().map(Said::length);
    [
        ("space: length", "length", length(&space.length)),
        ("space: depth", "depth", length(&space.depth)),
        ("space: height", "height", length(&space.height)),
    ]
    .into_iter()
    .filter_map(|(name, key, size)| Some(plain(name, size?, Ok(Way::Space(key)))))
    .collect()
}

fn way(job: &Job, faces: &Faces, size: &Sized) -> Result<Way, &'static str> {
    let roofed = job.main_roof().is_some();
    let settable = match (size.name.as_str(), &size.subject) {
        ("length", _) => Settable::Length,
        ("depth", _) => Settable::Depth,
        ("eave", _) => Settable::Eave,
        ("ridge", _) if roofed => Settable::Ridge,
        (_, Subject::Element(path)) => Settable::Width(stretchable(faces, path).ok_or(FIXED)?),
        _ => return Err(FIXED),
    };
    Ok(Way::Choice(settable))
}

/// The key of an element that may stretch.
fn stretchable(faces: &Faces, path: &str) -> Option<String> {
    let (face, name) = FaceId::split(path)?;
    let main = &faces.front_row().id.body;
    let at = faces.rows.iter().position(|row| row.id == face && row.id.body == *main)?;
    let element = find(&faces.rows[at].row, name)?;
    let may = matches!(element.kind, Kind::Plain { fixed: false, .. } | Kind::Bays { .. });
    may.then(|| key(at == faces.front, &faces.rows[at].name, name))
}

fn find<'a>(row: &'a [Element], name: &str) -> Option<&'a Element> {
    row.iter().find_map(|element| match &element.kind {
        _ if element.name == name => Some(element),
        Kind::Repeat { row, .. } => find(row, name),
        _ => None,
    })
}
