//! A sheet: the tables of a view, sorted, filtered and fitted to a width.

use std::cmp::Ordering;

use crate::report::column::Column;
use crate::report::table::{Row, Table, View};
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
    row.texts.iter().any(|text| text.to_lowercase().contains(wanted))
}

fn compare(a: &Row, b: &Row, column: usize) -> Ordering {
    match (a.cells.get(column), b.cells.get(column)) {
        (Some(a), Some(b)) => a.compare(b),
        _ => Ordering::Equal,
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
            let right = table.columns.get(one.column).is_some_and(Column::is_right);
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
    table.heads().len().saturating_sub(2)
}

/// Brings a place back inside what there is and into sight, with `rows` rows to
/// be seen. The row marked is kept by what it is: where it stands now is found
/// anew when the plan, the order or the filter changed.
pub fn settle(spot: &mut Spot, view: &View, rows: usize) {
    let tables = view.shown();
    if let Some((id, _)) = &spot.kept
        && let Some(at) = tables.iter().position(|table| table.id == *id)
    {
        spot.table = at;
    }
    spot.table = spot.table.min(tables.len().saturating_sub(1));
    let Some(table) = tables.get(spot.table) else {
        (spot.row, spot.top) = (0, 0);
        return;
    };
    let order = order(table, spot);
    let is_kept = |at: &usize| {
        let key = &table.rows[*at].key;
        spot.kept.as_ref().is_some_and(|(id, kept)| *id == table.id && kept == key)
    };
    if let Some(row) = order.iter().position(is_kept) {
        spot.row = row;
    }
    into_sight(spot, order.len(), rows.max(1));
    if spot.kept.is_none() {
        let row = order.get(spot.row).map(|at| &table.rows[*at]);
        spot.kept = row.map(|row| (table.id.clone(), row.key.clone()));
    }
}

fn into_sight(spot: &mut Spot, count: usize, rows: usize) {
    spot.row = spot.row.min(count.saturating_sub(1));
    spot.top = spot.top.min(spot.row).max((spot.row + 1).saturating_sub(rows));
    spot.top = spot.top.min(count.saturating_sub(rows));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Notation, PrototypeLength};
    use crate::report::column::{length, text};
    use crate::report::draft::rows;

    const SIZES: [(&str, f64, &str); 3] =
        [("b", 150.0, "a rather long text"), ("a", 36.0, "x"), ("c", 9.75, "y")];

    fn table() -> Table {
        rows("sizes", "Sizes", &SIZES)
            .col(text("name", "name"), |it| it.0)
            .col(length("size", "size", Notation::BUILDING), |it| PrototypeLength::inches(it.1))
            .col(text("what", "what it is for"), |it| it.2)
            .table()
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
    fn the_marked_row_is_kept_by_what_it_is() {
        let view = View { tables: vec![table()], ..View::default() };
        let name = |spot: &Spot| {
            let table = &view.tables[0];
            order(table, spot).get(spot.row).map(|at| table.rows[*at].texts[0].clone())
        };
        let mut spot = Spot { row: 50, ..Spot::default() };
        settle(&mut spot, &view, 2);
        assert_eq!((spot.row, spot.top, name(&spot).as_deref()), (2, 1, Some("c")));
        for (sort, reverse, row) in [(Some(1), false, 0), (Some(1), true, 2), (None, true, 0)] {
            spot = Spot { sort, reverse, ..spot };
            settle(&mut spot, &view, 2);
            assert_eq!((spot.row, name(&spot).as_deref()), (row, Some("c")));
        }
        // A filter that hides it gives it back when it is cleared.
        spot.filter = "long".into();
        settle(&mut spot, &view, 2);
        assert_eq!(name(&spot).as_deref(), Some("b"));
        spot.filter.clear();
        settle(&mut spot, &view, 2);
        assert_eq!(name(&spot).as_deref(), Some("c"));
        settle(&mut spot, &View::default(), 2);
        assert_eq!((spot.row, spot.top), (0, 0));
    }
}
