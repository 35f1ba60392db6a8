//! A line cut up: which quantity belongs to which word.
//!
//! A word gives its meaning to the quantity it stands next to, before or
//! behind: `riser 7 3/4 in`, `7 3/4 in riser`. Where several words want
//! several quantities, the whole is settled at once by the least distance.

use std::cell::Cell;

use super::settle::{FAR, settle};
use super::spelt;
use crate::finding::Stop;
use crate::quantity::{
    Exact, Model, ModelLength, NotationError, Piece, Prototype, PrototypeLength, Rational, Sign,
    SizeKind, Token, Unit, cut,
};

/// A line with what of it was used.
#[derive(Clone, Debug)]
pub(super) struct Line<'t> {
    pub(super) text: &'t str,
    pub(super) tokens: Vec<Token>,
    used: Vec<bool>,
    /// Which words a sum knew.
    pub(super) heard: Vec<Cell<bool>>,
    /// What was assumed, to be told.
    pub(super) notes: Vec<String>,
}

/// A quantity that was asked for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Given {
    /// Inches, or the number itself.
    pub(super) value: Rational,
    /// Its standard uncertainty.
    pub(super) sigma: Option<Rational>,
    /// Its place among the pieces.
    pub(super) at: usize,
}

impl Given {
    pub(super) fn full(self) -> PrototypeLength {
        Exact::<Prototype>::inches(self.value).length()
    }

    pub(super) fn model(self) -> ModelLength {
        Exact::<Model>::inches(self.value).length()
    }

    pub(super) fn number(self) -> f64 {
        self.value.value()
    }

    pub(super) fn spread(self) -> f64 {
        self.sigma.map_or(0.0, Rational::value)
    }
}

/// A length that a sum wants.
#[derive(Clone, Copy, Debug)]
pub(super) struct Want {
    words: &'static [&'static str],
    bare: Option<Unit>,
    any: bool,
}

/// A length that stands beside one of the words.
pub(super) const fn named(words: &'static [&'static str]) -> Want {
    Want { words, bare: None, any: false }
}

/// The same, or the first that is left.
pub(super) const fn any(words: &'static [&'static str]) -> Want {
    Want { words, bare: None, any: true }
}

impl Want {
    /// A number without a unit is in this one.
    pub(super) const fn bare(self, unit: Unit) -> Self {
        Self { bare: Some(unit), ..self }
    }
}

impl<'t> Line<'t> {
    /// Cuts a line.
    pub(super) fn new(text: &'t str) -> Result<Self, NotationError> {
        let mut tokens = cut(text)?;
        spelt::figures(&mut tokens);
        share_units(&mut tokens);
        let used = vec![false; tokens.len()];
        let heard = vec![Cell::new(false); tokens.len()];
        Ok(Self { text, tokens, used, heard, notes: Vec::new() })
    }

    pub(super) fn word(&self, at: usize) -> Option<&str> {
        match &self.tokens.get(at)?.what {
            Piece::Word(word) => Some(word),
            _ => None,
        }
    }

