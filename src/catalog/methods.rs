//! Ways to take a reading, and what each is worth: `data/methods.toml`.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::row::{Tag, keyed, merge, own, rows};
use super::{DataFile, double_trouble};
use crate::quantity::{Length, Prototype, PrototypeLength, Written};

/// The word printed beside a dimension for how it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// With a tape or a distance meter.
    Taped,
    /// By paces.
    Paced,
    /// By angle or shadow.
    Sighted,
    /// By counting a unit.
    Counted,
    /// From a photograph.
    Scaled,
    /// From a map, deed or caption.
    Recorded,
    /// By guess.
    Assumed,
}

/// A way to take a reading.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Method {
    /// What the job file calls it.
    pub key: String,
    /// What it is.
    pub name: String,
    /// The word beside its dimensions.
    pub kind: Kind,
    /// The part of its standard uncertainty that does not grow with the value.
    pub fixed: Option<Written<Prototype>>,
    /// The part that does, as a share of the value.
    #[serde(default)]
    pub relative: f64,
    /// How well the tape is held at its zero, where readings share a pull.
    pub zero: Option<Written<Prototype>>,
    /// Standard uncertainty of a sight, in degrees.
    pub angle: Option<f64>,
    /// The figures it can be worked out from, and what each is.
    #[serde(default)]
    pub inputs: BTreeMap<String, String>,
    /// What to bear in mind.
    #[serde(default)]
    pub note: String,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

impl Method {
    /// The standard uncertainty of a value read this way.
    #[must_use]
    pub fn sigma(&self, value: PrototypeLength) -> PrototypeLength {
        let fixed = self.fixed.as_ref().map_or(Length::ZERO, Written::length);
        let relative = value * self.relative;
        PrototypeLength::metres(fixed.in_metres().hypot(relative.in_metres()))
    }
}

/// The methods.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Methods {
    /// The rows, in the order of the file.
    #[serde(default, rename = "method")]
    pub rows: Vec<Method>,
}

impl Methods {
    /// The method of that key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Method> {
        keyed(&self.rows, key)
    }
}

rows! { Method, self => self.key.clone(); }

impl DataFile for Methods {
    const NAME: &'static str = "methods.toml";

    fn trouble(&self) -> Option<String> {
        let unsound = |row: &&Method| {
            !row.relative.is_finite()
                || row.relative < 0.0
                || row.fixed.as_ref().is_some_and(|fixed| fixed.exact().in_inches().is_negative())
                || (row.fixed.is_none() && row.relative <= 0.0)
        };
        let bad = self.rows.iter().find(unsound);
        double_trouble(&self.rows)
            .or_else(|| bad.map(|row| format!("the uncertainty of {} is not above 0", row.key)))
    }

    fn merged(&self, own: &Self) -> Self {
        Self { rows: merge(&self.rows, &own.rows) }
    }
}
