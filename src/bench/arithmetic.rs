//! Sums in sentences: `12 ft 6 - 2 * 7 1/2 in`, `48 ft / 7`, `3/4 of 16 ft`.
//!
//! All of it is exact. A full-size length and one on the model are two spaces:
//! adding them is refused, and both things that could have been meant are
//! worked out.

use super::answer::{Answer, Drawn, Figure, exactly, plain};
use super::desk::Desk;
use super::said::Line;
use crate::finding::Stop;
use crate::quantity::{
    Exact, Model, Piece, Prototype, PrototypeLength, Rational, Scale, Sign, Unit,
};

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

/// Words for a part, before `of` or a length.
const PARTS: [(&str, i128); 6] =
    [("half", 2), ("third", 3), ("quarter", 4), ("fifth", 5), ("sixth", 6), ("eighth", 8)];

/// Whether a line asks for a sum of quantities.
pub(super) fn has_operators(line: &Line<'_>) -> bool {
    let signs = [Sign::Plus, Sign::Minus, Sign::Times, Sign::Over, Sign::By, Sign::Open];
    let quantities = line.count(Piece::is_quantity);
    let word = WORDS.iter().any(|(word, op)| *op != Op::Plus && line.has(&[word]));
    let word = word || line.has(&["plus"]);
    let part = PARTS.iter().any(|(word, _)| line.has(&[word])) && quantities > 0;
    (quantities > 1 && (line.has_sign(&signs) || word)) || part
}

/// Works it out.
///
/// # Errors
///
/// Where the line is no sum, or adds what cannot be added.
pub(super) fn work(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let expr = Parser::new(line, desk).whole()?;
    let value = evaluate(&expr, None).map_err(|fault| refused(&fault, &desk.scale))?;
    let sigma = spread(&expr);
    line.take(0..line.tokens.len());
    Ok(told(line.text.trim(), value, sigma, desk))
}

struct Parser<'l, 't> {
    line: &'l Line<'t>,
    at: usize,
    /// Whether the word for the model stands beside no length: all are of it.
    all_model: bool,
}

impl<'l, 't> Parser<'l, 't> {
    fn new(line: &'l Line<'t>, desk: &Desk<'_>) -> Self {
        let mut parser = Self { line, at: 0, all_model: false };
        let sized =
            (0..line.tokens.len()).filter(|at| matches!(line.tokens[*at].what, Piece::Length(..)));
        let beside = sized.filter(|at| parser.says(*at, "model")).count();
        parser.all_model = desk.model || (line.has(&["model"]) && beside == 0);
        parser
    }

    /// Whether a word stands beside a length: behind it before the next sign or
    /// quantity, or at once before it.
    fn says(&self, at: usize, wanted: &str) -> bool {
        let word = |at: usize| match self.line.tokens.get(at).map(|token| &token.what) {
            Some(Piece::Word(word)) => Some(word.as_str()),
            _ => None,
        };
        let before = at.checked_sub(1).and_then(word) == Some(wanted);
        before || (at + 1..at + 5).map_while(word).any(|word| word == wanted)
    }

    fn whole(mut self) -> Result<Expr, Stop> {
        let expr = self.sum()?;
        self.skip();
        let Some(token) = self.line.tokens.get(self.at) else { return Ok(expr) };
        let rest = self.line.text.get(token.span.start..).unwrap_or_default();
        Err(stop(
            format!("this is left over: {rest}"),
            "put a sign between two sizes: 12 ft 6 + 7 1/2 in",
        ))
    }

    /// Over words that say nothing to the sum.
    fn skip(&mut self) {
        while let Some(token) = self.line.tokens.get(self.at) {
            let idle = match &token.what {
                Piece::Word(word) => {
                    !WORDS.iter().any(|(known, _)| known == word)
                        && !PARTS.iter().any(|(known, _)| known == word)
                }
                Piece::Sign(Sign::Equals) => true,
                _ => self.line.is_used(self.at),
            };
            if !idle && !self.line.is_used(self.at) {
                return;
            }
            self.at += 1;
        }
    }

    fn operator(&mut self, wanted: &[Op]) -> Option<Op> {
        self.skip();
        let op = match &self.line.tokens.get(self.at)?.what {
            Piece::Sign(Sign::Plus) => Op::Plus,
            Piece::Sign(Sign::Minus) => Op::Minus,
            Piece::Sign(Sign::Times | Sign::By) => Op::Times,
            Piece::Sign(Sign::Over) => Op::Over,
            // A bracket or a length behind a part: half 16 ft.
            Piece::Sign(Sign::Open) => return wanted.contains(&Op::Times).then_some(Op::Times),
            Piece::Word(word) => WORDS.iter().find(|(known, _)| known == word)?.1,
            _ => return None,
        };
        if !wanted.contains(&op) {
            return None;
        }
        self.at += 1;
        // `divided by`
        if self.line.tokens.get(self.at).map(|token| &token.what) == Some(&Piece::Word("by".into()))
        {
            self.at += 1;
        }
        Some(op)
    }

