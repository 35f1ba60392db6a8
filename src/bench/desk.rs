//! What is known before anything is asked, and which sum a line asks for.

use super::answer::Answer;
use super::arithmetic;
use super::book::{self, Sum};
use super::heard::is_filler;
use super::length::{self, Ask, Bench, Given};
use super::look::Look;
use super::said::Line;
use super::scale_said;
use crate::catalog::Catalog;
use crate::finding::{Finding, Outcome, Stop, Subject};
use crate::quantity::{
    NotationError, Piece, Reading, Scale, Sign, Space, Stated, Unit, Written, parse_stated,
};

/// What lies on the desk: a job fills it in where there is one.
#[derive(Clone, Debug)]
pub struct Desk<'a> {
    /// The shipped data with the person's own.
    pub catalog: &'a Catalog,
    /// The scale taken where a line names none.
    pub scale: Scale,
    /// Another scale to answer a length for as well.
    pub to: Option<Scale>,
    /// The year of the building, for sizes of lumber.
    pub year: Option<i32>,
    /// Whether a length without a word for it is one on the model.
    pub model: bool,
    /// The unit of numbers without one.
    pub unit: Option<Unit>,
    /// How lengths are written.
    pub look: Look,
}

/// What a line came to.
#[derive(Clone, Debug)]
pub enum Found {
    /// Everything about one length, and whether the line named the scale.
    Length(Box<Outcome<Bench>>, bool),
    /// The answer of another sum.
    Sum(Box<Answer>),
}

/// Answers one line.
///
/// # Errors
///
/// Where the line asks for nothing in the book, something is missing in it, or
/// its figures cannot be: what to write.
pub fn ask(text: &str, desk: &Desk<'_>) -> Result<Found, Stop> {
    let mut line = Line::new(text).map_err(|error| unread(&error))?;
    let mut desk = desk.clone();
    let scales = scale_said::take(&mut line, desk.catalog);
    let scale_named = !scales.is_empty();
    let mut scales = scales.into_iter();
    if let Some(scale) = scales.next() {
        desk.scale = scale;
        desk.to = scales.next().or(desk.to);
    }
    let chosen = chosen(&line);
    // In a sum each length says for itself what it is.
    if !matches!(chosen, Chosen::Arithmetic) {
        desk.model |= line.has(&["model"]) && !line.has(&["full size"]);
        desk.model |= asks_full(&line);
    }
    line.forget();
    match chosen {
        Chosen::Length => length_of(&mut line, &desk, scale_named),
        Chosen::Arithmetic => finish(arithmetic::work(&mut line, &desk)?, &line, scale_named),
        Chosen::Sum(sum, sure) => {
            let mut asked = line.clone();
            match sum.run(&mut asked, &desk) {
                Ok(answer) => finish(answer, &asked, scale_named),
                // A word that may be about anything, beside one length.
                Err(_) if sure < SURE && is_one_length(&line) => {
                    length_of(&mut line, &desk, scale_named)
                }
                Err(stop) => Err(stop),
            }
        }
        Chosen::Nothing if desk.to.is_some() && scale_named && line.lengths_left() == 0 => {
            finish(book::between_scales(&mut line, &desk)?, &line, true)
        }
        Chosen::Nothing if scale_named && line.count(Piece::is_quantity) == 0 => {
            finish(book::named_scale(&desk.scale, &desk), &line, true)
        }
        Chosen::Nothing => Err(nothing(text, &line)),
    }
}

/// Whether the one length of a line is wanted in full size, so that it is one of
/// the model: `8.5 mm in scale feet`, but not `80 in full size`.
fn asks_full(line: &Line<'_>) -> bool {
    const FULL: [&str; 6] =
        ["full size", "scale feet", "scale foot", "scale inches", "real size", "prototype size"];
    let Some(at) = FULL.iter().find_map(|phrase| line.phrase(phrase)) else { return false };
    let sized = |at: usize| line.tokens.get(at).is_some_and(|token| token.what.is_quantity());
    is_one_length(line) && !at.checked_sub(1).is_some_and(sized) && !sized(at + 2)
}

/// From here on a word means its sum and nothing else.
const SURE: u32 = 8;

fn is_one_length(line: &Line<'_>) -> bool {
    line.lengths_left() == 1 && line.count(Piece::is_quantity) == 1
}

fn length_of(line: &mut Line<'_>, desk: &Desk<'_>, scale_named: bool) -> Result<Found, Stop> {
    let mut found = one_length(line, desk)?;
    if let Some(note) = line.read_over() {
        found.findings.push(Finding::note(Subject::Job, note));
    }
    Ok(Found::Length(Box::new(found), scale_named))
}

fn unread(error: &NotationError) -> Stop {
    let told = error.to_string();
    let told = told.split("\nhint: ").next().unwrap_or_default();
    let hint = if error.hint.is_empty() { "look at the place marked" } else { &error.hint };
    Stop::new("reading what is asked", told.to_owned(), hint)
}

