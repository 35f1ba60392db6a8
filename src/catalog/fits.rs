//! Fits, allowances and kerfs on the model: `data/fits.toml`.

use serde::Deserialize;

use super::row::{Tag, keyed, merge, own, rows};
use super::{DataFile, double_trouble};
use crate::quantity::{Model, Written};

/// What an allowance counts for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Each {
    /// Each side: twice over the whole.
    Side,
    /// Each surface that is painted or glued.
    Surface,
    /// The whole.
    Whole,
}

/// A fit between two parts.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Fit {
    /// What it is called for.
    pub key: String,
    /// What it is.
    pub name: String,
    /// What it counts for.
    pub each: Each,
    /// The least in use.
    pub least: Written<Model>,
    /// The figure taken unless the person gives another.
    pub take: Written<Model>,
    /// The most in use.
    pub most: Written<Model>,
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

/// The width a cut takes away.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Kerf {
    /// The material, or the tool where the material does not matter.
    pub material: String,
    /// The thickness it was found at; any when absent.
    pub thickness: Option<Written<Model>>,
    /// Its width.
    pub kerf: Written<Model>,
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

/// How the lines of one kind are drawn in files for a laser: machines tell what
/// to do by colour or by width.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Pen {
    /// `through`, `scribe` or `mark`.
    pub does: String,
    /// A colour as files have it: `#ff0000`, or a word such as `black`.
    pub colour: String,
    /// How thick the line is drawn.
    pub width: Written<Model>,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

impl Pen {
    /// Letters of a word, or a `#` and digits.
    fn is_sound(&self) -> bool {
        let rest = self.colour.strip_prefix('#').unwrap_or(&self.colour);
        let known = ["through", "scribe", "mark"].contains(&self.does.as_str());
        known
            && !rest.is_empty()
            && rest.len() <= 30
            && rest.chars().all(|c| c.is_ascii_alphanumeric())
    }
}

/// Fits, kerfs and pens.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fits {
    /// The fits, in the order of the file.
    #[serde(default, rename = "fit")]
    pub fits: Vec<Fit>,
    /// The kerfs, in the order of the file.
    #[serde(default, rename = "kerf")]
    pub kerfs: Vec<Kerf>,
    /// The pens of files for a laser.
    #[serde(default, rename = "pen")]
    pub pens: Vec<Pen>,
}

impl Fits {
    /// The fit of that key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Fit> {
        keyed(&self.fits, key)
    }

    /// The pen of what is done along a line.
    #[must_use]
    pub fn pen(&self, does: &str) -> Option<&Pen> {
        keyed(&self.pens, does)
    }
}

rows! {
    Fit, self => self.key.clone();
    Pen, self => self.does.clone();
    Kerf, self => match &self.thickness {
        Some(thickness) => format!("{} {thickness}", self.material),
        None => self.material.clone(),
    };
}

impl DataFile for Fits {
    const NAME: &'static str = "fits.toml";

    fn trouble(&self) -> Option<String> {
        let size = |written: &Written<Model>| written.exact();
        let unsound =
            |row: &&Fit| size(&row.take) < size(&row.least) || size(&row.most) < size(&row.take);
        let bad = self.fits.iter().find(unsound);
        double_trouble(&self.fits)
            .or_else(|| double_trouble(&self.kerfs))
            .or_else(|| double_trouble(&self.pens))
            .or_else(|| {
                let pen = self.pens.iter().find(|pen| !pen.is_sound())?;
                Some(format!(
                    "no pen for \"{}\" in \"{}\": through, scribe or mark, in a colour such as #ff0000",
                    pen.does, pen.colour
                ))
            })
            .or_else(|| bad.map(|row| format!("{} is taken outside its own range", row.key)))
    }

    fn merged(&self, own: &Self) -> Self {
        Self {
            fits: merge(&self.fits, &own.fits),
            kerfs: merge(&self.kerfs, &own.kerfs),
            pens: merge(&self.pens, &own.pens),
        }
    }
}
