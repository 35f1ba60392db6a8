//! What stands in a cell: a value, not its text.
//!
//! A cell knows what it holds; its [`Column`](super::column::Column) knows how
//! that is written. Text, sorting and JSON follow from both.

use std::cmp::Ordering;

use serde::Serialize;
use serde_json::Value;

use super::column::Sense;
use super::table::Table;
use crate::job::said::Said;
use crate::quantity::{
    Angle, Current, Length, Model, Power, Resistance, Space, Stepped, Steps, Unit, Voltage, Written,
};

/// The value in a cell.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Cell {
    /// Nothing is known: null in JSON, the blank of its column on the screen.
    #[default]
    None,
    /// The column does not speak of this row: no key in JSON, nothing on the
    /// screen.
    Absent,
    /// Words.
    Text(String),
    /// A whole number.
    Count(i64),
    /// A plain number.
    Number(f64),
    /// Yes or no.
    Flag(bool),
    /// A sum of money in the smallest coin.
    Money(i64),
    /// A length, and the world it is of.
    Length(Measure),
    /// An angle.
    Angle(Angle),
    /// A voltage.
    Voltage(Voltage),
    /// A current.
    Current(Current),
    /// A resistance.
    Resistance(Resistance),
    /// A power.
    Power(Power),
    /// From one value to another.
    Interval(Box<[Cell; 2]>),
    /// A value with words of its own on the screen; it sorts and is told in JSON
    /// as the value.
    Said(String, Box<Cell>),
    /// Values one after the other.
    List(Vec<Cell>),
    /// Values by name.
    Map(Vec<(String, Cell)>),
    /// Rows of their own: a list in JSON, a table of its own on the screen.
    Table(Box<Table>),
}

/// A length of any world.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// The world it is of.
    pub world: &'static str,
    metres: f64,
}

impl Measure {
    /// The length in a unit.
    #[must_use]
    pub fn amount(self, unit: Unit) -> f64 {
        let length = self.length();
        match unit {
            Unit::Inch => length.in_inches(),
            Unit::Thou => length.in_thou(),
            Unit::Foot => length.in_feet(),
            Unit::Millimetre => length.in_millimetres(),
            Unit::Metre => length.in_metres(),
            other => length.in_inches() / other.in_inches(),
        }
    }

    /// The same size without its world, for those that only write it.
    #[must_use]
    pub fn length(self) -> Length<Model> {
        Length::metres(self.metres)
    }
}

impl<S: Space> From<Length<S>> for Measure {
    fn from(length: Length<S>) -> Self {
        Self { world: S::NAME, metres: length.in_metres() }
    }
}

impl Stepped for Measure {
    fn steps(&self, unit: Unit, parts: u64) -> Option<Steps> {
        self.length().steps(unit, parts)
    }
}

impl Cell {
    /// A value said in words of its own.
    pub fn said(words: impl Into<String>, value: impl Into<Self>) -> Self {
        Self::Said(words.into(), Box::new(value.into()))
    }

    /// Words on the screen for a value that serialises itself in JSON.
    pub fn worded(words: impl Into<String>, value: impl Serialize) -> Self {
        Self::said(words, Self::data(value))
    }

    /// From one value to another.
    pub fn interval(from: impl Into<Self>, to: impl Into<Self>) -> Self {
        Self::Interval(Box::new([from.into(), to.into()]))
    }

    /// Values one after the other.
    pub fn list<C: Into<Self>>(values: impl IntoIterator<Item = C>) -> Self {
        Self::List(values.into_iter().map(Into::into).collect())
    }

    /// Values by name.
    pub fn map<N: Into<String>, C: Into<Self>>(values: impl IntoIterator<Item = (N, C)>) -> Self {
        Self::Map(values.into_iter().map(|(name, cell)| (name.into(), cell.into())).collect())
    }

    /// A value that serialises itself: a kind by its word, a finding, a stop.
    pub fn data(value: impl Serialize) -> Self {
        serde_json::to_value(value).map_or(Self::None, Self::from)
    }

    /// Whether there is nothing to show.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        match self {
            Self::None | Self::Absent => true,
            Self::Text(words) | Self::Said(words, _) => words.is_empty(),
            Self::List(cells) => cells.is_empty(),
            _ => false,
        }
    }

    /// What it holds; nothing where that is not known.
    #[must_use]
    pub fn sense(&self) -> Option<Sense> {
        Some(match self {
            Self::None | Self::Absent => return None,
            Self::Text(_) | Self::Flag(_) | Self::Map(_) => Sense::Text,
            Self::Count(_) => Sense::Count,
            Self::Number(_) => Sense::Number,
            Self::Money(_) => Sense::Money,
            Self::Length(_) => Sense::Length,
            Self::Angle(_) => Sense::Angle,
            Self::Voltage(_) | Self::Current(_) | Self::Resistance(_) | Self::Power(_) => {
                Sense::Electric
            }
            Self::Interval(ends) => return ends[0].sense(),
            Self::Said(_, value) => return value.sense(),
            Self::List(cells) => return cells.iter().find_map(Self::sense),
            Self::Table(_) => Sense::Rows,
        })
    }

    /// The number it sorts by; nothing for words.
    #[must_use]
    pub fn worth(&self) -> Option<f64> {
        match self {
            Self::Count(count) | Self::Money(count) => Some(*count as f64),
            Self::Number(number) => Some(*number),
            Self::Flag(flag) => Some(f64::from(u8::from(*flag))),
            Self::Length(measure) => Some(measure.metres),
            Self::Angle(angle) => Some(angle.in_radians()),
            Self::Voltage(volts) => Some(volts.in_volts()),
            Self::Current(amperes) => Some(amperes.in_amperes()),
            Self::Resistance(ohms) => Some(ohms.in_ohms()),
            Self::Power(watts) => Some(watts.in_watts()),
            Self::Interval(ends) => ends[0].worth(),
            Self::Said(_, value) => value.worth(),
            Self::List(cells) => cells.first().and_then(Self::worth),
            Self::Table(table) => Some(table.rows.len() as f64),
            Self::None | Self::Absent | Self::Text(_) | Self::Map(_) => None,
        }
    }

    /// The order of two cells of a column: figures, then words, then nothing.
    #[must_use]
    pub fn compare(&self, other: &Self) -> Ordering {
        let rank = |cell: &Self| match (cell.worth(), cell.is_empty()) {
            (Some(_), _) => 0,
            (None, false) => 1,
            (None, true) => 2,
        };
        match (self.worth(), other.worth()) {
            (Some(one), Some(two)) => one.total_cmp(&two),
            _ => rank(self).cmp(&rank(other)).then_with(|| self.words().cmp(other.words())),
        }
    }

    fn words(&self) -> &str {
        match self {
            Self::Text(words) | Self::Said(words, _) => words,
            Self::List(cells) => cells.first().map_or("", Self::words),
            _ => "",
        }
    }
}

