//! Tables as CSV: their keys, and the values that JSON has.

use std::collections::HashMap;

use serde_json::Value;

use super::cell::Cell;
use super::column::{Column, Sense};
use super::json;
use super::table::{Row, RowKey, Table, View};
use crate::finding::Stop;
use crate::writers::csv;

/// The tables of a view with a name, their key in JSON or that on the screen.
///
/// # Errors
/// Where there is none: the names there are.
pub fn named(view: &View, name: &str) -> Result<String, Stop> {
    let within = view.shown().into_iter().filter(|one| !view.tables.iter().any(|it| it == *one));
    let all: Vec<&Table> = view.tables.iter().chain(within).collect();
    let own = |table: &&&Table| table.key.as_deref().unwrap_or(&table.id) == name;
    let found: Vec<&Table> = all.iter().filter(own).copied().collect();
    if found.is_empty() {
        let names = all.iter().map(|table| table.key.as_deref().unwrap_or(&table.id));
        let mut names: Vec<&str> = names.filter(|name| !name.is_empty()).collect();
        names.sort_unstable();
        names.dedup();
        let hint = format!("its tables are {}", names.join(", "));
        return Err(Stop::new(format!("finding the table \"{name}\""), "there is none", hint));
    }
    tables(&found)
}

/// Tables as one list, a line for each row; rows of one identity are one line.
/// Rows within rows are left out.
///
/// # Errors
/// When the rows cannot be written, which has no cause in practice.
pub fn tables(tables: &[&Table]) -> Result<String, Stop> {
    let mut heads: Vec<&str> = Vec::new();
    let mut lines: Vec<HashMap<&str, String>> = Vec::new();
    let mut places: HashMap<&RowKey, usize> = HashMap::new();
    for table in tables {
        for column in table.columns.iter().filter(|column| is_flat(column)) {
            if !heads.contains(&column.id.as_str()) {
                heads.push(&column.id);
            }
        }
        for row in &table.rows {
            let at = *places.entry(&row.key).or_insert(lines.len());
            if at == lines.len() {
                lines.push(HashMap::new());
            }
            lines[at].extend(line(table, row));
        }
    }
    let cells = lines
        .iter()
        .map(|line| heads.iter().map(|head| line.get(head).cloned().unwrap_or_default()).collect());
    csv::write(&heads, &cells.collect::<Vec<Vec<String>>>())
}

fn is_flat(column: &Column) -> bool {
    column.told && column.sense != Sense::Rows
}

fn line<'a>(table: &'a Table, row: &'a Row) -> impl Iterator<Item = (&'a str, String)> {
    let cells = table.columns.iter().zip(&row.cells).filter(|(column, _)| is_flat(column));
    cells.map(|(column, cell)| (column.id.as_str(), written(column, cell)))
}

fn written(column: &Column, cell: &Cell) -> String {
    match cell {
        Cell::Length(measure) => format!("{:.4}", measure.amount(column.unit())),
        Cell::Said(_, value) => written(column, value),
        Cell::List(cells) => {
            cells.iter().map(|cell| written(column, cell)).collect::<Vec<_>>().join(" ")
        }
        _ => match json::cell(column.unit(), cell) {
            Value::Null => String::new(),
            Value::String(words) => words,
            value => value.to_string(),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::PrototypeLength;
    use crate::report::column::{only, text};
    use crate::report::draft::rows;

    #[test]
    fn rows_of_one_identity_are_one_line_and_words_for_people_are_not_told() {
        let lamps = [("a", 1.0), ("b", 2.5)];
        let first = rows("lamps", "Lamps", lamps)
            .col(text("name", "lamp"), |(name, _)| name)
            .col(text("seen", "seen").screen(), |_| "yes")
            .table();
        let second = rows("lamps", "Wire", lamps)
            .named("wire")
            .keyed(|(name, _)| RowKey::named(name))
            .col(only("long_ft"), |(_, feet)| Cell::said("long", PrototypeLength::feet(feet)))
            .table();
        let view = View { tables: vec![first, second], ..View::default() };
        assert_eq!(named(&view, "lamps").unwrap(), "name,long_ft\na,1.0000\nb,2.5000\n");
        assert!(named(&view, "wires").unwrap_err().hint.contains("lamps"));
    }
}
