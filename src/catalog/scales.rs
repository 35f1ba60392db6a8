//! Scales by name or ratio: `data/scales.toml`.

use serde::Deserialize;

use super::row::{Tag, merge, own, rows};
use super::{DataFile, double_trouble, nearest_names};
use crate::finding::Stop;
use crate::quantity::{
    Model, Prototype, Ratio, Rational, Reading, Scale, Unit, Written, parse, parse_number,
};

/// A named scale.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct ScaleRow {
    /// Its name, with the body where the bare name is another's.
    pub name: String,
    /// Other words for it.
    #[serde(default)]
    pub also: Vec<String>,
    /// Who sets it.
    #[serde(default)]
    pub body: String,
    /// The model length that stands for one foot.
    pub per_foot: Option<Written<Model>>,
    /// The number behind `1:`.
    pub ratio: Option<Rational>,
    /// The usual label, which may be rounded.
    #[serde(default)]
    pub label: String,
    /// Gauge of its track on the model.
    pub gauge: Option<Written<Model>>,
    /// The gauge that stands for.
    pub stands_for: Option<Written<Prototype>>,
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

impl ScaleRow {
    /// The exact ratio: by `ratio`, else by `per-foot`.
    fn exact(&self) -> Option<Ratio> {
        match (self.ratio, &self.per_foot) {
            (Some(ratio), None) => ratio.to_ratio(),
            (None, Some(length)) => per_foot(length.exact().in_inches()),
            _ => None,
        }
    }

    fn scale(&self) -> Option<Scale> {
        self.exact().map(|ratio| Scale::new(self.name.clone(), ratio))
    }

    fn is_called(&self, word: &str) -> bool {
        normal(&self.name) == word || self.also.iter().any(|also| normal(also) == word)
    }
}

/// A word that names no one scale, and what to choose from.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Refused {
    /// The word.
    pub name: String,
    /// Why it is refused.
    pub because: String,
    /// What it may mean.
    pub offer: Vec<String>,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// The scales.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scales {
    /// The rows, in the order of the file.
    #[serde(default, rename = "scale")]
    pub rows: Vec<ScaleRow>,
    /// Words that name no one scale.
    #[serde(default)]
    pub refused: Vec<Refused>,
}

impl Scales {
    /// A scale by name (`HO`, `NEM H0`, `UK O`, in either case) or by ratio
    /// (`1:48`, `1/48`, `48`, `1:87.1`, `3.5 mm/ft`, `1/4 in/ft`, `1/4 in`,
    /// `quarter inch`), exactly.
    ///
    /// # Errors
    ///
    /// When the word names no scale or more than one: what to write instead.
    pub fn find(&self, text: &str) -> Result<Scale, Stop> {
        let word = normal(text);
        let stop = |trouble: String, hint: String| {
            Err(Stop::new(format!("finding the scale \"{}\"", text.trim()), trouble, hint))
        };
        if let Some(row) = self.refused.iter().find(|row| normal(&row.name) == word) {
            return stop(row.because.clone(), format!("write one of {}", row.offer.join(", ")));
        }
        if let Some(scale) =
            self.rows.iter().find(|row| row.is_called(&word)).and_then(ScaleRow::scale)
        {
            return Ok(scale);
        }
        let others = self.with_body(&word);
        if !others.is_empty() {
            let hint = format!("write {}", others.join(" or "));
            return stop("the name needs the body that sets it".to_owned(), hint);
        }
        match by_ratio(text.trim()) {
            Ok(Some(scale)) => Ok(scale),
            Ok(None) => {
                let near = nearest_names(&word, self.rows.iter().map(|row| row.name.as_str()));
                let near = if near.is_empty() { "HO or O".to_owned() } else { near.join(" or ") };
                let hint = format!("write {near}, or a ratio: 1:48, 3.5 mm/ft");
                stop("no scale is called so".to_owned(), hint)
            }
            Err(trouble) => {
                let hint =
                    "write a ratio as 1:48 or 1/48, or what stands for a foot: 1/4 in, 3.5 mm/ft";
                stop(trouble, hint.to_owned())
            }
        }
    }

    /// The row a scale was found by, if it was by name.
    #[must_use]
    pub fn row(&self, scale: &Scale) -> Option<&ScaleRow> {
        self.rows.iter().find(|row| row.name == scale.name)
    }

    /// The full names that end in the word, with their ratios: `NEM H0 (1:87)`.
    fn with_body(&self, word: &str) -> Vec<String> {
        let ends = |row: &&ScaleRow| {
            normal(&row.name)
                .split_once(' ')
                .is_some_and(|(body, name)| name == word && matches!(body, "nem" | "uk"))
        };
        let shown = |row: &ScaleRow| Some(format!("{} ({})", row.name, ratio_name(row.exact()?)));
        self.rows.iter().filter(ends).filter_map(shown).collect()
    }
}

