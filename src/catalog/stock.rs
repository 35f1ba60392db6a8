//! Sheets and strips sold in common, on the model: `data/stock.toml`.

use serde::Deserialize;

use super::row::{Tag, merge, own, rows};
use super::{DataFile, double_trouble};
use crate::quantity::{Model, Rational, Written};

/// Strips of one thickness.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Strip {
    /// What it is made of.
    pub material: String,
    /// The thickness: the smaller side of the section.
    pub thickness: Written<Model>,
    /// The widths, none under the thickness.
    pub widths: Vec<Written<Model>>,
    /// The lengths, along the grain.
    pub lengths: Vec<Written<Model>>,
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

/// Sheets of one thickness.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Sheet {
    /// What it is made of.
    pub material: String,
    /// The thickness.
    pub thickness: Written<Model>,
    /// Width and length; the length is along the grain.
    pub sheets: Vec<[Written<Model>; 2]>,
    /// Whether it has a grain.
    pub grain: bool,
    /// What it is, more closely, and what to bear in mind.
    #[serde(default)]
    pub note: String,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// Strips and sheets.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// The strips, in the order of the file.
    #[serde(default, rename = "strip")]
    pub strips: Vec<Strip>,
    /// The sheets, in the order of the file.
    #[serde(default, rename = "sheet")]
    pub sheets: Vec<Sheet>,
}

rows! {
    Strip, self => format!("{} strip {}", self.material, self.thickness);
    Sheet, self => format!("{} sheet {}", self.material, self.thickness);
}

/// Whether a strip has a section and a length.
fn is_sound(strip: &Strip) -> bool {
    strip.thickness.exact().in_inches() > Rational::ZERO
        && strip.widths.iter().all(|width| width.exact() >= strip.thickness.exact())
        && !strip.widths.is_empty()
        && strip.lengths.iter().all(|length| length.exact().in_inches() > Rational::ZERO)
}

impl DataFile for Stock {
    const NAME: &'static str = "stock.toml";

    fn trouble(&self) -> Option<String> {
        let bad = self.strips.iter().find(|strip| !is_sound(strip));
        let message = |strip: &Strip| {
            format!("the {} strip {} is wider than thick nowhere", strip.material, strip.thickness)
        };
        double_trouble(&self.strips)
            .or_else(|| double_trouble(&self.sheets))
            .or_else(|| bad.map(message))
    }

    fn merged(&self, own: &Self) -> Self {
        Self { strips: merge(&self.strips, &own.strips), sheets: merge(&self.sheets, &own.sheets) }
    }
}
