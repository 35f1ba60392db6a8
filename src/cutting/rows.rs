//! The rows of a problem file: lengths as whole numbers of any one unit, or
//! with their units; rows as lists or as tables with names.

use toml::Value;

use crate::finding::Stop;
use crate::job::said::Said;
use crate::quantity::slack::WHOLE;
use crate::quantity::{Model, ModelLength};

/// One count of the grid for lengths in inches: every 64th is whole.
const GRID_THOU: f64 = 0.125;
/// One count for lengths in millimetres.
const GRID_MILLIMETRES: f64 = 0.01;

/// How the lengths of a file become whole numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Lengths {
    /// They are whole numbers.
    Counts,
    /// They have units; this is one count.
    Grid(ModelLength),
}

/// Which way a length that falls between two counts goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Round {
    /// What is wanted, and what a cut takes.
    Up,
    /// What there is.
    Down,
}

impl Lengths {
    /// With units where any of the values says one.
    pub(super) fn of<'a>(values: impl Iterator<Item = &'a Value>) -> Self {
        let mut texts = Vec::new();
        for value in values {
            gather(value, &mut texts);
        }
        let metric = |text: &&str| text.trim_end().ends_with('m');
        match texts.as_slice() {
            [] => Self::Counts,
            texts if texts.iter().any(metric) => {
                Self::Grid(ModelLength::millimetres(GRID_MILLIMETRES))
            }
            _ => Self::Grid(ModelLength::thou(GRID_THOU)),
        }
    }

    /// One count, where lengths have units.
    pub(super) fn grid(self) -> Option<ModelLength> {
        match self {
            Self::Counts => None,
            Self::Grid(grid) => Some(grid),
        }
    }

    /// A length as a whole number of counts.
    pub(super) fn read(self, value: &Value, round: Round) -> Result<i64, String> {
        match (self, value) {
            (Self::Counts, Value::Integer(number)) => Ok(*number),
            (Self::Grid(grid), Value::String(text)) => {
                let said: Said<Model> =
                    text.parse().map_err(|trouble| format!("\"{text}\": {trouble}"))?;
                let counts = said.length() / grid;
                let counts = match round {
                    Round::Up => (counts - WHOLE).ceil(),
                    Round::Down => (counts + WHOLE).floor(),
                };
                // Beyond what the solvers take it saturates and is refused there.
                Ok(counts as i64)
            }
            (Self::Grid(_), Value::Integer(0)) => Ok(0),
            (Self::Grid(_), Value::Integer(number)) => {
                Err(format!("{number} has no unit, and other lengths of the file have one"))
            }
            (_, other) => Err(format!("{other} is no length")),
        }
    }
}

/// Texts that stand where lengths do: all but words for the grain and names.
fn gather<'a>(value: &'a Value, texts: &mut Vec<&'a str>) {
    match value {
        Value::String(text) if text.starts_with(|c: char| c.is_ascii_digit() || c == '.') => {
            texts.push(text);
        }
        Value::Array(values) => values.iter().for_each(|value| gather(value, texts)),
        Value::Table(table) => {
            let lengths = table.iter().filter(|(key, _)| *key == "length" || *key == "width");
            lengths.for_each(|(_, value)| gather(value, texts));
        }
        _ => {}
    }
}

/// A row of a table of the file.
pub(super) struct Row<'a> {
    table: &'static str,
    number: usize,
    value: &'a Value,
    /// The names of its cells, in the order of a list.
    keys: &'static [&'static str],
}

/// The rows of a table; a row that is neither list nor table, or says a key
/// that is not known, is refused with its number.
pub(super) fn rows<'a>(
    table: &'static str,
    keys: &'static [&'static str],
    values: &'a [Value],
) -> Result<Vec<Row<'a>>, Stop> {
    let row = |(at, value): (usize, &'a Value)| {
        let row = Row { table, number: at + 1, value, keys };
        match value {
            Value::Array(cells) if cells.len() <= keys.len() => Ok(row),
            Value::Array(cells) => Err(row.stop(&format!("it has {} cells", cells.len()))),
            Value::Table(cells) => match cells.keys().find(|key| !keys.contains(&key.as_str())) {
                Some(key) => Err(row.stop(&format!("there is no key \"{key}\""))),
                None => Ok(row),
            },
            other => Err(row.stop(&format!("{other} is no row"))),
        }
    };
    values.iter().enumerate().map(row).collect()
}

impl<'a> Row<'a> {
    fn stop(&self, trouble: &str) -> Stop {
        let keys = self.keys.join(", ");
        Stop::new(
            format!("reading row {} of {}", self.number, self.table),
            trouble,
            format!(
                "a row is a list or a table of {keys}; counts and supplies are whole numbers from 0, a supply of -1 means as many as wanted"
            ),
        )
    }

    fn cell(&self, key: &str) -> Option<&'a Value> {
        match self.value {
            Value::Array(cells) => cells.get(self.keys.iter().position(|known| *known == key)?),
            value => value.get(key),
        }
    }

    /// A length that must be there.
    pub(super) fn length(&self, key: &str, lengths: Lengths, round: Round) -> Result<i64, Stop> {
        let value = self.cell(key).ok_or_else(|| self.stop(&format!("its {key} is missing")))?;
        lengths.read(value, round).map_err(|trouble| self.stop(&format!("{key}: {trouble}")))
    }

    /// A whole number, or another where the cell is absent.
    pub(super) fn number(&self, key: &str, otherwise: i64) -> Result<i64, Stop> {
        match self.cell(key) {
            None => Ok(otherwise),
            Some(Value::Integer(number)) => Ok(*number),
            Some(other) => Err(self.stop(&format!("{key}: {other} is no whole number"))),
        }
    }

    /// A number of things.
    pub(super) fn count(&self, key: &str) -> Result<u32, Stop> {
        let number = self.number(key, 1)?;
        u32::try_from(number).map_err(|_| self.stop(&format!("{key}: {number} is not a count")))
    }

    /// How many there are; nothing for as many as wanted.
    pub(super) fn supply(&self) -> Result<Option<u32>, Stop> {
        match self.number("supply", -1)? {
            -1 => Ok(None),
            number => u32::try_from(number)
                .map(Some)
                .map_err(|_| self.stop(&format!("supply: {number} is not a count"))),
        }
    }

    /// Whether the grain leaves a part free to be turned.
    pub(super) fn turns(&self, otherwise: bool) -> Result<bool, Stop> {
        match self.cell("grain") {
            None => Ok(otherwise),
            Some(Value::String(word)) if word == "any" => Ok(true),
            Some(Value::String(word)) if word == "along" => Ok(false),
            Some(other) => {
                Err(self.stop(&format!("grain: {other} is neither \"along\" nor \"any\"")))
            }
        }
    }
}
