//! The twelve classic slips, and the ways each may have happened.

use serde::Serialize;

use super::{Case, Way, figures};
use crate::job::form::Form;
use crate::quantity::{
    Denominator, Notation, Prototype, PrototypeLength, Reading, Unit, parse, parse_number,
};

/// A classic slip of the field book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SlipKind {
    /// A whole foot (or metre, or ten centimetres) misread on the tape.
    WholeFoot,
    /// Two digits changed over.
    DigitsSwapped,
    /// A 6 read as a 9, or a figure read upside down.
    UpsideDown,
    /// One bay missed or counted twice.
    OneBay,
    /// Marks counted for intervals, or the other way.
    FencePost,
    /// The tape was not held at its zero.
    ZeroNotAtZero,
    /// Feet and inches written as a decimal of feet.
    DecimalFeet,
    /// Quarters of an inch taken for tenths.
    QuartersAsTenths,
    /// Half for whole: radius for diameter, half span for span.
    HalfForWhole,
    /// Inside for outside: two wall thicknesses.
    InsideForOutside,
    /// Measured from the other end.
    Mirrored,
    /// Centimetres or millimetres taken for inches, or the other way.
    MetricForInch,
}

impl SlipKind {
    /// All twelve.
    pub const ALL: [Self; 12] = [
        Self::WholeFoot,
        Self::DigitsSwapped,
        Self::UpsideDown,
        Self::OneBay,
        Self::FencePost,
        Self::ZeroNotAtZero,
        Self::DecimalFeet,
        Self::QuartersAsTenths,
        Self::HalfForWhole,
        Self::InsideForOutside,
        Self::Mirrored,
        Self::MetricForInch,
    ];

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::WholeFoot => "a whole foot misread",
            Self::DigitsSwapped => "digits swapped",
            Self::UpsideDown => "a figure upside down",
            Self::OneBay => "one bay missed or counted twice",
            Self::FencePost => "marks counted for intervals",
            Self::ZeroNotAtZero => "the tape not held at its zero",
            Self::DecimalFeet => "feet and inches written as decimal feet",
            Self::QuartersAsTenths => "quarters taken for tenths",
            Self::HalfForWhole => "half taken for the whole",
            Self::InsideForOutside => "inside taken for outside",
            Self::Mirrored => "measured from the other end",
            Self::MetricForInch => "metric taken for inches",
        }
    }

    /// Its key in `data/slips.toml`.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::WholeFoot => "whole-foot",
            Self::DigitsSwapped => "digits-swapped",
            Self::UpsideDown => "upside-down",
            Self::OneBay => "one-bay",
            Self::FencePost => "fence-post",
            Self::ZeroNotAtZero => "zero-not-at-zero",
            Self::DecimalFeet => "decimal-feet",
            Self::QuartersAsTenths => "quarters-as-tenths",
            Self::HalfForWhole => "half-for-whole",
            Self::InsideForOutside => "inside-for-outside",
            Self::Mirrored => "mirrored",
            Self::MetricForInch => "metric-for-inch",
        }
    }
}

/// How many whole feet a tape may be misread by; one is the usual.
const FEET: i32 = 5;

/// Every way the reading may have come about.
pub(super) fn ways(case: &Case<'_>) -> Vec<Way> {
    let mut ways = Vec::new();
    pen(case, &mut ways);
    factors(case, &mut ways);
    counts(case, &mut ways);
    if case.is_length() {
        tape(case, &mut ways);
        places(case, &mut ways);
    }
    ways
}

/// Adds the ways of one kind, sharing its weight evenly.
fn share(ways: &mut Vec<Way>, kind: SlipKind, found: Vec<(f64, String)>) {
    let share = 1.0 / found.len().max(1) as f64;
    ways.extend(found.into_iter().map(|(meant, words)| Way { kind, meant, share, words }));
}

/// What a text would come to as this reading's value.
fn value(case: &Case<'_>, text: &str) -> Option<f64> {
    if case.is_length() {
        let surveyor = case.job.about.surveyor.and_then(Denominator::new);
        let how = Reading { unit: None, surveyor };
        return Some(parse::<Prototype>(text, &how).ok()?.length().in_inches());
    }
    match case.reading.of {
        Form::Ratio(..) => Some(parse_number(text).ok()?.value.value()),
        _ => None,
    }
}

/// Slips of the pen, from the text as written.
fn pen(case: &Case<'_>, ways: &mut Vec<Way>) {
    let Some(text) = case.reading.value.as_deref() else { return };
    let text = text.split(['\u{b1}', '+']).next().unwrap_or(text).trim();
    let read = |others: Vec<String>| -> Vec<(f64, String)> {
        others
            .into_iter()
            .filter_map(|other| Some((value(case, &other)?, format!("{text} for {other}"))))
            .collect()
    };
    share(ways, SlipKind::DigitsSwapped, read(figures::swapped(text)));
    share(ways, SlipKind::UpsideDown, read(figures::upside_down(text)));
    let one = |other: Option<String>| read(other.into_iter().collect());
    share(ways, SlipKind::DecimalFeet, one(figures::feet_and_inches(text)));
    share(ways, SlipKind::QuartersAsTenths, one(figures::quarters(text)));
}

