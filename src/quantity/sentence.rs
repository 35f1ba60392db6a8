//! A sentence as it is typed at the bench, cut into quantities, words and signs.
//!
//! Nothing is decided here but what can be seen: `12 ft 6` is one length,
//! `2x12` two numbers with a sign between, `6:12` a ratio, `5 mA` a current.
//! A dash joins feet and inches where no space stands beside it; with a space on
//! both sides it is a minus.

use std::ops::Range;

use super::parse::{FEET, INCHES};
use super::scan::{Cursor, Number};
use super::{NotationError, Rational, Unit};

/// One piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub struct Token {
    /// What it is.
    pub what: Piece,
    /// Where it stands, in bytes of the text.
    pub span: Range<usize>,
}

/// What a piece of a sentence is.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// A word, in lower case.
    Word(String),
    /// A number without a unit.
    Number(Rational),
    /// A length, in inches, and the unit it was written in.
    Length(Rational, Unit),
    /// An area, in square inches.
    Area(Rational),
    /// An angle in degrees.
    Angle(Rational),
    /// Hundredths.
    Percent(Rational),
    /// One number to another: `6:12`, `1:48`, `6 in 12`.
    Ratio(Rational, Rational),
    /// An electrical size or a temperature, in volts, amperes, ohms, watts or
    /// degrees Celsius.
    Size(Kind, Rational),
    /// A sign.
    Sign(Sign),
}

/// What a size that is no length is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Volts.
    Volts,
    /// Amperes.
    Amperes,
    /// Ohms.
    Ohms,
    /// Watts.
    Watts,
    /// Degrees Celsius.
    Celsius,
    /// Ampere-hours.
    AmpereHours,
}

/// A sign between quantities.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// `x`, `×` or `by`.
    By,
    /// `*` or `·`.
    Times,
    /// `/` or `÷`.
    Over,
    /// `+`.
    Plus,
    /// `-`.
    Minus,
    /// `±`.
    PlusMinus,
    /// `(`.
    Open,
    /// `)`.
    Close,
    /// `=`.
    Equals,
    /// A comma between digits, without a space.
    Within,
    /// A comma, or a colon behind a word.
    Comma,
    /// A semicolon, or the end of a line.
    End,
}

/// Words that count something: a number before them is no inches, though feet
/// stand before it.
const COUNTED: [&str; 42] = [
    "bays", "pieces", "courses", "risers", "treads", "lamps", "white", "red", "yellow", "blue",
    "green", "warm", "boards", "posts", "sticks", "slates", "awg", "gauge", "ga", "times",
    "percent", "pct", "ohm", "ohms", "deg", "degrees", "windows", "doors", "panes", "bricks",
    "blocks", "shingles", "bulbs", "leds", "ties", "pickets", "staves", "rungs", "sides", "sided",
    "strips", "sheets",
];

/// Cuts a sentence.
///
/// # Errors
///
/// A number that cannot be read: the place, and what to write.
pub fn cut(text: &str) -> Result<Vec<Token>, NotationError> {
    let mut cursor = Cursor::new(text);
    cursor.sentence = true;
    let mut tokens: Vec<Token> = Vec::new();
    loop {
        cursor.skip_spaces();
        let start = cursor.at;
        if cursor.is_done() {
            return Ok(tokens);
        }
        let what = piece(&mut cursor, &tokens)?;
        tokens.push(Token { what, span: start..cursor.at });
    }
}

fn piece(cursor: &mut Cursor<'_>, before: &[Token]) -> Result<Piece, NotationError> {
    let negative = is_negative(cursor, before);
    if negative {
        cursor.at += cursor.here().len();
    }
    let mut ahead = cursor.clone();
    if begins_number(&ahead) {
        let what = quantity(&mut ahead, before)?;
        cursor.at = ahead.at;
        return Ok(if negative { what.negated() } else { what });
    }
    if let Some(sign) = sign(cursor) {
        return Ok(Piece::Sign(sign));
    }
    let behind_quantity = before.last().is_some_and(|token| token.what.is_quantity());
    if behind_quantity && is_by(cursor.rest()) {
        cursor.at += 1;
        return Ok(Piece::Sign(Sign::By));
    }
    let word = cursor.run(char::is_alphanumeric);
    if word.is_empty() {
        let other = cursor.rest().chars().next().unwrap_or_default();
        cursor.at += other.len_utf8();
        return Ok(Piece::Word(other.to_string()));
    }
    let word = word.to_lowercase();
    // The point of an abbreviation.
    cursor.take(&["."]);
    if word == "by" && behind_quantity {
        return Ok(Piece::Sign(Sign::By));
    }
    Ok(Piece::Word(word))
}