macro_rules! into_cell {
    ($($from:ty => |$value:ident| $cell:expr;)*) => {$(
        impl From<$from> for Cell {
            fn from($value: $from) -> Self {
                $cell
            }
        }
    )*};
}

into_cell! {
    &str => |words| Self::Text(words.to_owned());
    &&str => |words| Self::Text((*words).to_owned());
    &String => |words| Self::Text(words.clone());
    String => |words| Self::Text(words);
    u8 => |count| Self::Count(count.into());
    u16 => |count| Self::Count(count.into());
    u32 => |count| Self::Count(count.into());
    i32 => |count| Self::Count(count.into());
    i64 => |count| Self::Count(count);
    u64 => |count| Self::Count(i64::try_from(count).unwrap_or(i64::MAX));
    usize => |count| Self::Count(i64::try_from(count).unwrap_or(i64::MAX));
    f64 => |number| Self::Number(number);
    bool => |flag| Self::Flag(flag);
    Angle => |angle| Self::Angle(angle);
    Voltage => |volts| Self::Voltage(volts);
    Current => |amperes| Self::Current(amperes);
    Resistance => |ohms| Self::Resistance(ohms);
    Power => |watts| Self::Power(watts);
    Table => |table| Self::Table(Box::new(table));
}

impl<S: Space> From<Length<S>> for Cell {
    fn from(length: Length<S>) -> Self {
        Self::Length(length.into())
    }
}

/// As it was written; it sorts as what it is.
impl<S: Space> From<&Written<S>> for Cell {
    fn from(written: &Written<S>) -> Self {
        Self::said(written.text(), written.length())
    }
}

/// As it was written; it sorts as what it is.
impl<S: Space> From<&Said<S>> for Cell {
    fn from(said: &Said<S>) -> Self {
        Self::said(said.text(), said.length())
    }
}

impl<C: Into<Self>> From<Option<C>> for Cell {
    fn from(value: Option<C>) -> Self {
        value.map_or(Self::None, Into::into)
    }
}

impl<C: Into<Self>> From<Vec<C>> for Cell {
    fn from(values: Vec<C>) -> Self {
        Self::list(values)
    }
}

impl<C: Into<Self>, const N: usize> From<[C; N]> for Cell {
    fn from(values: [C; N]) -> Self {
        Self::list(values)
    }
}

impl From<&[String]> for Cell {
    fn from(values: &[String]) -> Self {
        Self::list(values)
    }
}

impl From<&Vec<String>> for Cell {
    fn from(values: &Vec<String>) -> Self {
        Self::list(values)
    }
}

impl From<Value> for Cell {
    fn from(value: Value) -> Self {
        match value {
            Value::Null => Self::None,
            Value::Bool(flag) => Self::Flag(flag),
            Value::Number(number) => match number.as_i64() {
                Some(count) => Self::Count(count),
                None => number.as_f64().map_or(Self::None, Self::Number),
            },
            Value::String(words) => Self::Text(words),
            Value::Array(values) => Self::list(values),
            Value::Object(values) => Self::map(values),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{ModelLength, PrototypeLength};

    #[test]
    fn cells_sort_by_what_they_are_worth_and_nothing_comes_last() {
        let feet = |feet| Cell::from(PrototypeLength::feet(feet));
        assert_eq!(feet(3.0).compare(&feet(12.5)), Ordering::Less);
        let thou = Cell::from(ModelLength::thou(9.0));
        assert_eq!(thou.compare(&Cell::from(ModelLength::inches(1.0))), Ordering::Less);
        let picked = Cell::said("560 ohm *", 560_u32);
        assert_eq!(picked.compare(&Cell::from(1_000_u32)), Ordering::Less);
        assert_eq!(Cell::from("2x10").compare(&Cell::from("12 ft")), Ordering::Greater);
        for cell in [feet(1.0), Cell::from("a")] {
            assert_eq!(cell.compare(&Cell::None), Ordering::Less);
        }
    }

    #[test]
    fn a_length_keeps_its_bits_and_its_world() {
        let length = PrototypeLength::inches(150.3);
        let Cell::Length(measure) = Cell::from(length) else { panic!("a length") };
        assert!(measure.amount(Unit::Inch).to_bits() == length.in_inches().to_bits());
        assert_eq!(measure.world, "prototype");
    }
}
