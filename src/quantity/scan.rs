//! A place in a text, and the numbers found there.

use std::ops::Range;

use super::{NotationError, Rational};

/// A number of more digits than this before its point is no size; decimals
/// past them are rounded.
const MOST_DIGITS: usize = 15;
/// A number of more digits than this was not meant as one.
const MOST_WRITTEN: usize = 40;

/// A number and where it stood.
#[derive(Clone, Debug)]
pub(super) struct Number {
    pub(super) value: Rational,
    pub(super) span: Range<usize>,
    /// Written with a decimal point.
    pub(super) point: bool,
    /// Written as digits alone.
    pub(super) whole: bool,
}

/// A place in a text.
#[derive(Clone, Debug)]
pub(super) struct Cursor<'t> {
    pub(super) text: &'t str,
    pub(super) start: usize,
    pub(super) at: usize,
    pub(super) end: usize,
    /// Whether the text is a sentence: a dash joins only where no space stands
    /// beside it, and a comma ends a number.
    pub(super) sentence: bool,
}

impl<'t> Cursor<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        Self::within(text, 0..text.len())
    }

    /// A cursor that sees only part of the text, its places those of the whole.
    pub(super) fn within(text: &'t str, span: Range<usize>) -> Self {
        let trimmed = text[..span.end].trim_end().len().max(span.start);
        Self { text, start: span.start, at: span.start, end: trimmed, sentence: false }
    }

    pub(super) fn rest(&self) -> &'t str {
        &self.text[self.at..self.end]
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    pub(super) fn is_done(&self) -> bool {
        self.at >= self.end
    }

    /// Takes the first of `words` that stands here.
    pub(super) fn take(&mut self, words: &[&str]) -> bool {
        let found = words.iter().find(|word| self.rest().starts_with(**word));
        self.at += found.map_or(0, |word| word.len());
        found.is_some()
    }

    pub(super) fn skip_spaces(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
    }

    /// Takes the longest run of characters that `wanted` allows.
    pub(super) fn run(&mut self, wanted: impl Fn(char) -> bool) -> &'t str {
        let rest = self.rest();
        let length = rest.find(|c| !wanted(c)).unwrap_or(rest.len());
        self.at += length;
        &rest[..length]
    }

    /// Takes a sign; whether it was a minus.
    pub(super) fn sign(&mut self) -> bool {
        let minus = self.take(&["-", "\u{2212}"]);
        let _plus = !minus && self.take(&["+"]);
        self.skip_spaces();
        minus
    }

    /// Steps over the spaces and the dash that join two parts of a size; nothing
    /// is taken where the dash is a minus.
    pub(super) fn join(&mut self, dashes: &[&str]) -> bool {
        let before = self.at;
        self.skip_spaces();
        let spaced = self.at > before;
        if self.take(dashes) {
            let after = self.at;
            self.skip_spaces();
            if self.sentence && (spaced || self.at > after) {
                self.at = before;
                return false;
            }
        }
        true
    }

    /// The span of the character here, or the empty one at the end.
    pub(super) fn here(&self) -> Range<usize> {
        self.at..self.at + self.peek().map_or(0, char::len_utf8)
    }

    pub(super) fn error(
        &self,
        span: Range<usize>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> NotationError {
        NotationError::new(self.text, span, message, hint)
    }

    /// Nothing may be left.
    pub(super) fn finish(&mut self, hint: &str) -> Result<(), NotationError> {
        self.skip_spaces();
        if self.is_done() {
            return Ok(());
        }
        let message = format!("this is left over: {}", self.rest().escape_debug());
        Err(self.error(self.at..self.end, message, hint))
    }

    /// A number without sign: `7`, `7.25`, `3/16`, `6 1/2`, `6-1/2`, `6½`, `½`.
    pub(super) fn number(&mut self) -> Result<Number, NotationError> {
        let start = self.at;
        if let Some(value) = self.vulgar() {
            return Ok(Number { value, span: start..self.at, point: false, whole: false });
        }
        let digits = self.run(|c| c.is_ascii_digit());
        if digits.is_empty() && self.peek() != Some('.') {
            return Err(self.no_number());
        }
        if self.peek() == Some('.') {
            return self.decimal(start, digits);
        }
        if self.peek() == Some(',') && !self.sentence {
            let hint = "write decimals with a point and no mark between thousands: 3.81, 1200";
            return Err(self.error(self.here(), "a comma inside a number", hint));
        }
        let first = self.digits(digits, start)?;
        if let Some(value) = self.fraction_below(first, start)? {
            return Ok(Number { value, span: start..self.at, point: false, whole: false });
        }
        let more = self.fraction_behind()?;
        let value = match more {
            Some(more) => {
                Rational::whole(first).plus(more).ok_or_else(|| self.too_long(start..self.at))?
            }
            None => Rational::whole(first),
        };
        Ok(Number { value, span: start..self.at, point: false, whole: more.is_none() })
    }

    fn no_number(&self) -> NotationError {
        let message =
            if self.is_done() { "a number is missing" } else { "a number should be here" };
        self.error(self.here(), message, "write for example 12' 6 1/2\", 3.81 m or 38.1 mm")
    }

    fn too_long(&self, span: Range<usize>) -> NotationError {
        let message =
            format!("more than {MOST_DIGITS} digits, or {MOST_WRITTEN} with the decimals");
        self.error(span, message, "no length needs as many: write fewer")
    }

    fn digits(&self, digits: &str, start: usize) -> Result<i64, NotationError> {
        let span = start..start + digits.len();
        if digits.len() > MOST_DIGITS {
            return Err(self.too_long(span));
        }
        digits.parse().map_err(|_| self.error(span, "a number should be here", ""))
    }

    /// The point and what follows `before`.
    fn decimal(&mut self, start: usize, before: &str) -> Result<Number, NotationError> {
        let point = self.at;
        self.at += 1;
        let after = self.run(|c| c.is_ascii_digit());
        if after.is_empty() {
            let hint = "write the digits after the point, or leave it out";
            return Err(self.error(point..point + 1, "no digit follows the point", hint));
        }
        if before.len() > MOST_DIGITS || before.len() + after.len() > MOST_WRITTEN {
            return Err(self.too_long(start..self.at));
        }
        // What another program worked out comes with 17 digits and more.
        let (after, over) = after.split_at(after.len().min(MOST_DIGITS - before.len()));
        let fold = |sum: i128, digit: u8| sum * 10 + i128::from(digit - b'0');
        let sum = before.bytes().chain(after.bytes()).fold(0, fold);
        let sum = sum + i128::from(over.bytes().next().is_some_and(|digit| digit >= b'5'));
        // At most 10^15: the power cannot overflow.
        let value = Rational::new(sum, 10_i128.pow(after.len() as u32));
        let value = value.ok_or_else(|| self.too_long(start..self.at))?;
        Ok(Number { value, span: start..self.at, point: true, whole: false })
    }

    /// The `/16` of `3/16`, where it follows at once.
    fn fraction_below(
        &mut self,
        above: i64,
        start: usize,
    ) -> Result<Option<Rational>, NotationError> {
        if !self.take(&["/", "\u{2044}", "\u{2215}"]) {
            return Ok(None);
        }
        let at = self.at;
        let below = self.run(|c| c.is_ascii_digit());
        if below.is_empty() {
            let hint = "write the number below the line: 3/16";
            return Err(self.error(self.here(), "the fraction is not finished", hint));
        }
        let below = i128::from(self.digits(below, at)?);
        let value = Rational::new(i128::from(above), below);
        let zero = || self.error(start..self.at, "a fraction with 0 below the line", "");
        value.ok_or_else(zero).map(Some)
    }

    /// The ` 1/2` of `6 1/2`, if one follows; else nothing is taken.
    fn fraction_behind(&mut self) -> Result<Option<Rational>, NotationError> {
        let before = self.at;
        if !self.join(&["-", "\u{2010}", "\u{2011}", "\u{2013}"]) {
            return Ok(None);
        }
        let apart = self.at - before;
        if let Some(value) = self.vulgar() {
            return Ok(Some(value));
        }
        let start = self.at;
        let digits = self.run(|c| c.is_ascii_digit());
        if apart > 0
            && !digits.is_empty()
            && matches!(self.peek(), Some('/' | '\u{2044}' | '\u{2215}'))
        {
            let above = self.digits(digits, start)?;
            return self.fraction_below(above, start);
        }
        self.at = before;
        Ok(None)
    }

    /// A fraction that is one character.
    fn vulgar(&mut self) -> Option<Rational> {
        let (above, below) = match self.peek()? {
            '½' => (1, 2),
            '⅓' => (1, 3),
            '⅔' => (2, 3),
            '¼' => (1, 4),
            '¾' => (3, 4),
            '⅕' => (1, 5),
            '⅖' => (2, 5),
            '⅗' => (3, 5),
            '⅘' => (4, 5),
            '⅙' => (1, 6),
            '⅚' => (5, 6),
            '⅐' => (1, 7),
            '⅛' => (1, 8),
            '⅜' => (3, 8),
            '⅝' => (5, 8),
            '⅞' => (7, 8),
            '⅑' => (1, 9),
            '⅒' => (1, 10),
            _ => return None,
        };
        self.at = self.here().end;
        Rational::new(above, below)
    }
}