/// Whether an `x` between two sizes stands here.
fn is_by(rest: &str) -> bool {
    rest.strip_prefix(['x', 'X']).is_some_and(|behind| !behind.starts_with(char::is_alphabetic))
}

fn begins_number(cursor: &Cursor<'_>) -> bool {
    let mut characters = cursor.rest().chars();
    match characters.next() {
        Some('.') => characters.next().is_some_and(|c| c.is_ascii_digit()),
        Some(first) => first.is_numeric(),
        None => false,
    }
}

/// Whether a minus stands at once before a number and behind no quantity.
fn is_negative(cursor: &Cursor<'_>, before: &[Token]) -> bool {
    let mut characters = cursor.rest().chars();
    let minus = matches!(characters.next(), Some('-' | '\u{2212}'));
    let digit = characters.next().is_some_and(|c| c.is_numeric() || c == '.');
    let behind = before.last().is_none_or(|token| match &token.what {
        Piece::Sign(sign) => *sign != Sign::Close,
        Piece::Word(_) => cursor.at > token.span.end,
        _ => false,
    });
    minus && digit && behind
}

fn sign(cursor: &mut Cursor<'_>) -> Option<Sign> {
    const SIGNS: [(&str, Sign); 24] = [
        ("\u{b1}", Sign::PlusMinus),
        ("+/-", Sign::PlusMinus),
        ("+-", Sign::PlusMinus),
        ("->", Sign::Equals),
        ("\u{2192}", Sign::Equals),
        ("\u{d7}", Sign::By),
        ("*", Sign::Times),
        ("\u{b7}", Sign::Times),
        ("\u{f7}", Sign::Over),
        ("/", Sign::Over),
        ("\u{2044}", Sign::Over),
        ("+", Sign::Plus),
        ("-", Sign::Minus),
        ("\u{2013}", Sign::Minus),
        ("\u{2212}", Sign::Minus),
        ("(", Sign::Open),
        ("[", Sign::Open),
        (")", Sign::Close),
        ("]", Sign::Close),
        ("=", Sign::Equals),
        (",", Sign::Comma),
        (":", Sign::Comma),
        (";", Sign::End),
        ("\n", Sign::End),
    ];
    let behind_digit = cursor.text[..cursor.at].ends_with(|c: char| c.is_ascii_digit());
    let (text, sign) = SIGNS.iter().find(|(text, _)| cursor.rest().starts_with(text))?;
    cursor.at += text.len();
    let within = *text == "," && behind_digit && cursor.peek().is_some_and(|c| c.is_ascii_digit());
    Some(if within { Sign::Within } else { *sign })
}

/// A number with what makes it a quantity.
fn quantity(cursor: &mut Cursor<'_>, before: &[Token]) -> Result<Piece, NotationError> {
    let number = cursor.number()?;
    if number.point && cursor.peek() == Some('.') {
        let hint = "write 3'-10 1/4\" or 3'-10 1/16\": say what the last figure counts";
        let span = number.span.start..cursor.end;
        return Err(cursor.error(span, "the last figure may count quarters or sixteenths", hint));
    }
    if let Some(run) = ratio(cursor, &number)? {
        return Ok(Piece::Ratio(number.value, run));
    }
    let bare = cursor.at;
    if let Some(found) = with_unit(cursor, &number, before)? {
        return Ok(found);
    }
    cursor.at = bare;
    Ok(Piece::Number(number.value))
}

