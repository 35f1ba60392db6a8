//! Writing lengths as people read them.
//!
//! The rule of rounding: to the nearest step; an exact half goes to the even
//! step (ASTM E29; ISO 80000-1 Annex B rule A); once, from the unrounded value.
//! A written size is rounded on its exact value. A floating point size that
//! stands within [`SNAP`] of a half, in relative size, counts as the half, and
//! one that near a whole step counts as on it, because the number carries the
//! dust of its own arithmetic.

use std::cmp::Ordering;
use std::fmt::{self, Write as _};

use super::written::{Exact, Remainder};
use super::{FullSize, Length, ModelLength, Scale, Space, Unit};

/// How near, relative to its own size, a floating point size counts as on a
/// step or on the half between two.
pub const SNAP: f64 = 1e-9;

/// What an inch is divided into: 1, 2, 4, 8, 16, 32 or 64.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Denominator(u8);

impl Denominator {
    /// Quarters.
    pub const QUARTERS: Self = Self(4);
    /// Eighths.
    pub const EIGHTHS: Self = Self(8);
    /// Sixteenths.
    pub const SIXTEENTHS: Self = Self(16);
    /// Sixty-fourths.
    pub const SIXTY_FOURTHS: Self = Self(64);

    /// That many parts to the inch, if it is one of the seven.
    #[must_use]
    pub fn new(parts: u32) -> Option<Self> {
        let parts = u8::try_from(parts).ok()?;
        (parts.is_power_of_two() && parts <= 64).then_some(Self(parts))
    }

    /// Reads `16` or `1/16`.
    #[must_use]
    pub fn from_text(text: &str) -> Option<Self> {
        let text = text.trim();
        Self::new(text.strip_prefix("1/").unwrap_or(text).parse().ok()?)
    }

    /// The parts in an inch.
    #[must_use]
    pub fn get(self) -> u8 {
        self.0
    }
}

impl fmt::Display for Denominator {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "1/{}", self.0)
    }
}

/// A size counted in whole steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Steps {
    /// The nearest count of steps.
    pub count: i128,
    /// What the true size, its sign aside, has over or under that count.
    pub remainder: Option<Remainder>,
}

impl Steps {
    fn new(count: i128, true_size: Ordering, negative: bool) -> Self {
        let away = if negative { true_size.reverse() } else { true_size };
        let remainder = match away {
            Ordering::Equal => None,
            Ordering::Greater => Some(Remainder::Over),
            Ordering::Less => Some(Remainder::Under),
        };
        Self { count, remainder }
    }
}

/// A size that can be counted in steps of a unit.
pub trait Stepped {
    /// The size in steps of `1/parts` of a unit, rounded by the rule of this
    /// module; nothing where it is no number or too large to count.
    fn steps(&self, unit: Unit, parts: u64) -> Option<Steps>;
}

impl<S: Space> Stepped for Exact<S> {
    fn steps(&self, unit: Unit, parts: u64) -> Option<Steps> {
        let parts = super::Rational::new(i128::from(parts), 1)?;
        let scaled = self.in_unit(unit)?.times(parts)?;
        let (count, true_size) = scaled.nearest_whole();
        Some(Steps::new(count, true_size, scaled.is_negative()))
    }
}

impl<S: Space> Stepped for Length<S> {
    fn steps(&self, unit: Unit, parts: u64) -> Option<Steps> {
        let scaled = match unit {
            Unit::Millimetre => self.in_millimetres(),
            Unit::Metre => self.in_metres(),
            _ => self.in_inches() / unit.in_inches(),
        };
        steps_of(scaled * parts as f64)
    }
}

/// The rule of this module for floating point numbers.
fn steps_of(scaled: f64) -> Option<Steps> {
    // Above 2^53 a step is finer than the number.
    if scaled.is_nan() || scaled.abs() >= 9e15 {
        return None;
    }
    let slack = SNAP * scaled.abs().max(1.0);
    let below = scaled.floor();
    let rest = scaled - below;
    let even = (below / 2.0).fract().abs() < 0.25;
    let (nearest, true_size) = if rest <= slack {
        (below, Ordering::Equal)
    } else if 1.0 - rest <= slack {
        (below + 1.0, Ordering::Equal)
    } else if (rest - 0.5).abs() <= slack {
        if even { (below, Ordering::Greater) } else { (below + 1.0, Ordering::Less) }
    } else if rest < 0.5 {
        (below, Ordering::Greater)
    } else {
        (below + 1.0, Ordering::Less)
    };
    Some(Steps::new(nearest as i128, true_size, scaled < 0.0))
}

/// A way to write a length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Notation {
    /// `12'-6 1/2"`, to a part of an inch, with the remainder as `+` or `-`.
    FeetInches(Denominator),
    /// `150 1/2"`, to a part of an inch, with the remainder as `+` or `-`.
    Inches(Denominator),
    /// A decimal number and a unit, to so many places: `3.81 m`, `150.500 in`,
    /// `41.7 thou`. More than 9 places are taken as 9.
    Decimal(Unit, u8),
}

