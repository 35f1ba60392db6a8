//! The classic slips and their weights, and the walls behind one of them:
//! `data/slips.toml`.

use serde::Deserialize;

use super::row::{Tag, keyed, merge, own, rows};
use super::{DataFile, double_trouble};
use crate::quantity::{Prototype, Written};

/// How often a slip is made, against the others.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct SlipRow {
    /// Which slip.
    pub key: String,
    /// What it is.
    #[serde(default)]
    pub what: String,
    /// Its weight, above 0 and at most 1; 0 leaves it out.
    pub weight: f64,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// A thickness that walls have.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Wall {
    /// What it is called for.
    pub key: String,
    /// What it is.
    #[serde(default)]
    pub what: String,
    /// Face to face.
    pub thickness: Written<Prototype>,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// Slips and walls.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slips {
    /// The slips, in the order of the file.
    #[serde(default, rename = "slip")]
    pub slips: Vec<SlipRow>,
    /// The walls, in the order of the file.
    #[serde(default, rename = "wall")]
    pub walls: Vec<Wall>,
}

impl Slips {
    /// The weight of a slip; none where the file does not have it.
    #[must_use]
    pub fn weight(&self, key: &str) -> f64 {
        keyed(&self.slips, key).map_or(0.0, |row| row.weight)
    }
}

rows! {
    SlipRow, self => self.key.clone();
    Wall, self => self.key.clone();
}

impl DataFile for Slips {
    const NAME: &'static str = "slips.toml";

    fn trouble(&self) -> Option<String> {
        let bad = self.slips.iter().find(|row| !(0.0..=1.0).contains(&row.weight));
        let flat = |wall: &&Wall| wall.thickness.length().in_inches() <= 0.0;
        double_trouble(&self.slips)
            .or_else(|| double_trouble(&self.walls))
            .or_else(|| bad.map(|row| format!("the weight of {} is not within 0 and 1", row.key)))
            .or_else(|| {
                let wall = self.walls.iter().find(flat)?;
                Some(format!("the wall {} has no thickness", wall.key))
            })
    }

    fn merged(&self, own: &Self) -> Self {
        Self { slips: merge(&self.slips, &own.slips), walls: merge(&self.walls, &own.walls) }
    }
}
