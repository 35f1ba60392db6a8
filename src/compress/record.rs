//! The compression record: every dimension that was changed, with what it was,
//! what it is, by which rule, and why.

use crate::elevation::sized::Face;
use crate::elevation::{Elevation, Faces, SpanKind};
use crate::finding::Subject;
use crate::job::Job;
use crate::job::face::{Element, ElementKind};
use crate::job::place::RoofFollows;
use crate::job::said::Size;
use crate::job::wall::Wall;
use crate::quantity::{
    Compressed, CompressedLength, ModelLength, Prototype, PrototypeLength, Scale,
};
use crate::survey::Survey;

use super::Compression;

/// What was changed about one building, to stand behind the model.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// What must survive, in the person's words.
    pub intent: String,
    /// What is built, in words.
    pub built_as: String,
    /// What was given up, in words.
    pub lost: Vec<String>,
    /// Dimensions that were changed: the body first, then face by face.
    pub changes: Vec<Change>,
    /// Repeats that were dropped or added.
    pub counts: Vec<CountChange>,
    /// Why, in the person's words; empty where nothing is chosen yet.
    pub reason: String,
    /// When, as the person wrote it.
    pub date: String,
}

/// One dimension that was changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Its name: `length`, `depth`, or `face: element`.
    pub name: String,
    /// What it is on the prototype.
    pub prototype: PrototypeLength,
    /// One standard uncertainty of that, where it was measured.
    pub sigma: Option<PrototypeLength>,
    /// What is built, at full size.
    pub used: CompressedLength,
    /// What is built, on the model.
    pub model: ModelLength,
    /// What it would have been on the model.
    pub uncut: ModelLength,
    /// By which rule.
    pub rule: Rule,
    /// Whether it was put on whole inches or boards afterwards.
    pub snapped: bool,
    /// What a row about it speaks of.
    pub subject: Subject,
}

/// A number of repeats that was changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CountChange {
    /// The repeated element.
    pub name: String,
    /// How many the prototype has.
    pub was: u32,
    /// How many are built.
    pub is: u32,
}

/// The rule by which a dimension was changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rule {
    /// It follows from what was dropped and trimmed.
    Sum,
    /// Bays made narrower.
    TrimBays,
    /// Plain wall made shorter.
    TrimPlainWall,
    /// The building made shallower.
    Depth,
    /// Cut at the ridge against the backdrop.
    HalfRelief,
    /// The front alone.
    FrontAlone,
    /// Storeys left out.
    FewerStoreys,
    /// The ridge follows the pitch.
    KeepPitch,
    /// The pitch follows the ridge.
    KeepRidge,
    /// Set by hand, as it was found right on the mock-up.
    SetByHand,
}

impl Rule {
    /// The rule in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Sum => "sum of what was dropped and trimmed",
            Self::TrimBays => "trim bays",
            Self::TrimPlainWall => "trim plain wall",
            Self::Depth => "depth cut",
            Self::HalfRelief => "half relief",
            Self::FrontAlone => "front alone",
            Self::FewerStoreys => "storeys left out",
            Self::KeepPitch => "pitch kept, ridge lowered",
            Self::KeepRidge => "ridge kept, pitch raised",
            Self::SetByHand => "set by hand",
        }
    }
}

/// The record of what is built.
#[must_use]
pub fn record(
    job: &Job,
    survey: &Survey,
    faces: &Faces,
    compression: &Compression,
    scale: &Scale,
) -> Record {
    let chosen = compression.chosen();
    let snapped = chosen.exact.is_some();
    let mut at = Gather { survey, scale, changes: Vec::new() };
    at.body(job, faces, compression);
    for (was, is) in faces.faces.iter().zip(&compression.built.faces) {
        let row = wall(job, &was.name);
        at.face(was, is, row.map_or(&[], |face| face.row.as_slice()), snapped);
    }
    let said = job.choice.as_ref();
    Record {
        intent: job.about.intent.clone(),
        built_as: chosen.words.clone(),
        lost: chosen.lost.clone(),
        changes: at.changes,
        counts: counts(faces, chosen.decision.as_ref()),
        reason: said.map(|said| said.reason.clone()).unwrap_or_default(),
        date: said.map(|said| said.date.clone()).unwrap_or_default(),
    }
}

/// What the job says of a wall of that name.
fn wall<'a>(job: &'a Job, name: &str) -> Option<&'a Wall> {
    job.walls.iter().find(|wall| wall.of.to_string() == name)
}

