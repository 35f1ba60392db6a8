//! A wall as a row of elements from the left corner to the right.

use serde::Deserialize;

use super::said::{Said, Size};
use crate::quantity::Prototype;

/// One element of a row.
#[derive(Clone, Debug, Deserialize)]
#[serde(try_from = "RawElement")]
pub struct Element {
    /// Short name, unique in its face.
    pub name: String,
    /// What it is.
    pub kind: ElementKind,
}

/// What an element of a row is.
#[derive(Clone, Debug)]
pub enum ElementKind {
    /// A corner board or pier: never stretched.
    Corner {
        /// Its width.
        width: Size,
    },
    /// Plain wall.
    Plain {
        /// Its width.
        width: Size,
        /// Shortest it may become; 0.6 of the width when absent.
        least: Option<Said<Prototype>>,
        /// Longest it may become; its own width when absent.
        most: Option<Said<Prototype>>,
        /// Plain walls of one group shrink by one factor.
        group: String,
        /// Never stretched.
        fixed: bool,
    },
    /// A door or window, always at full size.
    Opening {
        /// Its kind: the name of an `[[opening]]`.
        kind: String,
        /// A centre that must stand at this distance from the left corner, on
        /// the model's building at full size.
        pinned: Option<Said<Prototype>>,
    },
    /// Equal bays, each with the same or alternating openings at its centre.
    Bays {
        /// Width of one bay.
        width: Size,
        /// Narrowest a bay may become; 0.6 of the width when absent.
        least: Option<Said<Prototype>>,
        /// What stands in successive bays, over and over; `""` is plain wall
        /// and `"a + b"` is two openings one above the other.
        cycle: Vec<String>,
        /// How often.
        times: Times,
    },
    /// A sub-row repeated.
    Repeat {
        /// The sub-row.
        row: Vec<Element>,
        /// How often.
        times: Times,
    },
}

/// How often something is repeated, and what a change of the number breaks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Times {
    /// In the prototype.
    pub count: u32,
    /// Fewest allowed.
    pub at_least: u32,
    /// Most allowed.
    pub at_most: u32,
    /// The count should stay a multiple of this: the pattern.
    pub period: Option<u32>,
    /// An odd count should stay odd, an even one even.
    pub parity: bool,
    /// The opening that should stand in the middle.
    pub centre: Option<String>,
    /// The row reads the same from both ends.
    pub mirror: bool,
}

/// An element as the file has it: one table for all kinds.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct RawElement {
    corner: Option<String>,
    plain: Option<String>,
    opening: Option<String>,
    bays: Option<String>,
    repeat: Option<String>,
    kind: Option<String>,
    width: Option<Size>,
    least: Option<Said<Prototype>>,
    most: Option<Said<Prototype>>,
    group: Option<String>,
    fixed: Option<bool>,
    pinned: Option<Said<Prototype>>,
    cycle: Option<Vec<String>>,
    row: Option<Vec<Element>>,
    count: Option<u32>,
    at_least: Option<u32>,
    at_most: Option<u32>,
    period: Option<u32>,
    parity: Option<bool>,
    centre: Option<String>,
    mirror: Option<bool>,
}

impl TryFrom<RawElement> for Element {
    type Error = String;

    fn try_from(raw: RawElement) -> Result<Self, String> {
        let named = [
            ("corner", &raw.corner),
            ("plain", &raw.plain),
            ("opening", &raw.opening),
            ("bays", &raw.bays),
            ("repeat", &raw.repeat),
        ];
        let mut given =
            named.iter().filter_map(|(key, name)| name.as_ref().map(|name| (*key, name.clone())));
        let (Some((key, name)), None) = (given.next(), given.next()) else {
            return Err("an element has exactly one of the keys corner, plain, opening, bays, \
                        repeat, and its name behind it"
                .to_owned());
        };
        raw.refuse_strangers(key, &name)?;
        let kind = match key {
            "corner" => ElementKind::Corner { width: wanted(raw.width, "width", &name)? },
            "plain" => ElementKind::Plain {
                width: wanted(raw.width, "width", &name)?,
                least: raw.least,
                most: raw.most,
                group: raw.group.unwrap_or_else(|| "plain".to_owned()),
                fixed: raw.fixed.unwrap_or(false),
            },
            "opening" => {
                ElementKind::Opening { kind: wanted(raw.kind, "kind", &name)?, pinned: raw.pinned }
            }
            "bays" => ElementKind::Bays {
                times: raw.times(&name)?,
                width: wanted(raw.width, "width", &name)?,
                least: raw.least,
                cycle: wanted(raw.cycle, "cycle", &name)?,
            },
            _ => ElementKind::Repeat {
                times: raw.times(&name)?,
                row: wanted(raw.row, "row", &name)?,
            },
        };
        Ok(Self { name, kind })
    }
}

fn wanted<T>(value: Option<T>, key: &str, name: &str) -> Result<T, String> {
    value.ok_or_else(|| format!("the element \"{name}\" has no `{key}`"))
}

impl RawElement {
    /// Refuses a key that means nothing for this kind of element.
    fn refuse_strangers(&self, kind: &str, name: &str) -> Result<(), String> {
        const REPEATED: &[&str] = &["bays", "repeat"];
        let keys: [(&str, bool, &[&str]); 16] = [
            ("kind", self.kind.is_some(), &["opening"]),
            ("width", self.width.is_some(), &["corner", "plain", "bays"]),
            ("least", self.least.is_some(), &["plain", "bays"]),
            ("most", self.most.is_some(), &["plain"]),
            ("group", self.group.is_some(), &["plain"]),
            ("fixed", self.fixed.is_some(), &["plain"]),
            ("pinned", self.pinned.is_some(), &["opening"]),
            ("cycle", self.cycle.is_some(), &["bays"]),
            ("row", self.row.is_some(), &["repeat"]),
            ("count", self.count.is_some(), REPEATED),
            ("at-least", self.at_least.is_some(), REPEATED),
            ("at-most", self.at_most.is_some(), REPEATED),
            ("period", self.period.is_some(), REPEATED),
            ("parity", self.parity.is_some(), REPEATED),
            ("centre", self.centre.is_some(), REPEATED),
            ("mirror", self.mirror.is_some(), REPEATED),
        ];
        match keys.iter().find(|(_, given, kinds)| *given && !kinds.contains(&kind)) {
            Some((key, ..)) => Err(format!("`{key}` means nothing for the {kind} \"{name}\"")),
            None => Ok(()),
        }
    }

    fn times(&self, name: &str) -> Result<Times, String> {
        let count = wanted(self.count, "count", name)?;
        let times = Times {
            count,
            at_least: self.at_least.unwrap_or(1),
            at_most: self.at_most.unwrap_or(count),
            period: self.period,
            parity: self.parity.unwrap_or(false),
            centre: self.centre.clone(),
            mirror: self.mirror.unwrap_or(false),
        };
        if times.at_least > times.at_most {
            return Err(format!("\"{name}\" asks for at least more than at most"));
        }
        Ok(times)
    }
}
