//! What stands in a file, whichever way it is written.

use std::ops::Range;

use toml_edit::{ArrayOfTables, Item, TableLike, Value as Plain};

use super::Wrong;
use crate::finding::short;
use crate::job::read::nearest;

/// Something of the file.
#[derive(Clone, Copy)]
pub enum Node<'a> {
    /// A value that is no table.
    Plain(&'a Plain),
    /// A table, and where it stands.
    Table(&'a dyn TableLike, (usize, usize)),
    /// `[[...]]`.
    Rows(&'a ArrayOfTables),
    /// An absent table, read as an empty one.
    Nothing,
}

impl<'a> From<&'a Item> for Node<'a> {
    fn from(item: &'a Item) -> Self {
        match item {
            Item::None => Self::Nothing,
            Item::Value(value) => value.into(),
            Item::Table(table) => Self::Table(table, ends(table.span())),
            Item::ArrayOfTables(rows) => Self::Rows(rows),
        }
    }
}

impl<'a> From<&'a Plain> for Node<'a> {
    fn from(value: &'a Plain) -> Self {
        match value {
            Plain::InlineTable(table) => Self::Table(table, ends(table.span())),
            _ => Self::Plain(value),
        }
    }
}

fn ends(span: Option<Range<usize>>) -> (usize, usize) {
    span.map_or((0, 0), |span| (span.start, span.end))
}

impl<'a> Node<'a> {
    /// A table of `[[...]]`.
    #[must_use]
    pub fn row(table: &'a toml_edit::Table) -> Self {
        Self::Table(table, ends(table.span()))
    }

    /// Where it stands.
    #[must_use]
    pub fn at(self) -> Range<usize> {
        match self {
            Self::Plain(value) => value.span().unwrap_or(0..0),
            Self::Table(_, (start, end)) => start..end,
            Self::Rows(rows) => rows.span().unwrap_or(0..0),
            Self::Nothing => 0..0,
        }
    }

    /// What stands under a key.
    #[must_use]
    pub fn get(self, key: &str) -> Self {
        match self {
            Self::Table(table, _) => table.get(key).map_or(Self::Nothing, Self::from),
            _ => Self::Nothing,
        }
    }

    /// How many tables are listed here.
    #[must_use]
    pub fn rows(self) -> usize {
        match self {
            Self::Rows(rows) => rows.len(),
            Self::Plain(Plain::Array(list)) if list.iter().all(Plain::is_inline_table) => {
                list.len()
            }
            _ => 0,
        }
    }

    /// The table listed at that number, from 0.
    #[must_use]
    pub fn at_row(self, at: usize) -> Self {
        match self {
            Self::Rows(rows) => rows.get(at).map_or(Self::Nothing, Node::row),
            Self::Plain(Plain::Array(list)) => list.get(at).map_or(Self::Nothing, Self::from),
            _ => Self::Nothing,
        }
    }

    /// Its text.
    ///
    /// # Errors
    /// When it is no text; `what` is wanted.
    pub fn text(self, what: &str) -> Result<&'a str, Wrong> {
        match self {
            Self::Plain(Plain::String(text)) => Ok(text.value()),
            _ => Err(self.not(what)),
        }
    }

    /// That something else is wanted here.
    #[must_use]
    pub fn not(self, what: &str) -> Wrong {
        let is = match self {
            Self::Plain(Plain::String(_)) => "a text",
            Self::Plain(Plain::Integer(_) | Plain::Float(_)) => "a bare number",
            Self::Plain(Plain::Boolean(_)) => "true or false",
            Self::Plain(Plain::Datetime(_)) => "a date without quotes",
            Self::Plain(Plain::Array(_)) => "a list",
            Self::Rows(_) => "a list of tables",
            _ => "a table",
        };
        Wrong::new(self.at(), format!("`{{key}}` wants {what}, and this is {is}"), "")
    }

    /// That a word is none of a choice.
    pub fn no_word(self, text: &str, words: impl Iterator<Item = &'static str> + Clone) -> Wrong {
        let all: Vec<&str> = words.clone().collect();
        let near = nearest(text, words).map_or(String::new(), |near| format!("{near}? "));
        Wrong::new(
            self.at(),
            format!("\"{}\" is not one of the words known here", short::word(text)),
            format!("{near}one of {}", all.join(", ")),
        )
    }
}