/// Repeats whose number was changed.
fn counts(faces: &Faces, decision: Option<&super::Decision>) -> Vec<CountChange> {
    let Some(decision) = decision else { return Vec::new() };
    let front = faces.front;
    let shortened = |row: &&Face| row.id.body == faces.front_row().id.body;
    let slots = (faces.rows.iter().enumerate())
        .filter(|(_, face)| shortened(face))
        .flat_map(|(at, face)| super::tally::slots(face, at == front));
    slots
        .filter_map(|(name, times)| {
            let is = *decision.counts.get(&name)?;
            (is != times.count).then_some(CountChange { name, was: times.count, is })
        })
        .collect()
}

struct Gather<'a> {
    survey: &'a Survey,
    scale: &'a Scale,
    changes: Vec<Change>,
}

impl Gather<'_> {
    fn body(&mut self, job: &Job, faces: &Faces, compression: &Compression) {
        let (was, is) = (&faces.body, &compression.built.body);
        let front = job.wall(&faces.front_row().id);
        let main = job.main();
        let length = front.and_then(|face| face.length.as_ref());
        let length = length.or_else(|| main.and_then(|main| main.length.as_ref()));
        let depth = main.and_then(|main| main.depth.as_ref());
        let alone = main.is_some_and(crate::job::body::Body::is_one_wall);
        let eave = main.and_then(|main| main.eave.as_ref());
        let ridge = job.main_roof().and_then(|roof| roof.ridge.as_ref());
        let (of_depth, of_ridge) = match compression.built.roof {
            RoofFollows::HalfRelief => (Rule::HalfRelief, Rule::HalfRelief),
            RoofFollows::Flat => (Rule::FrontAlone, Rule::FrontAlone),
            RoofFollows::KeepRidge => (Rule::Depth, Rule::KeepRidge),
            RoofFollows::KeepPitch => (Rule::Depth, Rule::KeepPitch),
        };
        let set = compression.chosen().decision.as_ref().map(|it| it.set).unwrap_or_default();
        let by_hand = |is: bool, rule: Rule| if is { Rule::SetByHand } else { rule };
        let of_eave = by_hand(set.eave.is_some(), Rule::FewerStoreys);
        let of_ridge = by_hand(set.ridge.is_some(), of_ridge);
        for (name, was, is, size, rule) in [
            ("length", was.length, is.length, length, Rule::Sum),
            ("depth", was.depth, is.depth, depth, of_depth),
            ("eave", was.eave, is.eave, eave, of_eave),
            ("ridge", was.ridge, is.ridge, ridge, of_ridge),
        ] {
            if !(alone && matches!(name, "depth" | "ridge")) {
                self.push(name.to_owned(), was, is, size, rule, Subject::Job);
            }
        }
    }

    /// The elements of one face, each once.
    fn face(
        &mut self,
        was: &Elevation<Prototype>,
        is: &Elevation<Compressed>,
        row: &[Element],
        snapped: bool,
    ) {
        let mut seen: Vec<&str> = Vec::new();
        for span in &was.spans {
            if seen.contains(&span.element.as_str()) {
                continue;
            }
            seen.push(&span.element);
            let rule = match span.kind {
                SpanKind::Bay => Rule::TrimBays,
                SpanKind::Plain => Rule::TrimPlainWall,
                SpanKind::Corner | SpanKind::Opening => continue,
            };
            let Some(now) = is.spans.iter().find(|now| now.element == span.element) else {
                continue;
            };
            let name = format!("{}: {}", was.name, span.element);
            let subject = Subject::Element(format!("{}/{}", was.name, span.element));
            let before = self.changes.len();
            let width = now.right - now.left;
            self.push(
                name,
                span.right - span.left,
                width,
                width_of(row, &span.element),
                rule,
                subject,
            );
            self.changes[before..].iter_mut().for_each(|change| change.snapped = snapped);
        }
    }

    fn push(
        &mut self,
        name: String,
        prototype: PrototypeLength,
        used: CompressedLength,
        size: Option<&Size>,
        rule: Rule,
        subject: Subject,
    ) {
        let kept = CompressedLength::kept(prototype);
        if kept.agrees(used, CompressedLength::inches(1.0 / 128.0)) {
            return;
        }
        let measured = size.and_then(|size| self.survey.size(size).ok()?.measured);
        self.changes.push(Change {
            name,
            prototype,
            sigma: measured.map(|measured| measured.sigma),
            used,
            model: self.scale.reduce(used),
            uncut: self.scale.reduce(prototype),
            rule,
            snapped: false,
            subject,
        });
    }
}

/// The width the job gives an element, found by its name at any depth.
fn width_of<'a>(row: &'a [Element], name: &str) -> Option<&'a Size> {
    row.iter().find_map(|element| match &element.kind {
        ElementKind::Repeat { row, .. } => width_of(row, name),
        ElementKind::Plain { width, .. } | ElementKind::Bays { width, .. } => {
            (element.name == name).then_some(width)
        }
        _ => None,
    })
}