/// Tells what was assumed, and what no part of the sum used.
fn finish(mut answer: Answer, line: &Line<'_>, scale_named: bool) -> Result<Found, Stop> {
    answer.scale_named = scale_named;
    for note in &line.notes {
        answer.findings.push(Finding::note(Subject::Job, note.clone()));
    }
    if let Some(note) = line.read_over() {
        answer.findings.push(Finding::note(Subject::Job, note));
    }
    let left = line.left_over();
    if !left.is_empty() {
        let message = format!("not used: {}", left.join(", "));
        let hint = "this sum has no place for it; say in a word what it is";
        answer.findings.push(Finding::look(Subject::Job, message, hint));
    }
    if answer.figures.iter().any(|figure| !figure.value.is_finite()) {
        return Err(Stop::new(
            format!("working out {}", answer.title),
            "a figure outgrows what can be counted",
            "look at the figures: is one of them zero, or very large?",
        ));
    }
    Ok(Found::Sum(Box::new(answer)))
}

enum Chosen {
    Length,
    Arithmetic,
    Sum(&'static Sum, u32),
    Nothing,
}

/// Words decide; without one, the shape of what is there.
fn chosen(line: &Line<'_>) -> Chosen {
    let score = |sum: &&'static Sum| (sum.score(line), *sum);
    let best = book::SUMS.iter().map(|sum| score(&sum)).filter(|(score, _)| *score > 0);
    // The first of equals.
    let best = best.fold(None, |best: Option<(u32, &Sum)>, next| match best {
        Some(known) if known.0 >= next.0 => Some(known),
        _ => Some(next),
    });
    let operators = arithmetic::has_operators(line);
    match best {
        Some((score, _)) if score < SURE && operators && line.has(&arithmetic::DIVIDES) => {
            Chosen::Arithmetic
        }
        Some((score, sum)) if score >= 5 || !operators => Chosen::Sum(sum, score),
        _ if operators => Chosen::Arithmetic,
        _ if is_one_length(line) => Chosen::Length,
        _ if line.count(Piece::is_quantity) == 1 && bare_length(line) => Chosen::Length,
        _ => Chosen::Nothing,
    }
}

/// Whether there is but one number and nothing else: a length without its unit.
fn bare_length(line: &Line<'_>) -> bool {
    let words = (0..line.tokens.len())
        .filter(|at| !line.is_used(*at) && matches!(line.tokens[*at].what, Piece::Word(_)));
    line.count(|piece| matches!(piece, Piece::Number(_))) == 1
        && words.map(|at| line.written(at)).all(|word| LENGTH_WORDS.contains(&word))
}

/// Words that may stand beside a single length.
const LENGTH_WORDS: [&str; 8] = ["model", "full", "size", "scale", "on", "the", "is", "what"];

/// Everything about the one length of a line.
fn one_length(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Outcome<Bench>, Stop> {
    let is_part = |at: &usize| {
        !line.is_used(*at)
            && (line.tokens[*at].what.is_quantity()
                || matches!(
                    line.tokens[*at].what,
                    Piece::Sign(Sign::PlusMinus | Sign::Plus | Sign::Minus)
                ))
    };
    let parts: Vec<usize> = (0..line.tokens.len()).filter(is_part).collect();
    let (first, last) = (parts.first().copied(), parts.last().copied());
    let span = first
        .zip(last)
        .map_or(0..0, |(first, last)| line.tokens[first].span.start..line.tokens[last].span.end);
    let text = line.text.get(span).unwrap_or_default();
    let reading = Reading { unit: desk.unit, surveyor: None };
    let given = if desk.model {
        Given::Model(read(text, &reading)?)
    } else {
        Given::Full(read(text, &reading)?)
    };
    let small = too_small(&given, line, desk);
    let given = if small { Given::Model(read(text, &reading)?) } else { given };
    let ask = Ask { given, scale: desk.scale.clone(), to: desk.to.clone() };
    let mut found = length::answer(&ask, desk.catalog)?;
    if small {
        let note =
            "taken as a size of the model; write `full size` behind it for one of the building";
        found.findings.push(Finding::note(Subject::Job, note));
    }
    Ok(found)
}

/// Whether a size is that of stock in the hand: nothing of a building is so thin
/// that it would be cut for a model.
fn too_small(given: &Given, line: &Line<'_>, desk: &Desk<'_>) -> bool {
    const THINNEST: f64 = 0.124;
    let Given::Full(stated) = given else { return false };
    let inches = stated.value.length().in_inches();
    let said = line.has(&["full size", "full", "prototype"]) || desk.unit.is_some();
    !said && inches > 0.0 && inches < THINNEST && desk.scale.ratio.value() >= 20.0
}

fn read<S: Space>(text: &str, reading: &Reading) -> Result<Stated<Written<S>>, Stop> {
    parse_stated(text, reading).map_err(|error| {
        let mut stop = unread(&error);
        stop.doing = "reading the length".to_owned();
        stop
    })
}

/// What to ask instead.
fn nothing(text: &str, line: &Line<'_>) -> Stop {
    let words: Vec<&str> = (0..line.tokens.len())
        .filter(|at| matches!(line.tokens[*at].what, Piece::Word(_)))
        .map(|at| line.written(at))
        .filter(|word| !is_filler(&word.to_lowercase()))
        .collect();
    let offered = book::offered(&words.join(" "));
    let hint = match offered.as_slice() {
        [] => "ask without words for the list of sums: scantling bench".to_owned(),
        sums => {
            let examples: Vec<&str> = sums.iter().take(3).map(|sum| sum.example).collect();
            format!("for example: {}", examples.join("; "))
        }
    };
    let trouble = if text.trim().is_empty() {
        "nothing is asked".to_owned()
    } else {
        format!("the book has no sum for \"{}\"", text.trim())
    };
    Stop::new("looking it up", trouble, hint)
}
