//! The faces as tables: every element at its place, full size and model.
//!
//! JSON: `stop` (`doing`, `trouble`, `hint`) where the stage could not go on,
//! else `scale`, `body` (`length_in`, `depth_in`, `eave_in`, `ridge_in`,
//! `pitch`, and the same lengths as `model_..._in`), `faces[]` (`name`,
//! `title`, `length_in`, `height_in`, `ridge_in`, `gable`, `spans[]` with
//! `label`, `element`, `kind`, `left_in`, `right_in`, `holes[]` with `label`,
//! `kind`, `left_in`, `foot_in`, `width_in`, `height_in`, `trim_in`), all full
//! size in inches, and `findings[]`.

use serde_json::{Value, json};

use super::Seen;
use super::table::{Row, Table, View};
use crate::elevation::{Body, Elevation, Faces, Hole, Span, SpanKind};
use crate::finding::{Finding, Stop, Subject};
use crate::quantity::{FullSize, Length, ModelLength, Notation, PrototypeLength, Scale};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: faces", seen.job.about.name);
    let faces = match &seen.plan.faces {
        Ok(faces) => faces,
        Err(stop) => return stopped(title, stop),
    };
    let sizes = Sizes::of(seen);
    let mut tables = vec![body(&faces.body, &sizes)];
    for face in &faces.faces {
        tables.push(spans(face, &sizes));
        tables.push(holes(face, &sizes));
    }
    View {
        title,
        lead: lead(seen, faces, &sizes),
        tables: tables.into_iter().filter(|table| !table.rows.is_empty()).collect(),
        findings: noticed(seen),
        next: "compress: fit the building to its space".to_owned(),
    }
}

/// A view that only says why there is none.
pub(super) fn stopped(title: String, stop: &Stop) -> View {
    View { title, lead: vec![stop.to_string()], next: stop.hint.clone(), ..View::default() }
}

/// Full size and model size in the person's notation.
pub(super) struct Sizes {
    full: Notation,
    model: Notation,
    scale: Option<Scale>,
}

impl Sizes {
    pub(super) fn of(seen: Seen<'_>) -> Self {
        Self {
            full: seen.job.about.full_notation(),
            model: seen.job.about.model_notation(),
            scale: seen.plan.scale.as_ref().ok().cloned(),
        }
    }

    pub(super) fn full<S: FullSize>(&self, length: Length<S>) -> String {
        self.full.show(&length)
    }

    pub(super) fn model<S: FullSize>(&self, length: Length<S>) -> String {
        match &self.scale {
            Some(scale) => self.model.show(&scale.reduce(length)),
            None => "-".to_owned(),
        }
    }

    /// A model length by itself.
    pub(super) fn model_alone(&self, length: ModelLength) -> String {
        self.model.show(&length)
    }

    /// What a model length is at full size.
    pub(super) fn full_alone(&self, length: ModelLength) -> String {
        self.scale.as_ref().map_or("-".to_owned(), |scale| {
            let full: PrototypeLength = scale.enlarge(length);
            self.full.show(&full)
        })
    }

    /// A model length, and what it is at full size.
    pub(super) fn at_full(&self, length: ModelLength) -> String {
        let model = self.model.show(&length);
        match &self.scale {
            Some(scale) => {
                let full: PrototypeLength = scale.enlarge(length);
                format!("{model} ({})", self.full.show(&full))
            }
            None => model,
        }
    }

    fn model_in<S: FullSize>(&self, length: Length<S>) -> Option<f64> {
        self.scale.as_ref().map(|scale| scale.reduce(length).in_inches())
    }
}

fn lead(seen: Seen<'_>, faces: &Faces, sizes: &Sizes) -> Vec<String> {
    let front = faces.front();
    let deep = if faces.body.depth > Length::ZERO {
        let [deep, ridge] = [faces.body.depth, faces.body.ridge].map(|size| sizes.full(size));
        format!("depth {deep}, eave {}, ridge {ridge}", sizes.full(faces.body.eave))
    } else {
        format!("one wall alone, {} high", sizes.full(faces.body.eave))
    };
    let mut lead = vec![format!(
        "{}: {} long, {} on the model; {deep}.",
        front.title,
        sizes.full(front.length),
        sizes.model(front.length),
    )];
    if !seen.job.about.intent.is_empty() {
        lead.push(format!("What must survive: {}", seen.job.about.intent));
    }
    lead
}

fn body<S: FullSize>(body: &Body<S>, sizes: &Sizes) -> Table {
    let mut table = Table::new("Body", &["size", ">full size", ">model"]);
    for (what, length) in parts(body) {
        table.push(Row::plain(vec![what.to_owned(), sizes.full(length), sizes.model(length)]));
    }
    if body.depth > Length::ZERO {
        table.notes.push(format!(
            "pitch {:.3}, that is {}:12",
            body.pitch,
            plain(body.pitch * 12.0)
        ));
    }
    table
}

