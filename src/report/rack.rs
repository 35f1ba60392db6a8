//! The person's own rack as a table.

use super::cell::Cell;
use super::column::{count, money, only, text};
use super::draft::rows;
use super::table::View;
use crate::catalog::rack::{OnHand, Rack};
use crate::finding::Subject;

/// The view.
#[must_use]
pub fn view(rack: &Rack) -> View {
    let lead = if rack.rows.is_empty() {
        "Nothing is entered yet: measure a bundle and take it in with `rack --import FILE`."
    } else {
        "What is on hand, as measured. It is taken before stock that must be bought."
    };
    let note = |it: &OnHand| match it.offcut {
        true => Cell::said(format!("offcut {}", it.note), &it.note),
        false => Cell::from(&it.note),
    };
    let table = rows("rows", "On hand", &rack.rows)
        .about(|it| Subject::Stock(it.name.clone()))
        .col(text("name", "name"), |it| &it.name)
        .col(text("form", "form"), |it| Cell::said(it.form.word(), Cell::data(it.form)))
        .col(only("material"), |it| &it.material)
        .col(text("thickness_in", "thickness"), |it| it.thickness.as_ref())
        .col(text("width_in", "width"), |it| &it.width)
        .col(text("length_in", "length"), |it| &it.length)
        .col(count("count", "count"), |it| it.count)
        .col(money("price", "price"), |it| it.price.map(Cell::Money))
        .col(only("offcut"), |it| it.offcut)
        .col(text("note", "note"), note)
        .table();
    View {
        title: "Your rack".to_owned(),
        lead: vec![lead.to_owned()],
        tables: vec![table],
        next: "rack --export: the same as a table of commas, to keep in a spreadsheet".to_owned(),
        ..View::default()
    }
}
