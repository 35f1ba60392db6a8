//! Lamps, resistors, wire and the rules of a circuit: `data/lamps.toml`.

use serde::Deserialize;

use super::row::{Tag, keyed, merge, own, rows};
use super::{DataFile, double_trouble, nearest_names};
use crate::finding::Stop;
use crate::quantity::{Current, Power, Rational, Resistance, Voltage};

/// A kind of lamp: a light-emitting diode of some colour.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Lamp {
    /// What it is called for.
    pub key: String,
    /// What it is.
    pub name: String,
    /// The least forward voltage of one lamp.
    pub least: Voltage,
    /// The figure taken unless the person measured another.
    pub take: Voltage,
    /// The most.
    pub most: Voltage,
    /// The current it stands for long.
    pub limit: Current,
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

/// A series of preferred values.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Series {
    /// Its name in the standard.
    pub key: String,
    /// What it is.
    pub name: String,
    /// How far a resistor may be off its mark, percent.
    #[serde(default = "ten")]
    pub tolerance: f64,
    /// The values of one decade, 10 to under 100, rising.
    pub values: Vec<u32>,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// The widest tolerance a series is sold with.
fn ten() -> f64 {
    10.0
}

/// A power rating of resistors.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Rating {
    /// Heat it stands while cool.
    pub watts: Power,
    /// Degrees Celsius up to which it stands that.
    pub full_to: f64,
    /// Degrees Celsius at which it stands none.
    pub none_at: f64,
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

/// A gauge of solid copper wire.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Wire {
    /// American wire gauge.
    pub gauge: u32,
    /// Of 1000 ft at 20 degrees Celsius.
    pub per_thousand_feet: Resistance,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// A figure the check uses.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Rule {
    /// What it is called for.
    pub key: String,
    /// The figure.
    pub value: Rational,
    /// What it is.
    pub name: String,
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

/// What a circuit is worked out from.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lamps {
    /// The lamps, in the order of the file.
    #[serde(default, rename = "lamp")]
    pub lamps: Vec<Lamp>,
    /// The series of preferred values.
    #[serde(default)]
    pub series: Vec<Series>,
    /// The power ratings, rising.
    #[serde(default, rename = "rating")]
    pub ratings: Vec<Rating>,
    /// Wire, thick to thin.
    #[serde(default, rename = "wire")]
    pub wires: Vec<Wire>,
    /// The rules.
    #[serde(default, rename = "rule")]
    pub rules: Vec<Rule>,
}

impl Lamps {
    /// The lamp of that key.
    ///
    /// # Errors
    ///
    /// Where there is none: the keys most like it.
    pub fn lamp(&self, key: &str) -> Result<&Lamp, Stop> {
        let found = keyed(&self.lamps, key);
        found.ok_or_else(|| {
            let near = nearest_names(key, self.lamps.iter().map(|row| row.key.as_str()));
            let known: Vec<&str> = self.lamps.iter().map(|row| row.key.as_str()).collect();
            let shown = if near.is_empty() { known } else { near };
            Stop::new(
                "finding a lamp",
                format!("no lamp is called \"{key}\""),
                format!("there are: {}", shown.join(", ")),
            )
        })
    }

    /// The series of that name.
    #[must_use]
    pub fn series(&self, key: &str) -> Option<&Series> {
        keyed(&self.series, key)
    }

    /// The figure of that key.
    ///
    /// # Panics
    ///
    /// When the shipped data lack it, which a test rules out; a person's own
    /// file can only change a figure.
    #[must_use]
    pub fn rule(&self, key: &str) -> f64 {
        let found = keyed(&self.rules, key);
        found.map_or_else(|| panic!("the lamp rules have {key}"), |row| row.value.value())
    }
}

rows! {
    Lamp, self => self.key.clone();
    Series, self => self.key.clone();
    Rating, self => self.watts.to_string();
    Wire, self => format!("gauge {}", self.gauge);
    Rule, self => self.key.clone();
}

impl DataFile for Lamps {
    const NAME: &'static str = "lamps.toml";

    fn trouble(&self) -> Option<String> {
        let loose = |row: &&Lamp| {
            !(row.least.in_volts() > 0.0
                && row.least <= row.take
                && row.take <= row.most
                && row.limit.in_amperes() > 0.0)
        };
        let odd = |row: &&Series| {
            !(0.0..50.0).contains(&row.tolerance)
                || row.values.is_empty()
                || row.values.iter().any(|value| !(10..100).contains(value))
                || row.values.windows(2).any(|pair| pair[0] >= pair[1])
        };
        double_trouble(&self.lamps)
            .or_else(|| double_trouble(&self.series))
            .or_else(|| double_trouble(&self.ratings))
            .or_else(|| double_trouble(&self.wires))
            .or_else(|| double_trouble(&self.rules))
            .or_else(|| {
                let bad = self.lamps.iter().find(loose)?;
                Some(format!("the voltages of {} are not in order", bad.key))
            })
            .or_else(|| {
                let bad = self.series.iter().find(odd)?;
                Some(format!(
                    "{} should hold rising values from 10 to 99 and a tolerance under 50",
                    bad.key
                ))
            })
    }

    fn merged(&self, own: &Self) -> Self {
        let mut ratings = merge(&self.ratings, &own.ratings);
        ratings.sort_by(|a, b| a.watts.in_watts().total_cmp(&b.watts.in_watts()));
        Self {
            lamps: merge(&self.lamps, &own.lamps),
            series: merge(&self.series, &own.series),
            ratings,
            wires: merge(&self.wires, &own.wires),
            rules: merge(&self.rules, &own.rules),
        }
    }
}
