//! Sums in sentences: `12 ft 6 - 2 * 7 1/2 in`, `48 ft / 7`, `3/4 of 16 ft`.
//!
//! All of it is exact. A full-size length and one on the model are two spaces:
//! adding them is refused, and both things that could have been meant are
//! worked out.

mod parser;
mod told;

use parser::Parser;

use super::answer::{Answer, exactly, plain};
use super::desk::Desk;
use super::said::Line;
use crate::finding::Stop;
use crate::quantity::{Piece, Rational, Scale, Sign};

/// Which world a length belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum World {
    Full,
    Model,
}

impl World {
    fn words(self) -> &'static str {
        match self {
            Self::Full => "full size",
            Self::Model => "on the model",
        }
    }
}

/// What part of a sum comes to: inches to a power, in a world.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Value {
    amount: Rational,
    /// 0 a number, 1 a length, 2 an area, 3 a volume.
    power: i32,
    world: Option<World>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Op {
    Plus,
    Minus,
    Times,
    Over,
}

#[derive(Clone, Debug)]
enum Expr {
    Leaf(Value, Option<Rational>),
    Negative(Box<Expr>),
    Two(Op, Box<Expr>, Box<Expr>),
}

/// Why a sum cannot be.
#[derive(Debug)]
enum Fault {
    TooLong,
    ByZero,
    Kinds(i32, i32),
    Worlds(Op, Value, Value),
}

const WORDS: [(&str, Op); 8] = [
    ("plus", Op::Plus),
    ("and", Op::Plus),
    ("minus", Op::Minus),
    ("less", Op::Minus),
    ("times", Op::Times),
    ("of", Op::Times),
    ("over", Op::Over),
    ("divided", Op::Over),
];

/// Words for a multiple.
const MULTIPLES: [(&str, i128); 5] =
    [("double", 2), ("twice", 2), ("triple", 3), ("treble", 3), ("quadruple", 4)];

/// Words that add up what stands behind them, and that take it away.
const ADDS: [&str; 5] = ["add", "sum", "total", "together", "altogether"];
const TAKES: [&str; 3] = ["subtract", "deduct", "take"];

/// Words that make a `by` a division.
pub(super) const DIVIDES: [&str; 4] = ["divide", "divided", "split", "share"];

/// Words for a part, before `of` or a length.
const PARTS: [(&str, i128); 6] =
    [("half", 2), ("third", 3), ("quarter", 4), ("fifth", 5), ("sixth", 6), ("eighth", 8)];

/// Whether a line asks for a sum of quantities.
pub(super) fn has_operators(line: &Line<'_>) -> bool {
    let signs = [Sign::Plus, Sign::Minus, Sign::Times, Sign::Over, Sign::By, Sign::Open];
    let quantities = line.count(Piece::is_quantity);
    let word = WORDS.iter().any(|(word, op)| {
        let joins = *word != "of" || line.phrase("of").is_some_and(|at| is_share(line, at));
        *op != Op::Plus && joins && line.has(&[word])
    });
    let word = word || line.has(&["plus"]);
    let part = PARTS.iter().chain(&MULTIPLES).any(|(word, _)| line.has(&[word])) && quantities > 0;
    let told = line.has(&ADDS) || (line.has(&TAKES) && line.has(&["from"]));
    let word = word || (told && line.lengths_left() == quantities);
    (quantities > 1 && (line.has_sign(&signs) || word)) || part
}

/// Whether an `of` makes a part of what follows: `3/4 of 16 ft`, not `grade of`.
fn is_share(line: &Line<'_>, of: usize) -> bool {
    let before = of.checked_sub(1).and_then(|at| line.tokens.get(at)).map(|token| &token.what);
    match before {
        Some(Piece::Number(_) | Piece::Percent(_) | Piece::Sign(Sign::Close)) => true,
        Some(Piece::Word(word)) => PARTS.iter().any(|(part, _)| part == word),
        _ => false,
    }
}

/// Works it out.
///
/// # Errors
///
/// Where the line is no sum, or adds what cannot be added.
pub(super) fn work(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let expr = Parser::new(line, desk).whole()?;
    let value = evaluate(&expr, None).map_err(|fault| refused(&fault, &desk.scale))?;
    if !(0..=3).contains(&value.power) {
        return Err(stop(
            "something is divided by a length",
            "a size is divided by a number: 48 ft / 7",
        ));
    }
    let sigma = spread(&expr);
    line.take(0..line.tokens.len());
    Ok(told::told(line.text.trim(), value, sigma, desk))
}

/// The value of a sum; with one of its sizes moved where `moved` says which and
/// by how much.
fn evaluate(expr: &Expr, moved: Option<(usize, Rational)>) -> Result<Value, Fault> {
    walk(expr, moved, &mut 0)
}

