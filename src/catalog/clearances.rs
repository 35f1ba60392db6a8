//! Published clearances: `data/clearances.toml`.

use serde::Deserialize;

use super::row::{Tag, keyed, merge, own, rows};
use super::{DataFile, double_trouble};
use crate::quantity::{Model, ModelLength, Prototype, PrototypeLength, Rational, Written};

/// A track outline of NEM 102 for one size, on the model. Widths are full
/// widths centred on the track, heights count from the rail head.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Outline {
    /// What it is called for.
    pub key: String,
    /// Gauge of its track.
    pub gauge: Written<Model>,
    /// Main width.
    pub main_width: Written<Model>,
    /// Width above the corners.
    pub upper_width: Written<Model>,
    /// Width below the step.
    pub lower_width: Written<Model>,
    /// Height of the step from the lower to the main width.
    pub step: Written<Model>,
    /// Height of that step on tracks of goods docks only.
    pub dock: Written<Model>,
    /// Top of the main width; above it the corner is cut at 45 degrees.
    pub shoulder: Written<Model>,
    /// Top without overhead wire.
    pub top: Written<Model>,
    /// Width at the foot of the part for the wire.
    pub wire_width: Written<Model>,
    /// Width at its top.
    pub wire_top_width: Written<Model>,
    /// Height of the lowest wire.
    pub wire_top: Written<Model>,
    /// Greatest width of vehicles, for comparison.
    pub vehicle_width: Option<Written<Model>>,
    /// Greatest height of vehicles, for comparison.
    pub vehicle_height: Option<Written<Model>>,
    /// What to bear in mind.
    #[serde(default)]
    pub note: String,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// Its edition.
    #[serde(default)]
    pub edition: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

impl Outline {
    /// The outline without wire, from the bottom up: half width and height;
    /// `dock` says that the track serves a goods dock.
    #[must_use]
    pub fn points(&self, dock: bool) -> Vec<[ModelLength; 2]> {
        let half = |width: &Written<Model>| width.length() / 2.0;
        let (main, upper, lower) =
            (half(&self.main_width), half(&self.upper_width), half(&self.lower_width));
        let step = if dock { &self.dock } else { &self.step }.length();
        let shoulder = self.shoulder.length();
        vec![
            [lower, ModelLength::ZERO],
            [lower, step],
            [main, step],
            [main, shoulder],
            [upper, shoulder + (main - upper)],
            [upper, self.top.length()],
        ]
    }
}

impl Outline {
    /// The part kept free for the wire, from the top of the rest to the lowest
    /// wire: half width and height. It is not widened on curves.
    #[must_use]
    pub fn wire(&self) -> Vec<[ModelLength; 2]> {
        vec![
            [self.wire_width.length() / 2.0, self.top.length()],
            [self.wire_top_width.length() / 2.0, self.wire_top.length()],
        ]
    }
}

/// What NEM 103 adds on both sides on a curve.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Widening {
    /// The outline it belongs to.
    pub outline: String,
    /// Radius of the centre line.
    pub radius: Written<Model>,
    /// For short cars.
    pub a: Option<Written<Model>>,
    /// For cars of middle length.
    pub b: Option<Written<Model>>,
    /// For long cars.
    pub c: Option<Written<Model>>,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// Its edition.
    #[serde(default)]
    pub edition: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// A group of cars by their length.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Group {
    /// A, B or C.
    pub key: String,
    /// Longest body.
    pub length: Written<Prototype>,
    /// Greatest truck centres.
    pub centres: Written<Prototype>,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// Its edition.
    #[serde(default)]
    pub edition: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// A full-size rule.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Rule {
    /// What it is called for.
    pub key: String,
    /// What it is.
    pub name: String,
    /// From the centre line to what stands beside the track.
    pub side: Option<Written<Prototype>>,
    /// From the side of the car instead.
    pub beside_car: Option<Written<Prototype>>,
    /// From the rail head to what hangs over the track.
    pub overhead: Option<Written<Prototype>>,
    /// Radius of the half circle its upper part may be, up to the height it
    /// keeps overhead.
    pub arch: Option<Written<Prototype>>,
    /// Platforms that may stand nearer, rising.
    #[serde(default)]
    pub platforms: Vec<Platform>,
    /// What to bear in mind.
    #[serde(default)]
    pub note: String,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// Its edition.
    #[serde(default)]
    pub edition: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// A platform that may stand nearer than the side clearance.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Platform {
    /// Highest top over the rail head.
    pub top: Written<Prototype>,
    /// Its edge from the centre line.
    pub out: Written<Prototype>,
    /// What it is for, where it is for that alone.
    pub only: Option<String>,
}

impl Rule {
    /// Whether it has an arch, and that is higher than the rule or wider than
    /// what it keeps at the sides.
    fn arch_troubles(&self) -> bool {
        let Some(arch) = self.arch.as_ref().map(Written::length) else { return false };
        let over = self.overhead.as_ref().map_or(PrototypeLength::ZERO, Written::length);
        let side = self.side.as_ref().map_or(PrototypeLength::ZERO, Written::length);
        arch <= PrototypeLength::ZERO || arch > over || arch > side
    }

    /// From the centre line to what stands beside the track, for a car of a
    /// width; nothing where the rule says nothing of it.
    #[must_use]
    pub fn side(&self, car_width: PrototypeLength) -> Option<PrototypeLength> {
        let beside = self.beside_car.as_ref().map(|free| car_width / 2.0 + free.length());
        self.side.as_ref().map(Written::length).or(beside)
    }

