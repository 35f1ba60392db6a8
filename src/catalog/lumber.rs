//! Nominal and actual lumber by era: `data/lumber.toml`.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::row::{Tag, merge, own, rows};
use super::{DataFile, double_trouble, nearest_names};
use crate::finding::Stop;
use crate::quantity::{Exact, Prototype, PrototypeLength, Rational, parse_number};

/// An era of sizes.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Era {
    /// What the job file calls it.
    pub key: String,
    /// What it is.
    pub name: String,
    /// Its first year; open when absent.
    pub from: Option<i32>,
    /// Its last year; open when absent.
    pub to: Option<i32>,
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

impl Era {
    fn has(&self, year: i32) -> bool {
        self.from.is_none_or(|from| from <= year) && self.to.is_none_or(|to| year <= to)
    }
}

/// A class of lumber by its least nominal dimension.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Class {
    /// Under 2 in.
    Board,
    /// 2 in to under 5 in.
    Dimension,
    /// 5 in and up.
    Timber,
}

impl Class {
    /// The class of a nominal thickness in inches.
    #[must_use]
    pub fn of(thickness: Rational) -> Self {
        match thickness {
            thin if thin < Rational::whole(2) => Self::Board,
            mid if mid < Rational::whole(5) => Self::Dimension,
            _ => Self::Timber,
        }
    }
}

/// The smaller or the larger side of a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Axis {
    /// The smaller.
    Thickness,
    /// The larger.
    Width,
}

/// What comes off the nominal sizes of a range, in inches.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Off {
    /// The least nominal size.
    pub from: Rational,
    /// The largest.
    pub to: Rational,
    /// What comes off.
    pub less: Rational,
}

/// The sizes of one era, class and side.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sizes {
    /// The key of the era.
    pub era: String,
    /// The class.
    pub class: Class,
    /// The side.
    pub axis: Axis,
    /// Pairs of nominal and actual inches.
    #[serde(default)]
    pub sizes: Vec<(Rational, Rational)>,
    /// Or what comes off the nominal inches.
    #[serde(default)]
    pub off: Vec<Off>,
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

impl Sizes {
    /// The actual inches of nominal ones; nothing outside the table.
    fn actual(&self, nominal: Rational) -> Option<Rational> {
        let pair = self.sizes.iter().find(|(listed, _)| *listed == nominal).map(|(_, size)| *size);
        let off = || self.off.iter().find(|off| off.from <= nominal && nominal <= off.to);
        pair.or_else(|| nominal.minus(off()?.less))
    }

    /// Every listed size: the pairs, and the whole inches of the ranges.
    fn all(&self) -> impl Iterator<Item = (Rational, Rational)> {
        let whole = |inches: Rational| inches.nearest_whole().0 as i64;
        let ranges = self.off.iter().flat_map(move |off| {
            (whole(off.from)..=whole(off.to)).filter_map(|inches| {
                let nominal = Rational::whole(inches);
                Some((nominal, nominal.minus(off.less)?))
            })
        });
        self.sizes.iter().copied().chain(ranges)
    }
}

/// A nominal section: `2x4`, `1 1/2 x 6`; the smaller side first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Nominal {
    /// The smaller side, in nominal inches.
    pub thickness: Rational,
    /// The larger side, in nominal inches.
    pub width: Rational,
}

impl Nominal {
    /// Board feet of a piece: nominal thickness by nominal width in inches by
    /// length in feet, over 12; under 1 in thick counts as 1 in (several
    /// glossaries; the last from memory of the lumber measure clause of PS 20).
    #[must_use]
    pub fn board_feet(self, length: PrototypeLength) -> f64 {
        let thickness = self.thickness.max(Rational::whole(1));
        thickness.value() * self.width.value() * length.in_feet() / 12.0
    }
}

impl FromStr for Nominal {
    type Err = Stop;

    fn from_str(text: &str) -> Result<Self, Stop> {
        let side = |side: &str| {
            parse_number(side).ok().map(|number| number.value).filter(|side| *side > Rational::ZERO)
        };
        let sides = text.split_once(['x', 'X', '×']).and_then(|(a, b)| Some((side(a)?, side(b)?)));
        match sides {
            Some((a, b)) => Ok(Self { thickness: a.min(b), width: a.max(b) }),
            None => Err(Stop::new(
                format!("reading the lumber size \"{text}\""),
                "it is no section of two sides",
                "write nominal inches with an x between: 2x4",
            )),
        }
    }
}

