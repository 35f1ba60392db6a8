//! A view is data: tables of cells that hold values, rows that say what they are
//! and what can be done with them.
//!
//! A view is described once. [`super::draft`] makes its tables, a line for each
//! column; [`super::text`], [`super::json`] and paper render them, and the
//! terminal sorts, filters and keeps its place by what stands here. Heads and
//! sentences are for people: nothing is decided by them.
//!
//! Tables of one [`Table::key`] are one list in JSON: rows of one identity are
//! one object there, whichever tables they stand in. That is how a list of parts
//! is shown face by face, and how one string of lamps fills three tables.

use std::collections::HashMap;

use super::ViewId;
use super::cell::Cell;
use super::column::{self, Column};
use crate::finding::{Finding, Stop, Subject};
use crate::job::mock_up::On;

/// One view: what a verb prints and a screen shows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct View {
    /// Which it is; nothing where it needs no job.
    pub id: Option<ViewId>,
    /// Its heading.
    pub title: String,
    /// What comes first: the answer in a sentence or two.
    pub lead: Vec<String>,
    /// Its tables, those that only JSON has among them.
    pub tables: Vec<Table>,
    /// What the stage noticed.
    pub findings: Vec<Finding>,
    /// The next useful step.
    pub next: String,
    /// Why there is no more to show.
    pub stop: Option<Stop>,
}

impl View {
    /// A view that only says why there is none.
    #[must_use]
    pub fn stopped(title: String, stop: &Stop) -> Self {
        Self {
            title,
            lead: vec![stop.to_string()],
            next: stop.hint.clone(),
            stop: Some(stop.clone()),
            ..Self::default()
        }
    }

    /// The tables with something to show, those within a table after it.
    #[must_use]
    pub fn shown(&self) -> Vec<&Table> {
        let mut shown = Vec::new();
        self.tables.iter().for_each(|table| table.gather(&mut shown));
        shown
    }

    /// The table of that id.
    #[must_use]
    pub fn named(&self, id: &str) -> Option<&Table> {
        self.tables.iter().find(|table| table.id == id)
    }

    /// One of the tables shown.
    #[must_use]
    pub fn table(&self, at: usize) -> Option<&Table> {
        self.shown().get(at).copied()
    }
}

/// What a table is in JSON.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shape {
    /// A list of its rows.
    #[default]
    List,
    /// A list of its first cells.
    Words,
    /// Its one row; null where it has none.
    One,
    /// Its one row, its keys among those of the view.
    Own,
}

/// A table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Its name among the tables of the view.
    pub id: String,
    /// The key in JSON; nothing where it is on the screen only.
    pub key: Option<String>,
    /// What it is in JSON.
    pub shape: Shape,
    /// Whether nothing is known of it: null in JSON.
    pub unknown: bool,
    /// Its heading; may be empty.
    pub title: String,
    /// Its columns, those that only JSON has behind the others.
    pub columns: Vec<Column>,
    /// Its rows; each has as many cells as there are columns.
    pub rows: Vec<Row>,
    /// What stands under it.
    pub notes: Vec<String>,
}

impl Table {
    /// An empty table of words, on the screen only; a head that starts with `>`
    /// is set to the right, as numbers are.
    #[must_use]
    pub fn new(title: &str, heads: &[&str]) -> Self {
        let columns = heads.iter().enumerate().map(|(at, head)| {
            let id = at.to_string();
            match head.strip_prefix('>') {
                Some(head) => column::count(&id, head).screen(),
                None => column::text(&id, head).screen(),
            }
        });
        Self {
            id: title.to_owned(),
            title: title.to_owned(),
            columns: columns.collect(),
            ..Self::default()
        }
    }

    /// Adds a row, and makes its identity its own.
    pub fn push(&mut self, mut row: Row) {
        debug_assert_eq!(row.cells.len(), self.columns.len(), "a cell for each column");
        let same = |other: &&Row| other.key.what == row.key.what;
        row.key.nth = self.rows.iter().rev().find(same).map_or(0, |last| last.key.nth + 1);
        self.rows.push(row);
    }

    /// The same in JSON only.
    #[must_use]
    pub fn hidden(mut self) -> Self {
        self.columns.iter_mut().for_each(|column| column.head = None);
        for cell in self.rows.iter_mut().flat_map(|row| &mut row.cells) {
            if let Cell::Table(inner) = cell {
                **inner = std::mem::take(&mut **inner).hidden();
            }
        }
        self
    }

    /// The columns shown.
    #[must_use]
    pub fn heads(&self) -> &[Column] {
        &self.columns[..self.columns.partition_point(|column| column.head.is_some())]
    }

    /// The place of a column.
    #[must_use]
    pub fn column(&self, id: &str) -> Option<usize> {
        self.columns.iter().position(|column| column.id == id)
    }

    /// Numbers rows of one identity, so that each is its own.
    pub(super) fn number(&mut self) {
        let mut last: HashMap<What, usize> = HashMap::new();
        for row in &mut self.rows {
            let nth = last.entry(row.key.what.clone()).or_default();
            row.key.nth = *nth;
            *nth += 1;
        }
    }

    /// Takes over what the columns of the same table with rows were found to hold.
    pub(super) fn learn(&mut self, other: &Self) {
        for (column, known) in self.columns.iter_mut().zip(&other.columns) {
            if column.head.is_none() && column.sense == column::Sense::Text {
                column.sense = known.sense;
            }
            if let (Some(inner), Some(known)) = (&mut column.inner, &known.inner) {
                inner.learn(known);
            }
        }
    }

