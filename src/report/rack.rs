//! The person's own rack as a table.
//!
//! JSON: `rows[]` (`form`, `name`, `material`, `thickness_in`, `width_in`,
//! `length_in`, `count`, `price`, `offcut`, `note`).

use serde_json::{Value, json};

use super::table::{Row, Table, View};
use crate::catalog::rack::{OnHand, Rack, coins};
use crate::finding::Subject;

/// The view.
#[must_use]
pub fn view(rack: &Rack) -> View {
    let heads = ["name", "form", "thickness", "width", "length", ">count", ">price", "note"];
    let mut table = Table::new("On hand", &heads);
    for row in &rack.rows {
        table.push(Row::about(Subject::Stock(row.name.clone()), cells(row)));
    }
    let lead = if rack.rows.is_empty() {
        "Nothing is entered yet: measure a bundle and take it in with `rack --import FILE`."
    } else {
        "What is on hand, as measured. It is taken before stock that must be bought."
    };
    View {
        title: "Your rack".to_owned(),
        lead: vec![lead.to_owned()],
        tables: vec![table],
        findings: Vec::new(),
        next: "rack --export: the same as a table of commas, to keep in a spreadsheet".to_owned(),
    }
}

fn cells(row: &OnHand) -> Vec<String> {
    let left = if row.offcut { "offcut " } else { "" };
    vec![
        row.name.clone(),
        row.form.word().to_owned(),
        row.thickness.as_ref().map_or_else(String::new, |written| written.text().to_owned()),
        row.width.text().to_owned(),
        row.length.text().to_owned(),
        row.count.map_or_else(String::new, |count| count.to_string()),
        row.price.map_or_else(String::new, coins),
        format!("{left}{}", row.note),
    ]
}

/// The view as JSON.
#[must_use]
pub fn json(rack: &Rack) -> Value {
    let row = |row: &OnHand| {
        json!({
            "form": row.form,
            "name": row.name,
            "material": row.material,
            "thickness_in": row.thickness.as_ref().map(|written| written.length().in_inches()),
            "width_in": row.width.length().in_inches(),
            "length_in": row.length.length().in_inches(),
            "count": row.count,
            "price": row.price.map(coins),
            "offcut": row.offcut,
            "note": row.note,
        })
    };
    json!({ "rows": rack.rows.iter().map(row).collect::<Vec<_>>() })
}
