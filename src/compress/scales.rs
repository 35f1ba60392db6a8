//! The same building at several scales, side by side.

use crate::catalog::Catalog;
use crate::finding::Stop;
use crate::job::Job;
use crate::job::said::Size;
use crate::quantity::slack::EXACT;
use crate::quantity::{CompressedLength, ModelLength, PrototypeLength, Scale};
use crate::survey::Survey;

use super::first;
use super::long::Asked;

/// Scales compared at most, the job's own with them.
const COMPARED: usize = 4;
/// Scales compared where the job names none: those most work is done in.
const USUAL: [&str; 4] = ["1:48", "1:64", "1:87.1", "1:160"];
/// Ratios nearer than this are one scale.
const SAME: f64 = 0.005;

/// The building at one scale.
#[derive(Clone, Debug, PartialEq)]
pub struct AtScale {
    /// The scale.
    pub scale: Scale,
    /// Whether it is the job's.
    pub own: bool,
    /// Length of the whole prototype on the model.
    pub length: ModelLength,
    /// Its depth on the model.
    pub depth: ModelLength,
    /// Its ridge on the model.
    pub height: ModelLength,
    /// What of it fits the place.
    pub fits: Result<Fits, Stop>,
    /// The thinnest part the job gives a size for, with its name.
    pub smallest: Option<(String, ModelLength)>,
}

/// The cheapest alternative at one scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Fits {
    /// In words.
    pub words: String,
    /// Its look cost.
    pub cost: Option<f64>,
    /// Its length on the model.
    pub length: ModelLength,
    /// Its depth on the model.
    pub depth: ModelLength,
    /// The share of the length that is kept.
    pub kept: f64,
}

/// The job's scale and up to three others, the smallest ratio first.
///
/// # Errors
///
/// Where the job names a scale that is not known.
pub(super) fn named(job: &Job, catalog: &Catalog, own: &Scale) -> Result<Vec<Scale>, Stop> {
    let named = &job.about.compare;
    let mut all = vec![own.clone()];
    let words: Vec<&str> =
        if named.is_empty() { USUAL.to_vec() } else { named.iter().map(String::as_str).collect() };
    for word in words {
        let scale = catalog.scales.find(word)?;
        let near = |known: &Scale| (known.redraw(&scale) - 1.0).abs() < SAME;
        if all.len() < COMPARED && !all.iter().any(near) {
            all.push(scale);
        }
    }
    all.sort_by(|a, b| a.ratio.value().total_cmp(&b.ratio.value()));
    Ok(all)
}

/// The building at each scale.
pub(super) fn scales(
    asked: &Asked,
    all: &[Scale],
    smallest: Option<&(String, PrototypeLength)>,
) -> Vec<AtScale> {
    let body = &asked.faces.body;
    let at = |scale: &Scale| AtScale {
        own: (scale.redraw(&asked.scale) - 1.0).abs() < EXACT,
        length: scale.reduce(body.length),
        depth: scale.reduce(body.depth),
        height: scale.reduce(body.ridge),
        fits: fits(asked, scale),
        smallest: smallest.map(|(name, size)| (name.clone(), scale.reduce(*size))),
        scale: scale.clone(),
    };
    all.iter().map(at).collect()
}

fn fits(asked: &Asked, scale: &Scale) -> Result<Fits, Stop> {
    let first = first(&asked.job, &asked.look, (&asked.faces, &asked.scheme), scale)?;
    Ok(Fits {
        words: first.words.clone(),
        cost: first.cost(),
        length: first.model_length,
        depth: scale.reduce(first.body.depth),
        kept: first.body.length / CompressedLength::kept(asked.faces.body.length),
    })
}

/// The thinnest size of cladding, member or trim in the job.
pub(super) fn smallest(job: &Job, survey: &Survey) -> Option<(String, PrototypeLength)> {
    let claddings = job.claddings.iter().flat_map(|it| {
        [&it.thickness, &it.batten_thickness].map(|size| (it.name.clone(), size.as_ref()))
    });
    let members = job
        .members
        .iter()
        .flat_map(|it| [&it.thickness, &it.width].map(|size| (it.name.clone(), size.as_ref())));
    let trims = job.openings.iter().map(|it| (format!("{} trim", it.name), it.trim.as_ref()));
    let sized = |(name, size): (String, Option<&Size>)| {
        let found = survey.size(size?).ok()?.value;
        (found > PrototypeLength::ZERO).then_some((name, found))
    };
    let all = claddings.chain(members).chain(trims).filter_map(sized);
    all.min_by(|a, b| a.1.in_metres().total_cmp(&b.1.in_metres()))
}