    /// From the centre line to the edge of a platform with its top at a height;
    /// `use_of` says what it is for. Nothing where it counts as a building.
    #[must_use]
    pub fn platform(&self, top: PrototypeLength, use_of: Option<&str>) -> Option<PrototypeLength> {
        let slack = PrototypeLength::inches(1e-6);
        let fits = |row: &&Platform| {
            top <= row.top.length() + slack
                && row.only.as_deref().is_none_or(|only| Some(only) == use_of)
        };
        self.platforms.iter().find(fits).map(|row| row.out.length())
    }
}

/// A full-size outline of cars.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Plate {
    /// Its letter.
    pub key: String,
    /// Full width.
    pub width: Written<Prototype>,
    /// Height over the rail head.
    pub height: Written<Prototype>,
    /// Truck centres up to which the full width may be used.
    pub centres: Written<Prototype>,
    /// What to bear in mind.
    #[serde(default)]
    pub note: String,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// Its edition.
    #[serde(default)]
    pub edition: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// The published clearances.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Clearances {
    /// Track outlines.
    #[serde(default, rename = "outline")]
    pub outlines: Vec<Outline>,
    /// What they gain on curves.
    #[serde(default, rename = "widening")]
    pub widenings: Vec<Widening>,
    /// Groups of cars.
    #[serde(default, rename = "group")]
    pub groups: Vec<Group>,
    /// Full-size rules.
    #[serde(default, rename = "rule")]
    pub rules: Vec<Rule>,
    /// Full-size outlines of cars.
    #[serde(default, rename = "plate")]
    pub plates: Vec<Plate>,
}

impl Clearances {
    /// The outline of that key.
    #[must_use]
    pub fn outline(&self, key: &str) -> Option<&Outline> {
        keyed(&self.outlines, key)
    }

    /// The rule of that key.
    #[must_use]
    pub fn rule(&self, key: &str) -> Option<&Rule> {
        keyed(&self.rules, key)
    }

    /// The smallest group that holds a car; the largest for a longer one.
    #[must_use]
    pub fn group(&self, length: PrototypeLength, centres: PrototypeLength) -> Option<&Group> {
        let holds = |row: &&Group| length <= row.length.length() && centres <= row.centres.length();
        self.groups.iter().find(holds).or(self.groups.last())
    }

    /// What an outline gains on both sides on a curve, by a straight line
    /// between the radii of the sheet; nothing where the sheet prints no value.
    /// On a curve wider than its widest, the widest counts, which is safe.
    #[must_use]
    pub fn widening(&self, outline: &str, radius: ModelLength, group: &str) -> Option<ModelLength> {
        let value = |row: &Widening| {
            let cell = match group {
                "A" => &row.a,
                "B" => &row.b,
                _ => &row.c,
            };
            cell.as_ref().map(|cell| (row.radius.length(), cell.length()))
        };
        let mut rows: Vec<_> = (self.widenings.iter())
            .filter(|row| row.outline.eq_ignore_ascii_case(outline))
            .filter_map(value)
            .collect();
        rows.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (first, last) = (rows.first()?, rows.last()?);
        if radius >= last.0 {
            return Some(last.1);
        }
        if radius < first.0 - ModelLength::thou(1e-6) {
            return None;
        }
        let pair = rows.windows(2).find(|pair| radius <= pair[1].0)?;
        let share = ((radius - pair[0].0) / (pair[1].0 - pair[0].0)).max(0.0);
        Some(pair[0].1 + (pair[1].1 - pair[0].1) * share)
    }
}

rows! {
    Outline, self => self.key.clone();
    Widening, self => format!("{} at {}", self.outline, self.radius);
    Group, self => self.key.clone();
    Rule, self => self.key.clone();
    Plate, self => self.key.clone();
}

impl DataFile for Clearances {
    const NAME: &'static str = "clearances.toml";

    fn trouble(&self) -> Option<String> {
        let none = |full: &Written<Prototype>| full.exact().in_inches() <= Rational::ZERO;
        let empty =
            |row: &&Rule| row.side.is_none() && row.beside_car.is_none() && row.overhead.is_none();
        let bad = |row: &&Rule| row.side.iter().chain(&row.overhead).any(none);
        double_trouble(&self.outlines)
            .or_else(|| double_trouble(&self.widenings))
            .or_else(|| double_trouble(&self.groups))
            .or_else(|| double_trouble(&self.rules))
            .or_else(|| double_trouble(&self.plates))
            .or_else(|| {
                let row = self.rules.iter().find(empty)?;
                Some(format!("the rule {} says nothing", row.key))
            })
            .or_else(|| {
                let row = self.rules.iter().find(|row| row.arch_troubles())?;
                Some(format!("the arch of {} does not fit under its height overhead", row.key))
            })
            .or_else(|| {
                let row = self.rules.iter().find(bad)?;
                Some(format!("a clearance of {} is not above 0", row.key))
            })
    }

    fn merged(&self, own: &Self) -> Self {
        Self {
            outlines: merge(&self.outlines, &own.outlines),
            widenings: merge(&self.widenings, &own.widenings),
            groups: merge(&self.groups, &own.groups),
            rules: merge(&self.rules, &own.rules),
            plates: merge(&self.plates, &own.plates),
        }
    }
}
