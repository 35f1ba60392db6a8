//! What was measured on the mock-up and the finished model, against what is
//! planned; and what it means to take a size back into the job.
//!
//! A mock-up in card proves the bulk on the table before wood is cut: what is
//! found right there goes back into the job as numbers. A size that was taken
//! back stays in the job with what was planned before and the reason.

mod sizes;
mod take;

pub use sizes::Way;
pub use take::{TAKEN, take_back};

use crate::catalog::Catalog;
use crate::catalog::fits::Fit;
use crate::elevation::Built;
use crate::elevation::Faces;
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::mock_up::{Measured, On};
use crate::job::model::Units;
use crate::quantity::{ModelLength, Notation, Scale};
use crate::scaling::Sizes;

/// Everything planned, beside what was measured of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MockUp {
    /// The sizes in the order of the building: body, space, faces, openings.
    pub sizes: Vec<Planned>,
    /// What is left alone on the mock-up.
    pub mock_up: Tolerance,
    /// What is left alone on the finished model.
    pub model: Tolerance,
}

/// A difference that is left alone.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tolerance {
    /// Either way.
    pub either_way: ModelLength,
    /// Where it comes from.
    pub source: String,
}

/// One size, with what was measured of it last.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// Its name: `depth`, `main/front: bay`, `space: length`.
    pub name: String,
    /// What the plan says, on the model.
    pub planned: ModelLength,
    /// What the drawing marks for it.
    pub subject: Subject,
    /// How it is taken back, or why it cannot be.
    pub way: Result<Way, &'static str>,
    /// What the mock-up measures.
    pub mock_up: Option<Found>,
    /// What the finished model measures.
    pub model: Option<Found>,
}

/// A measured size against the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// What it measures.
    pub reads: ModelLength,
    /// Measured less planned.
    pub off: ModelLength,
    /// How it stands.
    pub standing: Standing,
    /// What was seen.
    pub note: String,
    /// What was planned before it was taken back.
    pub was: Option<ModelLength>,
    /// Why it was taken back.
    pub reason: String,
}

/// How a measured size stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// As planned, within the tolerance.
    Within,
    /// Further off than the tolerance.
    Over,
    /// Taken back: the plan is what was measured.
    TakenBack,
    /// Taken back once; the plan has moved away since.
    Left,
}

impl Standing {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Within => "as planned",
            Self::Over => "over tolerance",
            Self::TakenBack => "taken back",
            Self::Left => "plan has moved since",
        }
    }

    /// Whether it asks for a look.
    #[must_use]
    pub fn asks(self) -> bool {
        matches!(self, Self::Over | Self::Left)
    }
}

impl MockUp {
    /// The size of that name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Planned> {
        self.sizes.iter().find(|size| size.name == name)
    }

    /// The tolerance of what a size was measured on.
    #[must_use]
    pub fn tolerance(&self, on: On) -> &Tolerance {
        match on {
            On::MockUp => &self.mock_up,
            On::Model => &self.model,
        }
    }
}

impl Planned {
    /// What was measured on a thing.
    #[must_use]
    pub fn found(&self, on: On) -> Option<&Found> {
        match on {
            On::MockUp => self.mock_up.as_ref(),
            On::Model => self.model.as_ref(),
        }
    }

    /// Whether the mock-up asks for it to be taken back, and it can be.
    #[must_use]
    pub fn is_to_take(&self) -> bool {
        self.way.is_ok() && self.mock_up.as_ref().is_some_and(|found| found.standing.asks())
    }
}

/// Holds what was measured against the plan.
#[must_use]
pub fn run(
    job: &Job,
    catalog: &Catalog,
    (faces, built): (&Faces, &Built),
    sizes: &Sizes,
    scale: &Scale,
) -> Outcome<MockUp> {
    let tolerance = |key: &str, otherwise: f64| {
        let row = catalog.fits.get(key);
        let given = |row: &Fit| (row.take.length(), row.source.clone());
        let (either_way, source) =
            row.map_or((ModelLength::thou(otherwise), "judgement".to_owned()), given);
        Tolerance { either_way, source }
    };
    let mut value = MockUp {
        sizes: sizes::planned(job, faces, built, sizes, scale),
        mock_up: tolerance("mock-up", 31.25),
        model: tolerance("model", 15.625),
    };
    let mut findings = Vec::new();
    for said in &job.measured {
        let tolerance = value.tolerance(said.on).either_way;
        match value.sizes.iter_mut().find(|size| size.name == said.of) {
            Some(size) => {
                let found = Some(found(size, said, tolerance));
                match said.on {
                    On::MockUp => size.mock_up = found,
                    On::Model => size.model = found,
                }
            }
            None => findings.push(unknown(said)),
        }
    }
    findings.extend(printed_small(&value));
    for size in &value.sizes {
        findings.extend(On::ALL.iter().filter_map(|on| over(job, size, *on)));
    }
    Outcome { value, findings }
}