impl fmt::Display for Nominal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}x{}", self.thickness, self.width)
    }
}

/// What a nominal section measures in an era.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Actual {
    /// The nominal section.
    pub nominal: Nominal,
    /// The key of the era.
    pub era: String,
    /// The class.
    pub class: Class,
    /// The smaller side.
    pub thickness: Exact<Prototype>,
    /// The larger side.
    pub width: Exact<Prototype>,
    /// The sources of both sides.
    pub sources: Vec<String>,
}

/// One listed side of an era.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Side {
    /// The class.
    pub class: Class,
    /// Which side.
    pub axis: Axis,
    /// Nominal inches.
    pub nominal: Rational,
    /// What it measures.
    pub actual: Exact<Prototype>,
}

/// Eras and their sizes.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lumber {
    /// The eras, in the order of the file.
    #[serde(default, rename = "era")]
    pub eras: Vec<Era>,
    /// The tables.
    #[serde(default, rename = "table")]
    pub tables: Vec<Sizes>,
}

impl Lumber {
    /// The era of that key.
    ///
    /// # Errors
    ///
    /// When there is none: the nearest keys.
    pub fn era(&self, key: &str) -> Result<&Era, Stop> {
        self.eras.iter().find(|era| era.key == key).ok_or_else(|| {
            let keys = || self.eras.iter().map(|era| era.key.as_str());
            let near = nearest_names(key, keys());
            let near = if near.is_empty() { keys().collect() } else { near };
            let hint = format!("write {}", near.join(" or "));
            Stop::new(format!("finding the lumber era \"{key}\""), "there is none", hint)
        })
    }

    /// The eras a year belongs to: more than one where sizes were changing, or
    /// where dry and green are two answers. From 1961 to 1969 it is either.
    #[must_use]
    pub fn eras_of_year(&self, year: i32) -> Vec<&Era> {
        self.eras.iter().filter(|era| era.has(year)).collect()
    }

    /// What a nominal section measures in an era.
    ///
    /// # Errors
    ///
    /// When there is no such era, or its table has no such size.
    pub fn actual(&self, nominal: Nominal, era: &str) -> Result<Actual, Stop> {
        let era = self.era(era)?;
        let class = Class::of(nominal.thickness);
        let side = |axis, inches| {
            let mut tables = self
                .tables
                .iter()
                .filter(|table| table.era == era.key && table.class == class && table.axis == axis);
            tables.find_map(|table| Some((table.actual(inches)?, table.source.clone())))
        };
        let sides = side(Axis::Thickness, nominal.thickness).zip(side(Axis::Width, nominal.width));
        let Some(((thickness, from), (width, also_from))) = sides else {
            return Err(Stop::new(
                format!("finding what {nominal} measures in the era {}", era.key),
                "its table has no such size",
                "give the measured size instead: measured beats table",
            ));
        };
        let mut sources = vec![from, also_from];
        sources.dedup();
        Ok(Actual {
            nominal,
            era: era.key.clone(),
            class,
            thickness: Exact::inches(thickness),
            width: Exact::inches(width),
            sources,
        })
    }

    /// Every listed side of an era.
    pub fn sides(&self, era: &str) -> impl Iterator<Item = Side> {
        self.tables.iter().filter(move |table| table.era == era).flat_map(|table| {
            table.all().map(|(nominal, actual)| Side {
                class: table.class,
                axis: table.axis,
                nominal,
                actual: Exact::inches(actual),
            })
        })
    }
}

rows! {
    Era, self => self.key.clone();
    Sizes, self => format!("{} {:?} {:?}", self.era, self.class, self.axis);
}

impl DataFile for Lumber {
    const NAME: &'static str = "lumber.toml";

    fn trouble(&self) -> Option<String> {
        let empty = self.tables.iter().find(|table| table.sizes.is_empty() == table.off.is_empty());
        let message = |table: &Sizes| {
            format!(
                "the {:?} {:?} table of {} needs sizes or off",
                table.class, table.axis, table.era
            )
        };
        double_trouble(&self.eras)
            .or_else(|| double_trouble(&self.tables))
            .or_else(|| empty.map(message))
    }

    fn merged(&self, own: &Self) -> Self {
        Self { eras: merge(&self.eras, &own.eras), tables: merge(&self.tables, &own.tables) }
    }
}
