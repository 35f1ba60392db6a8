//! Reading a table of the file by the table of keys.

use std::cell::RefCell;
use std::ops::Range;

use toml_edit::{Item, Key as Written, Value as Plain};

use super::names::{Named, Spoken};
use super::node::Node;
use super::{Key, Rule, Shape, Value};
use crate::finding::short;
use crate::job::read::nearest;

/// What is wrong with a value, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wrong {
    /// Bytes of the text.
    pub at: Range<usize>,
    /// What is wrong; `{key}` stands for the key.
    pub message: String,
    /// What to write; the key's example when empty.
    pub hint: String,
}

impl Wrong {
    /// Something wrong at a place.
    pub fn new(at: Range<usize>, message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { at, message: message.into(), hint: hint.into() }
    }
}

/// A value that was taken and not given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// The table's path.
    pub table: &'static str,
    /// The table's own name, where it has one.
    pub name: String,
    /// The key.
    pub key: &'static str,
    /// What was taken.
    pub value: String,
    /// Where that comes from.
    pub source: String,
}

/// What is gathered while a job is read.
#[derive(Debug, Default)]
pub(super) struct Gathered {
    pub(super) declared: Vec<Spoken>,
    pub(super) used: Vec<Spoken>,
    taken: Vec<Taken>,
    scope: usize,
    scopes: usize,
}

/// Reads one job: its text, and what was gathered so far.
#[derive(Debug)]
pub struct Reader<'t> {
    text: &'t str,
    pub(super) gathered: RefCell<Gathered>,
}

impl<'t> Reader<'t> {
    /// A reader of that text.
    #[must_use]
    pub fn new(text: &'t str) -> Self {
        Self { text, gathered: RefCell::default() }
    }

    /// The defaults that were taken and should be told.
    #[must_use]
    pub fn taken(&self) -> Vec<Taken> {
        self.gathered.borrow().taken.clone()
    }

    /// Notes a name that stands for something.
    pub fn uses(&self, of: Named, name: &str, at: Range<usize>) {
        let mut gathered = self.gathered.borrow_mut();
        let scope = if of.is_scoped() { gathered.scope } else { 0 };
        gathered.used.push(Spoken { of, name: name.to_owned(), at, scope });
    }

    /// Notes a name that is given.
    pub fn declares(&self, of: Named, name: &str, at: Range<usize>) {
        let mut gathered = self.gathered.borrow_mut();
        let scope = if of.is_scoped() { gathered.scope } else { 0 };
        gathered.declared.push(Spoken { of, name: name.to_owned(), at, scope });
    }

    /// What the name given at a place is the name of.
    pub(in crate::job) fn named_at(&self, at: &Range<usize>) -> Option<Named> {
        let gathered = self.gathered.borrow();
        gathered.declared.iter().find(|one| one.at == *at).map(|one| one.of)
    }

    /// Where the name given at a place is used, and as what.
    pub(in crate::job) fn uses_of(&self, at: &Range<usize>) -> Vec<(Named, Range<usize>)> {
        let gathered = self.gathered.borrow();
        let Some(given) = gathered.declared.iter().find(|one| one.at == *at) else {
            return Vec::new();
        };
        let means = |one: &&Spoken| {
            one.scope == given.scope
                && one.of.looks_for().contains(&given.of)
                && one.of.parts(&one.name).contains(&given.name.as_str())
        };
        gathered.used.iter().filter(means).map(|one| (one.of, one.at.clone())).collect()
    }

    /// The bytes of a part of a text, where its letters stand in the file as
    /// they are; else those of the whole value.
    #[must_use]
    pub fn inside(&self, value: &Range<usize>, text: &str, part: &Range<usize>) -> Range<usize> {
        let start = value.start + 1;
        let same = self.text.get(start..start + text.len()) == Some(text);
        if same { start + part.start..start + part.end } else { value.clone() }
    }
}

/// A table of the file, held against its rows of the grammar.
pub struct Fields<'a> {
    node: Node<'a>,
    reader: &'a Reader<'a>,
    shape: &'static Shape,
    /// Its kind, where keys count for some kinds only.
    kind: Option<String>,
    outside: usize,
}

