//! A sheet: the tables of a view, sorted, filtered and fitted to a width.

use std::cmp::Ordering;

use crate::report::table::{Row, Table};
use crate::report::text::widths;
use crate::tui::state::Spot;

/// The rows shown, as places in the table, in the order shown.
#[must_use]
pub fn order(table: &Table, spot: &Spot) -> Vec<usize> {
    let wanted = spot.filter.to_lowercase();
    let mut rows: Vec<usize> = (0..table.rows.len())
        .filter(|at| wanted.is_empty() || holds(&table.rows[*at], &wanted))
        .collect();
    if let Some(column) = spot.sort {
        rows.sort_by(|a, b| compare(&table.rows[*a], &table.rows[*b], column));
    }
    if spot.reverse {
        rows.reverse();
    }
    rows
}

fn holds(row: &Row, wanted: &str) -> bool {
    row.cells.iter().any(|cell| cell.to_lowercase().contains(wanted))
}

fn compare(a: &Row, b: &Row, column: usize) -> Ordering {
    let cell = |row: &'_ Row| row.cells.get(column).cloned().unwrap_or_default();
    let (a, b) = (cell(a), cell(b));
    match (worth(&a), worth(&b)) {
        (Some(x), Some(y)) => x.total_cmp(&y),
        (Some(_), None) => Ordering::Less,
        (None, Some(_)) => Ordering::Greater,
        (None, None) => a.cmp(&b),
    }
}

/// The number a cell begins with; feet and inches and fractions count as what
/// they are worth, in inches.
fn worth(cell: &str) -> Option<f64> {
    let text = cell.trim().trim_end_matches(['+', '-']).trim_start_matches(['~', '\u{b1}', '+']);
    let length = crate::quantity::parse::<crate::quantity::Prototype>(
        text,
        &crate::quantity::Reading::in_unit(crate::quantity::Unit::Inch),
    );
    match length {
        Ok(length) => Some(length.length().in_inches()),
        Err(_) => {
            text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).next()?.parse().ok()
        }
    }
}

/// A column as it is drawn: which one, and how wide.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fitted {
    /// The column of the table.
    pub column: usize,
    /// Its width in cells.
    pub width: usize,
}

/// Cells between two columns.
pub const GAP: usize = 2;
/// The least a column of words is squeezed to; the first says what the row is
/// and keeps more.
const LEAST: usize = 10;
const LEAST_FIRST: usize = 18;

/// The columns that fit into `room` cells. Words are squeezed first; then
/// columns fall off at the right, or at the left by `shift`. The first column
/// stays: it says what the row is.
#[must_use]
pub fn fit(table: &Table, shift: usize, room: usize) -> Vec<Fitted> {
    let mut all: Vec<Fitted> = widths(table)
        .into_iter()
        .enumerate()
        .filter(|(column, _)| *column == 0 || *column > shift)
        .map(|(column, width)| Fitted { column, width })
        .collect();
    squeeze(table, &mut all, room);
    let mut used = 0;
    all.into_iter()
        .map_while(|mut one| {
            let left = room.saturating_sub(used);
            // The first column is cut rather than dropped.
            let first = used == 0;
            one.width = if first { one.width.min(left) } else { one.width };
            used += one.width + GAP;
            (one.width <= left && (one.width > 0 || first)).then_some(one)
        })
        .collect()
}

/// Takes cells from the widest column of words until all fit, or none is left
/// to take from.
fn squeeze(table: &Table, all: &mut [Fitted], room: usize) {
    let total =
        |all: &[Fitted]| all.iter().map(|one| one.width + GAP).sum::<usize>().saturating_sub(GAP);
    while total(all) > room {
        let words = |one: &&mut Fitted| {
            let right = table.columns.get(one.column).is_some_and(|column| column.right);
            let least = if one.column == 0 { LEAST_FIRST } else { LEAST };
            !right && one.width > least
        };
        let Some(widest) = all.iter_mut().filter(words).max_by_key(|one| one.width) else {
            return;
        };
        widest.width -= 1;
    }
}

/// Columns that can be pushed out at the left.
#[must_use]
pub fn most_shift(table: &Table) -> usize {
    table.columns.len().saturating_sub(2)
}

/// Moves the first row shown so that the row marked is among `rows` rows.
pub fn settle(spot: &mut Spot, count: usize, rows: usize) {
    spot.row = spot.row.min(count.saturating_sub(1));
    let rows = rows.max(1);
    if spot.row < spot.top {
        spot.top = spot.row;
    }
    if spot.row >= spot.top + rows {
        spot.top = spot.row + 1 - rows;
    }
    spot.top = spot.top.min(count.saturating_sub(rows));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> Table {
        let mut table = Table::new("Sizes", &["name", ">size", "what it is for"]);
        for (name, size, what) in
            [("b", "12'-6\"", "a rather long text"), ("a", "3'-0\"", "x"), ("c", "9 3/4\"", "y")]
        {
            table.push(Row::plain(vec![name.into(), size.into(), what.into()]));
        }
        table
    }

    #[test]
    fn lengths_sort_by_what_they_are_worth() {
        let spot = Spot { sort: Some(1), ..Spot::default() };
        assert_eq!(order(&table(), &spot), [2, 1, 0]);
        let turned = Spot { reverse: true, ..spot };
        assert_eq!(order(&table(), &turned), [0, 1, 2]);
    }

    #[test]
    fn a_filter_keeps_what_holds_the_text() {
        let spot = Spot { filter: "LONG".into(), ..Spot::default() };
        assert_eq!(order(&table(), &spot), [0]);
    }

    #[test]
    fn words_are_squeezed_before_columns_fall_off() {
        let widths = |room| fit(&table(), 0, room).iter().map(|one| one.width).collect::<Vec<_>>();
        assert_eq!(widths(80), [4, 6, 18]);
        assert_eq!(widths(24), [4, 6, 10]);
        assert_eq!(widths(12), [4, 6]);
        assert_eq!(widths(3), [3]);
    }

    #[test]
    fn the_marked_row_stays_in_sight() {
        let mut spot = Spot { row: 50, ..Spot::default() };
        settle(&mut spot, 40, 10);
        assert_eq!((spot.row, spot.top), (39, 30));
        settle(&mut spot, 0, 10);
        assert_eq!((spot.row, spot.top), (0, 0));
    }
}
