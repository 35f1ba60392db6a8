//! The build record on half a page, to stand beside the model.

use super::flow::Flow;
use crate::drawing::Figure;
use crate::quantity::PaperLength;
use crate::report::table::Table;
use crate::report::{Seen, record};

/// The half page. What does not fit on it stands in the whole record.
#[must_use]
pub fn figures(seen: Seen<'_>, room: (PaperLength, PaperLength)) -> Vec<Figure> {
    let about = &seen.job.about;
    let mut flow = Flow::new("record", room);
    let year = about.year.map_or(String::new(), |year| format!(", as in {year}"));
    flow.title(&format!("{}{year}, {}", about.name, about.scale));
    if !about.intent.is_empty() {
        flow.paragraph(&format!("What must survive: {}", about.intent));
    }
    let view = record::view(seen);
    let table = |id| view.named(id).filter(|table| !table.rows.is_empty());
    if let Some(choice) = table("built_as") {
        for row in &choice.rows {
            flow.paragraph(&row.texts.join(": "));
        }
    }
    if let Some(sizes) = table("sizes") {
        flow.heading("Prototype, as built, on the model");
        flow.table(&first(sizes, 8));
    }
    if let Some(taken) = table("taken_back") {
        for row in taken.rows.iter().take(4) {
            if let [size, was, now, why] = row.texts.as_slice() {
                flow.paragraph(&format!("on the mock-up: {size} {was} to {now}, {why}"));
            }
        }
    }
    if let Some(sources) = table("sources") {
        flow.heading("Sources");
        for row in sources.rows.iter().take(5) {
            let cells: Vec<&str> = row
                .texts
                .iter()
                .skip(1)
                .map(String::as_str)
                .filter(|cell| !cell.is_empty())
                .collect();
            flow.item("-", &cells.join(", "));
        }
    }
    flow.paragraph("Built by ______________________  Date ______________  Differs besides: ______________________");
    flow.finish().into_iter().take(1).collect()
}

fn first(table: &Table, rows: usize) -> Table {
    let rows = table.rows.iter().take(rows).cloned().collect();
    Table { rows, ..table.clone() }
}
