//! Why a part has its size: the chain back to the readings.

use super::part::Part;
use crate::building::{Origin, Why};
use crate::finding::Subject;
use crate::job::Job;
use crate::job::said::Size;
use crate::quantity::slack::EXACT;
use crate::quantity::{CompressedLength, Scale};
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
    let chain = Chain { job, survey };
    for origin in &part.why {
        chain.tell(origin, 1, &mut steps);
    }
    steps
}

/// As deep as a chain is told: the deepest of rules on rules.
const DEEPEST: u8 = 12;

struct Chain<'a> {
    job: &'a Job,
    survey: &'a Survey,
}

impl Chain<'_> {
    fn tell(&self, origin: &Origin, depth: u8, steps: &mut Vec<Step>) {
        let figure = self.job.about.full_notation().show(&CompressedLength::inches(origin.value));
        let mut push = |depth, text, subject| steps.push(Step { depth, text, subject });
        match &origin.why {
            Why::Rule { rule, of, .. } => {
                push(depth, format!("{} {figure}: {rule}", origin.what), Subject::Job);
                if depth < DEEPEST {
                    for one in alike(of) {
                        self.tell(one, depth + 1, steps);
                    }
                }
            }
            Why::Said(size) => steps.extend(self.size(&origin.what, size, depth)),
            Why::Stated(text) => {
                push(depth, format!("{}: {text}, as stated", origin.what), Subject::Job);
            }
            Why::Default(source) => push(depth, format!("{}: {source}", origin.what), Subject::Job),
            Why::Row(row) => push(depth, format!("{}: {row}", origin.what), Subject::Job),
            Why::Chosen(reason) if reason.is_empty() => {
                push(depth, format!("{} {figure}, as shortened", origin.what), Subject::Job);
            }
            Why::Chosen(reason) => {
                push(
                    depth,
                    format!("{} {figure}, as shortened: {reason}", origin.what),
                    Subject::Job,
                );
            }
        }
    }

    /// A size: as written, and every dimension it rests on with its readings.
    fn size(&self, what: &str, size: &Size, depth: u8) -> Vec<Step> {
        let notation = self.job.about.full_notation();
        let Ok(found) = self.survey.size(size) else { return Vec::new() };
        let worth = found.measured.as_ref().map_or(" as stated".to_owned(), |measured| {
            format!(
                ", measured {} ±{:.2} in",
                notation.show(&measured.value),
                measured.sigma.in_inches()
            )
        });
        let mut steps = vec![Step {
            depth,
            text: format!("{what} {}{worth}", notation.show(&found.value)),
            subject: Subject::Job,
        }];
        let terms = size.measured.iter().flat_map(|form| &form.terms);
        for term in terms {
            steps.extend(self.dimension(&term.name, depth + 1));
        }
        steps
    }

    fn dimension(&self, name: &str, depth: u8) -> Vec<Step> {
        let (job, survey) = (self.job, self.survey);
        let Some(dimension) = job.dimensions.iter().find(|said| said.name == name) else {
            return Vec::new();
        };
        let adopted = dimension
            .adopt
            .as_ref()
            .map_or(String::new(), |adopt| format!(": adopted {adopt}, {}", dimension.reason));
        let mut steps = vec![Step {
            depth,
            text: format!("dimension {}{adopted}", dimension.name),
            subject: Subject::Dimension(dimension.name.clone()),
        }];
        let readings =
            job.readings.iter().filter(|reading| reading.of.names().any(|known| known == name));
        for reading in readings {
            let value = reading.value.as_deref().unwrap_or("worked out from its figures");
            let set_aside = survey.rejected.iter().any(|rejected| rejected.id == reading.id);
            let off = if reading.off || set_aside { ", set aside" } else { "" };
            steps.push(Step {
                depth: depth + 1,
                text: format!(
                    "reading {}: {} = {value}, {}{off}",
                    reading.id, reading.of, reading.method
                ),
                subject: Subject::Reading(reading.id.clone()),
            });
        }
        steps
    }
}

/// Figures of one name and value are told once.
fn alike(of: &[std::sync::Arc<Origin>]) -> Vec<&Origin> {
    let mut seen: Vec<&Origin> = Vec::new();
    for origin in of {
        let known =
            seen.iter().any(|it| it.what == origin.what && (it.value - origin.value).abs() < EXACT);
        if !known {
            seen.push(origin);
        }
    }
    seen
}
