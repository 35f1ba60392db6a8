//! A table as CSV: its keys, and the values that JSON has.

use serde_json::Value;

use super::cell::Cell;
use super::column::{Column, Sense};
use super::json;
use super::table::Table;
use crate::finding::Stop;
use crate::writers::csv;

/// A table as CSV, a line for each row. Rows within rows are left out.
///
/// # Errors
/// When the rows cannot be written, which has no cause in practice.
pub fn table(table: &Table) -> Result<String, Stop> {
    let is_flat = |column: &Column| column.told && column.sense != Sense::Rows;
    let heads = table.columns.iter().filter(|column| is_flat(column));
    let heads: Vec<&str> = heads.map(|column| column.id.as_str()).collect();
    let rows = table.rows.iter().map(|row| {
        let cells = table.columns.iter().zip(&row.cells).filter(|(column, _)| is_flat(column));
        cells.map(|(column, cell)| written(column, cell)).collect()
    });
    csv::write(&heads, &rows.collect::<Vec<Vec<String>>>())
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
