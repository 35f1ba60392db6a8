//! A line read as a sum.

use super::{ADDS, DIVIDES, Expr, MULTIPLES, Op, PARTS, TAKES, Value, WORDS, World, stop};
use crate::bench::desk::Desk;
use crate::bench::said::Line;
use crate::finding::Stop;
use crate::quantity::{Piece, Rational, Sign};

pub(super) struct Parser<'l, 't> {
    line: &'l Line<'t>,
    at: usize,
    /// Whether the word for the model stands beside no length: all are of it.
    all_model: bool,
}

impl<'l, 't> Parser<'l, 't> {
    pub(super) fn new(line: &'l Line<'t>, desk: &Desk<'_>) -> Self {
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

    pub(super) fn whole(mut self) -> Result<Expr, Stop> {
        let mut expr = self.sum()?;
        self.skip();
        // `subtract 7/8 in from 2 1/4 in`
        if self.at < self.line.tokens.len() && self.line.has(&TAKES) && self.line.has(&["from"]) {
            expr = Expr::Two(Op::Minus, Box::new(self.sum()?), Box::new(expr));
            self.skip();
        }
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
                        && !PARTS.iter().chain(&MULTIPLES).any(|(known, _)| known == word)
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
            Piece::Sign(Sign::Comma) if self.line.has(&ADDS) => self.comma(),
            Piece::Sign(Sign::Minus) => Op::Minus,
            Piece::Sign(Sign::By) if self.line.has(&DIVIDES) => Op::Over,
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

    /// A comma between what is added up, and an `and` behind it.
    fn comma(&mut self) -> Op {
        let and = Some(&Piece::Word("and".into()));
        if self.line.tokens.get(self.at + 1).map(|token| &token.what) == and {
            self.at += 1;
        }
        Op::Plus
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
            Piece::Word(word) if word == "of" => return self.factor(),
            Piece::Word(word) => return self.part(word),
            _ => return Err(missing()),
        };
        Ok(Expr::Leaf(value, self.sigma(&token.what)))
    }

    /// `half`, and what it is half of.
    fn part(&mut self, word: &str) -> Result<Expr, Stop> {
        let times = MULTIPLES.iter().find(|(known, _)| *known == word);
        let over = PARTS.iter().find(|(known, _)| *known == word);
        let Some((above, below)) = times.map(|it| (it.1, 1)).or(over.map(|it| (1, it.1))) else {
            return Err(stop(format!("\"{word}\" is no size"), "write for example 48 ft / 7"));
        };
        let amount = Rational::new(above, below).unwrap_or(Rational::ZERO);
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
