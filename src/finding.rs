//! What a stage tells the person.
//!
//! Three kinds of trouble are kept apart. A [`Stop`] is an error: the stage
//! cannot go on. A [`Finding`] leaves the result standing but asks for a look.
//! A bug is an assertion and has no type.

use serde::Serialize;

pub mod short;

/// What a finding, a table row or a drawn mark speaks of.
///
/// The same value is carried by rows, drawings and findings, so that the
/// terminal can jump from one to the other.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case", tag = "what", content = "name")]
pub enum Subject {
    /// The job as a whole.
    Job,
    /// A source of evidence, by id.
    Source(String),
    /// A reading, by id.
    Reading(String),
    /// A tie between dimensions, by id.
    Tie(String),
    /// A prototype dimension, by name.
    Dimension(String),
    /// An element of a face: `face/element`.
    Element(String),
    /// A compression alternative, by key.
    Alternative(String),
    /// A member of the frame or a kind of board, by name.
    Member(String),
    /// A part of the take-off, by label.
    Part(String),
    /// A stick or sheet of stock, by size name.
    Stock(String),
    /// A photograph, by id.
    Photo(String),
    /// A page to print, by its number.
    Page(usize),
    /// Something that stands near the track and is no member, by name.
    Obstacle(String),
    /// A string of lamps, a load or their supply, by name.
    Lamp(String),
    /// A feature of the look, by key.
    Feature(String),
    /// A size that can be measured on the mock-up, by name.
    Measured(String),
}

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// Worth knowing; nothing to do.
    Note,
    /// The result stands, but look here.
    Look,
    /// Something asked for could not be done.
    Trouble,
}

/// The stage that noticed something, in the order of the work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// A sum that needs no job.
    #[default]
    Desk,
    /// Readings and ties.
    Survey,
    /// Photographs.
    Photo,
    /// Faces laid out.
    Faces,
    /// What the job says against itself.
    Agreement,
    /// The alternatives.
    Compress,
    /// Stock for each section.
    Stock,
    /// Sizes on the model.
    Scaling,
    /// The mock-up held against the plan.
    MockUp,
    /// The building in three dimensions.
    Building,
    /// The parts.
    Takeoff,
    /// Sticks and sheets.
    Cutting,
    /// The track.
    Clearance,
    /// The lamps.
    Lamps,
    /// Pages to print.
    Templates,
}

impl Stage {
    /// All of them.
    pub const ALL: &'static [Self] = &[
        Self::Desk,
        Self::Survey,
        Self::Photo,
        Self::Faces,
        Self::Agreement,
        Self::Compress,
        Self::Stock,
        Self::Scaling,
        Self::MockUp,
        Self::Building,
        Self::Takeoff,
        Self::Cutting,
        Self::Clearance,
        Self::Lamps,
        Self::Templates,
    ];

    /// The same findings, as this stage's.
    pub fn noticed(self, findings: Vec<Finding>) -> impl Iterator<Item = Finding> {
        findings.into_iter().map(move |finding| Finding { stage: self, ..finding })
    }
}

/// One thing a stage wants the person to see.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// The stage that noticed it.
    pub stage: Stage,
    /// What it speaks of.
    pub subject: Subject,
    /// How much it matters.
    pub severity: Severity,
    /// The fact, in one sentence.
    pub message: String,
    /// What to do about it; may be empty.
    pub hint: String,
    /// Inches of the building it costs, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost_in: Option<f64>,
}

impl Finding {
    /// The same with what it costs.
    #[must_use]
    pub fn costing(self, inches: f64) -> Self {
        Self { cost_in: Some(inches), ..self }
    }

    /// A finding that asks for a look.
    pub fn look(subject: Subject, message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::new(Severity::Look, subject, message, hint)
    }

    /// A finding that is only worth knowing.
    pub fn note(subject: Subject, message: impl Into<String>) -> Self {
        Self::new(Severity::Note, subject, message, "")
    }

    /// A finding for something that could not be done.
    pub fn trouble(subject: Subject, message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::new(Severity::Trouble, subject, message, hint)
    }

    fn new(
        severity: Severity,
        subject: Subject,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        let (message, hint) = (short::message(&message.into()), short::message(&hint.into()));
        Self { stage: Stage::default(), subject, severity, message, hint, cost_in: None }
    }
}

/// Why a stage cannot go on: what was being done, to what, and a hint.
#[derive(Clone, Debug, PartialEq, Serialize, thiserror::Error)]
#[error("{doing}: {trouble}")]
pub struct Stop {
    /// What the stage was doing, and to what.
    pub doing: String,
    /// What went wrong.
    pub trouble: String,
    /// What the person can do; may be empty.
    pub hint: String,
    /// Whether there is nothing to do yet, and nothing failed.
    #[serde(skip)]
    pub idle: bool,
}

impl Stop {
    /// A stop where there is nothing to do yet.
    pub fn idle(
        doing: impl Into<String>,
        trouble: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self { idle: true, ..Self::new(doing, trouble, hint) }
    }

    /// A stop with its hint.
    pub fn new(
        doing: impl Into<String>,
        trouble: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self {
            doing: short::cut(&doing.into(), 120),
            trouble: short::message(&trouble.into()),
            hint: short::message(&hint.into()),
            idle: false,
        }
    }

    /// The whole of it, the hint on a line of its own.
    #[must_use]
    pub fn told(&self) -> String {
        if self.hint.is_empty() { self.to_string() } else { format!("{self}\nhint: {}", self.hint) }
    }
}

/// What a stage hands on: its output and what it noticed.
#[derive(Clone, Debug)]
pub struct Outcome<T> {
    /// The output.
    pub value: T,
    /// What the person should see, in the order it was noticed.
    pub findings: Vec<Finding>,
}

/// The result of a stage.
pub type Staged<T> = Result<Outcome<T>, Stop>;
