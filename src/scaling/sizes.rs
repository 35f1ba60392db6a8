//! The main sizes of the building, each on the model.

use super::{ModelSize, Worth, model_size, shortened_sigma};
use crate::elevation::Built;
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::face::{Element, ElementKind};
use crate::job::said::Size;
use crate::quantity::{CompressedLength, ModelLength, Scale};
use crate::survey::Survey;

/// What the hand cuts to where the job does not say.
const HAND_THOU: f64 = 5.0;

/// One named size of the building.
#[derive(Clone, Debug, PartialEq)]
pub struct Sized {
    /// What it is: `length`, `main/front: bay`, `window width`.
    pub name: String,
    /// The size that will be built, at full size.
    pub full: CompressedLength,
    /// The same on the model.
    pub model: ModelSize,
    /// What a row about it speaks of.
    pub subject: Subject,
}

/// The main sizes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sizes {
    /// The sizes, body first, then the elements of each face, then openings.
    pub sizes: Vec<Sized>,
}

/// Puts the main sizes of the building on the model.
///
/// Findings name the sizes whose uncertainty is coarser than the hand cuts.
#[must_use]
pub fn run(job: &Job, survey: &Survey, built: &Built, scale: &Scale) -> Outcome<Sizes> {
    let hand = job.about.hand.as_ref().map_or(ModelLength::thou(HAND_THOU), |said| said.length());
    let mut at = Gather { survey, scale, hand, sizes: Vec::new() };
    at.body(job, built);
    for elevation in &built.faces {
        let Some(face) = job.walls.iter().find(|wall| wall.of.to_string() == elevation.name) else {
            continue;
        };
        let mut seen: Vec<&str> = Vec::new();
        for span in &elevation.spans {
            if seen.contains(&span.element.as_str()) {
                continue;
            }
            seen.push(&span.element);
            let name = format!("{}: {}", face.of, span.element);
            let subject = Subject::Element(format!("{}/{}", face.of, span.element));
            at.push(name, span.right - span.left, width_of(&face.row, &span.element), subject);
        }
    }
    for opening in &job.openings {
        let subject = || Subject::Element(opening.name.clone());
        for (side, size) in [("width", &opening.width), ("height", &opening.height)] {
            if let Ok(found) = survey.size(size) {
                let full = CompressedLength::kept(found.value);
                at.push(format!("{} {side}", opening.name), full, Some(size), subject());
            }
        }
    }
    let findings = at.sizes.iter().filter_map(limits).collect();
    Outcome { value: Sizes { sizes: at.sizes }, findings }
}

fn limits(size: &Sized) -> Option<Finding> {
    let sigma = size.model.sigma.filter(|_| size.model.worth == Worth::Limits)?;
    Some(Finding::note(
        size.subject.clone(),
        format!(
            "{} is known to {:.0} thou on the model, coarser than you cut: this one limits the model",
            size.name,
            sigma.in_thou()
        ),
    ))
}

struct Gather<'a> {
    survey: &'a Survey,
    scale: &'a Scale,
    hand: ModelLength,
    sizes: Vec<Sized>,
}

impl Gather<'_> {
    fn body(&mut self, job: &Job, built: &Built) {
        let Some(main) = job.main() else { return };
        let ridge = job.main_roof().and_then(|roof| roof.ridge.as_ref());
        let body = &built.body;
        for (name, full, size) in [
            ("length", body.length, None),
            ("depth", body.depth, main.depth.as_ref()),
            ("eave", body.eave, main.eave.as_ref()),
            ("ridge", body.ridge, ridge),
        ] {
            let alone = main.is_one_wall() && matches!(name, "depth" | "ridge");
            if !alone {
                self.push(name.to_owned(), full, size, Subject::Job);
            }
        }
    }

    fn push(
        &mut self,
        name: String,
        full: CompressedLength,
        size: Option<&Size>,
        subject: Subject,
    ) {
        let sigma = size.and_then(|size| self.survey.size(size).ok()).and_then(|found| {
            let measured = found.measured?;
            Some(shortened_sigma(measured.sigma, found.value, full))
        });
        let model = model_size(full, sigma, self.scale, self.hand);
        self.sizes.push(Sized { name, full, model, subject });
    }
}

/// The width the job gives an element, found by its name at any depth.
fn width_of<'a>(row: &'a [Element], name: &str) -> Option<&'a Size> {
    row.iter().find_map(|element| match &element.kind {
        ElementKind::Repeat { row, .. } => width_of(row, name),
        ElementKind::Corner { width }
        | ElementKind::Plain { width, .. }
        | ElementKind::Bays { width, .. }
            if element.name == name =>
        {
            Some(width)
        }
        _ => None,
    })
}