    fn sum(&mut self) -> Result<Expr, Stop> {
        let mut left = self.product()?;
        while let Some(op) = self.operator(&[Op::Plus, Op::Minus]) {
            left = Expr::Two(op, Box::new(left), Box::new(self.product()?));
        }
        Ok(left)
    }

    fn product(&mut self) -> Result<Expr, Stop> {
        let mut left = self.factor()?;
        while let Some(op) = self.operator(&[Op::Times, Op::Over]) {
            left = Expr::Two(op, Box::new(left), Box::new(self.factor()?));
        }
        Ok(left)
    }

    fn factor(&mut self) -> Result<Expr, Stop> {
        self.skip();
        let missing = || stop("a size is missing in the sum", "write for example 48 ft / 7");
        let token = self.line.tokens.get(self.at).ok_or_else(missing)?;
        self.at += 1;
        let number = |amount| Value { amount, power: 0, world: None };
        let value = match &token.what {
            Piece::Sign(Sign::Open) => {
                let inside = self.sum()?;
                self.skip();
                if self.line.tokens.get(self.at).map(|t| &t.what) != Some(&Piece::Sign(Sign::Close))
                {
                    return Err(stop("a bracket is not closed", "write ( and )"));
                }
                self.at += 1;
                return Ok(inside);
            }
            Piece::Sign(Sign::Minus) => return Ok(Expr::Negative(Box::new(self.factor()?))),
            Piece::Sign(Sign::Plus) => return self.factor(),
            Piece::Number(amount) => number(*amount),
            Piece::Percent(amount) => {
                number(amount.over(Rational::whole(100)).unwrap_or(Rational::ZERO))
            }
            Piece::Ratio(rise, run) => number(rise.over(*run).unwrap_or(Rational::ZERO)),
            Piece::Length(inches, _) => {
                Value { amount: *inches, power: 1, world: Some(self.world(self.at - 1)) }
            }
            Piece::Area(inches) => {
                Value { amount: *inches, power: 2, world: Some(self.world(self.at - 1)) }
            }
            Piece::Word(word) => return self.part(word),
            _ => return Err(missing()),
        };
        Ok(Expr::Leaf(value, self.sigma(&token.what)))
    }

    /// `half`, and what it is half of.
    fn part(&mut self, word: &str) -> Result<Expr, Stop> {
        let Some((_, below)) = PARTS.iter().find(|(known, _)| *known == word) else {
            return Err(stop(format!("\"{word}\" is no size"), "write for example 48 ft / 7"));
        };
        let amount = Rational::new(1, *below).unwrap_or(Rational::ZERO);
        let leaf = Expr::Leaf(Value { amount, power: 0, world: None }, None);
        if self.operator(&[Op::Times]).is_some() {
            return Ok(Expr::Two(Op::Times, Box::new(leaf), Box::new(self.factor()?)));
        }
        self.skip();
        match self.line.tokens.get(self.at).map(|token| &token.what) {
            Some(Piece::Length(..)) => {
                Ok(Expr::Two(Op::Times, Box::new(leaf), Box::new(self.factor()?)))
            }
            _ => Ok(leaf),
        }
    }

    fn world(&self, at: usize) -> World {
        let full = self.says(at, "full") || self.says(at, "prototype");
        if !full && (self.all_model || self.says(at, "model")) { World::Model } else { World::Full }
    }

    /// The uncertainty behind a ±.
    fn sigma(&mut self, of: &Piece) -> Option<Rational> {
        let is = |at: usize| self.line.tokens.get(at).map(|token| &token.what);
        if is(self.at) != Some(&Piece::Sign(Sign::PlusMinus)) {
            return None;
        }
        let found = match (is(self.at + 1)?, of) {
            (Piece::Length(inches, _), _) => Some(*inches),
            (Piece::Number(amount), Piece::Length(_, unit)) => unit.to_inches(*amount),
            (Piece::Number(amount), _) => Some(*amount),
            (Piece::Percent(share), Piece::Length(size, _) | Piece::Number(size)) => {
                share.times(*size)?.over(Rational::whole(100))
            }
            _ => None,
        };
        self.at += 2;
        found
    }
}

