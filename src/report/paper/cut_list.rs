//! The cut list for paper: what the sheet and stick plans beside it draw is
//! not told again, and what is alike is told once.

use crate::report::column::count as counted_column;
use crate::report::table::{Row, Table, View};
use crate::report::{Seen, ViewId};

/// The cut list without the bars drawn with letters and the places on the
/// sheets; pieces alike on a sheet and cuts alike in a row are counted.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let mut view = ViewId::Layout.kind().shown(seen);
    for table in &mut view.tables {
        drop_column(table, "cut");
        if column(table, "x in").is_some() {
            drop_column(table, "x in");
            drop_column(table, "y in");
            count_alike(table);
        }
        if column(table, "step").is_some() {
            join_steps(table);
        }
    }
    view
}

fn column(table: &Table, head: &str) -> Option<usize> {
    table.columns.iter().position(|column| column.head() == head)
}

fn drop_column(table: &mut Table, head: &str) {
    let Some(at) = column(table, head) else { return };
    table.columns.remove(at);
    for row in table.rows.iter_mut().filter(|row| row.texts.len() > at) {
        row.texts.remove(at);
    }
}

/// Pieces alike on one sheet become one row with their number. The first two
/// cells name the sheet where it begins.
fn count_alike(table: &mut Table) {
    const SHEET: usize = 2;
    let mut counted: Vec<(Row, usize)> = Vec::new();
    let mut first = 0;
    for row in table.rows.drain(..) {
        if row.texts.first().is_some_and(|sheet| !sheet.is_empty()) {
            first = counted.len();
        }
        let same = |(known, _): &&mut (Row, usize)| known.texts[SHEET..] == row.texts[SHEET..];
        match counted[first..].iter_mut().find(same) {
            Some((_, count)) => *count += 1,
            None => counted.push((row, 1)),
        }
    }
    table.columns.insert(SHEET, counted_column("count", "count"));
    table.rows = counted
        .into_iter()
        .map(|(mut row, count)| {
            row.texts.insert(SHEET, count.to_string());
            row
        })
        .collect();
}

/// A cut made again and again becomes one row: `3-9`.
fn join_steps(table: &mut Table) {
    let at = |head| column(table, head);
    let (Some(step), Some(runs), Some(width), Some(keeps)) =
        (at("step"), at("runs"), at("at in"), at("keeps"))
    else {
        return;
    };
    let mut joined: Vec<(Row, String)> = Vec::new();
    for row in table.rows.drain(..) {
        let begins = row.texts.first().is_some_and(|sheet| !sheet.is_empty());
        match joined.last_mut() {
            Some((last, end))
                if !begins
                    && [runs, width, keeps].iter().all(|&it| last.texts[it] == row.texts[it]) =>
            {
                end.clone_from(&row.texts[step]);
            }
            _ => {
                let own = row.texts[step].clone();
                joined.push((row, own));
            }
        }
    }
    table.rows = joined
        .into_iter()
        .map(|(mut row, end)| {
            if row.texts[step] != end {
                row.texts[step] = format!("{}-{end}", row.texts[step]);
            }
            row
        })
        .collect();
    table.notes.push("Steps such as 3-9 are one cut made again and again.".to_owned());
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(cells: &[&str]) -> Row {
        Row::plain(cells.iter().map(|cell| (*cell).to_owned()).collect())
    }

    #[test]
    fn pieces_alike_are_counted_sheet_by_sheet() {
        let mut table = Table::new("core", &[">sheet", "size", "part", ">across"]);
        for cells in [
            ["1", "4 x 24", "a", "0.5"],
            ["", "", "b", "0.5"],
            ["", "", "a", "0.5"],
            ["2", "4 x 24", "a", "0.5"],
        ] {
            table.push(row(&cells));
        }
        count_alike(&mut table);
        let told: Vec<&[String]> = table.rows.iter().map(|row| row.texts.as_slice()).collect();
        assert_eq!(told[0], ["1", "4 x 24", "2", "a", "0.5"]);
        assert_eq!(told[1], ["", "", "1", "b", "0.5"]);
        assert_eq!(told[2], ["2", "4 x 24", "1", "a", "0.5"]);
        assert_eq!(told.len(), 3);
    }

    #[test]
    fn a_cut_made_again_is_told_once() {
        let heads = [">sheet", ">step", "runs", ">at in", "of the piece", "keeps"];
        let mut table = Table::new("core: cuts in order", &heads);
        for cells in [
            ["1", "1", "along", "0.5", "4 x 24", "0.5 x 24"],
            ["", "2", "along", "0.5", "3.5 x 24", "0.5 x 24"],
            ["", "3", "across", "0.5", "3 x 24", "3 x 0.5"],
            ["2", "1", "across", "0.5", "3 x 24", "3 x 0.5"],
        ] {
            table.push(row(&cells));
        }
        join_steps(&mut table);
        let steps: Vec<&str> = table.rows.iter().map(|row| row.texts[1].as_str()).collect();
        assert_eq!(steps, ["1-2", "3", "1"]);
    }
}
