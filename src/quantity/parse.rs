//! Reading lengths as people write them.

use std::ops::Range;

use super::scan::{Cursor, Number};
use super::show::{Denominator, Notation};
use super::written::{Exact, Remainder, Stated, Written};
use super::{Model, NotationError, Rational, Space, Unit};

pub(super) const FEET: [&str; 4] = ["'", "\u{2032}", "\u{2019}", "\u{02b9}"];
pub(super) const INCHES: [&str; 6] =
    ["''", "\u{2032}\u{2032}", "\"", "\u{2033}", "\u{201d}", "\u{02ba}"];
/// The girth of the Earth is 1.58e9 in: whatever is longer is a slip, and sums
/// of what is shorter stay within what a [`Rational`] holds.
const LONGEST: i64 = 1_577_000_000;
const PLUS_MINUS: [&str; 3] = ["\u{b1}", "+/-", "+-"];

/// How a text that leaves something open is to be read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Reading {
    /// The unit of a bare number; without one a bare number is refused.
    pub unit: Option<Unit>,
    /// What the third figure of `3.10.1` counts: 4 for quarters of an inch,
    /// 16 for sixteenths. Without it such a figure is refused.
    pub surveyor: Option<Denominator>,
}

impl Reading {
    /// Bare numbers are in `unit`.
    #[must_use]
    pub fn in_unit(unit: Unit) -> Self {
        Self { unit: Some(unit), surveyor: None }
    }
}

/// Reads one length.
///
/// | written | read as |
/// |---|---|
/// | `12' 6 1/2"`, `12'-6.5"`, `12ft 6-1/2in`, `12′ 6½″` | feet and inches |
/// | `12' 6` | the same: inches follow feet |
/// | `150.5"`, `3/16 in`, `20 thou` | inches, thousandths |
/// | `3.81 m`, `381cm`, `3810 mm` | metres and their parts |
/// | `6 1/2` | in the unit of the [`Reading`], refused without one |
/// | `12.6` | refused where feet are the unit, or none is: 12.6 ft or 12'-6" |
/// | `3.10.1` | feet, inches and parts, where the [`Reading`] says which parts |
/// | `12' 6 1/2"+` | the mark is read over, with a notice |
///
/// ```
/// use scantling::quantity::{Prototype, Reading, Rational, parse};
///
/// let wall = parse::<Prototype>("12' 6 1/2\"", &Reading::default())?;
/// assert_eq!(Some(wall.exact().in_inches()), Rational::new(301, 2));
///
/// let error = parse::<Prototype>("12.6", &Reading::default()).unwrap_err();
/// assert!(error.hint.contains("12'-6\""));
/// # Ok::<(), scantling::quantity::NotationError>(())
/// ```
///
/// # Errors
///
/// Where the text is no length or can be read in two ways: the place, and what
/// to write.
pub fn parse<S: Space>(text: &str, reading: &Reading) -> Result<Written<S>, NotationError> {
    let mut cursor = Cursor::new(text);
    let found = scan(&mut cursor, reading)?;
    let (inches, unit) = found.resolve(&cursor, reading.unit, false)?;
    Ok(Written::new(Exact::inches(inches), text.trim(), unit, found.remainder))
}

/// Reads a length with its standard uncertainty: `12 ft ± 1/2 in`,
/// `23 ± 0.5 mm`, `41' +/- 2%`. A side without a unit takes that of the other.
///
/// # Errors
///
/// As [`parse`]; also where the uncertainty is negative.
pub fn parse_stated<S: Space>(
    text: &str,
    reading: &Reading,
) -> Result<Stated<Written<S>>, NotationError> {
    let Some((mark, before, after)) = split(text) else {
        return Ok(Stated { value: parse(text, reading)?, sigma: None });
    };
    let mut left = Cursor::within(text, before);
    let mut right = Cursor::within(text, after);
    let (value, spread) = (scan(&mut left, reading)?, scan_spread(&mut right, reading)?);
    let (inches, unit) =
        value.resolve(&left, spread.unit().or(reading.unit), spread.unit().is_some())?;
    let sigma = match spread.amount {
        Amount::Percent(percent) => {
            percent.times(inches.abs()).and_then(|inches| inches.over(Rational::whole(100)))
        }
        _ => {
            let said = value.unit().is_some();
            Some(spread.resolve(&right, value.unit().or(reading.unit), said)?.0)
        }
    };
    let sigma = sigma.ok_or_else(|| right.error(mark.clone(), "the numbers are too long", ""))?;
    not_negative(&right, sigma)?;
    let written = |inches, text: &str, remainder| {
        Written::new(Exact::inches(inches), text.trim(), unit, remainder)
    };
    Ok(Stated {
        value: written(inches, &text[..mark.start], value.remainder),
        sigma: Some(written(sigma, &text[mark.end..], None)),
    })
}

/// The place of the ± and what stands on both sides.
pub(super) fn split(text: &str) -> Option<(Range<usize>, Range<usize>, Range<usize>)> {
    let place = |mark: &&str| text.find(*mark).map(|at| at..at + mark.len());
    let mark = PLUS_MINUS.iter().find_map(place)?;
    Some((mark.clone(), 0..mark.start, mark.end..text.len()))
}