/// The `:12` of `6:12`, the ` in 12` or ` on 12` of `6 in 12`.
fn ratio(cursor: &mut Cursor<'_>, number: &Number) -> Result<Option<Rational>, NotationError> {
    let before = cursor.at;
    let colon = cursor.take(&[":"]);
    if !colon {
        cursor.skip_spaces();
        if !cursor.take(&["in 12", "on 12", "IN 12"]) || !number.value.is_pitch() {
            cursor.at = before;
            return Ok(None);
        }
        cursor.at -= 2;
    }
    if !begins_number(cursor) {
        cursor.at = before;
        return Ok(None);
    }
    let run = cursor.number()?;
    let behind = cursor.peek();
    let twelve = colon || (run.whole && run.value == Rational::whole(12));
    let ends = behind.is_none_or(|c| !c.is_alphanumeric() && !matches!(c, '\'' | '"' | '.'));
    if !twelve || (!colon && !ends) {
        cursor.at = before;
        return Ok(None);
    }
    Ok(Some(run.value))
}

impl Rational {
    /// Whether it can be the rise of a pitch over 12.
    fn is_pitch(self) -> bool {
        self > Self::ZERO && self <= Self::whole(48)
    }
}

/// The unit behind a number.
fn with_unit(
    cursor: &mut Cursor<'_>,
    number: &Number,
    before: &[Token],
) -> Result<Option<Piece>, NotationError> {
    let attached = cursor.at;
    cursor.skip_spaces();
    let spaced = cursor.at > attached;
    if cursor.take(&INCHES) {
        return length(cursor, number, Unit::Inch).map(Some);
    }
    if cursor.take(&FEET) {
        return feet(cursor, number).map(Some);
    }
    if cursor.take(&["%"]) {
        return Ok(Some(Piece::Percent(number.value)));
    }
    if cursor.take(&["\u{b0}C", "\u{2103}"]) {
        return Ok(Some(Piece::Size(Kind::Celsius, number.value)));
    }
    if cursor.take(&["\u{b0}"]) {
        return Ok(Some(Piece::Angle(number.value)));
    }
    let word = cursor.run(|c| c.is_alphabetic() || matches!(c, '\u{2126}' | '\u{3a9}'));
    if let Some(found) = other_unit(cursor, number, word, spaced) {
        return Ok(Some(found));
    }
    if matches!(word, "sq" | "square") {
        return Ok(area(cursor, number));
    }
    let Some(unit) = Unit::from_word(word) else { return Ok(None) };
    if word.eq_ignore_ascii_case("in") && is_preposition(cursor, before) {
        return Ok(None);
    }
    if cursor.peek().is_some_and(char::is_numeric) && spaced {
        return Ok(None);
    }
    cursor.take(&["."]);
    if unit == Unit::Foot { feet(cursor, number) } else { length(cursor, number, unit) }.map(Some)
}

/// Whether `in` behind a number means a place and not inches: behind the second
/// side of a section, where a scale or a year follows.
fn is_preposition(cursor: &Cursor<'_>, before: &[Token]) -> bool {
    let section = matches!(before.last(), Some(Token { what: Piece::Sign(Sign::By), .. }));
    let rest = cursor.rest().trim_start();
    let digits = rest.chars().take_while(char::is_ascii_digit).count();
    let scale = rest.starts_with(|c: char| c.is_uppercase()) || rest[digits..].starts_with(':');
    section && (scale || digits == 4)
}

/// Units that are no lengths.
fn other_unit(cursor: &mut Cursor<'_>, number: &Number, word: &str, spaced: bool) -> Option<Piece> {
    let thousand = Rational::whole(1000);
    let size = |kind, value: Option<Rational>| value.map(|value| Piece::Size(kind, value));
    let value = number.value;
    match word {
        "V" | "v" | "volt" | "volts" | "Volt" | "Volts" => size(Kind::Volts, Some(value)),
        "mA" | "ma" | "milliamps" | "milliamperes" => size(Kind::Amperes, value.over(thousand)),
        "mAh" | "mah" => size(Kind::AmpereHours, value.over(thousand)),
        "Ah" | "ah" => size(Kind::AmpereHours, Some(value)),
        "A" | "amp" | "amps" | "ampere" | "amperes" => size(Kind::Amperes, Some(value)),
        "ohm" | "ohms" | "Ohm" | "Ohms" | "\u{2126}" | "\u{3a9}" => size(Kind::Ohms, Some(value)),
        "kohm" | "kohms" | "k\u{2126}" | "k\u{3a9}" => size(Kind::Ohms, value.times(thousand)),
        "k" | "K" if !spaced => {
            cursor.skip_spaces();
            let _ = cursor.take(&["ohms", "ohm", "\u{2126}", "\u{3a9}"]);
            size(Kind::Ohms, value.times(thousand))
        }
        "W" | "watt" | "watts" => size(Kind::Watts, Some(value)),
        "mW" | "milliwatts" => size(Kind::Watts, value.over(thousand)),
        "C" | "celsius" | "Celsius" => size(Kind::Celsius, Some(value)),
        "percent" | "pct" => Some(Piece::Percent(value)),
        "deg" | "degree" | "degrees" => {
            let at = cursor.at;
            cursor.take(&["."]);
            cursor.skip_spaces();
            if matches!(cursor.run(char::is_alphabetic), "C" | "Celsius" | "celsius") {
                return size(Kind::Celsius, Some(value));
            }
            cursor.at = at;
            Some(Piece::Angle(value))
        }
        _ => None,
    }
}

