//! Lines of values: a part, a field, a value in the units of the job.

use std::collections::BTreeSet;
use std::fmt::Display;

use scantling::quantity::{Angle, CompressedLength, ModelLength, Scale};

/// Square inches in a square foot and in a square metre.
const SQUARE_FOOT: f64 = 144.0;
const SQUARE_METRE: f64 = 1_000_000.0 / (25.4 * 25.4);

/// Collects the lines; a part and field that came before is not said again.
pub(crate) struct Out {
    scale: Scale,
    metric: bool,
    lines: Vec<String>,
    said: BTreeSet<(String, String)>,
}

impl Out {
    pub(crate) fn new(scale: Scale, metric: bool) -> Self {
        Self { scale, metric, lines: Vec::new(), said: BTreeSet::new() }
    }

    /// The scale of the model.
    pub(crate) fn scale(&self) -> &Scale {
        &self.scale
    }

    /// A text or a whole number.
    pub(crate) fn say(&mut self, part: &str, field: &str, value: impl Display) {
        if self.said.insert((part.to_owned(), field.to_owned())) {
            self.lines.push(format!("{part}\t{field}\t{value}"));
        }
    }

    /// One of several texts of a part and field.
    pub(crate) fn also(&mut self, part: &str, field: &str, value: impl Display) {
        self.lines.push(format!("{part}\t{field}\t{value}"));
    }

    fn figure(&mut self, part: &str, field: &str, value: f64) {
        // No zero with a sign.
        let value = if value.abs() < 5e-7 { 0.0 } else { value };
        self.say(part, field, format_args!("{value:.6}"));
    }

    /// A length of the building: at full size and on the model.
    pub(crate) fn full(&mut self, part: &str, field: &str, length: CompressedLength) {
        let (end, inch) = self.unit();
        self.figure(part, &format!("{field}_full_{end}"), length.in_inches() * inch);
        let on_model: ModelLength = self.scale.reduce(length);
        self.model(part, field, on_model);
    }

    /// The same in inches at full size.
    pub(crate) fn inches(&mut self, part: &str, field: &str, inches: f64) {
        self.full(part, field, CompressedLength::inches(inches));
    }

    /// A length on the model.
    pub(crate) fn model(&mut self, part: &str, field: &str, length: ModelLength) {
        let (end, inch) = self.unit();
        self.figure(part, &format!("{field}_{end}"), length.in_inches() * inch);
    }

    /// An angle.
    pub(crate) fn degrees(&mut self, part: &str, field: &str, angle: Angle) {
        self.figure(part, &format!("{field}_deg"), angle.in_degrees());
    }

    /// An area at full size, from square inches.
    pub(crate) fn area(&mut self, part: &str, square_inches: f64) {
        if self.metric {
            self.figure(part, "area_full_sqm", square_inches / SQUARE_METRE);
        } else {
            self.figure(part, "area_full_sqft", square_inches / SQUARE_FOOT);
        }
    }

    /// The end of a field's name, and units in an inch.
    fn unit(&self) -> (&'static str, f64) {
        if self.metric { ("mm", 25.4) } else { ("in", 1.0) }
    }

    /// A full-size figure as part of a label: whole where it is whole.
    pub(crate) fn in_label(&self, length: CompressedLength) -> String {
        let (_, inch) = self.unit();
        let figure = length.in_inches() * inch;
        let whole = figure.round();
        if (figure - whole).abs() < 0.005 {
            format!("{whole:.0}")
        } else {
            format!("{figure:.2}").trim_end_matches('0').to_owned()
        }
    }

    /// Every line.
    pub(crate) fn lines(&self) -> &[String] {
        &self.lines
    }
}