fn found(size: &Planned, said: &Measured, tolerance: ModelLength) -> Found {
    let reads = said.reads.length();
    let off = reads - size.planned;
    let over = off.abs() > tolerance + ModelLength::thou(0.001);
    let standing = match (&said.was, over) {
        (Some(_), false) => Standing::TakenBack,
        (Some(_), true) => Standing::Left,
        (None, false) => Standing::Within,
        (None, true) => Standing::Over,
    };
    Found {
        reads,
        off,
        standing,
        note: said.note.clone(),
        was: said.was.as_ref().map(|was| was.length()),
        reason: said.reason.clone(),
    }
}

/// A difference with its sign: thou, or hundredths where the job is metric.
#[must_use]
pub fn signed(job: &Job, off: ModelLength) -> String {
    let notation = match job.about.units {
        Units::Metric => Notation::HUNDREDTHS,
        Units::FeetInches => Notation::THOU,
    };
    let none = notation.show(&ModelLength::ZERO);
    match notation.show(&off.abs()) {
        size if size == none => none,
        size if off < ModelLength::ZERO => format!("-{size}"),
        size => format!("+{size}"),
    }
}

fn unknown(said: &Measured) -> Finding {
    Finding::trouble(
        Subject::Measured(said.of.clone()),
        format!(
            "\"{}\" was measured on the {}, but no size is called that",
            said.of,
            said.on.word()
        ),
        "the names are those of the mock-up view; an element that is not built has none",
    )
}

fn over(job: &Job, size: &Planned, on: On) -> Option<Finding> {
    let found = size.found(on).filter(|found| found.standing.asks())?;
    let subject = Subject::Measured(size.name.clone());
    let notation = job.about.model_notation();
    let told = format!(
        "{} measures {} on the {}, {} off the plan of {}",
        size.name,
        notation.show(&found.reads),
        on.word(),
        signed(job, found.off),
        notation.show(&size.planned),
    );
    let hint = match (on, &size.way) {
        (On::Model, _) => "it stands in the record as built; what joins it has to follow",
        (On::MockUp, Ok(_)) => "take it back into the job, or mend the mock-up",
        (On::MockUp, Err(why)) => why,
    };
    Some(Finding::look(subject, told, hint))
}

/// A page that was fitted to the sheet is printed at 94 to 97 percent (trade
/// knowledge, from memory).
const PRINTED: [f64; 2] = [0.93, 0.98];
/// Sizes of one print agree within this: what a rule leaves on a short one.
const ALIKE: f64 = 0.006;
/// So many sizes alike are no accident.
const ENOUGH: usize = 3;

/// Everything on the mock-up short by one share: the page was fitted to the
/// sheet, and nothing should be taken back.
fn printed_small(mock_up: &MockUp) -> Option<Finding> {
    let of_print = |size: &&Planned| !matches!(size.way, Ok(Way::Space(_)));
    let shares: Vec<f64> = (mock_up.sizes.iter().filter(of_print))
        .filter_map(|size| Some((size, size.mock_up.as_ref().filter(|found| found.was.is_none())?)))
        .map(|(size, found)| found.reads / size.planned)
        .collect();
    let mean = shares.iter().sum::<f64>() / shares.len().max(1) as f64;
    let alike = shares.iter().all(|share| (share - mean).abs() < ALIKE);
    (shares.len() >= ENOUGH && alike && (PRINTED[0]..=PRINTED[1]).contains(&mean)).then(|| {
        Finding::look(
            Subject::Measured("everything".to_owned()),
            format!("everything on the mock-up is {:.1} percent of the plan", mean * 100.0),
            "the pages were fitted to the sheet: measure their bars, take nothing back",
        )
    })
}