/// The unit of an area behind `sq`.
fn area(cursor: &mut Cursor<'_>, number: &Number) -> Option<Piece> {
    cursor.take(&["."]);
    cursor.skip_spaces();
    let unit = Unit::from_word(cursor.run(char::is_alphabetic))?;
    let side = unit.to_inches(Rational::whole(1))?;
    number.value.times(side)?.times(side).map(Piece::Area)
}

fn length(cursor: &Cursor<'_>, number: &Number, unit: Unit) -> Result<Piece, NotationError> {
    let inches = unit.to_inches(number.value);
    let long =
        || cursor.error(number.span.clone(), "the numbers are too long", "write fewer digits");
    inches.map(|inches| Piece::Length(inches, unit)).ok_or_else(long)
}

/// Feet, with the inches that may follow.
fn feet(cursor: &mut Cursor<'_>, number: &Number) -> Result<Piece, NotationError> {
    cursor.take(&["."]);
    let mut ahead = cursor.clone();
    let more = if number.whole { inches_behind(&mut ahead)? } else { None };
    let Some(more) = more else { return length(cursor, number, Unit::Foot) };
    cursor.at = ahead.at;
    let sum = Unit::Foot.to_inches(number.value).and_then(|feet| feet.plus(more));
    let long =
        || cursor.error(number.span.clone(), "the numbers are too long", "write fewer digits");
    sum.map(|inches| Piece::Length(inches, Unit::Inch)).ok_or_else(long)
}

/// Inches under 12 behind feet; nothing where the number belongs to what follows.
fn inches_behind(cursor: &mut Cursor<'_>) -> Result<Option<Rational>, NotationError> {
    if !cursor.join(&["-", "\u{2010}", "\u{2011}", "\u{2013}", "\u{2212}"])
        || !begins_number(cursor)
    {
        return Ok(None);
    }
    let number = cursor.number()?;
    let attached = cursor.at;
    cursor.skip_spaces();
    if cursor.take(&INCHES) {
        return inches_of(cursor, &number);
    }
    let word = cursor.run(char::is_alphabetic);
    if Unit::from_word(word) == Some(Unit::Inch) {
        cursor.take(&["."]);
        return inches_of(cursor, &number);
    }
    let spaced = cursor.at - word.len() > attached;
    let counts = COUNTED.iter().any(|counted| word.eq_ignore_ascii_case(counted));
    // `2 ft 8 x 6 ft 8`: two sides; `12 ft 2x6`: a section behind feet.
    let side = spaced && matches!(word, "x" | "X" | "by") && is_in_feet(cursor.clone());
    let joined = matches!(word, "x" | "X" | "by") && !side;
    let other = Unit::from_word(word).is_some() || joined || word == "sq";
    let glued = !word.is_empty() && !spaced;
    let sign = cursor.rest().starts_with(['\u{d7}', ':', '%', '\u{b0}', '\'']);
    let electric = other_unit(&mut cursor.clone(), &number, word, spaced).is_some();
    cursor.at = attached;
    if counts || other || glued || sign || electric || number.value >= Rational::whole(12) {
        return Ok(None);
    }
    Ok(Some(number.value))
}

/// Whether a number of feet comes next.
fn is_in_feet(mut cursor: Cursor<'_>) -> bool {
    cursor.skip_spaces();
    if !begins_number(&cursor) || cursor.number().is_err() {
        return false;
    }
    cursor.skip_spaces();
    cursor.take(&FEET) || Unit::from_word(cursor.run(char::is_alphabetic)) == Some(Unit::Foot)
}

