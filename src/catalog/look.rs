//! Features of the look, with their tolerances and weights: `data/look.toml`.

use serde::Deserialize;

use super::row::{Tag, keyed, merge, own, rows};
use super::{DataFile, double_trouble};

/// How the z of a feature is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Measure {
    /// ln(new / old) / tau.
    Ratio,
    /// Difference in degrees / tau.
    Degrees,
    /// Value / tau.
    Share,
    /// The fixed z, where the feature holds.
    YesNo,
}

/// A feature that a shortened building may lose.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Feature {
    /// What the job file calls it.
    pub key: String,
    /// What it is.
    pub name: String,
    /// How its z is found.
    pub measure: Measure,
    /// Tolerance; absent for yes-or-no features.
    pub tau: Option<f64>,
    /// Tolerance where the original has four or fewer.
    pub tau_few: Option<f64>,
    /// The fixed z of a yes-or-no feature.
    pub z: Option<f64>,
    /// Weight.
    pub weight: f64,
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

/// Features that count things, so that few of them are known at a glance.
const COUNTED: [&str; 2] = ["count", "openings"];

impl Feature {
    /// Whether its figure is a number of things.
    #[must_use]
    pub fn counts_things(&self) -> bool {
        COUNTED.contains(&self.key.as_str())
    }
}

/// The features.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Look {
    /// The rows, in the order of the file.
    #[serde(default, rename = "feature")]
    pub rows: Vec<Feature>,
}

impl Look {
    /// The feature of that key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Feature> {
        keyed(&self.rows, key)
    }
}

rows! { Feature, self => self.key.clone(); }

/// Whether a row has the figure its measure works with.
fn is_sound(row: &Feature) -> bool {
    let figure = if row.measure == Measure::YesNo { row.z } else { row.tau };
    let positive = |value: f64| value.is_finite() && value > 0.0;
    figure.is_some_and(positive)
        && row.tau_few.is_none_or(positive)
        && row.weight.is_finite()
        && row.weight >= 0.0
}

impl DataFile for Look {
    const NAME: &'static str = "look.toml";

    fn trouble(&self) -> Option<String> {
        let bad = self.rows.iter().find(|row| !is_sound(row));
        let message = |row: &Feature| format!("{} needs tau, or z, above 0, and a weight", row.key);
        let few = self.rows.iter().find(|row| row.tau_few.is_some() && !row.counts_things());
        let of_few = |row: &Feature| {
            format!("{} counts no things: only {} take tau-few", row.key, COUNTED.join(" and "))
        };
        double_trouble(&self.rows).or_else(|| bad.map(message)).or_else(|| few.map(of_few))
    }

    fn merged(&self, own: &Self) -> Self {
        Self { rows: merge(&self.rows, &own.rows) }
    }
}