fn factors(case: &Case<'_>, ways: &mut Vec<Way>) {
    let half = [(0.5, "twice what it is"), (2.0, "half of what it is")];
    let times = |(factor, words): (f64, &str)| (case.value * factor, words.to_owned());
    share(ways, SlipKind::HalfForWhole, half.map(times).to_vec());
    if case.is_length() {
        let metric = [
            (2.54, "inches written for centimetres, or the other way"),
            (1.0 / 2.54, "centimetres taken for inches"),
            (25.4, "inches written for millimetres, or the other way"),
            (1.0 / 25.4, "millimetres taken for inches"),
        ];
        share(ways, SlipKind::MetricForInch, metric.map(times).to_vec());
    }
}

/// One too many, one too few.
fn counts(case: &Case<'_>, ways: &mut Vec<Way>) {
    let count = case.reading.given.get("count").and_then(|text| parse_number(text).ok());
    if let Some(count) = count.map(|count| count.value.value()).filter(|count| *count >= 1.0) {
        let unit = case.value / count;
        let found = [(count - 1.0, -unit), (count + 1.0, unit)].map(|(other, by)| {
            (case.value + by, format!("{count} counted where there are {other}"))
        });
        share(ways, SlipKind::FencePost, found.to_vec());
    }
    if case.is_length() {
        let bay = |bay: &f64| {
            let size = Notation::BUILDING.show(&PrototypeLength::inches(*bay));
            [
                (case.value - bay, format!("one bay of {size} counted twice")),
                (case.value + bay, format!("one bay of {size} missed")),
            ]
        };
        share(ways, SlipKind::OneBay, case.repeats.iter().flat_map(bay).collect());
    }
}

fn is_taped(case: &Case<'_>) -> bool {
    matches!(case.reading.method.as_str(), "tape" | "running-tape" | "cloth-tape")
}

/// Whether the figures are metric, so that the tape was.
fn is_metric(case: &Case<'_>) -> bool {
    let text = case.reading.value.as_deref().unwrap_or_default();
    let unit = parse::<Prototype>(text, &Reading::default()).map(|written| written.unit());
    matches!(unit, Ok(Unit::Metre | Unit::Centimetre | Unit::Millimetre))
}

/// Whole feet, and a tape not held at its zero.
fn tape(case: &Case<'_>, ways: &mut Vec<Way>) {
    if !is_taped(case) {
        return;
    }
    let metric = is_metric(case);
    let steps: Vec<(f64, f64, String)> = if metric {
        let (metre, ten) = (1000.0 / 25.4, 100.0 / 25.4);
        vec![(metre, 0.5, "exactly one metre".into()), (ten, 0.5, "exactly ten centimetres".into())]
    } else {
        // Each foot more is half as likely.
        (1..=FEET).map(|n| (12.0 * f64::from(n), 0.5_f64.powi(n), feet(n))).collect()
    };
    for (step, share, words) in steps {
        for sign in [1.0, -1.0] {
            ways.push(Way {
                kind: SlipKind::WholeFoot,
                meant: case.value + sign * step,
                share: share / 2.0,
                words: format!("{words} too {}", if sign > 0.0 { "short" } else { "long" }),
            });
        }
    }
    let marks: &[(f64, &str)] = if metric {
        &[(100.0 / 25.4, "the tape was held at its 10 cm mark")]
    } else {
        &[(12.0, "the tape was held at its 1 ft mark"), (1.0, "the tape was held at its 1 in mark")]
    };
    let found = marks.iter().map(|(mark, words)| (case.value - mark, (*words).to_owned()));
    share(ways, SlipKind::ZeroNotAtZero, found.collect());
}

fn feet(n: i32) -> String {
    match n {
        1 => "exactly one foot".to_owned(),
        n => format!("exactly {n} feet"),
    }
}

/// Walls and ends.
fn places(case: &Case<'_>, ways: &mut Vec<Way>) {
    let walls = case.catalog.slips.walls.iter().map(|wall| {
        let words = format!("short by two walls of {}: inside for outside", wall.thickness.text());
        (case.value + 2.0 * wall.thickness.length().in_inches(), words)
    });
    share(ways, SlipKind::InsideForOutside, walls.collect());
    let far = case.overalls.iter().map(|overall| {
        let size = Notation::BUILDING.show(&PrototypeLength::inches(*overall));
        (overall - case.value, format!("measured from the other end of {size}"))
    });
    share(ways, SlipKind::Mirrored, far.collect());
}
