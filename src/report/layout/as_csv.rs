//! The cut list as CSV.

use super::{Seen, state_word};
use crate::finding::Stop;
use crate::quantity::ModelLength;

/// The cut list as CSV: a row for each part of each stick or sheet.
///
/// # Errors
/// When nothing is laid out.
pub fn csv(seen: Seen<'_>) -> Result<String, Stop> {
    let layout = seen.plan.layout.as_ref().map_err(Clone::clone)?;
    let heads =
        ["stock", "piece", "times", "part", "x_in", "y_in", "width_in", "length_in", "state"];
    let state = |label: &str| state_word(seen.job.done.get(label).copied()).to_owned();
    let inches = |length: ModelLength| format!("{:.4}", length.in_inches());
    let mut rows = Vec::new();
    for group in &layout.sticks {
        for (at, cut) in group.layout.cuts.iter().enumerate() {
            // Sticks cut alike that carry other marks are rows of their own.
            for run in cut.each.chunk_by(|a, b| a == b) {
                let pieces = run.first().into_iter().flatten();
                for part in pieces.map(|&part| &group.parts[part]) {
                    let (piece, times) = ((at + 1).to_string(), run.len().to_string());
                    let blank = String::new;
                    let size = [blank(), blank(), blank(), inches(part.length), state(&part.label)];
                    let head = [group.stock.clone(), piece, times, part.label.clone()];
                    rows.push(head.into_iter().chain(size).collect());
                }
            }
        }
    }
    for group in &layout.sheets {
        for (at, sheet) in group.layout.sheets.iter().enumerate() {
            for laid in &sheet.parts {
                let (area, part) = (laid.area, &group.parts[laid.part]);
                let head =
                    [group.stock.clone(), (at + 1).to_string(), "1".to_owned(), part.label.clone()];
                let size = [area.x, area.y, area.width, area.height].map(inches);
                rows.push(head.into_iter().chain(size).chain([state(&part.label)]).collect());
            }
        }
    }
    crate::writers::csv::write(&heads, &rows)
}
