//! A view as tables whose rows carry what they speak of.
//!
//! The command line prints them, the terminal draws them, and the record puts
//! them on paper: none of the three words a number anew.

use crate::finding::{Finding, Subject};

/// One view: what a verb prints and a screen shows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct View {
    /// Its heading.
    pub title: String,
    /// What comes first: the answer in a sentence or two.
    pub lead: Vec<String>,
    /// Its tables.
    pub tables: Vec<Table>,
    /// What the stage noticed.
    pub findings: Vec<Finding>,
    /// The next useful step.
    pub next: String,
}

/// A table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Its heading; may be empty.
    pub title: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows; each has as many cells as there are columns.
    pub rows: Vec<Row>,
    /// What stands under it.
    pub notes: Vec<String>,
}

impl Table {
    /// An empty table with these columns; a head that starts with `>` is set
    /// to the right, as numbers are.
    #[must_use]
    pub fn new(title: &str, heads: &[&str]) -> Self {
        let columns = heads
            .iter()
            .map(|head| match head.strip_prefix('>') {
                Some(head) => Column { head: head.to_owned(), right: true },
                None => Column { head: (*head).to_owned(), right: false },
            })
            .collect();
        Self { title: title.to_owned(), columns, ..Self::default() }
    }

    /// Sentences one under the other.
    #[must_use]
    pub fn sentences(title: &str, sentences: &[&str]) -> Self {
        let mut table = Self::new(title, &[""]);
        table.rows = sentences.iter().map(|line| Row::plain(vec![(*line).to_owned()])).collect();
        table
    }

    /// Adds a row.
    pub fn push(&mut self, row: Row) {
        debug_assert_eq!(row.cells.len(), self.columns.len(), "a cell for each column");
        self.rows.push(row);
    }
}

/// A column.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Column {
    /// Its head.
    pub head: String,
    /// Whether it is set to the right.
    pub right: bool,
}

/// A row.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Its cells.
    pub cells: Vec<String>,
    /// What it speaks of.
    pub subject: Option<Subject>,
    /// How it stands.
    pub mark: Mark,
}

impl Row {
    /// A plain row about a subject.
    #[must_use]
    pub fn about(subject: Subject, cells: Vec<String>) -> Self {
        Self { cells, subject: Some(subject), mark: Mark::Plain }
    }

    /// A plain row about nothing in particular.
    #[must_use]
    pub fn plain(cells: Vec<String>) -> Self {
        Self { cells, subject: None, mark: Mark::Plain }
    }

    /// The same row, marked.
    #[must_use]
    pub fn marked(mut self, mark: Mark) -> Self {
        self.mark = mark;
        self
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
