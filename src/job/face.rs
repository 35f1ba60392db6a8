//! A wall as a row of elements from the left corner to the right.

use super::grammar::{FOOT, Kind, Named, Node, Reader, Rule, Text, Value, Wrong, eg, keys, table};
use super::said::{Said, Size};
use crate::quantity::Prototype;

/// Elements that are repeated.
const REPEATED: &[&str] = &["bays", "repeat"];

/// One element of a row.
#[derive(Clone, Debug)]
pub struct Element {
    /// Short name, unique in its wall.
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

keys! {
    /// An element of a row: exactly one of `corner`, `plain`, `opening`, `bays`,
    /// `repeat`, with its name behind it.
    #[derive(Clone, Debug)]
    pub struct RawElement [table("wall.row").one_of(&["corner", "plain", "opening", "bays", "repeat"])] {
        /// A corner board or pier, by a name of its own: never stretched.
        "corner": corner: Option<String> = eg("left-pier").names(Named::Element),
        /// Plain wall, by a name of its own.
        "plain": plain: Option<String> = eg("wall").names(Named::Element),
        /// A door or window, by a name of its own: always at full size.
        "opening": opening: Option<String> = eg("D1").names(Named::Element),
        /// Equal bays, by a name of their own.
        "bays": bays: Option<String> = eg("bay").names(Named::Element),
        /// A row within the row, repeated, by a name of its own.
        "repeat": repeat: Option<String> = eg("module").names(Named::Element),
        /// The kind of opening.
        "kind": kind: Option<String> = eg("freight-door").of(Named::Opening).only(&["opening"])
            .needed(&["opening"]),
        /// Its width; of one bay, where there are several.
        "width": width: Option<Size> = eg("7 ft 6 in").upto(2000.0 * FOOT).only(&["corner", "plain", "bays"])
            .needed(&["corner", "plain", "bays"])
            .agrees("the length of the wall"),
        /// Shortest it may become; 0.6 of the width when absent.
        "least": least: Option<Said<Prototype>> = eg("5 ft").within(0.0, 2000.0 * FOOT).only(&["plain", "bays"])
            .unless("0.6 of the width", "judgement"),
        /// Longest it may become; its own width when absent.
        "most": most: Option<Said<Prototype>> = eg("12 ft").upto(2000.0 * FOOT).only(&["plain"])
            .unless("the width", "judgement"),
        /// Plain walls of one group shrink by one factor.
        "group": group: Option<String> = eg("office").text(Text::Name).only(&["plain"]).unless("plain", "judgement"),
        /// Never stretched.
        "fixed": fixed: Option<bool> = eg("true").only(&["plain"]),
        /// A centre that must stand at this distance from the left corner, on the
        /// model's building at full size.
        "pinned": pinned: Option<Said<Prototype>> = eg("40 ft").within(0.0, 2000.0 * FOOT).only(&["opening"]),
        /// What stands in successive bays, over and over; `""` is plain wall and
        /// `"a + b"` is two openings one above the other.
        "cycle": cycle: Option<Vec<String>> = eg("[\"window\", \"door\", \"window\"]").of(Named::InBay).text(Text::Line).only(&["bays"])
            .needed(&["bays"]),
        /// The elements of the row within.
        "row": row: Option<Vec<Element>> = eg("[{ plain = \"gap\", width = \"9 ft\" }]").only(&["repeat"])
            .needed(&["repeat"]),
        /// How often.
        "count": count: Option<u32> = eg("15").within(0.0, 500.0).only(REPEATED).needed(REPEATED)
            .agrees("the ties that count bays"),
        /// Fewest allowed; one when absent.
        "at-least": at_least: Option<u32> = eg("3").within(0.0, 500.0).only(REPEATED).unless("1", "judgement").agrees("at-most"),
        /// Most allowed; the count when absent.
        "at-most": at_most: Option<u32> = eg("15").within(0.0, 500.0).only(REPEATED).unless("the count", "judgement").agrees("at-least"),
        /// The count should stay a multiple of this: the pattern.
        "period": period: Option<u32> = eg("3").within(1.0, 500.0).only(REPEATED),
        /// An odd count should stay odd, an even one even.
        "parity": parity: Option<bool> = eg("true").only(REPEATED),
        /// The opening that should stand in the middle.
        "centre": centre: Option<String> = eg("door").of(Named::Opening).only(REPEATED),
        /// The row reads the same from both ends.
        "mirror": mirror: Option<bool> = eg("true").only(REPEATED),
    }
}

/// Most elements of one wall, repeats counted: far beyond any building.
const MOST_ELEMENTS: u64 = 5_000;

impl Value for Element {
    fn kind() -> Kind {
        RawElement::kind()
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        let raw = RawElement::read(node, reader, rule)?;
        let element = Self::try_from(raw)
            .map_err(|said| Wrong::new(node.at(), said, "see `scantling keys wall.row`"))?;
        if element.many() > MOST_ELEMENTS {
            let message =
                format!("\"{}\" comes to more than {MOST_ELEMENTS} elements", element.name);
            return Err(Wrong::new(
                node.at(),
                message,
                "look at its `count`, and at those inside it",
            ));
        }
        Ok(element)
    }
}

impl Element {
    /// How many elements it comes to, repeats counted.
    fn many(&self) -> u64 {
        match &self.kind {
            ElementKind::Bays { times, .. } => u64::from(times.count.max(times.at_most)),
            ElementKind::Repeat { row, times } => {
                let inside: u64 = row.iter().map(Self::many).sum();
                inside.saturating_mul(u64::from(times.count.max(times.at_most)))
            }
            _ => 1,
        }
    }
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
                cycle: cycle(raw.cycle, &name)?,
            },
            _ => ElementKind::Repeat {
                times: raw.times(&name)?,
                row: wanted(raw.row, "row", &name)?,
            },
        };
        Ok(Self { name, kind })
    }
}

fn cycle(cycle: Option<Vec<String>>, name: &str) -> Result<Vec<String>, String> {
    let cycle = wanted(cycle, "cycle", name)?;
    if cycle.is_empty() {
        return Err("the cycle of these bays is empty: use [\"\"] for plain bays".to_owned());
    }
    Ok(cycle)
}

fn wanted<T>(value: Option<T>, key: &str, name: &str) -> Result<T, String> {
    value.ok_or_else(|| format!("the element \"{name}\" has no `{key}`"))
}

impl RawElement {
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