fn parts<S: FullSize>(body: &Body<S>) -> Vec<(&'static str, Length<S>)> {
    let all = [
        ("length", body.length),
        ("depth", body.depth),
        ("eave", body.eave),
        ("ridge", if body.depth > Length::ZERO { body.ridge } else { Length::ZERO }),
        ("eave overhang", body.eave_overhang),
        ("rake overhang", body.rake_overhang),
    ];
    all.into_iter().filter(|(_, length)| *length > Length::ZERO).collect()
}

/// A number without needless zeros.
pub(super) fn plain(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn spans<S: FullSize>(face: &Elevation<S>, sizes: &Sizes) -> Table {
    let heads = ["element", "what", ">from left", ">model", ">width", ">model"];
    let mut table = Table::new(&face.title, &heads);
    for span in &face.spans {
        let width = span.right - span.left;
        let subject = Subject::Element(format!("{}/{}", face.name, span.label));
        table.push(Row::about(
            subject,
            vec![
                span.label.clone(),
                word(span.kind).to_owned(),
                sizes.full(span.left),
                sizes.model(span.left),
                sizes.full(width),
                sizes.model(width),
            ],
        ));
    }
    table.notes.push("Mark from the left corner, not one from the next.".to_owned());
    table
}

fn word(kind: SpanKind) -> &'static str {
    match kind {
        SpanKind::Corner => "corner",
        SpanKind::Plain => "plain",
        SpanKind::Opening => "opening",
        SpanKind::Bay => "bay",
    }
}

fn holes<S: FullSize>(face: &Elevation<S>, sizes: &Sizes) -> Table {
    let heads = [
        "opening",
        "kind",
        ">from left",
        ">model",
        ">width",
        ">height",
        ">foot",
        ">model w",
        ">model h",
    ];
    let mut table = Table::new(&format!("{}: openings", face.title), &heads);
    for hole in &face.holes {
        let subject = Subject::Element(format!("{}/{}", face.name, hole.label));
        table.push(Row::about(
            subject,
            vec![
                hole.label.clone(),
                hole.kind.clone(),
                sizes.full(hole.left),
                sizes.model(hole.left),
                sizes.full(hole.width),
                sizes.full(hole.height),
                sizes.full(hole.foot),
                sizes.model(hole.width),
                sizes.model(hole.height),
            ],
        ));
    }
    table
}

/// What was noticed about faces.
fn noticed(seen: Seen<'_>) -> Vec<Finding> {
    let faces = |finding: &&Finding| matches!(finding.subject, Subject::Element(_));
    seen.plan.findings.iter().filter(faces).cloned().collect()
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    match &seen.plan.faces {
        Ok(faces) => json!({
            "scale": seen.plan.scale.as_ref().ok().map(|scale| &scale.name),
            "body": body_json(&faces.body, &Sizes::of(seen)),
            "faces": faces.faces.iter().map(face_json).collect::<Vec<_>>(),
            "findings": noticed(seen),
        }),
        Err(stop) => json!({ "stop": stop }),
    }
}

pub(super) fn body_json<S: FullSize>(body: &Body<S>, sizes: &Sizes) -> Value {
    json!({
        "length_in": body.length.in_inches(),
        "depth_in": body.depth.in_inches(),
        "eave_in": body.eave.in_inches(),
        "ridge_in": body.ridge.in_inches(),
        "pitch": body.pitch,
        "model_length_in": sizes.model_in(body.length),
        "model_depth_in": sizes.model_in(body.depth),
        "model_eave_in": sizes.model_in(body.eave),
        "model_ridge_in": sizes.model_in(body.ridge),
    })
}

pub(super) fn face_json<S: FullSize>(face: &Elevation<S>) -> Value {
    json!({
        "name": face.name,
        "title": face.title,
        "length_in": face.length.in_inches(),
        "height_in": face.height.in_inches(),
        "ridge_in": face.ridge.in_inches(),
        "gable": face.gable,
        "spans": face.spans.iter().map(span_json).collect::<Vec<_>>(),
        "holes": face.holes.iter().map(hole_json).collect::<Vec<_>>(),
    })
}

fn span_json<S: FullSize>(span: &Span<S>) -> Value {
    json!({
        "label": span.label,
        "element": span.element,
        "kind": word(span.kind),
        "left_in": span.left.in_inches(),
        "right_in": span.right.in_inches(),
    })
}

fn hole_json<S: FullSize>(hole: &Hole<S>) -> Value {
    json!({
        "label": hole.label,
        "kind": hole.kind,
        "left_in": hole.left.in_inches(),
        "foot_in": hole.foot.in_inches(),
        "width_in": hole.width.in_inches(),
        "height_in": hole.height.in_inches(),
        "trim_in": hole.trim.in_inches(),
    })
}
