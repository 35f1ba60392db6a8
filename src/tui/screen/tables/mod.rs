//! The tables of the job: which place is open, what is typed into a key, and a
//! row that is being made.

mod lack;
mod picks;
mod speaks;

pub use lack::lack;
pub use picks::{Pick, Words, picks};
pub use speaks::{place_of, place_of_stage};

use toml_edit::DocumentMut;
use tui_input::Input;

use crate::job::grammar::{Key, Kind, Shape};
use crate::job::slot::{Holds, Line, Slot, counting, holds, is_needed, lines};

/// A place that was gone into, and the line marked there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Level {
    /// The place.
    pub slot: Slot,
    /// The line.
    pub at: usize,
}

/// What a field asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Asked {
    /// The value of a key.
    Value(Slot),
    /// Another name for a row.
    Name(Slot),
    /// The name of a copy of a row.
    Copy(Slot),
    /// The name of an entry of a list by name.
    Entry(Slot),
    /// What kind of row a new one is.
    Kind,
    /// The line to go to.
    Go,
}

/// A field that is open.
#[derive(Clone, Debug)]
pub struct Entry {
    /// What it asks for.
    pub asked: Asked,
    /// What was typed.
    pub input: Input,
    /// What there is to pick from.
    pub picks: Vec<Pick>,
    /// The pick gone to with the arrows, among those that fit.
    pub marked: Option<usize>,
    /// Whether only a pick will do.
    pub closed: bool,
    /// How the words typed are parted.
    pub words: Words,
}

/// A row or table that is being made: it is in the job once all that must be
/// there is said.
#[derive(Clone, Debug)]
pub struct Draft {
    /// The list or table it is added to.
    pub target: Slot,
    /// The row, or the table itself.
    pub row: Slot,
    /// Its table of the grammar.
    pub shape: &'static Shape,
    /// Its kind, where one key of several tells it.
    pub kind: Option<String>,
    /// What was said, by key.
    pub said: Vec<(String, String)>,
}

/// The tables of the job.
#[derive(Clone, Debug)]
pub struct Tables {
    /// The places gone into, that in sight last.
    pub open: Vec<Level>,
    /// The lines in sight.
    pub lines: Vec<Line>,
    /// The field that takes letters.
    pub entry: Option<Entry>,
    /// The row being made.
    pub draft: Option<Draft>,
    /// Why something was not taken.
    pub trouble: String,
}

impl Tables {
    /// Opened at a place, with the places round it behind.
    #[must_use]
    pub fn at(file: &DocumentMut, slot: &Slot) -> Self {
        let mut around = vec![slot.clone()];
        while let Some(outer) = around.last().and_then(Slot::parent) {
            around.push(outer);
        }
        let open = around.into_iter().rev().map(|slot| Level { slot, at: 0 });
        let mut tables = Self {
            open: open.collect(),
            lines: Vec::new(),
            entry: None,
            draft: None,
            trouble: String::new(),
        };
        for at in 1..tables.open.len() {
            let inner = tables.open[at].slot.clone();
            let found = lines(file, &tables.open[at - 1].slot).into_iter();
            tables.open[at - 1].at = found.take_while(|line| line.slot != inner).count();
        }
        tables.refresh(file);
        tables
    }

    /// The place in sight.
    #[must_use]
    pub fn here(&self) -> Slot {
        self.open.last().map_or_else(Slot::root, |level| level.slot.clone())
    }

    /// The number of the line marked.
    #[must_use]
    pub fn mark(&self) -> usize {
        self.open.last().map_or(0, |level| level.at)
    }

    /// The line marked.
    #[must_use]
    pub fn line(&self) -> Option<&Line> {
        self.lines.get(self.mark())
    }

    /// The lines in sight, to be picked from.
    #[must_use]
    pub fn to_go(&self) -> Vec<Pick> {
        let pick = |line: &Line| Pick {
            word: line.slot.word().trim_matches('"').to_owned(),
            says: line.text.clone().unwrap_or_default(),
        };
        self.lines.iter().map(pick).collect()
    }

    /// Marks a line.
    pub fn go(&mut self, at: usize) {
        let last = self.lines.len().saturating_sub(1);
        if let Some(level) = self.open.last_mut() {
            level.at = at.min(last);
        }
    }

    /// Looks at the job again: rows may be gone, or called otherwise.
    pub fn refresh(&mut self, file: &DocumentMut) {
        if let Some(draft) = &self.draft {
            self.lines = draft.lines();
            return;
        }
        let mut there = Vec::new();
        for level in &self.open {
            let Some(slot) = level.slot.again(file) else { break };
            there.push(Level { slot, at: level.at });
        }
        self.open = there;
        if self.open.is_empty() {
            self.open.push(Level { slot: Slot::root(), at: 0 });
        }
        self.lines = lines(file, &self.here());
        self.go(self.mark());
    }
}

impl Draft {
    /// A new row of a list, or a table that is not there.
    #[must_use]
    pub fn of(file: &DocumentMut, target: &Slot) -> Option<Self> {
        let shape = target.shape()?;
        let row = match target.holds() {
            Holds::Rows(_) => target.numbered(target.node(file).rows()),
            _ => target.clone(),
        };
        Some(Self { target: target.clone(), row, shape, kind: None, said: Vec::new() })
    }

    /// What was said under a key.
    #[must_use]
    pub fn said(&self, key: &str) -> Option<&str> {
        self.said.iter().find(|(name, _)| name == key).map(|(_, text)| text.as_str())
    }

    /// Says something; an empty text takes it back.
    pub fn say(&mut self, key: &str, text: &str) {
        self.said.retain(|(name, _)| name != key);
        if !text.is_empty() {
            self.said.push((key.to_owned(), text.to_owned()));
        }
    }

    fn kind(&self) -> Option<&str> {
        self.kind.as_deref().or_else(|| self.said(self.shape.head.by?))
    }

    /// Whether it must still be asked what kind of row it is.
    #[must_use]
    pub fn wants_kind(&self) -> bool {
        self.kind.is_none() && !self.shape.head.one_of.is_empty()
    }

    /// The keys that count for it, with what was said.
    #[must_use]
    pub fn lines(&self) -> Vec<Line> {
        let kind = self.kind();
        let line = |key: &'static Key| Line {
            slot: self.row.key(key.name),
            key: Some(key),
            holds: Holds::Value,
            text: self.said(key.name).map(str::to_owned),
            rows: 0,
            needed: is_needed(key, kind) || self.shape.head.one_of.contains(&key.name),
        };
        if self.wants_kind() {
            return Vec::new();
        }
        counting(self.shape, kind).map(line).collect()
    }

    /// The first line that must be there and is not said.
    #[must_use]
    pub fn missing(&self) -> Option<usize> {
        self.lines().iter().position(|line| line.needed && line.text.is_none())
    }
}

/// Whether a table begins with questions: some of its keys must be there.
#[must_use]
pub fn asks(shape: &Shape) -> bool {
    !shape.head.one_of.is_empty() || shape.keys.iter().any(|key| key.rule.required)
}

/// Whether a key holds several values with commas between.
#[must_use]
pub fn is_list(key: &Key) -> bool {
    matches!((key.kind)(), Kind::List(_) | Kind::Row(..))
        && matches!(holds((key.kind)()), Holds::Value)
}