fn stop(trouble: impl Into<String>, hint: &str) -> Stop {
    Stop::new("working out the sum", trouble, hint)
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

/// The answer in words.
fn told(text: &str, value: Value, sigma: Option<f64>, desk: &Desk<'_>) -> Answer {
    let answer = Answer::new("sum", text);
    let answer = match (value.power, value.world) {
        (1, Some(world)) => length(answer, value.amount, sigma, world, desk),
        (2, Some(world)) => area(answer, value.amount, sigma, world, desk),
        (0, _) => {
            let number = value.amount.value();
            let answer = answer
                .says(format!("{text} is {}{}.", plain(number), fraction(value.amount)))
                .number("number", number, "");
            with_sigma(answer, sigma, "")
        }
        _ => {
            let number = value.amount.value();
            answer.says(format!("{text} is {} in^{}.", plain(number), value.power)).number(
                "inches to a power",
                number,
                "",
            )
        }
    };
    answer.by(
        "times and over before plus and minus; exact fractions throughout; two spaces never add",
        "arithmetic; uncertainties by JCGM 100:2008 equation 10, from memory",
        "12 ft 6 - 2 * 7 1/2 in = 150 in - 15 in = 135 in = 11'-3\"",
    )
}

fn fraction(amount: Rational) -> String {
    match amount.denominator() {
        1 => String::new(),
        below if below <= 1_000_000 => format!(", exactly {amount}"),
        _ => String::new(),
    }
}

fn with_sigma(answer: Answer, sigma: Option<f64>, unit: &'static str) -> Answer {
    match sigma {
        Some(sigma) => answer.number("\u{b1} 1 sigma", sigma, unit),
        None => answer,
    }
}

fn length(
    answer: Answer,
    inches: Rational,
    sigma: Option<f64>,
    world: World,
    desk: &Desk<'_>,
) -> Answer {
    let text = answer.title.clone();
    let scale = &desk.scale;
    let spread = sigma.map_or(String::new(), |s| format!(" \u{b1} {} in", plain(s)));
    let (full, model) = match world {
        World::Full => {
            let full: PrototypeLength = Exact::<Prototype>::inches(inches).length();
            (full, scale.reduce(full))
        }
        World::Model => {
            let model = Exact::<Model>::inches(inches).length();
            (scale.enlarge(model), model)
        }
    };
    let exact = Figure {
        text: format!("{inches} in"),
        decimal: format!("{} mm", plain(full_mm(inches))),
        ..Figure::number("exactly", inches.value(), "in")
    };
    let other = desk.to.as_ref().map(|to| {
        let name = format!("at {to}");
        Figure::model(name, to.reduce(full), desk.look)
    });
    let lead = match world {
        World::Full => format!(
            "{text} is {}{spread}; on the model at {scale} {}.",
            exactly(inches),
            super::answer::read(model, desk.look)
        ),
        World::Model => format!(
            "{text} is {}{spread} on the model; full size at {scale} {}.",
            super::answer::read(model, desk.look),
            desk.look.full.show(&full)
        ),
    };
    let mut answer = answer
        .says(lead)
        .figure(exact)
        .figure(Figure::full("full size", full, (scale, desk.look)))
        .figure(Figure::model("on the model", model, desk.look))
        .drawn(Drawn::Rule(model));
    answer.figures.extend(other);
    with_sigma(answer, sigma, "in")
}

fn full_mm(inches: Rational) -> f64 {
    Unit::Millimetre.from_inches(inches).map_or(inches.value() * 25.4, Rational::value)
}

fn area(
    answer: Answer,
    square: Rational,
    sigma: Option<f64>,
    world: World,
    desk: &Desk<'_>,
) -> Answer {
    let text = answer.title.clone();
    let inches = square.value();
    let ratio = desk.scale.ratio.value();
    let (full, model) = match world {
        World::Full => (inches, inches / (ratio * ratio)),
        World::Model => (inches * ratio * ratio, inches),
    };
    let spread = sigma.map_or(String::new(), |s| format!(" \u{b1} {} sq ft", plain(s / 144.0)));
    let answer = answer
        .says(format!(
            "{text} is {} sq ft{spread} full size, {} sq in on the model at {}.",
            plain(full / 144.0),
            plain(model),
            desk.scale
        ))
        .number("full size", full / 144.0, "sq ft")
        .number("full size, metric", full * 0.0254 * 0.0254, "sq m")
        .number("on the model", model, "sq in")
        .number("on the model, metric", model * 6.4516, "sq cm");
    with_sigma(answer, sigma.map(|s| s / 144.0), "sq ft")
}