fn walk(expr: &Expr, moved: Option<(usize, Rational)>, seen: &mut usize) -> Result<Value, Fault> {
    match expr {
        Expr::Leaf(value, _) => {
            let here = *seen;
            *seen += 1;
            let by = moved.filter(|(at, _)| *at == here).map_or(Rational::ZERO, |(_, by)| by);
            let amount = value.amount.plus(by).ok_or(Fault::TooLong)?;
            Ok(Value { amount, ..*value })
        }
        Expr::Negative(inner) => {
            let value = walk(inner, moved, seen)?;
            Ok(Value { amount: value.amount.negated(), ..value })
        }
        Expr::Two(op, left, right) => {
            let (left, right) = (walk(left, moved, seen)?, walk(right, moved, seen)?);
            joined(*op, left, right)
        }
    }
}

fn joined(op: Op, left: Value, right: Value) -> Result<Value, Fault> {
    let apart = matches!((left.world, right.world), (Some(a), Some(b)) if a != b);
    if apart {
        return Err(Fault::Worlds(op, left, right));
    }
    let world = left.world.or(right.world);
    let adds = matches!(op, Op::Plus | Op::Minus);
    if adds && left.power != right.power {
        return Err(Fault::Kinds(left.power, right.power));
    }
    let (amount, power) = match op {
        Op::Plus => (left.amount.plus(right.amount), left.power),
        Op::Minus => (left.amount.minus(right.amount), left.power),
        Op::Times => (left.amount.times(right.amount), left.power + right.power),
        Op::Over if right.amount == Rational::ZERO => return Err(Fault::ByZero),
        Op::Over => (left.amount.over(right.amount), left.power - right.power),
    };
    let world = if power == 0 { None } else { world };
    Ok(Value { amount: amount.ok_or(Fault::TooLong)?, power, world })
}

/// The standard uncertainty of a sum, its sizes taken as independent (JCGM
/// 100:2008 equation 10, from memory); nothing where none has one.
fn spread(expr: &Expr) -> Option<f64> {
    let mut sigmas = Vec::new();
    leaves(expr, &mut sigmas);
    let found = sigmas.iter().any(Option::is_some);
    let square = sigmas.iter().enumerate().filter_map(|(at, sigma)| {
        let sigma = (*sigma)?;
        let up = evaluate(expr, Some((at, sigma))).ok()?.amount.value();
        let down = evaluate(expr, Some((at, sigma.negated()))).ok()?.amount.value();
        Some(((up - down) / 2.0).powi(2))
    });
    found.then(|| square.sum::<f64>().sqrt())
}

fn leaves(expr: &Expr, sigmas: &mut Vec<Option<Rational>>) {
    match expr {
        Expr::Leaf(_, sigma) => sigmas.push(*sigma),
        Expr::Negative(inner) => leaves(inner, sigmas),
        Expr::Two(_, left, right) => {
            leaves(left, sigmas);
            leaves(right, sigmas);
        }
    }
}

fn kind(power: i32) -> &'static str {
    match power {
        0 => "a plain number",
        1 => "a length",
        2 => "an area",
        _ => "no length",
    }
}

/// Why a sum is refused, with what may have been meant.
fn refused(fault: &Fault, scale: &Scale) -> Stop {
    match fault {
        Fault::TooLong => stop("the numbers are too long", "write fewer digits"),
        Fault::ByZero => stop("something is divided by nothing", "look at what stands below"),
        Fault::Kinds(one, other) => stop(
            format!("{} and {} do not add up", kind(*one), kind(*other)),
            "write the unit of each: 12 ft + 6 in",
        ),
        Fault::Worlds(op, left, right) if left.power == 1 && right.power == 1 => {
            let both = meanings(*op, *left, *right, scale);
            stop(
                format!(
                    "{} {} and {} {} belong to two worlds",
                    exactly(left.amount),
                    left.world.map_or("", World::words),
                    exactly(right.amount),
                    right.world.map_or("", World::words)
                ),
                &both.unwrap_or_else(|| "say of each what it is".to_owned()),
            )
        }
        Fault::Worlds(..) => stop("full size and model are multiplied", "work in one of the two"),
    }
}

/// Both readings of a sum of a full-size length and one of the model.
fn meanings(op: Op, left: Value, right: Value, scale: &Scale) -> Option<String> {
    let ratio = Rational::from(scale.ratio);
    let to = |value: Value, world: World| match (value.world, world) {
        (Some(World::Full), World::Model) => value.amount.over(ratio),
        (Some(World::Model), World::Full) => value.amount.times(ratio),
        _ => Some(value.amount),
    };
    let one = |world: World| {
        let (left, right) = (to(left, world)?, to(right, world)?);
        let amount = match op {
            Op::Plus => left.plus(right)?,
            Op::Minus => left.minus(right)?,
            Op::Times | Op::Over => return None,
        };
        let shown = match world {
            World::Full => exactly(amount),
            World::Model => format!("{} in", plain(amount.value())),
        };
        Some(format!("{} it is {shown}", world.words()))
    };
    Some(format!("at {scale}, all {}; all {}", one(World::Full)?, one(World::Model)?))
}

fn stop(trouble: impl Into<String>, hint: &str) -> Stop {
    Stop::new("working out the sum", trouble, hint)
}