/// Lower case, one space between words, `scale` behind dropped.
fn normal(text: &str) -> String {
    let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
    let words = words.join(" ");
    words.strip_suffix(" scale").map(str::to_owned).unwrap_or(words)
}

/// The ratio of a model length in inches that stands for one foot.
fn per_foot(inches: Rational) -> Option<Ratio> {
    Rational::whole(12).over(inches)?.to_ratio()
}

/// `1:87.1`, or `1:3048/35` where the decimals would not end.
#[must_use]
pub fn ratio_name(ratio: Ratio) -> String {
    let exact = Rational::from(ratio);
    let decimals = (0..=6).find(|places| 10_i128.pow(*places) % exact.denominator() == 0);
    match decimals {
        Some(places) => format!("1:{:.*}", places as usize, exact.value()),
        None => format!("1:{}/{}", exact.numerator(), exact.denominator()),
    }
}

/// A scale by ratio; nothing where the text does not try to be one.
fn by_ratio(text: &str) -> Result<Option<Scale>, String> {
    let lower = text.to_lowercase();
    let feet = [
        "/ft",
        "/ ft",
        "/foot",
        "per foot",
        "to the foot",
        "to 1 ft",
        "=1'",
        "= 1'",
        "= 1 ft",
        "=1ft",
    ];
    let lower = in_words(&lower);
    let named = feet.iter().find_map(|ending| lower.strip_suffix(ending));
    if let Some(length) = named.or_else(|| to_a_foot(&lower)) {
        let length =
            parse::<Model>(length, &Reading::in_unit(Unit::Inch)).map_err(|error| error.message)?;
        let ratio = per_foot(length.exact().in_inches()).ok_or("a scale is above 0")?;
        let name = if named.is_some() { text.to_owned() } else { ratio_name(ratio) };
        return Ok(Some(Scale::new(name, ratio)));
    }
    let exact = match text.split_once(':') {
        Some((model, full)) => number(full)?.over(number(model)?),
        None if !text.starts_with(|c: char| c.is_ascii_digit()) => return Ok(None),
        None if is_part(text) => {
            return Err(format!("{text} may be {text} in to the foot, or a part of full size"));
        }
        None => number(text).map(|value| {
            if value < Rational::whole(1) { Rational::whole(1).over(value) } else { Some(value) }
        })?,
    };
    let ratio = exact.and_then(Rational::to_ratio).ok_or("a ratio is above 0")?;
    Ok(Some(Scale::new(ratio_name(ratio), ratio)))
}

/// A fraction an architect's scale has, without its unit: `1/4`, `3/16`. Those
/// over a larger number, `1/48`, are ratios.
fn is_part(text: &str) -> bool {
    text.split_once('/').is_some_and(|(above, below)| {
        let below: u32 = below.trim().parse().unwrap_or(0);
        matches!(below, 2 | 4 | 8 | 16 | 32) && (above.trim() != "1" || below < 20)
    })
}

/// `quarter inch` as `1/4 inch`, `three sixteenths inch` as `3/16 inch`.
fn in_words(text: &str) -> String {
    const PARTS: [(&str, &str); 7] = [
        ("three sixteenths", "3/16"),
        ("three eighths", "3/8"),
        ("three quarter", "3/4"),
        ("sixteenth", "1/16"),
        ("eighth", "1/8"),
        ("quarter", "1/4"),
        ("half", "1/2"),
    ];
    let found = PARTS.iter().find_map(|(words, part)| Some((text.strip_prefix(words)?, part)));
    found.map_or(text.to_owned(), |(rest, part)| {
        format!(
            "{part}{}",
            rest.trim_start_matches('s')
                .trim_start_matches([' ', '-'])
                .to_owned()
                .replace("inch", " in")
        )
    })
}

/// A model length by itself, which stands for a foot: `3/16 in`, `1/4"`, `4 mm`.
fn to_a_foot(text: &str) -> Option<&str> {
    let ends = [" in", "in", "inch", " inches", "\"", "\u{2033}", "mm"];
    let bare = ends.iter().find_map(|end| text.strip_suffix(end))?;
    bare.trim_end().ends_with(|c: char| c.is_numeric()).then_some(text)
}

fn number(text: &str) -> Result<Rational, String> {
    parse_number(text).map(|number| number.value).map_err(|error| error.message)
}

rows! {
    ScaleRow, self => self.name.clone();
    Refused, self => self.name.clone();
}

impl DataFile for Scales {
    const NAME: &'static str = "scales.toml";

    fn trouble(&self) -> Option<String> {
        let bad = self.rows.iter().find(|row| row.exact().is_none());
        let message = |row: &ScaleRow| format!("{} needs one of ratio and per-foot", row.name);
        double_trouble(&self.rows)
            .or_else(|| double_trouble(&self.refused))
            .or_else(|| bad.map(message))
    }

    fn merged(&self, own: &Self) -> Self {
        Self { rows: merge(&self.rows, &own.rows), refused: merge(&self.refused, &own.refused) }
    }
}
