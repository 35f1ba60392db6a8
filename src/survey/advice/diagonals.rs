//! Right angles of the building whose sides are both dimensions.

use crate::job::Job;
use crate::job::face::{Element, ElementKind};
use crate::job::form::{Linear, Term};
use crate::job::said::Size;

/// Each diagonal in words, with its two sides.
pub(super) fn of(job: &Job) -> Vec<(String, Linear, Linear)> {
    let mut all = Vec::new();
    let mut push = |what: String, one: Option<Linear>, other: Option<Linear>| {
        all.extend(one.zip(other).map(|(one, other)| (what, one, other)));
    };
    if let Some(main) = job.main() {
        let front = job.front().and_then(|id| job.wall(&id));
        let length = front.and_then(|wall| row(job, &wall.row));
        let length = length.or_else(|| main.length.as_ref().and_then(form));
        let (depth, eave) = (main.depth.as_ref().and_then(form), main.eave.as_ref().and_then(form));
        push("of the plan".into(), length.clone(), depth.clone());
        push("of the front, corner to eave".into(), length, eave.clone());
        push("of the end, corner to eave".into(), depth, eave);
    }
    for opening in &job.openings {
        let what = format!("of {}", opening.name);
        push(what, form(&opening.width), form(&opening.height));
    }
    all
}

/// What a size is measured by, where it is not only taken.
fn form(size: &Size) -> Option<Linear> {
    size.measured.clone()
}

/// The length of a row, where all of it is measured.
fn row(job: &Job, elements: &[Element]) -> Option<Linear> {
    let mut sum = Linear::default();
    for element in elements {
        let (part, times) = match &element.kind {
            ElementKind::Corner { width } | ElementKind::Plain { width, .. } => (form(width)?, 1),
            ElementKind::Opening { kind, .. } => {
                let opening = job.openings.iter().find(|opening| opening.name == *kind)?;
                (form(&opening.width)?, 1)
            }
            ElementKind::Bays { width, times, .. } => (form(width)?, times.count),
            ElementKind::Repeat { row: inner, times } => (row(job, inner)?, times.count),
        };
        add(&mut sum, &part, f64::from(times));
    }
    (!sum.terms.is_empty()).then_some(sum)
}

/// Adds a sum so many times, each name once.
fn add(sum: &mut Linear, part: &Linear, times: f64) {
    for term in &part.terms {
        match sum.terms.iter_mut().find(|known| known.name == term.name) {
            Some(known) => known.factor += times * term.factor,
            None => sum.terms.push(Term { factor: times * term.factor, name: term.name.clone() }),
        }
    }
    sum.terms.retain(|term| term.factor.abs() > 1e-9);
}
