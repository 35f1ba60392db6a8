//! Why a part has its size: the chain back to the readings.

use super::part::{Origin, Part};
use crate::finding::Subject;
use crate::job::Job;
use crate::job::said::Size;
use crate::quantity::Scale;
use crate::survey::Survey;

/// One link of the chain.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Step {
    /// How deep it stands: 0 for the part itself.
    pub depth: u8,
    /// What it says.
    pub text: String,
    /// What it speaks of.
    pub subject: Subject,
}

/// The chain from a part to the readings.
#[must_use]
pub fn why(part: &Part, job: &Job, survey: &Survey, scale: &Scale) -> Vec<Step> {
    let notation = job.about.full_notation();
    let mut steps = vec![Step {
        depth: 0,
        text: format!(
            "{}: {} on the model is {} at full size over {}",
            part.label,
            job.about.model_notation().show(&part.model_length),
            notation.show(&part.length),
            scale.name
        ),
        subject: part.subject(),
    }];
    for origin in &part.from {
        steps.extend(origin_steps(origin, job, survey));
    }
    steps
}

fn origin_steps(origin: &Origin, job: &Job, survey: &Survey) -> Vec<Step> {
    let step = |text: String, subject: Subject| vec![Step { depth: 1, text, subject }];
    match origin {
        Origin::Rule(rule) => step(format!("rule: {rule}"), Subject::Job),
        Origin::Element(name) => step(format!("element {name}"), Subject::Element(name.clone())),
        Origin::Body(what) => body(what, job, survey),
        Origin::Opening(name) => {
            let opening = job.openings.iter().find(|opening| &opening.name == name);
            let sizes = opening.map_or_else(Vec::new, |opening| {
                vec![
                    ("width", Some(&opening.width)),
                    ("height", Some(&opening.height)),
                    ("sill", opening.sill.as_ref()),
                    ("trim", opening.trim.as_ref()),
                ]
            });
            said("opening", name, &Subject::Element(name.clone()), sizes, job, survey)
        }
        Origin::Cladding(name) => {
            let cladding = job.claddings.iter().find(|cladding| &cladding.name == name);
            let sizes = cladding.map_or_else(Vec::new, |cladding| {
                vec![
                    ("unit", cladding.unit.as_ref()),
                    ("exposure", cladding.exposure.as_ref()),
                    ("batten", cladding.batten.as_ref()),
                    ("from", cladding.from.as_ref()),
                    ("to", cladding.to.as_ref()),
                ]
            });
            said("cladding", name, &Subject::Member(name.clone()), sizes, job, survey)
        }
        Origin::Attached(name) => {
            let sizes = job.body(name).map_or_else(Vec::new, |body| {
                vec![
                    ("length", body.length.as_ref()),
                    ("depth", Some(&body.depth)),
                    ("eave", body.eave.as_ref()),
                    ("overhang", body.roof.as_ref().and_then(|roof| roof.eave.as_ref())),
                ]
            });
            said("body", name, &Subject::Member(name.clone()), sizes, job, survey)
        }
        Origin::Member(name) => {
            let member = job.members.iter().find(|member| &member.name == name);
            let sizes = member.map_or_else(Vec::new, |member| {
                let legs = member.legs.as_ref();
                vec![
                    ("length", member.length.as_ref()),
                    ("level leg", legs.map(|legs| &legs[0])),
                    ("upright leg", legs.map(|legs| &legs[1])),
                    ("spacing", member.spacing.as_ref()),
                ]
            });
            said("member", name, &Subject::Member(name.clone()), sizes, job, survey)
        }
        Origin::Deck(name) => {
            let deck = job.decks.iter().find(|deck| &deck.name == name);
            let sizes = deck.map_or_else(Vec::new, |deck| {
                vec![
                    ("width", Some(&deck.width)),
                    ("height", Some(&deck.height)),
                    ("plank", Some(&deck.plank)),
                ]
            });
            said("deck", name, &Subject::Member(name.clone()), sizes, job, survey)
        }
    }
}

fn body(what: &str, job: &Job, survey: &Survey) -> Vec<Step> {
    let main = job.main();
    let size = match what {
        "depth" => main.map(|main| &main.depth),
        "eave" => main.and_then(|main| main.eave.as_ref()),
        "ridge" => job.main_roof().and_then(|roof| roof.ridge.as_ref()),
        _ => None,
    };
    if size.is_none() {
        let reason = job.choice.as_ref().map_or("", |choice| choice.reason.as_str());
        let text = match (what, reason) {
            ("length", "") => "length: the row of the front, as shortened".to_owned(),
            ("length", reason) => format!("length: the row of the front, as shortened: {reason}"),
            _ => format!("{what} of the body"),
        };
        return vec![Step { depth: 1, text, subject: Subject::Job }];
    }
    said("body", what, &Subject::Job, vec![(what, size)], job, survey)
}

fn said(
    kind: &str,
    name: &str,
    subject: &Subject,
    sizes: Vec<(&str, Option<&Size>)>,
    job: &Job,
    survey: &Survey,
) -> Vec<Step> {
    let mut steps =
        vec![Step { depth: 1, text: format!("{kind} {name}"), subject: subject.clone() }];
    for (what, size) in sizes {
        let Some(size) = size else { continue };
        steps.extend(size_steps(what, size, subject, job, survey));
    }
    steps
}

/// A size: as written, and every dimension it rests on with its readings.
fn size_steps(what: &str, size: &Size, subject: &Subject, job: &Job, survey: &Survey) -> Vec<Step> {
    let notation = job.about.full_notation();
    let Ok(found) = survey.size(size) else { return Vec::new() };
    let worth = found.measured.as_ref().map_or(" as stated".to_owned(), |measured| {
        format!(
            ", measured {} ±{:.2} in",
            notation.show(&measured.value),
            measured.sigma.in_inches()
        )
    });
    let mut steps = vec![Step {
        depth: 2,
        text: format!("{what} {}{worth}", notation.show(&found.value)),
        subject: subject.clone(),
    }];
    let terms = size.measured.iter().flat_map(|form| &form.terms);
    for term in terms {
        let Some(dimension) = job.dimensions.iter().find(|said| said.name == term.name) else {
            continue;
        };
        let adopted = dimension
            .adopt
            .as_ref()
            .map_or(String::new(), |adopt| format!(": adopted {adopt}, {}", dimension.reason));
        steps.push(Step {
            depth: 3,
            text: format!("dimension {}{adopted}", dimension.name),
            subject: Subject::Dimension(dimension.name.clone()),
        });
        let readings =
            job.readings.iter().filter(|reading| reading.of.names().any(|name| name == term.name));
        for reading in readings {
            let value = reading.value.as_deref().unwrap_or("worked out from its figures");
            let set_aside = survey.rejected.iter().any(|rejected| rejected.id == reading.id);
            let off = if reading.off || set_aside { ", set aside" } else { "" };
            steps.push(Step {
                depth: 4,
                text: format!(
                    "reading {}: {} = {value}, {}{off}",
                    reading.id, reading.of, reading.method
                ),
                subject: Subject::Reading(reading.id.clone()),
            });
        }
    }
    steps
}