    /// The piece as it was written.
    pub(super) fn written(&self, at: usize) -> &'t str {
        self.tokens.get(at).map_or("", |token| &self.text[token.span.clone()])
    }

    /// Whether one of the words, or of the phrases, stands in the line.
    pub(super) fn has(&self, phrases: &[&str]) -> bool {
        phrases.iter().any(|phrase| self.phrase(phrase).is_some())
    }

    /// Where a phrase begins; a hyphen between its words is read over.
    pub(super) fn phrase(&self, phrase: &str) -> Option<usize> {
        let first = phrase.split(' ').next()?;
        let at = (0..self.tokens.len()).find(|at| {
            self.word(*at) == Some(first) && !self.used[*at] && self.follows(*at, phrase)
        })?;
        for word in phrase.split(' ') {
            self.hears(at, word);
        }
        Some(at)
    }

    /// Marks the first such word from a place on as known.
    fn hears(&self, from: usize, word: &str) {
        let found = (from..self.tokens.len()).find(|at| self.word(*at) == Some(word));
        if let Some(heard) = found.and_then(|at| self.heard.get(at)) {
            heard.set(true);
        }
    }

    fn follows(&self, at: usize, phrase: &str) -> bool {
        let mut here = at;
        phrase.split(' ').all(|word| {
            while self.tokens.get(here).is_some_and(|t| t.what == Piece::Sign(Sign::Minus)) {
                here += 1;
            }
            here += 1;
            self.word(here - 1) == Some(word)
        })
    }

    /// Takes pieces out of the line.
    pub(super) fn take(&mut self, places: std::ops::Range<usize>) {
        for at in places {
            if let Some(used) = self.used.get_mut(at) {
                *used = true;
            }
        }
    }

    pub(super) fn is_used(&self, at: usize) -> bool {
        self.used.get(at).copied().unwrap_or(true)
    }

    /// Whether a sign is still in the line.
    pub(super) fn has_sign(&self, signs: &[Sign]) -> bool {
        self.tokens.iter().enumerate().any(|(at, token)| {
            !self.used[at] && matches!(&token.what, Piece::Sign(sign) if signs.contains(sign))
        })
    }

    /// Places of the quantities still there that `wanted` takes; one behind a ±
    /// belongs to the one before it.
    fn places(&self, wanted: impl Fn(&Piece) -> bool) -> Vec<usize> {
        let spread = |at: usize| at > 0 && self.tokens[at - 1].what == Piece::Sign(Sign::PlusMinus);
        (0..self.tokens.len())
            .filter(|at| !self.used[*at] && !spread(*at) && wanted(&self.tokens[*at].what))
            .collect()
    }

    /// How many quantities are still there.
    pub(super) fn count(&self, wanted: impl Fn(&Piece) -> bool) -> usize {
        self.places(wanted).len()
    }

    pub(super) fn lengths_left(&self) -> usize {
        self.count(|piece| matches!(piece, Piece::Length(..)))
    }

    /// The quantity at a place with its uncertainty, taken.
    fn given(&mut self, at: usize, unit: Option<Unit>) -> Option<Given> {
        let value = match &self.tokens.get(at)?.what {
            Piece::Length(inches, _) => *inches,
            Piece::Number(number) => match unit {
                Some(unit) => unit.to_inches(*number)?,
                None => *number,
            },
            Piece::Area(value)
            | Piece::Angle(value)
            | Piece::Percent(value)
            | Piece::Size(_, value) => *value,
            Piece::Ratio(rise, run) => rise.over(*run)?,
            Piece::Word(_) | Piece::Sign(_) => return None,
        };
        let unit = match &self.tokens[at].what {
            Piece::Length(_, unit) => Some(*unit),
            _ => unit,
        };
        self.used[at] = true;
        let mut sigma = None;
        if matches!(self.tokens.get(at + 1), Some(Token { what: Piece::Sign(Sign::PlusMinus), .. }))
        {
            sigma = match &self.tokens.get(at + 2)?.what {
                Piece::Length(inches, _) => Some(*inches),
                Piece::Number(number) => match unit {
                    Some(unit) => unit.to_inches(*number),
                    None => Some(*number),
                },
                Piece::Percent(share) => {
                    share.times(value.abs()).and_then(|part| part.over(Rational::whole(100)))
                }
                _ => None,
            };
            self.take(at + 1..at + 3);
        }
        Some(Given { value, sigma, at })
    }

    /// What lies between a word and a quantity.
    pub(super) fn distance(&self, word: usize, quantity: usize) -> f64 {
        let (low, high) = (word.min(quantity) + 1, word.max(quantity));
        let between = self.tokens[low..high].iter().enumerate();
        let weight = |(_, token): (usize, &Token)| match &token.what {
            Piece::Word(_) => 1.0,
            Piece::Sign(Sign::Comma | Sign::End) => 3.0,
            Piece::Sign(_) => 1.0,
            _ => 5.0,
        };
        let wrong_side = (word > quantity) != self.words_behind(quantity);
        between.map(weight).sum::<f64>() + if wrong_side { 0.5 } else { 0.0 }
    }

    /// Whether the words stand behind their quantities where a quantity stands:
    /// `3 in wide, 2 in gap, 40 ft long` against `width 3 in, gap 2 in`.
    fn words_behind(&self, quantity: usize) -> bool {
        let ends =
            |at: &usize| matches!(self.tokens[*at].what, Piece::Sign(Sign::Comma | Sign::End));
        let from = (0..quantity).rev().find(ends).map_or(0, |at| at + 1);
        let to = (quantity..self.tokens.len()).find(ends).unwrap_or(self.tokens.len());
        let mut shown = (from..to).filter(|at| !self.used[*at]);
        let begins = shown.next().is_some_and(|at| self.tokens[at].what.is_quantity());
        let last = (from..to).rev().find(|at| !self.used[*at]);
        last.is_some_and(|at| self.word(at).is_some())
            && (begins || self.count_lengths(from..to) > 1)
    }

    fn count_lengths(&self, places: std::ops::Range<usize>) -> usize {
        places.filter(|at| matches!(self.tokens[*at].what, Piece::Length(..))).count()
    }

    /// The least distance of a quantity to one of the words.
    pub(super) fn cost(&self, words: &[&str], quantity: usize) -> f64 {
        let places = (0..self.tokens.len())
            .filter(|at| words.iter().any(|word| self.word(*at) == Some(*word)))
            .inspect(|at| self.heard[*at].set(true));
        places.map(|at| self.distance(at, quantity)).fold(f64::INFINITY, f64::min)
    }

    /// The lengths a sum wants, each beside its word.
    pub(super) fn lengths<const N: usize>(&mut self, wants: [Want; N]) -> [Option<Given>; N] {
        let places = self.places(|piece| matches!(piece, Piece::Length(..) | Piece::Number(_)));
        let is_bare = |at: usize| matches!(self.tokens[at].what, Piece::Number(_));
        let costs: Vec<Vec<f64>> = wants
            .iter()
            .map(|want| {
                let fits = |at: &usize| !is_bare(*at) || want.bare.is_some();
                let cost = |at: &usize| if fits(at) { self.cost(want.words, *at) } else { FAR };
                places.iter().map(cost).collect()
            })
            .collect();
        let mut chosen = settle(&costs);
        // What no word wants goes to those that take any, in order.
        for at in 0..N {
            if chosen[at].is_some() || !wants[at].any {
                continue;
            }
            let free = |place: &usize| !chosen.contains(&Some(*place));
            let sized = (0..places.len()).find(|p| free(p) && !is_bare(places[*p]));
            let bare = || (0..places.len()).find(|p| free(p) && wants[at].bare.is_some());
            chosen[at] = sized.or_else(bare);
        }
        std::array::from_fn(|at| {
            let place = places[chosen[at]?];
            let bare = matches!(self.tokens[place].what, Piece::Number(_));
            if let (true, Some(unit)) = (bare, wants[at].bare) {
                let note =
                    format!("{} is taken as {} {unit}", self.written(place), self.written(place));
                self.notes.push(note);
            }
            self.given(place, wants[at].bare)
        })
    }

    /// One length beside a word, or the first that is left.
    pub(super) fn length(&mut self, want: Want) -> Option<Given> {
        self.lengths([want])[0]
    }

    /// A plain number beside one of the words.
    pub(super) fn number(&mut self, words: &[&str]) -> Option<Given> {
        let places = self.places(|piece| matches!(piece, Piece::Number(_)));
        let near = places.into_iter().map(|at| (self.cost(words, at), at));
        let (cost, at) = near.min_by(|a, b| a.0.total_cmp(&b.0))?;
        if cost < FAR - 1.0 { self.given(at, None) } else { None }
    }

    /// A number at once before one of the words: `12 courses`.
    pub(super) fn counted(&mut self, words: &[&str]) -> Option<Given> {
        let places = self.places(|piece| matches!(piece, Piece::Number(_)));
        let before = |at: &usize| self.word(at + 1).is_some_and(|word| words.contains(&word));
        let at = places.into_iter().find(before)?;
        self.heard[at + 1].set(true);
        self.given(at, None)
    }

    /// The first quantity behind one of the phrases, of those `wanted` takes.
    pub(super) fn behind(
        &mut self,
        phrases: &[&str],
        wanted: impl Fn(&Piece) -> bool,
    ) -> Option<Given> {
        let from = phrases.iter().find_map(|phrase| self.phrase(phrase))?;
        let at = *self.places(wanted).iter().find(|at| **at > from)?;
        self.given(at, None)
    }

    /// The first plain number left.
    pub(super) fn first_number(&mut self) -> Option<Given> {
        let at = *self.places(|piece| matches!(piece, Piece::Number(_))).first()?;
        self.given(at, None)
    }

    /// Every plain number left, in order.
    pub(super) fn numbers(&mut self) -> Vec<Given> {
        let places = self.places(|piece| matches!(piece, Piece::Number(_)));
        places.into_iter().filter_map(|at| self.given(at, None)).collect()
    }

    /// The next quantity that `wanted` takes.
    pub(super) fn next(&mut self, wanted: impl Fn(&Piece) -> bool) -> Option<Given> {
        let at = *self.places(wanted).first()?;
        self.given(at, None)
    }

    pub(super) fn size(&mut self, kind: SizeKind) -> Option<Given> {
        self.next(|piece| matches!(piece, Piece::Size(found, _) if *found == kind))
    }

    /// A size of that kind beside one of the words.
    pub(super) fn size_by(&mut self, kind: SizeKind, words: &[&str]) -> Option<Given> {
        let places = self.places(|piece| matches!(piece, Piece::Size(found, _) if *found == kind));
        let near = places.into_iter().map(|at| (self.cost(words, at), at));
        let (cost, at) = near.min_by(|a, b| a.0.total_cmp(&b.0))?;
        if cost < FAR { self.given(at, None) } else { None }
    }

    pub(super) fn angle(&mut self) -> Option<Given> {
        self.next(|piece| matches!(piece, Piece::Angle(_)))
    }

    pub(super) fn percent(&mut self) -> Option<Given> {
        self.next(|piece| matches!(piece, Piece::Percent(_)))
    }

    /// A pitch: `6:12`, an angle or a percentage, as the rise over the run.
    pub(super) fn pitch(&mut self) -> Option<f64> {
        if let Some(ratio) = self.next(|piece| matches!(piece, Piece::Ratio(..))) {
            return Some(ratio.number());
        }
        if let Some(angle) = self.angle() {
            return Some(angle.number().to_radians().tan());
        }
        self.percent().map(|share| share.number() / 100.0)
    }

    /// The sides of the first group joined by `x`: `2x12`, `16 ft x 20 ft`,
    /// each with whether it has a unit. A lone unit at the end counts for all
    /// where `share`.
    pub(super) fn group(&mut self, share: bool) -> Option<Vec<(Given, bool)>> {
        let by = |at: usize| self.tokens.get(at).is_some_and(|t| t.what == Piece::Sign(Sign::By));
        let is_side = |at: usize| {
            self.tokens
                .get(at)
                .is_some_and(|token| matches!(token.what, Piece::Length(..) | Piece::Number(_)))
        };
        // `8.5 ± 0.1 x 11 ± 0.1`: the sign stands behind the uncertainty.
        let step = |at: usize| {
            let wide =
                self.tokens.get(at + 1).map(|t| &t.what) == Some(&Piece::Sign(Sign::PlusMinus));
            if wide { at + 3 } else { at + 1 }
        };
        let mut at = (0..self.tokens.len()).find(|at| {
            !self.used[*at] && is_side(*at) && by(step(*at)) && is_side(step(*at) + 1)
        })?;
        let mut sides = vec![at];
        while by(step(at)) && is_side(step(at) + 1) {
            at = step(at) + 1;
            sides.push(at);
        }
        let unit = sides.iter().rev().find_map(|at| match self.tokens[*at].what {
            Piece::Length(_, unit) => Some(unit),
            _ => None,
        });
        let given = sides.into_iter().filter_map(|at| {
            let sized = matches!(self.tokens[at].what, Piece::Length(..));
            let unit = if share { unit } else { None };
            self.given(at, unit).map(|given| (given, sized || unit.is_some()))
        });
        Some(given.collect())
    }

    /// Quantities of one series, `24.0 ± 0.25, 24.6 ± 0.3 ft`: numbers without
    /// a unit take the unit of the last that has one. Nothing where none has.
    pub(super) fn series(&mut self) -> (Vec<Given>, Option<Unit>) {
        let places = self.places(|piece| matches!(piece, Piece::Length(..) | Piece::Number(_)));
        let unit_at = |at: usize| match self.tokens.get(at).map(|token| &token.what) {
            Some(Piece::Length(_, unit)) => Some(*unit),
            _ => None,
        };
        let unit = places.iter().rev().find_map(|at| unit_at(*at).or_else(|| unit_at(*at + 2)));
        let given = places.into_iter().filter_map(|at| self.given(at, unit)).collect();
        (given, unit)
    }

    /// Pairs of numbers, such as places in a picture: `212,118; 1430,264`.
    pub(super) fn pairs(&mut self) -> Vec<[f64; 2]> {
        let numbers: Vec<f64> = self.numbers().into_iter().map(Given::number).collect();
        numbers.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
    }

    /// Quantities that nothing used.
    pub(super) fn left_over(&self) -> Vec<&'t str> {
        let left = |at: &usize| !self.used[*at] && self.tokens[*at].what.is_quantity();
        (0..self.tokens.len()).filter(left).map(|at| self.written(at)).collect()
    }

    /// What a sum says where something is missing.
    pub(super) fn missing(&self, doing: &str, what: &str, example: &str) -> Stop {
        Stop::new(doing, format!("{what} is missing"), format!("write for example: {example}"))
    }
}

