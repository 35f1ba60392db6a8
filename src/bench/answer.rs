//! What a sum comes to.

use super::look::Look;
use crate::finding::{Finding, Subject};
use crate::quantity::{
    Denominator, Length, Model, ModelLength, Notation, Prototype, PrototypeLength, Rational, Scale,
    significant,
};

/// The answer to one line.
#[derive(Clone, Debug, Default)]
pub struct Answer {
    /// Key of the sum.
    pub sum: &'static str,
    /// What was asked, as it was understood.
    pub title: String,
    /// The answer in a sentence or two.
    pub lead: Vec<String>,
    /// Its figures.
    pub figures: Vec<Figure>,
    /// What stands beside it: other eras, other sizes.
    pub lists: Vec<List>,
    /// The rule.
    pub rule: String,
    /// Where the rule comes from.
    pub source: String,
    /// The rule with the figures of this line put in.
    pub worked: String,
    /// Lines that ask for what lies next to it.
    pub near: Vec<String>,
    /// What can be drawn of it.
    pub drawn: Drawn,
    /// Whether the line named a scale.
    pub scale_named: bool,
    /// What the person should see.
    pub findings: Vec<Finding>,
}

/// What can be drawn of an answer.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Drawn {
    /// Nothing.
    #[default]
    Nothing,
    /// A length on a rule.
    Rule(ModelLength),
    /// An angle on a protractor, in degrees from level.
    Protractor(f64),
}

/// One figure of an answer.
#[derive(Clone, Debug)]
pub struct Figure {
    /// What it is.
    pub name: String,
    /// As it is written.
    pub text: String,
    /// In decimals, where that is written another way; else empty.
    pub decimal: String,
    /// On the model, where it has a size there; else empty.
    pub on_model: String,
    /// The number.
    pub value: f64,
    /// Its unit; empty for a plain number.
    pub unit: &'static str,
    /// Millimetres on the model, where it has a size there.
    pub model_mm: Option<f64>,
}

/// Rows beside an answer.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct List {
    /// Its heading.
    pub title: String,
    /// Heads of its columns; one that starts with `>` is set to the right.
    pub heads: Vec<String>,
    /// Its rows.
    pub rows: Vec<Vec<String>>,
}

impl List {
    /// An empty list.
    #[must_use]
    pub fn new(title: &str, heads: &[&str]) -> Self {
        let heads = heads.iter().map(|head| (*head).to_owned()).collect();
        Self { title: title.to_owned(), heads, rows: Vec::new() }
    }

    /// The list with another row.
    #[must_use]
    pub fn row<const N: usize>(mut self, cells: [String; N]) -> Self {
        self.rows.push(cells.into());
        self
    }
}

/// Digits of a figure: enough to be held against a table, without dust.
const DIGITS: u8 = 8;

