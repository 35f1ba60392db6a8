//! Rows put in, taken out and moved, each with the comments that stand over it
//! and behind it.

use toml_edit::{Array, ArrayOfTables, Item, RawString, Table, Value};

/// A row of a list in lines, with what stands round it.
struct Piece {
    /// Line ends and comments over it.
    lead: String,
    value: Value,
    /// The comment behind it in its line.
    behind: String,
}

/// A list in pieces: its rows, what stands after the last, and whether a comma
/// stands there too.
struct Pieces {
    rows: Vec<Piece>,
    tail: String,
    comma: bool,
}

fn text(raw: Option<&RawString>) -> String {
    raw.and_then(RawString::as_str).unwrap_or_default().to_owned()
}

/// The comment in the line of what stands before, and the rest.
fn cut(space: &str) -> (String, String) {
    let line = space.find('\n').unwrap_or(space.len());
    if space[..line].contains('#') {
        (space[..line].to_owned(), space[line..].to_owned())
    } else {
        (String::new(), space.to_owned())
    }
}

impl Pieces {
    fn of(list: &Array) -> Self {
        let mut rows: Vec<Piece> = Vec::new();
        for value in list {
            let mut lead = text(value.decor().prefix());
            if let Some(before) = rows.last_mut() {
                let (behind, rest) = cut(&lead);
                before.behind.push_str(&behind);
                lead = rest;
            }
            let behind = text(value.decor().suffix());
            rows.push(Piece { lead, value: value.clone(), behind });
        }
        let mut tail = list.trailing().as_str().unwrap_or_default().to_owned();
        if let Some(last) = rows.last_mut() {
            // Without a comma at the end all that follows hangs on the last row.
            if !list.trailing_comma() {
                tail = format!("{}{tail}", std::mem::take(&mut last.behind));
            }
            let (behind, rest) = cut(&tail);
            last.behind.push_str(&behind);
            tail = rest;
        }
        let comma = list.trailing_comma();
        Self { rows, tail, comma }
    }

    fn write(self, list: &mut Array) {
        let lines = self.rows.iter().any(|row| row.lead.contains('\n')) || self.tail.contains('\n');
        let mut behind = String::new();
        list.clear();
        for (at, row) in self.rows.into_iter().enumerate() {
            let mut value = row.value;
            // In one line a space parts the rows.
            let lead = match (lines, at) {
                (false, 0) => String::new(),
                (false, _) => " ".to_owned(),
                (true, _) => row.lead,
            };
            value.decor_mut().set_prefix(format!("{behind}{lead}"));
            value.decor_mut().set_suffix("");
            list.push_formatted(value);
            behind = row.behind;
        }
        list.set_trailing_comma((self.comma || lines) && !list.is_empty());
        list.set_trailing(format!("{behind}{}", self.tail));
    }
}

/// Puts a row into a list, set in as its like are.
pub(super) fn insert(list: &mut Array, at: usize, value: Value) {
    let mut pieces = Pieces::of(list);
    let near = pieces.rows.get(at.saturating_sub(1)).or(pieces.rows.last());
    let lead = near.map_or_else(|| "\n    ".to_owned(), |near| last_line(&near.lead));
    // The first row of all begins a list in lines.
    if pieces.rows.is_empty() {
        pieces.tail = "\n".to_owned();
    }
    pieces.rows.insert(at, Piece { lead, value, behind: String::new() });
    pieces.write(list);
}

/// The line end and the room before a row, without the comments over it.
fn last_line(lead: &str) -> String {
    lead.rfind('\n').map_or_else(String::new, |at| lead[at..].to_owned())
}

/// Takes a row out of a list.
pub(super) fn remove(list: &mut Array, at: usize) {
    let mut pieces = Pieces::of(list);
    pieces.rows.remove(at);
    pieces.write(list);
}

/// Two rows of a list change places.
pub(super) fn swap(list: &mut Array, one: usize, other: usize) {
    let mut pieces = Pieces::of(list);
    pieces.rows.swap(one, other);
    pieces.write(list);
}

/// Tables with a heading are written in the order of their numbers: the tables
/// inside a row follow it, and rows without a number the row before.
pub(super) fn settle(rows: &mut ArrayOfTables) {
    rows.iter_mut().for_each(follow);
}

fn follow(table: &mut Table) {
    for (_, item) in table.iter_mut() {
        match item {
            Item::Table(inner) => {
                inner.set_position(None);
                follow(inner);
            }
            Item::ArrayOfTables(rows) => rows.iter_mut().for_each(|row| {
                row.set_position(None);
                follow(row);
            }),
            _ => {}
        }
    }
}

/// Takes the rows out, has them changed, and puts them back in their places.
fn rearrange(rows: &mut ArrayOfTables, change: impl FnOnce(&mut Vec<Table>)) {
    settle(rows);
    let places: Vec<_> = rows.iter().map(Table::position).collect();
    let heading = rows.get_mut(0).map(take_heading).unwrap_or_default();
    let mut all: Vec<Table> = rows.iter().cloned().collect();
    change(&mut all);
    rows.clear();
    for (at, mut row) in all.into_iter().enumerate() {
        // A row more stands behind the one before it.
        row.set_position(places.get(at).copied().flatten());
        if at == 0 {
            lead_with(&mut row, &heading);
        }
        rows.push(row);
    }
}

/// The comments over the first row that an empty line parts from it: they speak
/// of all rows.
fn take_heading(row: &mut Table) -> String {
    let lead = text(row.decor().prefix());
    let parted = lead.rfind("\n\n").map(|at| at + 1).filter(|at| lead[..*at].contains('#'));
    let Some(at) = parted else { return String::new() };
    row.decor_mut().set_prefix(lead[at..].to_owned());
    lead[..at].to_owned()
}

/// Puts a row among the others.
pub(super) fn insert_row(rows: &mut ArrayOfTables, at: usize, mut row: Table) {
    // The comments over the row it was copied from speak of that one.
    row.decor_mut().set_prefix("\n");
    let places: Vec<_> = rows.iter().map(Table::position).collect();
    rearrange(rows, |all| all.insert(at, row));
    // The row behind keeps its own place.
    for (at, row) in rows.iter_mut().enumerate().skip(at) {
        row.set_position(at.checked_sub(1).and_then(|at| places.get(at).copied().flatten()));
    }
    if let Some(row) = rows.get_mut(at) {
        row.set_position(None);
    }
}

/// Takes a row out; comments that speak of all rows stay.
pub(super) fn remove_row(rows: &mut ArrayOfTables, at: usize) {
    let heading = rows.get_mut(0).filter(|_| at == 0).map(take_heading).unwrap_or_default();
    rows.remove(at);
    if let Some(first) = rows.get_mut(0) {
        lead_with(first, &heading);
    }
}

fn lead_with(row: &mut Table, heading: &str) {
    if !heading.is_empty() {
        let lead = text(row.decor().prefix());
        row.decor_mut().set_prefix(format!("{heading}{lead}"));
    }
}

/// Two rows change places.
pub(super) fn swap_rows(rows: &mut ArrayOfTables, one: usize, other: usize) {
    rearrange(rows, |all| all.swap(one, other));
}