/// `99.8 ± 0.25 mm`: a number before a ± takes the unit behind it.
fn share_units(tokens: &mut [Token]) {
    for at in 2..tokens.len() {
        let joined = tokens[at - 1].what == Piece::Sign(Sign::PlusMinus);
        if let (true, Piece::Number(number), Piece::Length(_, unit)) =
            (joined, &tokens[at - 2].what, &tokens[at].what)
            && let Some(inches) = unit.to_inches(*number)
        {
            tokens[at - 2].what = Piece::Length(inches, *unit);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(text: &str) -> [Option<f64>; 3] {
        let mut line = Line::new(text).unwrap();
        let wants = [any(&["floor", "height"]), named(&["riser"]), named(&["tread"])];
        line.lengths(wants.map(|want| want.bare(Unit::Inch))).map(|it| it.map(Given::number))
    }

    #[test]
    fn a_word_gives_its_meaning_before_or_behind() {
        let wanted = [Some(108.0), Some(7.75), Some(10.0)];
        for text in [
            "9 ft floor to floor, riser 7 3/4 in, tread 10 in",
            "9 ft, 7 3/4 in riser, 10 in tread",
            "riser at most 7 3/4, tread 10, height 9 ft",
            "tread 10 in riser 7 3/4 in 9 ft",
        ] {
            assert_eq!(inches(text), wanted, "{text}");
        }
    }

    #[test]
    fn groups_and_series_share_their_unit() {
        let mut line = Line::new("part 140 x 85 mm").unwrap();
        let group = line.group(true).unwrap();
        assert!((group[0].0.model().in_millimetres() - 140.0).abs() < 1e-9);
        let mut line = Line::new("24.0 \u{b1} 0.25, 24.6 \u{b1} 0.3 ft").unwrap();
        let (all, unit) = line.series();
        assert_eq!(unit, Some(Unit::Foot));
        assert_eq!(all.len(), 2);
        assert!((all[0].spread() - 3.0).abs() < 1e-12);
        assert!(line.left_over().is_empty());
    }
}