pub(super) fn not_negative(cursor: &Cursor<'_>, sigma: Rational) -> Result<(), NotationError> {
    if sigma.is_negative() {
        let span = cursor.start..cursor.end;
        return Err(cursor.error(span, "an uncertainty below zero", "write it without a sign"));
    }
    Ok(())
}

/// What was found before the default unit is known.
struct Found {
    amount: Amount,
    negative: bool,
    remainder: Option<Remainder>,
}

enum Amount {
    /// A size with its unit, in inches.
    Sized(Rational, Unit),
    /// A number without one.
    Bare(Number),
    /// Hundredths of the value, behind a ± only.
    Percent(Rational),
}

impl Found {
    fn unit(&self) -> Option<Unit> {
        match self.amount {
            Amount::Sized(_, unit) => Some(unit),
            _ => None,
        }
    }

    /// The size in inches and the unit it is in; `said` where the default stands
    /// in the text itself, on the other side of a ±.
    fn resolve(
        &self,
        cursor: &Cursor<'_>,
        default: Option<Unit>,
        said: bool,
    ) -> Result<(Rational, Unit), NotationError> {
        let (inches, unit) = match &self.amount {
            Amount::Sized(inches, unit) => (*inches, *unit),
            Amount::Bare(number) => bare(cursor, number, default, said)?,
            Amount::Percent(_) => {
                let hint = "percent stands only behind ±: 12 ft ± 2%";
                return Err(cursor.error(
                    cursor.start..cursor.end,
                    "a percentage is no length",
                    hint,
                ));
            }
        };
        if inches.abs() > Rational::whole(LONGEST) {
            let hint = "look at the digits and the unit";
            let span = cursor.start..cursor.end;
            return Err(cursor.error(span, "this is longer than the Earth is round", hint));
        }
        Ok((if self.negative { inches.negated() } else { inches }, unit))
    }
}

/// A sign, an amount, a remainder mark, and nothing more.
fn scan(cursor: &mut Cursor<'_>, reading: &Reading) -> Result<Found, NotationError> {
    cursor.skip_spaces();
    let negative = cursor.sign();
    let amount = amount(cursor, reading)?;
    cursor.skip_spaces();
    let rest = cursor.rest();
    let remainder = match rest {
        "+" => Some(Remainder::Over),
        "-" | "\u{2212}" => Some(Remainder::Under),
        _ => None,
    };
    cursor.at += remainder.map_or(0, |_| rest.len());
    cursor.finish("write one length: 12' 6 1/2\", 3.81 m")?;
    Ok(Found { amount, negative, remainder })
}

/// [`scan`], also taking `2%`.
fn scan_spread(cursor: &mut Cursor<'_>, reading: &Reading) -> Result<Found, NotationError> {
    if !cursor.rest().ends_with('%') {
        return scan(cursor, reading);
    }
    cursor.end -= 1;
    cursor.skip_spaces();
    let negative = cursor.sign();
    let number = cursor.number()?;
    cursor.finish("write a percentage as 2%")?;
    let value = if negative { number.value.negated() } else { number.value };
    Ok(Found { amount: Amount::Percent(value), negative, remainder: None })
}

fn amount(cursor: &mut Cursor<'_>, reading: &Reading) -> Result<Amount, NotationError> {
    let number = cursor.number()?;
    if number.point && cursor.peek() == Some('.') {
        return surveyor(cursor, &number, reading.surveyor);
    }
    let after_number = cursor.at;
    cursor.skip_spaces();
    let Some(unit) = unit(cursor)? else {
        cursor.at = after_number;
        return Ok(Amount::Bare(number));
    };
    let inches = sized(cursor, &number, unit)?;
    if unit != Unit::Foot {
        return Ok(Amount::Sized(inches, unit));
    }
    let Some(more) = inches_behind(cursor)? else {
        return Ok(Amount::Sized(inches, unit));
    };
    if !number.whole {
        let hint = "write whole feet before inches, or the feet alone: 12.5 ft";
        return Err(cursor.error(number.span, "a part of a foot before inches", hint));
    }
    let sum = inches.plus(more).ok_or_else(|| too_long(cursor, number.span))?;
    Ok(Amount::Sized(sum, Unit::Inch))
}

fn too_long(cursor: &Cursor<'_>, span: Range<usize>) -> NotationError {
    cursor.error(span, "the numbers are too long", "write fewer digits")
}

fn sized(cursor: &Cursor<'_>, number: &Number, unit: Unit) -> Result<Rational, NotationError> {
    unit.to_inches(number.value).ok_or_else(|| too_long(cursor, number.span.clone()))
}

