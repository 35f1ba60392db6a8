//! Objects of known size: `data/objects.toml`.

use serde::Deserialize;

use super::row::{Tag, keyed, merge, own, rows};
use super::{DataFile, double_trouble};
use crate::quantity::{Prototype, Rational, Written};

/// An object whose size is known well enough to measure with.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct KnownObject {
    /// What it is called for.
    pub key: String,
    /// What it is.
    pub name: String,
    /// Its size.
    pub size: Written<Prototype>,
    /// One standard uncertainty of that size, from one such object to another.
    pub spread: Written<Prototype>,
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

/// The objects.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Objects {
    /// The rows, in the order of the file.
    #[serde(default, rename = "object")]
    pub rows: Vec<KnownObject>,
}

impl Objects {
    /// The object of that key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&KnownObject> {
        keyed(&self.rows, key)
    }
}

rows! { KnownObject, self => self.key.clone(); }

impl DataFile for Objects {
    const NAME: &'static str = "objects.toml";

    fn trouble(&self) -> Option<String> {
        let bad = self.rows.iter().find(|row| row.size.exact().in_inches() <= Rational::ZERO);
        double_trouble(&self.rows)
            .or_else(|| bad.map(|row| format!("the size of {} is not above 0", row.key)))
    }

    fn merged(&self, own: &Self) -> Self {
        Self { rows: merge(&self.rows, &own.rows) }
    }
}
