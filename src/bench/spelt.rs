//! Numbers written in words: `three white`, `two thirds of 16 ft`, `three
//! quarters of an inch`.

use crate::quantity::{Piece, Rational, Token, Unit};

/// Whole numbers; `one` stands for too many other things.
const NUMBERS: [&str; 11] =
    ["two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
/// Several parts of a whole. A single one is part of a name: `three quarter
/// inch scale`.
const PARTS: [(&str, i128); 7] = [
    ("halves", 2),
    ("thirds", 3),
    ("quarters", 4),
    ("fifths", 5),
    ("sixths", 6),
    ("eighths", 8),
    ("sixteenths", 16),
];
const ONE_PART: [&str; 3] = ["quarter", "half", "eighth"];

/// Puts figures where words stand for them.
pub(super) fn figures(tokens: &mut Vec<Token>) {
    let mut at = 0;
    while at < tokens.len() {
        if let Some((what, taken)) = spelt(&tokens[at..]) {
            let span = tokens[at].span.start..tokens[at + taken - 1].span.end;
            tokens.splice(at..at + taken, [Token { what, span }]);
        }
        at += 1;
    }
}

fn word(tokens: &[Token], at: usize) -> Option<&str> {
    match &tokens.get(at)?.what {
        Piece::Word(word) => Some(word),
        _ => None,
    }
}

/// What the first words stand for, and how many they are.
fn spelt(tokens: &[Token]) -> Option<(Piece, usize)> {
    let first = word(tokens, 0)?;
    let count = NUMBERS.iter().position(|known| *known == first)? as i128 + 2;
    let next = word(tokens, 1).unwrap_or_default();
    if let Some((_, below)) = PARTS.iter().find(|(known, _)| *known == next) {
        let part = Rational::new(count, *below)?;
        let unit = match (word(tokens, 2), word(tokens, 3), word(tokens, 4)) {
            (Some("of"), Some("an"), Some("inch")) => Some((Unit::Inch, 5)),
            (Some("of"), Some("a"), Some("foot")) => Some((Unit::Foot, 5)),
            _ => None,
        };
        return Some(match unit {
            Some((unit, taken)) => (Piece::Length(unit.to_inches(part)?, unit), taken),
            None => (Piece::Number(part), 2),
        });
    }
    let unit = match next {
        "inch" | "inches" => Some(Unit::Inch),
        "foot" | "feet" => Some(Unit::Foot),
        _ => None,
    };
    let number = Rational::new(count, 1)?;
    match unit {
        Some(unit) => Some((Piece::Length(unit.to_inches(number)?, unit), 2)),
        None => (!ONE_PART.contains(&next)).then_some((Piece::Number(number), 1)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::cut;

    #[test]
    fn words_stand_for_figures() {
        let read = |text: &str| {
            let mut tokens = cut(text).unwrap();
            figures(&mut tokens);
            tokens.into_iter().map(|token| token.what).collect::<Vec<_>>()
        };
        let two_thirds = Rational::new(2, 3).unwrap();
        assert_eq!(read("two thirds of 12 ft")[0], Piece::Number(two_thirds));
        let inches = Rational::new(3, 4).unwrap();
        assert_eq!(read("three quarters of an inch"), [Piece::Length(inches, Unit::Inch)]);
        assert_eq!(read("three white")[0], Piece::Number(Rational::whole(3)));
        assert_eq!(read("three quarter inch scale")[0], Piece::Word("three".to_owned()));
        assert_eq!(read("six feet"), [Piece::Length(Rational::whole(72), Unit::Foot)]);
    }
}
