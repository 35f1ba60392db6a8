//! Making a table: where its rows come from, and a line for each column.
//!
//! ```ignore
//! rows("supplies", "Supplies", &lighting.budgets)
//!     .about(|it| Subject::Lamp(it.name.clone()))
//!     .marked(|it| if it.holds() { Mark::Plain } else { Mark::Look })
//!     .col(text("name", "supply"), |it| &it.name)
//!     .col(electric("volts", "volts"), |it| it.range.named)
//!     .col(only("holds"), |it| it.holds())
//!     .table()
//! ```
//!
//! That is the table on the screen, on paper, as text and as CSV, and the list
//! `supplies[]` in JSON with its keys: a new column is one line.

use super::cell::Cell;
use super::column::{Column, Sense, text};
use super::table::{Act, Mark, Row, RowKey, Shape, Table};
use crate::finding::Subject;

/// A table in the making. What it is made from is a reference or another small
/// value that is copied.
#[derive(Debug)]
pub struct Draft<T> {
    from: Vec<T>,
    table: Table,
}

/// A list: a row for each of `from`.
#[must_use]
pub fn rows<T>(id: &str, title: &str, from: impl IntoIterator<Item = T>) -> Draft<T> {
    let from: Vec<T> = from.into_iter().collect();
    let rows = from.iter().map(|_| Row::default()).collect();
    let key = Some(id.to_owned());
    let table = Table { id: id.to_owned(), key, title: title.to_owned(), rows, ..Table::default() };
    Draft { from, table }
}

/// An object in JSON, null where there is none; it stands on no screen unless
/// its columns have heads.
#[must_use]
pub fn one<T>(id: &str, from: Option<T>) -> Draft<T> {
    let mut draft = rows(id, "", from);
    draft.table.shape = Shape::One;
    draft
}

/// Values of the view itself.
#[must_use]
pub fn own<T>(from: T) -> Draft<T> {
    let mut draft = rows("", "", [from]);
    draft.table.shape = Shape::Own;
    draft
}

/// Sentences one under the other.
#[must_use]
pub fn sentences<'a, I: IntoIterator<Item = &'a str>>(id: &str, title: &str, from: I) -> Table {
    let mut draft = rows(id, title, from).col(text("", ""), |line| line);
    draft.table.shape = Shape::Words;
    draft.table()
}

impl<T: Copy> Draft<T> {
    /// What a row speaks of; its identity and what can be done with it follow.
    #[must_use]
    pub fn about<S: Into<Option<Subject>>>(mut self, subject: impl Fn(T) -> S) -> Self {
        for (from, row) in self.from.iter().zip(&mut self.table.rows) {
            row.subject = subject(*from).into();
            if let Some(subject) = &row.subject {
                row.key = RowKey::of(subject);
                row.acts = Act::of(subject);
            }
        }
        self
    }

    /// What a row is, where that is not its subject.
    #[must_use]
    pub fn keyed(mut self, key: impl Fn(T) -> RowKey) -> Self {
        for (from, row) in self.from.iter().zip(&mut self.table.rows) {
            row.key = key(*from);
        }
        self
    }

    /// How a row stands.
    #[must_use]
    pub fn marked(mut self, mark: impl Fn(T) -> Mark) -> Self {
        for (from, row) in self.from.iter().zip(&mut self.table.rows) {
            row.mark = mark(*from);
        }
        self
    }

    /// What can be done with a row, where that is not what its subject says.
    #[must_use]
    pub fn can(mut self, acts: impl Fn(T) -> Vec<Act>) -> Self {
        for (from, row) in self.from.iter().zip(&mut self.table.rows) {
            row.acts = acts(*from);
        }
        self
    }

    /// A column.
    #[must_use]
    pub fn col<C: Into<Cell>>(mut self, mut column: Column, cell: impl Fn(T) -> C) -> Self {
        for (from, row) in self.from.iter().zip(&mut self.table.rows) {
            row.cells.push(cell(*from).into());
        }
        if column.head.is_none() {
            // What only JSON has is described by what it holds.
            let at = self.table.columns.len();
            let sense = self.table.rows.iter().find_map(|row| row.cells[at].sense());
            column.sense = sense.unwrap_or(column.sense);
        }
        self.table.columns.push(column);
        self
    }

    /// Rows within each row. `table` makes them; it is asked once for nothing at
    /// all, so that their keys are known where there are none.
    #[must_use]
    pub fn within<I: Default>(
        mut self,
        id: &str,
        from: impl Fn(T) -> I,
        table: impl Fn(I) -> Table,
    ) -> Self {
        let mut inner = table(I::default());
        for (at, row) in self.from.iter().zip(&mut self.table.rows) {
            let made = table(from(*at));
            inner.learn(&made);
            row.cells.push(made.into());
        }
        let column =
            Column { sense: Sense::Rows, inner: Some(Box::new(inner)), ..super::column::only(id) };
        self.table.columns.push(column);
        self
    }

    /// The same on the screen only.
    #[must_use]
    pub fn screen(mut self) -> Self {
        self.table.key = None;
        self
    }

    /// The same under a key that other tables have too, named for itself.
    #[must_use]
    pub fn named(mut self, id: &str) -> Self {
        self.table.id = id.to_owned();
        self
    }

    /// The same, null in JSON unless it is known.
    #[must_use]
    pub fn known(mut self, known: bool) -> Self {
        self.table.unknown = !known;
        self
    }

    /// A line under the table.
    #[must_use]
    pub fn note(self, note: impl Into<String>) -> Self {
        self.notes([note])
    }

    /// Lines under the table.
    #[must_use]
    pub fn notes<N: Into<String>>(mut self, notes: impl IntoIterator<Item = N>) -> Self {
        self.table.notes.extend(notes.into_iter().map(Into::into));
        self
    }

    /// The table.
    #[must_use]
    pub fn table(self) -> Table {
        let Table { columns, rows, .. } = self.table;
        // What is shown stands before what only JSON has.
        let mut order: Vec<usize> = (0..columns.len()).collect();
        order.sort_by_key(|at| columns[*at].head.is_none());
        let mut columns: Vec<Option<Column>> = columns.into_iter().map(Some).collect();
        let columns: Vec<Column> = order.iter().filter_map(|at| columns[*at].take()).collect();
        let mut table = Table { columns, rows: Vec::with_capacity(rows.len()), ..self.table };
        let shown = table.heads().len();
        for mut row in rows {
            let mut cells: Vec<Cell> = std::mem::take(&mut row.cells);
            row.cells = order.iter().map(|at| std::mem::take(&mut cells[*at])).collect();
            let heads = row.cells.iter().zip(&table.columns).take(shown);
            row.texts = heads.map(|(cell, column)| column.write(cell)).collect();
            if row.key == RowKey::default() {
                row.key = RowKey::named(row.texts.first().map_or("", String::as_str));
            }
            table.rows.push(row);
        }
        table.number();
        table
    }
}