impl Drop for Fields<'_> {
    fn drop(&mut self) {
        if self.shape.head.scope {
            self.reader.gathered.borrow_mut().scope = self.outside;
        }
    }
}

impl<'a> Fields<'a> {
    /// Opens a table: it must be one, and hold only keys of the grammar.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn of(
        node: Node<'a>,
        reader: &'a Reader<'_>,
        shape: &'static Shape,
    ) -> Result<Self, Wrong> {
        if !matches!(node, Node::Table(..) | Node::Nothing) {
            return Err(no_table(node, shape));
        }
        let outside = reader.gathered.borrow().scope;
        let mut fields = Self { node, reader, shape, kind: None, outside };
        if shape.head.scope {
            let mut gathered = reader.gathered.borrow_mut();
            gathered.scopes += 1;
            gathered.scope = gathered.scopes;
        }
        fields.refuse_strangers()?;
        fields.kind = fields.find_kind()?;
        fields.refuse_meaningless()?;
        Ok(fields)
    }

    fn get(&self, name: &str) -> Option<&'a Item> {
        match self.node {
            Node::Table(table, _) => table.get(name).filter(|item| !item.is_none()),
            _ => None,
        }
    }

    fn key_at(&self, name: &str) -> Range<usize> {
        let span = match self.node {
            Node::Table(table, _) => table.key(name).and_then(Written::span),
            _ => None,
        };
        span.unwrap_or_else(|| self.node.at())
    }

    fn refuse_strangers(&self) -> Result<(), Wrong> {
        let Node::Table(table, _) = self.node else { return Ok(()) };
        let known = || self.shape.keys.iter().map(|key| key.name);
        let stranger = table.iter().map(|(name, _)| name).find(|name| known().all(|k| k != *name));
        let Some(name) = stranger else { return Ok(()) };
        let gone = self.shape.head.gone.iter().find(|(old, _)| *old == name);
        let hint = match (gone, nearest(name, known())) {
            (Some((_, hint)), _) => (*hint).to_owned(),
            (None, Some(meant)) => format!("did you mean `{meant}`?"),
            (None, None) => format!("the keys here are {}", short::list(known())),
        };
        let message = format!("the key `{}` is not known here", short::word(name));
        Err(Wrong::new(self.key_at(name), message, hint))
    }

    fn find_kind(&self) -> Result<Option<String>, Wrong> {
        let head = &self.shape.head;
        if let Some(by) = head.by {
            return Ok(self.get(by).and_then(Item::as_str).map(str::to_owned));
        }
        if head.one_of.is_empty() {
            return Ok(None);
        }
        let mut given = head.one_of.iter().filter(|key| self.get(key).is_some());
        match (given.next(), given.next()) {
            (Some(only), None) => Ok(Some((*only).to_owned())),
            _ => Err(Wrong::new(
                self.node.at(),
                format!("this has exactly one of the keys {}", head.one_of.join(", ")),
                format!("write one of them, with a name behind it: {} = \"a\"", head.one_of[0]),
            )),
        }
    }

    /// Refuses a key that means nothing for this kind of table.
    fn refuse_meaningless(&self) -> Result<(), Wrong> {
        let Some(kind) = &self.kind else { return Ok(()) };
        let counts = |key: &Key| key.rule.only.is_empty() || key.rule.only.contains(&&**kind);
        let idle = |key: &&Key| !counts(key) && self.get(key.name).is_some();
        let Some(key) = self.shape.keys.iter().find(idle) else { return Ok(()) };
        let message = format!("`{}` means nothing for {}", key.name, short::word(kind));
        let hint = format!("take it out; it counts for {}", key.rule.only.join(", "));
        Err(Wrong::new(self.key_at(key.name), message, hint))
    }

    /// The value under a key, or what holds without it.
    ///
    /// # Errors
    /// A value that is none for the key, or a key that must be there.
    pub fn take<T: Value>(&self, name: &'static str) -> Result<T, Wrong> {
        let Some(key) = self.shape.key(name) else {
            return Err(Wrong::new(self.node.at(), format!("`{name}` is no key"), ""));
        };
        match self.get(name) {
            Some(item) => {
                T::read(item.into(), self.reader, &key.rule).map_err(|wrong| self.told(wrong, key))
            }
            None => self.without(key),
        }
    }

    fn told(&self, wrong: Wrong, key: &Key) -> Wrong {
        let at = if wrong.at.is_empty() { self.key_at(key.name) } else { wrong.at };
        let hint = match wrong.hint.as_str() {
            "" if key.rule.example.is_empty() => String::new(),
            "" => format!("write {} = {}", key.name, key.example()),
            hint => hint.to_owned(),
        };
        Wrong { at, message: wrong.message.replace("{key}", key.name), hint }
    }

    fn without<T: Value>(&self, key: &Key) -> Result<T, Wrong> {
        let missing = || {
            let message = format!("the key `{}` is missing here", key.name);
            let hint = match key.example() {
                example if example.is_empty() => String::new(),
                example => format!("write {} = {example}", key.name),
            };
            Wrong::new(self.node.at(), message, hint)
        };
        if key.rule.required || self.kind.as_deref().is_some_and(|it| key.rule.needed.contains(&it))
        {
            return Err(missing());
        }
        self.note_taken(key);
        if let Some(value) = T::absent(self.reader) {
            return Ok(value);
        }
        let text = key.rule.unless.map_or("", |unless| unless.value);
        let value: Plain = text.parse().map_err(|_| missing())?;
        T::read((&value).into(), self.reader, &key.rule).map_err(|_| missing())
    }

    fn note_taken(&self, key: &Key) {
        let Some(unless) = key.rule.unless.filter(|unless| unless.told) else { return };
        let only = if unless.kinds.is_empty() { key.rule.only } else { unless.kinds };
        if !only.is_empty() && !self.kind.as_deref().is_some_and(|kind| only.contains(&kind)) {
            return;
        }
        let own = ["name", "id", "key", "of"].iter().find_map(|name| self.get(name)?.as_str());
        self.reader.gathered.borrow_mut().taken.push(Taken {
            table: self.shape.head.name,
            name: own.unwrap_or_default().to_owned(),
            key: key.name,
            value: unless.value.to_owned(),
            source: unless.source.to_owned(),
        });
    }
}