/// The unit that stands here, if one does.
fn unit(cursor: &mut Cursor<'_>) -> Result<Option<Unit>, NotationError> {
    if cursor.take(&INCHES) {
        return Ok(Some(Unit::Inch));
    }
    if cursor.take(&FEET) {
        return Ok(Some(Unit::Foot));
    }
    let start = cursor.at;
    let word = cursor.run(char::is_alphabetic);
    if word.is_empty() {
        return Ok(None);
    }
    let Some(unit) = Unit::from_word(word) else {
        let message = format!("{word} is no unit of length");
        let hint = "units: ft or ', in or \", thou, mm, cm, m, yd, rod, chain, ftUS";
        return Err(cursor.error(start..cursor.at, message, hint));
    };
    // The point of an abbreviation: `12 ft. 6 in.`
    cursor.take(&["."]);
    Ok(Some(unit))
}

/// The inches that may follow feet, with or without a dash and a mark.
fn inches_behind(cursor: &mut Cursor<'_>) -> Result<Option<Rational>, NotationError> {
    let before = cursor.at;
    if !cursor.join(&["-", "\u{2010}", "\u{2011}", "\u{2013}", "\u{2212}"]) {
        return Ok(None);
    }
    if !cursor.peek().is_some_and(|c| c.is_numeric() || c == '.') {
        cursor.at = before;
        return Ok(None);
    }
    let number = cursor.number()?;
    let after = cursor.at;
    cursor.skip_spaces();
    let start = cursor.at;
    match unit(cursor)? {
        Some(Unit::Inch) => {}
        None => cursor.at = after,
        Some(other) => {
            let message = format!("{other} behind feet");
            let hint = "after feet write inches: 12' 6\"";
            return Err(cursor.error(start..cursor.at, message, hint));
        }
    }
    if number.value >= Rational::whole(12) {
        let hint = "carry each 12 inches into the feet";
        return Err(cursor.error(number.span, "12 inches or more behind feet", hint));
    }
    Ok(Some(number.value))
}

/// `3.10.1`: feet, inches and parts of an inch.
fn surveyor(
    cursor: &mut Cursor<'_>,
    first: &Number,
    parts: Option<Denominator>,
) -> Result<Amount, NotationError> {
    cursor.at += 1;
    let last = cursor.run(|c| c.is_ascii_digit());
    let span = first.span.start..cursor.at;
    let text = &cursor.text[span.clone()];
    let mut figures = text.split('.').map(|figure| figure.parse::<i64>().ok());
    let (Some(Some(feet)), Some(Some(inches)), Some(Some(count))) =
        (figures.next(), figures.next(), figures.next())
    else {
        let hint = "write feet.inches.parts, each a whole number: 3.10.1";
        return Err(cursor.error(span, "a figure is missing", hint));
    };
    let Some(parts) = parts else {
        let hint = format!(
            "{feet}'-{inches} {last}/4\" if it counts quarters, {feet}'-{inches} {last}/16\" if \
             sixteenths: say which the note-taker used, or write it so"
        );
        return Err(cursor.error(span, "the last figure may count quarters or sixteenths", hint));
    };
    let parts = i64::from(parts.get());
    if inches >= 12 || count >= parts {
        let message = format!("inches must be under 12 and parts under {parts}");
        return Err(cursor.error(span, message, "each figure carries into the one before it"));
    }
    let inches = feet.checked_mul(12).and_then(|feet| feet.checked_add(inches));
    let whole = inches.ok_or_else(|| too_long(cursor, span.clone()))?;
    let size = Rational::new(i128::from(count), i128::from(parts))
        .and_then(|rest| rest.plus(Rational::whole(whole)));
    Ok(Amount::Sized(size.ok_or_else(|| too_long(cursor, span))?, Unit::Inch))
}

/// A number without a unit, in the default one.
fn bare(
    cursor: &Cursor<'_>,
    number: &Number,
    default: Option<Unit>,
    said: bool,
) -> Result<(Rational, Unit), NotationError> {
    let span = number.span.clone();
    let text = &cursor.text[span.clone()];
    match default {
        Some(Unit::Foot) if number.point && !said => {
            let message = format!("{text} can be read in two ways");
            Err(cursor.error(span, message, format!("write {}", both_readings(number, text))))
        }
        Some(unit) => Ok((sized(cursor, number, unit)?, unit)),
        None => {
            let feet =
                if number.point { both_readings(number, text) } else { format!("{text} ft") };
            let hint = format!("write {feet}, {text} in or {text} mm");
            Err(cursor.error(span, format!("{text} has no unit"), hint))
        }
    }
}

/// `12.6` as decimal feet and as feet and inches.
fn both_readings(number: &Number, text: &str) -> String {
    let feet = format!("{text} ft");
    let decimal = Unit::Foot.to_inches(number.value).map_or(feet.clone(), |inches| {
        let size: Exact<Model> = Exact::inches(inches);
        format!("{feet} (which is {})", Notation::FeetInches(Denominator::SIXTEENTHS).show(&size))
    });
    match text.split_once('.') {
        Some((feet, inches)) if inches.parse::<u8>().is_ok_and(|inches| inches < 12) => {
            let inches = inches.trim_start_matches('0');
            let inches = if inches.is_empty() { "0" } else { inches };
            format!("{decimal}, {feet}'-{inches}\"")
        }
        _ => decimal,
    }
}
