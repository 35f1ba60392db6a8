//! What there is to pick from in a field.

use toml_edit::DocumentMut;

use super::{Draft, Entry, is_list};
use crate::catalog::Catalog;
use crate::job::grammar::{Key, Kind};
use crate::job::slot::{Slot, names};
use crate::report::keys::plain;

/// How the words of a field are parted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Words {
    /// It holds one.
    #[default]
    One,
    /// By commas, `a + b` one above the other.
    Listed,
    /// By the signs of a sum of dimensions.
    Sum,
}

impl Words {
    /// Those of a key.
    #[must_use]
    pub fn of(key: &Key) -> Self {
        let mut kind = (key.kind)();
        let many = matches!(kind, Kind::List(_) | Kind::Row(..) | Kind::Map(_));
        while let Kind::List(inner) | Kind::Row(_, inner) | Kind::Map(inner) = kind {
            kind = inner();
        }
        match kind {
            Kind::Size | Kind::Sum | Kind::Form | Kind::Equation if !many => Self::Sum,
            _ if many => Self::Listed,
            _ => Self::One,
        }
    }
}

/// Something to pick.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pick {
    /// As it is written.
    pub word: String,
    /// What it means; may be empty.
    pub says: String,
}

impl Pick {
    fn new(word: impl Into<String>, says: impl Into<String>) -> Self {
        Self { word: word.into(), says: says.into() }
    }
}

/// Every word or name that a key can hold, and whether nothing else will do.
#[must_use]
pub fn picks(file: &DocumentMut, catalog: &Catalog, slot: &Slot, key: &Key) -> (Vec<Pick>, bool) {
    let mut kind = (key.kind)();
    let many = is_list(key);
    while let Kind::List(inner) | Kind::Row(_, inner) | Kind::Map(inner) = kind {
        kind = inner();
    }
    match kind {
        Kind::Choice(words) => {
            let words = words.iter().map(|word| Pick::new(word.word, plain(word.says)));
            (words.collect(), !many)
        }
        Kind::Flag => (vec![Pick::new("true", ""), Pick::new("false", "")], true),
        _ => {
            let names = names(file, catalog, slot);
            let closed = !many && key.rule.names.is_some() && !names.is_empty();
            (names.into_iter().map(|name| Pick::new(name, "")).collect(), closed)
        }
    }
}

impl Draft {
    /// The kinds of row to choose from.
    #[must_use]
    pub fn kinds(&self) -> Vec<Pick> {
        let key = |name: &&'static str| {
            let says = self.shape.key(name).map_or(String::new(), |key| plain(key.says()));
            Pick::new(*name, says)
        };
        self.shape.head.one_of.iter().map(key).collect()
    }
}

impl Entry {
    /// The last word typed: the part that a pick stands for.
    #[must_use]
    pub fn word(&self) -> &str {
        let typed = self.input.value();
        let is_end = |c: char| match self.words {
            Words::One => false,
            Words::Listed => matches!(c, ',' | ';' | '+' | '['),
            Words::Sum => !(c.is_alphanumeric() || c == '_'),
        };
        let word = typed.rsplit(is_end).next().unwrap_or(typed).trim_start();
        let is_figure =
            self.words == Words::Sum && !typed.trim_start().starts_with(char::is_alphabetic);
        if is_figure { "" } else { word }
    }

    /// Puts a pick in place of the last word typed.
    #[must_use]
    pub fn with(&self, pick: &Pick) -> String {
        let typed = self.input.value();
        let kept = if self.words == Words::One { 0 } else { typed.len() - self.word().len() };
        format!("{}{}", &typed[..kept], pick.word)
    }

    /// The picks that fit what is typed: those that begin with it first.
    #[must_use]
    pub fn fitting(&self) -> Vec<&Pick> {
        let word = self.word().trim_end().to_lowercase();
        let begins = |pick: &&Pick| pick.word.to_lowercase().starts_with(&word);
        let holds = |pick: &&Pick| !begins(pick) && pick.word.to_lowercase().contains(&word);
        self.picks.iter().filter(begins).chain(self.picks.iter().filter(holds)).collect()
    }

    /// Whether picks are shown: dimensions only once one is begun.
    #[must_use]
    pub fn offers(&self) -> bool {
        let begun = self.words != Words::Sum || !self.word().is_empty() || self.marked.is_some();
        begun && !self.fitting().is_empty()
    }

    /// The pick that Enter takes: that gone to, else the first that begins with
    /// what is typed, where that is no pick itself.
    #[must_use]
    pub fn picked(&self) -> Option<(usize, &Pick)> {
        let fitting = self.fitting();
        if let Some(at) = self.marked {
            return fitting.get(at).map(|pick| (at, *pick));
        }
        let word = self.word().trim();
        if word.is_empty() || fitting.iter().any(|pick| pick.word == word) {
            return None;
        }
        let first = fitting.first().filter(|pick| {
            pick.word.to_lowercase().starts_with(&word.to_lowercase()) || self.closed
        })?;
        Some((0, first))
    }
}
