//! A column: its id, its head, and how its cells are written.
//!
//! The id is the key in JSON. A length is told there in the unit its id ends in
//! (`length_in`, `error_thou`, `wide_mm`), so that key and figure cannot
//! disagree.

use super::cell::Cell;
use super::table::Table;
use crate::catalog::rack::coins;
use crate::quantity::{Notation, Unit, spread};

/// A column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its name among the columns of its table; the key in JSON.
    pub id: String,
    /// Whether JSON has it.
    pub told: bool,
    /// Its head on the screen; nothing where only JSON has it.
    pub head: Option<String>,
    /// What its cells hold.
    pub sense: Sense,
    /// How they are written.
    pub form: Form,
    /// What stands there where nothing is known.
    pub blank: &'static str,
    /// For rows within rows: their columns.
    pub inner: Option<Box<Table>>,
}

/// What the cells of a column hold.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sense {
    /// Words.
    #[default]
    Text,
    /// A whole number.
    Count,
    /// A number.
    Number,
    /// A share of one, shown in percent.
    Percent,
    /// A length.
    Length,
    /// An angle.
    Angle,
    /// Volts, amperes, ohms or watts.
    Electric,
    /// A sum of money, in hundredths.
    Money,
    /// Rows of their own.
    Rows,
}

impl Sense {
    /// The word for it in the list of keys.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Count => "count",
            Self::Number => "number",
            Self::Percent => "share",
            Self::Length => "length",
            Self::Angle => "angle",
            Self::Electric => "volts, amperes, ohms or watts",
            Self::Money => "money",
            Self::Rows => "rows",
        }
    }
}

/// How cells are written.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Form {
    /// As the value writes itself.
    #[default]
    Plain,
    /// A length in the notation of the person.
    By(Notation),
    /// A standard uncertainty in a unit: `±0.41 in`.
    Spread(Unit),
    /// A figure.
    Figure(Figure),
}

/// A figure with so many places.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Figure {
    /// Places after the point.
    pub places: usize,
    /// Whether a plus is written.
    pub sign: bool,
    /// The unit a length is counted in.
    pub unit: Option<Unit>,
    /// What stands behind the figure.
    pub tail: &'static str,
}

fn column(id: &str, head: &str, sense: Sense, form: Form) -> Column {
    let head = Some(head.to_owned());
    Column { id: id.to_owned(), told: true, head, sense, form, blank: "", inner: None }
}

fn figure(places: usize, unit: Option<Unit>, tail: &'static str) -> Form {
    Form::Figure(Figure { places, sign: false, unit, tail })
}

/// Words.
#[must_use]
pub fn text(id: &str, head: &str) -> Column {
    column(id, head, Sense::Text, Form::Plain)
}

/// A whole number.
#[must_use]
pub fn count(id: &str, head: &str) -> Column {
    column(id, head, Sense::Count, Form::Plain)
}

/// A number with so many places.
#[must_use]
pub fn number(id: &str, head: &str, places: usize) -> Column {
    column(id, head, Sense::Number, figure(places, None, ""))
}

/// A share of one, shown in percent with so many places.
#[must_use]
pub fn percent(id: &str, head: &str, places: usize) -> Column {
    column(id, head, Sense::Percent, figure(places, None, "%"))
}

/// A length in a notation.
#[must_use]
pub fn length(id: &str, head: &str, notation: Notation) -> Column {
    column(id, head, Sense::Length, Form::By(notation))
}

/// A length as a bare figure; its head says the unit.
#[must_use]
pub fn bare(id: &str, head: &str, unit: Unit, places: usize) -> Column {
    column(id, head, Sense::Length, figure(places, Some(unit), ""))
}

/// The uncertainty of a length.
#[must_use]
pub fn uncertainty(id: &str, head: &str, unit: Unit) -> Column {
    column(id, head, Sense::Length, Form::Spread(unit))
}

/// An angle in degrees with so many places.
#[must_use]
pub fn angle(id: &str, head: &str, places: usize) -> Column {
    column(id, head, Sense::Angle, figure(places, None, "\u{b0}"))
}

/// Volts, amperes, ohms or watts.
#[must_use]
pub fn electric(id: &str, head: &str) -> Column {
    column(id, head, Sense::Electric, Form::Plain)
}

/// Money in hundredths.
#[must_use]
pub fn money(id: &str, head: &str) -> Column {
    column(id, head, Sense::Money, Form::Plain)
}