/// A number as it is printed: no zeros behind the point that say nothing.
#[must_use]
pub(super) fn plain(value: f64) -> String {
    let text = significant(value, DIGITS);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

impl Figure {
    /// A number with its unit.
    pub fn number(name: impl Into<String>, value: f64, unit: &'static str) -> Self {
        let space = if unit.is_empty() || unit == "%" { "" } else { " " };
        Self {
            name: name.into(),
            text: format!("{}{space}{unit}", plain(value)),
            decimal: String::new(),
            on_model: String::new(),
            value,
            unit,
            model_mm: None,
        }
    }

    /// A length of the building, with its size on the model.
    pub fn full(name: impl Into<String>, length: PrototypeLength, by: (&Scale, Look)) -> Self {
        let model = by.0.reduce(length);
        let mut figure = Self::length(name, length, by.1.full, by.1);
        figure.on_model = on_model(model, by.1);
        figure.model_mm = Some(model.in_millimetres());
        figure
    }

    /// A length on the model.
    pub fn model(name: impl Into<String>, length: ModelLength, look: Look) -> Self {
        let mut figure = Self::length(name, length, look.model, look);
        figure.model_mm = Some(length.in_millimetres());
        figure
    }

    fn length<S: crate::quantity::Space>(
        name: impl Into<String>,
        length: Length<S>,
        notation: Notation,
        look: Look,
    ) -> Self {
        let (value, unit) = if look.is_metric() {
            (length.in_millimetres(), "mm")
        } else {
            (length.in_inches(), "in")
        };
        let also = if look.is_metric() {
            format!("{} in", plain(length.in_inches()))
        } else {
            format!("{} mm", plain(length.in_millimetres()))
        };
        Self {
            name: name.into(),
            text: notation.show(&length),
            decimal: format!("{} {unit}, {also}", plain(value)),
            on_model: String::new(),
            value,
            unit,
            model_mm: None,
        }
    }
}

/// A model length as the person reads it, with the other system beside it.
fn on_model(length: ModelLength, look: Look) -> String {
    let (mm, inches) = (length.in_millimetres(), length.in_inches());
    if look.is_metric() {
        format!("{} mm, {}", plain(mm), Notation::Inches(look.parts).show(&length))
    } else {
        format!(
            "{}, {} in, {} mm",
            Notation::Inches(look.parts).show(&length),
            significant(inches, 6),
            significant(mm, 6)
        )
    }
}

impl Answer {
    /// An answer without anything in it yet.
    pub fn new(sum: &'static str, title: impl Into<String>) -> Self {
        Self { sum, title: title.into(), ..Self::default() }
    }

    /// With a sentence of the answer.
    #[must_use]
    pub fn says(mut self, sentence: impl Into<String>) -> Self {
        self.lead.push(sentence.into());
        self
    }

    /// With a figure.
    #[must_use]
    pub fn figure(mut self, figure: Figure) -> Self {
        self.figures.push(figure);
        self
    }

    /// With a number as a figure.
    #[must_use]
    pub fn number(self, name: impl Into<String>, value: f64, unit: &'static str) -> Self {
        self.figure(Figure::number(name, value, unit))
    }

    /// With rows beside it, if there are any.
    #[must_use]
    pub fn list(mut self, list: List) -> Self {
        if !list.rows.is_empty() {
            self.lists.push(list);
        }
        self
    }

    /// With its rule, where that comes from, and a worked line.
    #[must_use]
    pub fn by(
        mut self,
        rule: impl Into<String>,
        source: impl Into<String>,
        worked: impl Into<String>,
    ) -> Self {
        (self.rule, self.source, self.worked) = (rule.into(), source.into(), worked.into());
        self
    }

    /// With lines that ask for what lies next to it.
    #[must_use]
    pub fn beside<const N: usize>(mut self, lines: [&str; N]) -> Self {
        self.near.extend(lines.map(str::to_owned));
        self
    }

    /// With a picture.
    #[must_use]
    pub fn drawn(mut self, drawn: Drawn) -> Self {
        self.drawn = drawn;
        self
    }

    /// With something worth knowing.
    #[must_use]
    pub fn note(mut self, message: impl Into<String>) -> Self {
        self.findings.push(Finding::note(Subject::Job, message));
        self
    }

    /// With something that asks for a look.
    #[must_use]
    pub fn look(mut self, message: impl Into<String>, hint: impl Into<String>) -> Self {
        self.findings.push(Finding::look(Subject::Job, message, hint));
        self
    }

    /// With something that cannot be.
    #[must_use]
    pub fn trouble(mut self, message: impl Into<String>, hint: impl Into<String>) -> Self {
        self.findings.push(Finding::trouble(Subject::Job, message, hint));
        self
    }

    /// The first figure of that name, for tests and for the screen.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Figure> {
        self.figures.iter().find(|figure| figure.name == name)
    }
}

/// An exact length in inches as `12'-6 1/2"`, with its fraction behind where no
/// sixty-fourth says it.
#[must_use]
pub(super) fn exactly(inches: Rational) -> String {
    let size: crate::quantity::Exact<Prototype> = crate::quantity::Exact::inches(inches);
    let shown = Notation::FeetInches(Denominator::SIXTY_FOURTHS).show(&size);
    if shown.ends_with(['+', '-']) && inches.denominator() < 1_000_000 {
        format!("{shown}, exactly {inches} in")
    } else {
        shown
    }
}

/// A model length read on a rule, in inches and millimetres.
#[must_use]
pub(super) fn read(length: Length<Model>, look: Look) -> String {
    let other = if look.is_metric() {
        Notation::Inches(look.parts).show(&length)
    } else {
        Notation::HUNDREDTHS.show(&length)
    };
    format!("{} ({other})", look.model.show(&length))
}