    fn gather<'a>(&'a self, shown: &mut Vec<&'a Self>) {
        if !self.heads().is_empty() && !self.rows.is_empty() {
            shown.push(self);
        }
        let inner: Vec<usize> =
            (0..self.columns.len()).filter(|at| self.columns[*at].inner.is_some()).collect();
        for (row, at) in self.rows.iter().flat_map(|row| inner.iter().map(move |at| (row, *at))) {
            if let Some(Cell::Table(inner)) = row.cells.get(at) {
                inner.gather(shown);
            }
        }
    }
}

/// A row.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// What it is, whatever stands in it.
    pub key: RowKey,
    /// What it speaks of.
    pub subject: Option<Subject>,
    /// How it stands.
    pub mark: Mark,
    /// What can be done with it, the first by Enter.
    pub acts: Vec<Act>,
    /// Its values.
    pub cells: Vec<Cell>,
    /// The cells shown, as they are written.
    pub texts: Vec<String>,
}

impl Row {
    /// A plain row of words about a subject.
    #[must_use]
    pub fn about(subject: Subject, texts: Vec<String>) -> Self {
        let acts = Act::of(&subject);
        let key = RowKey::of(&subject);
        Self { key, subject: Some(subject), acts, ..Self::plain(texts) }
    }

    /// A plain row of words about nothing in particular.
    #[must_use]
    pub fn plain(texts: Vec<String>) -> Self {
        let cells = texts.iter().map(Cell::from).collect();
        let key = RowKey::named(texts.first().map_or("", String::as_str));
        Self { key, cells, texts, ..Self::default() }
    }

    /// The same row, marked.
    #[must_use]
    pub fn marked(mut self, mark: Mark) -> Self {
        self.mark = mark;
        self
    }

    /// What Enter does: the first that asks for no key of its own.
    #[must_use]
    pub fn main(&self) -> Option<Act> {
        self.acts.iter().copied().find(|act| *act != Act::Cut)
    }

    /// The same row with what can be done with it.
    #[must_use]
    pub fn can(mut self, acts: Vec<Act>) -> Self {
        self.acts = acts;
        self
    }
}

/// What a row is: the subject it speaks of or a name of its own, and which of
/// several. It stays when the plan is worked out again, sorted or filtered.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct RowKey {
    what: What,
    nth: usize,
}

#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum What {
    Named(String),
    Subject(Subject),
    Laid(Laid),
}

/// Where something of the cut list is: a row of the sticks of a stock, or one of
/// its sheets with what is marked on it; by number from 0.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Laid {
    /// The stock.
    pub stock: String,
    /// The row of its sticks, or the sheet.
    pub at: usize,
    /// On a sheet: what of it.
    pub on: Option<OnSheet>,
}

/// What is marked on a sheet, by number from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum OnSheet {
    /// The sheet as a whole.
    Whole,
    /// One of its parts.
    Part(usize),
    /// One of its cuts.
    Cut(usize),
}

impl Default for What {
    fn default() -> Self {
        Self::Named(String::new())
    }
}

impl RowKey {
    /// A row about a subject.
    #[must_use]
    pub fn of(subject: &Subject) -> Self {
        Self { what: What::Subject(subject.clone()), nth: 0 }
    }

    /// A row with a name of its own.
    #[must_use]
    pub fn named(name: &str) -> Self {
        Self { what: What::Named(name.to_owned()), nth: 0 }
    }

    /// A row of the sticks of a stock, or one of its sheets with what is on it.
    #[must_use]
    pub fn laid(stock: &str, at: usize, on: Option<OnSheet>) -> Self {
        Self { what: What::Laid(Laid { stock: stock.to_owned(), at, on }), nth: 0 }
    }

    /// Where that is, of a row of the cut list.
    #[must_use]
    pub fn place(&self) -> Option<&Laid> {
        match &self.what {
            What::Laid(laid) => Some(laid),
            What::Named(_) | What::Subject(_) => None,
        }
    }
}

/// What a person can do with a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Act {
    /// Change a reading.
    Reading,
    /// Switch a reading off or on.
    Switch,
    /// Adopt a round figure.
    Adopt,
    /// Weigh a feature of the look.
    Weigh,
    /// Bound an element.
    Bound,
    /// Write down what was measured.
    Measure(On),
    /// Take a size back from the mock-up.
    TakeBack,
    /// Choose an alternative.
    Choose,
    /// Take a size of stock.
    TakeSize,
    /// Tick a part.
    Tick,
    /// Write files of a page.
    Write,
    /// Say that a stick or sheet is cut.
    Cut,
}

impl Act {
    /// What can be done with a subject wherever it stands.
    #[must_use]
    pub fn of(subject: &Subject) -> Vec<Self> {
        match subject {
            Subject::Reading(_) => vec![Self::Reading, Self::Switch],
            Subject::Dimension(_) => vec![Self::Adopt],
            Subject::Feature(_) => vec![Self::Weigh],
            Subject::Measured(_) => vec![Self::Measure(On::MockUp), Self::TakeBack],
            Subject::Alternative(_) => vec![Self::Choose],
            Subject::Member(_) => vec![Self::TakeSize],
            Subject::Part(_) => vec![Self::Tick],
            Subject::Page(_) => vec![Self::Write],
            _ => Vec::new(),
        }
    }
}

/// How a row stands. Each has a sign of its own: nothing is told by colour
/// alone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Mark {
    /// Nothing special.
    #[default]
    Plain,
    /// The one chosen or adopted.
    Chosen,
    /// Look here.
    Look,
    /// Rejected, refused or not possible.
    Refused,
    /// Switched off.
    Off,
}

impl Mark {
    /// The sign in front of the row, one column wide.
    #[must_use]
    pub fn sign(self) -> &'static str {
        match self {
            Self::Plain => " ",
            Self::Chosen => "*",
            Self::Look => "?",
            Self::Refused => "x",
            Self::Off => "-",
        }
    }
}
