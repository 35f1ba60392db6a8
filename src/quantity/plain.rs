//! Reading numbers, angles and pitches.

use serde::{Deserialize, Deserializer, de};

use super::parse::{not_negative, split};
use super::scan::Cursor;
use super::written::Stated;
use super::{Angle, NotationError, Rational};

/// Reads a plain number with or without its standard uncertainty: `15`,
/// `2.93 ± 0.03`, `9 1/2`, `1.74 +/- 2%`.
///
/// # Errors
///
/// Where the text is no such number.
pub fn parse_number(text: &str) -> Result<Stated<Rational>, NotationError> {
    stated(text, |cursor| {
        let value = signed(cursor)?;
        cursor.finish("write one number without a unit: 2.93 ± 0.03")?;
        Ok(value)
    })
}

/// Reads a pitch, the rise over the run: `6:12`, `6/12`, `6 in 12`, `0.5`,
/// `26.6 deg`, with or without ±.
///
/// # Errors
///
/// Where the text is no such pitch, or is below zero.
pub fn parse_pitch(text: &str) -> Result<Stated<Rational>, NotationError> {
    const HINT: &str = "write the rise over the run: 6:12, 6/12 or 0.5; or the slope: 26.6 deg";
    let pitch = stated(text, |cursor| {
        let start = cursor.at;
        let rise = signed(cursor)?;
        cursor.skip_spaces();
        if cursor.take(DEGREES) {
            cursor.finish(HINT)?;
            return slope(rise)
                .ok_or_else(|| cursor.error(start..cursor.at, "too steep a pitch", HINT));
        }
        if !cursor.take(&[":", "in "]) {
            cursor.finish(HINT)?;
            return Ok(rise);
        }
        cursor.skip_spaces();
        let run = cursor.number()?.value;
        cursor.finish(HINT)?;
        let span = start..cursor.at;
        rise.over(run).ok_or_else(|| cursor.error(span, "a pitch without a run", HINT))
    })?;
    if pitch.value.is_negative() {
        return Err(NotationError::new(text, 0..text.len(), "a pitch below zero", HINT));
    }
    Ok(pitch)
}

/// Reads an angle, with or without ±: `30 deg`, `30°`, `30.5° ± 1/2`,
/// `0.52 rad`. A side of the ± without a unit takes that of the other.
///
/// # Errors
///
/// Where the text is no angle or has no unit.
pub fn parse_angle(text: &str) -> Result<Stated<Angle>, NotationError> {
    let unit_of = |cursor: &mut Cursor<'_>| angle_unit(cursor);
    let Some((_, before, after)) = split(text) else {
        let mut cursor = Cursor::new(text);
        let (value, unit) = (signed(&mut cursor)?.value(), unit_of(&mut cursor)?);
        return Ok(Stated { value: angle(&cursor, value, unit)?, sigma: None });
    };
    let (mut left, mut right) = (Cursor::within(text, before), Cursor::within(text, after));
    let (value, left_unit) = (signed(&mut left)?.value(), unit_of(&mut left)?);
    let spread = signed(&mut right)?;
    let right_unit = unit_of(&mut right)?;
    not_negative(&right, spread)?;
    Ok(Stated {
        value: angle(&left, value, left_unit.or(right_unit))?,
        sigma: Some(angle(&right, spread.value(), right_unit.or(left_unit))?),
    })
}

/// Words for degrees, the longest first.
const DEGREES: &[&str] = &["°", "degrees", "degree", "deg"];

/// The rise over the run of a slope of so many degrees, to a millionth.
fn slope(degrees: Rational) -> Option<Rational> {
    let rise = degrees.value().to_radians().tan();
    let is_roof = (0.0..89.0).contains(&degrees.value());
    #[allow(clippy::cast_possible_truncation, reason = "under 60 million")]
    is_roof.then(|| Rational::new((rise * 1e6).round() as i128, 1_000_000)).flatten()
}

#[derive(Clone, Copy)]
enum AngleUnit {
    Degree,
    Radian,
}

fn angle_unit(cursor: &mut Cursor<'_>) -> Result<Option<AngleUnit>, NotationError> {
    cursor.skip_spaces();
    let unit = if cursor.take(DEGREES) {
        Some(AngleUnit::Degree)
    } else if cursor.take(&["radians", "radian", "rad"]) {
        Some(AngleUnit::Radian)
    } else {
        None
    };
    cursor.finish("write an angle as 30° or 30 deg")?;
    Ok(unit)
}

fn angle(cursor: &Cursor<'_>, value: f64, unit: Option<AngleUnit>) -> Result<Angle, NotationError> {
    match unit {
        Some(AngleUnit::Degree) => Ok(Angle::degrees(value)),
        Some(AngleUnit::Radian) => Ok(Angle::radians(value)),
        None => {
            let span = cursor.end..cursor.end;
            Err(cursor.error(span, "the angle has no unit", "write 30° or 30 deg"))
        }
    }
}

fn signed(cursor: &mut Cursor<'_>) -> Result<Rational, NotationError> {
    cursor.skip_spaces();
    let negative = cursor.sign();
    let value = cursor.number()?.value;
    Ok(if negative { value.negated() } else { value })
}

/// Reads `value ± sigma`, where sigma may be a percentage of the value.
fn stated(
    text: &str,
    mut read: impl FnMut(&mut Cursor<'_>) -> Result<Rational, NotationError>,
) -> Result<Stated<Rational>, NotationError> {
    let Some((mark, before, after)) = split(text) else {
        return Ok(Stated { value: read(&mut Cursor::new(text))?, sigma: None });
    };
    let value = read(&mut Cursor::within(text, before))?;
    let mut right = Cursor::within(text, after);
    let percent = right.rest().ends_with('%');
    right.end -= usize::from(percent);
    let spread = read(&mut right)?;
    not_negative(&right, spread)?;
    let share = Rational::new(1, 100).and_then(|part| part.times(value.abs())?.times(spread));
    let sigma = if percent { share } else { Some(spread) };
    let sigma = sigma.ok_or_else(|| right.error(mark, "the numbers are too long", ""))?;
    Ok(Stated { value, sigma: Some(sigma) })
}

impl<'de> Deserialize<'de> for Rational {
    /// From text: `"1/2"`, `"3 1/2"`, `"87.1"`.
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = String::deserialize(from)?;
        let number = parse_number(&text).map_err(de::Error::custom)?;
        match number.sigma {
            None => Ok(number.value),
            Some(_) => Err(de::Error::custom(format!("\"{text}\" should be one number"))),
        }
    }
}