/// What only JSON has.
#[must_use]
pub fn only(id: &str) -> Column {
    Column { head: None, ..text(id, "") }
}

impl Column {
    /// The same, on the screen only.
    #[must_use]
    pub fn screen(self) -> Self {
        Self { told: false, ..self }
    }

    /// The same, in JSON only.
    #[must_use]
    pub fn hidden(self) -> Self {
        Self { head: None, ..self }
    }

    /// The same with another sign for what is not known.
    #[must_use]
    pub fn blank(self, blank: &'static str) -> Self {
        Self { blank, ..self }
    }

    /// The same figure with a plus where it is not below zero.
    #[must_use]
    pub fn signed(mut self) -> Self {
        if let Form::Figure(figure) = &mut self.form {
            figure.sign = true;
        }
        self
    }

    /// The same figure with a word behind it.
    #[must_use]
    pub fn tail(mut self, tail: &'static str) -> Self {
        if let Form::Figure(figure) = &mut self.form {
            figure.tail = tail;
        }
        self
    }

    /// The same with so many places, for what else writes itself.
    #[must_use]
    pub fn places(mut self, places: usize, tail: &'static str) -> Self {
        self.form = figure(places, None, tail);
        self
    }

    /// Whether cells are set to the right, as figures are.
    #[must_use]
    pub fn is_right(&self) -> bool {
        !matches!(self.sense, Sense::Text | Sense::Rows)
    }

    /// The head, where there is one.
    #[must_use]
    pub fn head(&self) -> &str {
        self.head.as_deref().unwrap_or_default()
    }

    /// The unit a length of this column has in JSON: the one its id ends in.
    #[must_use]
    pub fn unit(&self) -> Unit {
        unit_of(&self.id)
    }

    /// A cell of this column as it is shown.
    #[must_use]
    pub fn write(&self, cell: &Cell) -> String {
        match cell {
            Cell::None => self.blank.to_owned(),
            Cell::Absent => String::new(),
            Cell::Text(words) | Cell::Said(words, _) => words.clone(),
            Cell::Money(price) => coins(*price),
            Cell::Count(count) => count.to_string(),
            Cell::Number(number) if self.sense == Sense::Percent => self.figure(100.0 * number),
            Cell::Number(number) => self.figure(*number),
            Cell::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
            Cell::Length(measure) => match self.form {
                Form::By(notation) => notation.show(measure),
                Form::Spread(unit) => spread(measure.length(), unit),
                Form::Figure(Figure { unit: Some(unit), .. }) => self.figure(measure.amount(unit)),
                _ => Notation::BUILDING.show(measure),
            },
            Cell::Angle(angle) => self.figure(angle.in_degrees()),
            Cell::Voltage(volts) => self.electric(volts.in_volts(), volts),
            Cell::Current(amperes) => self.electric(amperes.in_amperes(), amperes),
            Cell::Resistance(ohms) => self.electric(ohms.in_ohms(), ohms),
            Cell::Power(watts) => self.electric(watts.in_watts(), watts),
            Cell::Interval(ends) => format!("{} to {}", self.write(&ends[0]), self.write(&ends[1])),
            Cell::List(cells) => self.joined(cells.iter().map(|cell| self.write(cell))),
            Cell::Map(cells) => {
                self.joined(cells.iter().map(|(name, cell)| format!("{name} {}", self.write(cell))))
            }
            Cell::Table(table) => table.rows.len().to_string(),
        }
    }

    fn joined(&self, texts: impl Iterator<Item = String>) -> String {
        texts.filter(|text| !text.is_empty()).collect::<Vec<_>>().join(", ")
    }

    fn figure(&self, value: f64) -> String {
        match self.form {
            Form::Figure(Figure { places, sign: true, tail, .. }) => {
                format!("{value:+.places$}{tail}")
            }
            Form::Figure(Figure { places, tail, .. }) => format!("{value:.places$}{tail}"),
            _ => value.to_string(),
        }
    }

    fn electric(&self, amount: f64, value: &dyn std::fmt::Display) -> String {
        match self.form {
            Form::Figure(_) => self.figure(amount),
            _ => value.to_string(),
        }
    }
}

/// The unit a key ends in; inches where it names none.
#[must_use]
pub fn unit_of(id: &str) -> Unit {
    match id.rsplit('_').next().unwrap_or_default() {
        "thou" => Unit::Thou,
        "mm" => Unit::Millimetre,
        "m" => Unit::Metre,
        "ft" => Unit::Foot,
        _ => Unit::Inch,
    }
}
