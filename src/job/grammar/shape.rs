//! The table itself: which keys a table of the job has.

use super::{Node, Reader, Rule, Wrong};

/// A word of a choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word {
    /// As it is written.
    pub word: &'static str,
    /// What it means.
    pub says: &'static str,
}

/// What a value is.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// Text.
    Text,
    /// A length with its unit, in the space of that word.
    Length(&'static str),
    /// A full-size size: a length, surveyed dimensions, or both.
    Size,
    /// A sum of dimensions.
    Sum,
    /// What a reading says of dimensions.
    Form,
    /// An equation of dimensions.
    Equation,
    /// A whole number.
    Count,
    /// A number.
    Number,
    /// `true` or `false`.
    Flag,
    /// An electric value with its unit.
    Electric(&'static str),
    /// One word of a choice.
    Choice(&'static [Word]),
    /// A list.
    List(fn() -> Kind),
    /// A list of just that many.
    Row(usize, fn() -> Kind),
    /// Values by a name of their own.
    Map(fn() -> Kind),
    /// A table.
    Table(fn() -> &'static Shape),
    /// One of two kinds.
    Either(fn() -> Kind, fn() -> Kind),
}

/// What a table is called and how its keys depend on its kind.
#[derive(Clone, Copy, Debug)]
pub struct Head {
    /// Its path in the file: `job`, `photo.rect`, `face.row`.
    pub name: &'static str,
    /// The key whose word is its kind, where keys count for some kinds only.
    pub by: Option<&'static str>,
    /// The keys of which just one stands in it and tells its kind.
    pub one_of: &'static [&'static str],
    /// Whether names inside it count inside it only.
    pub scope: bool,
    /// Keys that are no more, each with what to write.
    pub gone: &'static [(&'static str, &'static str)],
}

/// The head of a table of that path.
#[must_use]
pub const fn table(name: &'static str) -> Head {
    Head { name, by: None, one_of: &[], scope: false, gone: &[] }
}

impl Head {
    /// The word under `key` tells its kind.
    #[must_use]
    pub const fn by(self, key: &'static str) -> Self {
        Self { by: Some(key), ..self }
    }

    /// Which of these keys it has tells its kind.
    #[must_use]
    pub const fn one_of(self, keys: &'static [&'static str]) -> Self {
        Self { one_of: keys, ..self }
    }

    /// Some names inside count inside only.
    #[must_use]
    pub const fn scoped(self) -> Self {
        Self { scope: true, ..self }
    }

    /// Keys that are no more.
    #[must_use]
    pub const fn gone(self, gone: &'static [(&'static str, &'static str)]) -> Self {
        Self { gone, ..self }
    }
}

/// One key of a table.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// As it is written.
    pub name: &'static str,
    /// What it is, in a sentence.
    pub says: &'static str,
    /// What its value is.
    pub kind: fn() -> Kind,
    /// Whether a value is one for this key.
    pub takes: fn(Node<'_>, &Reader<'_>, &Rule) -> Result<(), Wrong>,
    /// Its rule.
    pub rule: Rule,
}

/// A table of the grammar.
#[derive(Clone, Copy, Debug)]
pub struct Shape {
    /// Its head.
    pub head: Head,
    /// What it is, in a sentence.
    pub says: &'static str,
    /// Its keys.
    pub keys: &'static [Key],
}

/// A struct that is a table of the grammar.
pub trait Shaped {
    /// The table.
    const SHAPE: &'static Shape;

    /// The same as a function, for tables that hold themselves.
    fn shape() -> &'static Shape {
        Self::SHAPE
    }
}

impl Shape {
    /// The key of that name.
    #[must_use]
    pub fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().find(|key| key.name == name)
    }

    /// What it is.
    #[must_use]
    pub fn says(&self) -> &'static str {
        self.says.trim()
    }
}

/// A table with how it stands in the file.
#[derive(Clone, Copy, Debug)]
pub struct Listed {
    /// The table.
    pub shape: &'static Shape,
    /// Whether there may be several: `[[name]]`, or a list of tables in a line.
    pub several: bool,
}

/// Every table that can be reached from the job, in the order of the grammar;
/// the first is the file itself.
#[must_use]
pub fn tables() -> Vec<Listed> {
    let job = <crate::job::Job as Shaped>::SHAPE;
    let mut found = vec![Listed { shape: job, several: false }];
    job.keys.iter().for_each(|key| gather((key.kind)(), false, &mut found));
    found
}

fn gather(kind: Kind, several: bool, found: &mut Vec<Listed>) {
    match kind {
        Kind::List(inner) | Kind::Row(_, inner) => gather(inner(), true, found),
        Kind::Map(inner) => gather(inner(), several, found),
        Kind::Either(one, other) => {
            gather(one(), several, found);
            gather(other(), several, found);
        }
        Kind::Table(shape) => {
            let shape = shape();
            if found.iter().all(|known| known.shape.head.name != shape.head.name) {
                found.push(Listed { shape, several });
                shape.keys.iter().for_each(|key| gather((key.kind)(), false, found));
            }
        }
        _ => {}
    }
}

impl Key {
    /// What it is, in a sentence.
    #[must_use]
    pub fn says(&self) -> &'static str {
        self.says.trim()
    }

    /// Whether its value is measured or counted, and so has a range.
    #[must_use]
    pub fn is_measure(&self) -> bool {
        let mut kind = (self.kind)();
        while let Kind::List(inner) | Kind::Row(_, inner) | Kind::Map(inner) = kind {
            kind = inner();
        }
        matches!(
            kind,
            Kind::Length(_) | Kind::Size | Kind::Count | Kind::Number | Kind::Electric(_)
        ) || matches!(self.rule.text, super::Text::Pitch | super::Text::Angle)
    }
}