/// That a table of that name is wanted, with how it is written.
fn no_table(node: Node<'_>, shape: &Shape) -> Wrong {
    let mut wrong = node.not("a table");
    wrong.hint = match node {
        Node::Rows(_) => format!("there is only one: write [{}]", shape.head.name),
        _ => format!("write it as a table with keys: see `scantling keys {}`", shape.head.name),
    };
    wrong
}

impl Key {
    /// The example as it stands in a file.
    #[must_use]
    pub fn example(&self) -> String {
        let plain = self.rule.example;
        let is_text = |kind: super::Kind| {
            use super::Kind::{Choice, Electric, Equation, Form, Length, Size, Sum, Text};
            matches!(
                kind,
                Text | Length(_) | Size | Sum | Form | Equation | Electric(_) | Choice(_)
            )
        };
        let quoted = match (self.kind)() {
            super::Kind::Either(one, _) => is_text(one()),
            kind => is_text(kind),
        };
        if plain.is_empty() || !quoted || plain.starts_with('{') {
            return plain.to_owned();
        }
        Plain::from(plain).to_string()
    }

    /// Whether a text, as it would stand behind the key, is a value for it.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn check(&self, text: &str) -> Result<(), Wrong> {
        let value: Plain = text.trim().parse().map_err(|error: toml_edit::TomlError| {
            Wrong::new(0..0, error.message().to_owned(), "")
        })?;
        let reader = Reader::new(text);
        let node = Node::from(&value);
        (self.takes)(node, &reader, &self.rule)
            .map_err(|wrong| Wrong { message: wrong.message.replace("{key}", self.name), ..wrong })
    }
}

impl Rule {
    /// That a value lies outside the range; `said` is how it was written.
    #[must_use]
    pub fn outside(&self, at: Range<usize>, said: &str, show: impl Fn(f64) -> String) -> Wrong {
        let message =
            format!("`{{key}}` is {}, and must be {}", short::word(said), self.range(show));
        Wrong::new(at, message, "")
    }
}
