//! The scales a line names: `at O`, `to HO`, `1/4 in scale`, `3.5 mm to the foot`.

use super::said::Line;
use crate::catalog::Catalog;
use crate::quantity::{Piece, Rational, Scale, Sign, Unit};

/// Words before a scale.
const BEFORE: [&str; 8] = ["at", "in", "to", "into", "for", "from", "scale", "on"];
/// Names that stand alone without a word before or behind them.
const ALONE: [&str; 8] = ["HO", "O", "S", "N", "Z", "TT", "OO", "H0"];
/// Words behind which a letter is no scale.
const LETTERED: [&str; 4] = ["group", "plate", "class", "series"];

/// The scales of a line in their order, taken out of it.
pub(super) fn take(line: &mut Line<'_>, catalog: &Catalog) -> Vec<Scale> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < line.tokens.len() {
        match one(line, at, catalog) {
            Some((scale, end)) => {
                line.take(at..end);
                found.push(scale);
                at = end;
            }
            None => at += 1,
        }
    }
    found
}

/// A scale that begins at a place, and where it ends.
fn one(line: &Line<'_>, at: usize, catalog: &Catalog) -> Option<(Scale, usize)> {
    let before = word(line, at).filter(|word| BEFORE.contains(word));
    let start = match before {
        // `scale of 1:48`, `at a scale of 1:48`, `in the scale O`
        Some("scale") if word(line, at + 1) == Some("of") => at + 2,
        Some(_) => at + 1,
        None => at,
    };
    if let Some((scale, end)) = per_foot(line, start, catalog) {
        return Some((scale, end));
    }
    let (name, end) = candidate(line, start)?;
    let behind = word(line, end) == Some("scale");
    let scale = catalog.scales.find(name).ok()?;
    let sized = matches!(line.tokens[start].what, Piece::Length(..) | Piece::Number(_));
    let quarter = word(line, start).is_some_and(|word| PARTS.contains(&word));
    let told = match &line.tokens[start].what {
        Piece::Ratio(one, many) => {
            let one = *one == Rational::whole(1);
            one && (before.is_some() || behind || *many >= Rational::whole(20))
        }
        _ if sized || quarter => behind || quarter || before == Some("scale"),
        Piece::Word(_) => {
            let alone = ALONE.contains(&name) && !lettered(line, start);
            before.is_some() || behind || alone || name.contains(' ') && named(&scale, catalog)
        }
        _ => false,
    };
    told.then_some((scale, end + usize::from(behind)))
}

/// Words that begin a scale by a part of an inch.
const PARTS: [&str; 4] = ["quarter", "half", "eighth", "three"];

fn named(scale: &Scale, catalog: &Catalog) -> bool {
    catalog.scales.row(scale).is_some()
}

fn lettered(line: &Line<'_>, at: usize) -> bool {
    at > 0 && word(line, at - 1).is_some_and(|word| LETTERED.contains(&word))
}

fn word<'l>(line: &'l Line<'_>, at: usize) -> Option<&'l str> {
    match &line.tokens.get(at)?.what {
        Piece::Word(word) => Some(word),
        _ => None,
    }
}

/// What may name a scale at a place: a ratio, a length, two words or one.
fn candidate<'t>(line: &Line<'t>, at: usize) -> Option<(&'t str, usize)> {
    let token = line.tokens.get(at)?;
    match &token.what {
        Piece::Ratio(..) | Piece::Length(..) => Some((line.written(at), at + 1)),
        Piece::Word(first) => {
            let through = |end: usize| {
                let last = line.tokens.get(end - 1)?;
                Some((line.text.get(token.span.start..last.span.end)?, end))
            };
            let number = matches!(line.tokens.get(at + 1).map(|t| &t.what), Some(Piece::Number(_)));
            let joined = word(line, at + 1).is_some() || (number && first != "uk");
            match first.as_str() {
                "nem" | "uk" | "no" | "us" if joined => through(at + 2),
                "quarter" | "half" | "eighth" if word(line, at + 1) == Some("inch") => {
                    through(at + 2)
                }
                "three" if word(line, at + 2) == Some("inch") => through(at + 3),
                _ => Some((line.written(at), at + 1)),
            }
        }
        _ => None,
    }
}

/// `3.5 mm to the foot`, `1/8 in = 1 ft`, `3.5 mm/ft`, `1/4 in per foot`.
fn per_foot(line: &Line<'_>, at: usize, catalog: &Catalog) -> Option<(Scale, usize)> {
    let Piece::Length(..) = line.tokens.get(at)?.what else { return None };
    // `fall of 1/4 in per foot` is a slope.
    if line.has(&["fall", "falls", "slope", "slopes", "grade", "drop"]) {
        return None;
    }
    let is_foot = |at: usize| matches!(word(line, at), Some("foot" | "ft"));
    let one_foot = |at: usize| match line.tokens.get(at).map(|token| &token.what) {
        Some(Piece::Length(inches, Unit::Foot)) => *inches == Rational::whole(12),
        _ => false,
    };
    let sign = |at: usize, wanted: Sign| {
        line.tokens.get(at).is_some_and(|token| token.what == Piece::Sign(wanted))
    };
    let end = match word(line, at + 1) {
        Some("to") if word(line, at + 2) == Some("the") && is_foot(at + 3) => at + 4,
        Some("to") if one_foot(at + 2) => at + 3,
        Some("per" | "a" | "the") if is_foot(at + 2) => at + 3,
        None if sign(at + 1, Sign::Over) && is_foot(at + 2) => at + 3,
        None if sign(at + 1, Sign::Equals) && one_foot(at + 2) => at + 3,
        _ => return None,
    };
    let name = format!("{}/ft", line.written(at));
    catalog.scales.find(&name).ok().map(|scale| (scale, end))
}