/// Inches behind feet, but not those of a scale: `12 ft 1/4" scale`.
fn inches_of(cursor: &Cursor<'_>, number: &Number) -> Result<Option<Rational>, NotationError> {
    if cursor.rest().trim_start().to_lowercase().starts_with("scale") {
        return Ok(None);
    }
    under_a_foot(cursor, number).map(Some)
}

fn under_a_foot(cursor: &Cursor<'_>, number: &Number) -> Result<Rational, NotationError> {
    if number.value < Rational::whole(12) {
        return Ok(number.value);
    }
    let hint = "carry each 12 inches into the feet";
    Err(cursor.error(number.span.clone(), "12 inches or more behind feet", hint))
}

impl Piece {
    /// Whether it is a number of something.
    #[must_use]
    pub fn is_quantity(&self) -> bool {
        !matches!(self, Self::Word(_) | Self::Sign(_))
    }

    fn negated(self) -> Self {
        match self {
            Self::Number(value) => Self::Number(value.negated()),
            Self::Length(inches, unit) => Self::Length(inches.negated(), unit),
            Self::Angle(value) => Self::Angle(value.negated()),
            Self::Percent(value) => Self::Percent(value.negated()),
            Self::Size(kind, value) => Self::Size(kind, value.negated()),
            other => other,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pieces(text: &str) -> Vec<Piece> {
        cut(text).unwrap().into_iter().map(|token| token.what).collect()
    }

    fn inches(above: i128, below: i128) -> Rational {
        Rational::new(above, below).unwrap()
    }

    #[test]
    fn feet_take_the_inches_behind_them_and_no_others() {
        for text in ["12 ft 6", "12' 6\"", "12'-6\"", "12ft6in", "12 ft. 6 in.", "12'6"] {
            assert_eq!(pieces(text)[0], Piece::Length(inches(150, 1), Unit::Inch), "{text}");
            assert_eq!(pieces(text).len(), 1, "{text}");
        }
        assert_eq!(pieces("12 ft 1/4\" scale")[0], Piece::Length(inches(144, 1), Unit::Foot));
        assert_eq!(pieces("2 ft 8 x 6 ft 8")[0], Piece::Length(inches(32, 1), Unit::Inch));
        for text in ["12 ft 60 mA", "12 ft 30 awg", "12 ft 2x4", "12 ft 3 white", "12 ft 6 mm"] {
            assert_eq!(pieces(text)[0], Piece::Length(inches(144, 1), Unit::Foot), "{text}");
        }
    }

    #[test]
    fn a_spaced_dash_is_a_minus_and_a_joined_one_is_not() {
        assert_eq!(pieces("12 ft - 6 in")[1], Piece::Sign(Sign::Minus));
        assert_eq!(pieces("6 - 1/2 in").len(), 3);
        assert_eq!(pieces("6-1/2 in"), [Piece::Length(inches(13, 2), Unit::Inch)]);
        assert_eq!(pieces("5, -118.5")[2], Piece::Number(inches(-237, 2)));
    }

    #[test]
    fn sections_ratios_and_sizes_are_told_apart() {
        assert_eq!(pieces("2x12 in O")[2], Piece::Number(inches(12, 1)));
        assert_eq!(pieces("6:12"), [Piece::Ratio(inches(6, 1), inches(12, 1))]);
        assert_eq!(pieces("6 in 12 pitch")[0], Piece::Ratio(inches(6, 1), inches(12, 1)));
        assert_eq!(pieces("6 in 12 ft").len(), 2);
        assert_eq!(pieces("5 mA"), [Piece::Size(Kind::Amperes, inches(1, 200))]);
        assert_eq!(pieces("2.2k"), [Piece::Size(Kind::Ohms, inches(2200, 1))]);
        assert_eq!(pieces("40 deg C"), [Piece::Size(Kind::Celsius, inches(40, 1))]);
        assert_eq!(pieces("100 sq ft"), [Piece::Area(inches(14_400, 1))]);
        assert_eq!(pieces("212,118")[1], Piece::Sign(Sign::Within));
        assert_eq!(pieces("3 furlongs")[1], Piece::Word("furlongs".to_owned()));
    }
}