impl Notation {
    /// Feet and inches to sixteenths: the usual way for a building.
    pub const BUILDING: Self = Self::FeetInches(Denominator::SIXTEENTHS);
    /// Millimetres and hundredths: the metric bench.
    pub const HUNDREDTHS: Self = Self::Decimal(Unit::Millimetre, 2);
    /// Whole thousandths of an inch: the bench in inches.
    pub const THOU: Self = Self::Decimal(Unit::Thou, 0);

    /// The unit and the parts of it that make one step.
    #[must_use]
    pub fn step(self) -> (Unit, u64) {
        match self {
            Self::FeetInches(parts) | Self::Inches(parts) => (Unit::Inch, u64::from(parts.get())),
            Self::Decimal(unit, places) => (unit, 10_u64.pow(u32::from(places.min(9)))),
        }
    }

    /// Writes a length. What cannot be counted is written as `no size`.
    ///
    /// ```
    /// use scantling::quantity::{Denominator, Notation, PrototypeLength};
    ///
    /// let eighths = Notation::FeetInches(Denominator::EIGHTHS);
    /// assert_eq!(eighths.show(&PrototypeLength::inches(150.5)), "12'-6 1/2\"");
    /// assert_eq!(eighths.show(&PrototypeLength::inches(150.51)), "12'-6 1/2\"+");
    /// assert_eq!(Notation::HUNDREDTHS.show(&PrototypeLength::inches(1.0)), "25.40 mm");
    /// ```
    #[must_use]
    pub fn show(self, size: &impl Stepped) -> String {
        let (unit, parts) = self.step();
        let Some(steps) = size.steps(unit, parts) else {
            return "no size".to_owned();
        };
        let mut text = String::with_capacity(24);
        if steps.count < 0 {
            text.push('-');
        }
        let (count, parts) = (steps.count.unsigned_abs(), u128::from(parts));
        // Writing to a String cannot fail.
        let _ = match self {
            Self::FeetInches(_) => feet_inches(&mut text, count, parts),
            Self::Inches(_) => inches(&mut text, count, parts),
            Self::Decimal(unit, places) => decimal(&mut text, count, parts, places.min(9), unit),
        };
        if !matches!(self, Self::Decimal(..)) {
            text.push_str(match steps.remainder {
                None => "",
                Some(Remainder::Over) => "+",
                Some(Remainder::Under) => "-",
            });
        }
        text
    }
}

/// Below a foot the feet are left out; above, the inches are always there.
fn feet_inches(text: &mut String, count: u128, parts: u128) -> fmt::Result {
    let feet = count / (12 * parts);
    if feet > 0 {
        write!(text, "{feet}'-")?;
    }
    inches(text, count % (12 * parts), parts)
}

fn inches(text: &mut String, count: u128, parts: u128) -> fmt::Result {
    let (whole, rest) = (count / parts, count % parts);
    // The parts are a power of two, so the common factor is one too.
    let common = 1 << rest.trailing_zeros().min(parts.trailing_zeros());
    match (whole, rest) {
        (whole, 0) => write!(text, "{whole}\""),
        (0, rest) => write!(text, "{}/{}\"", rest / common, parts / common),
        (whole, rest) => write!(text, "{whole} {}/{}\"", rest / common, parts / common),
    }
}

fn decimal(text: &mut String, count: u128, parts: u128, places: u8, unit: Unit) -> fmt::Result {
    let (whole, rest) = (count / parts, count % parts);
    match places {
        0 => write!(text, "{whole} {unit}"),
        _ => write!(text, "{whole}.{rest:0width$} {unit}", width = usize::from(places)),
    }
}

/// A model length in the feet and inches of its scale: `12'-6" HO`.
#[must_use]
pub fn scale_feet<S: FullSize>(model: ModelLength, scale: &Scale, parts: Denominator) -> String {
    let full: Length<S> = scale.enlarge(model);
    format!("{} {scale}", Notation::FeetInches(parts).show(&full))
}

/// A standard uncertainty in a unit with two significant digits, as JCGM
/// 100:2008 7.2.6 asks: `±0.41 in`, `±19 thou`, `±120 mm`.
#[must_use]
pub fn spread<S: Space>(sigma: Length<S>, unit: Unit) -> String {
    format!("±{} {unit}", significant(sigma.in_inches() / unit.in_inches(), 2))
}

/// A number with so many significant digits and no exponent: `0.41`, `19`,
/// `120` for 123.4 with two.
#[must_use]
pub fn significant(value: f64, digits: u8) -> String {
    if value.abs() < 1e-15 || !value.is_finite() {
        return if value.is_finite() { "0".to_owned() } else { "no number".to_owned() };
    }
    let places = |value: f64| i32::from(digits) - 1 - value.abs().log10().floor() as i32;
    let rounded = |places: i32| {
        let scaled = value * 10_f64.powi(places);
        steps_of(scaled).map_or(scaled, |steps| steps.count as f64) / 10_f64.powi(places)
    };
    // Rounding may carry into a further digit: 0.0996 is 0.10, not 0.100.
    let first = rounded(places(value));
    let kept = places(first * (1.0 + SNAP));
    format!("{:.*}", usize::try_from(kept).unwrap_or(0), first)
}
