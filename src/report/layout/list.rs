//! The cut list as one table: a row for each part of each stick or sheet.

use super::{Seen, Table, only, rows, state};
use crate::cutting::parts::Layout;
use crate::cutting::sheets::Area;
use crate::finding::Stop;
use crate::quantity::ModelLength;

/// A part of some sticks cut alike, or of a sheet.
#[derive(Clone, Copy)]
pub(super) struct Piece<'a> {
    pub(super) stock: &'a str,
    /// The row of sticks or the sheet, from 0.
    pub(super) at: usize,
    pub(super) times: usize,
    pub(super) label: &'a str,
    /// On a sheet: where it lies.
    pub(super) area: Option<Area>,
    /// Its own length, however it lies.
    pub(super) length: ModelLength,
}

impl Piece<'_> {
    /// Whether it is the same part from the same stick or sheet.
    pub(super) fn is_beside(&self, other: &Self) -> bool {
        (self.stock, self.at, self.label) == (other.stock, other.at, other.label)
    }
}

pub(super) fn pieces(layout: &Layout) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    for group in &layout.sticks {
        let cuts = group.layout.cuts.iter().enumerate();
        // Sticks cut alike that carry other marks are rows of their own.
        let runs =
            cuts.flat_map(|(at, cut)| cut.each.chunk_by(|a, b| a == b).map(move |run| (at, run)));
        for (at, run) in runs {
            let parts = run[0].iter().map(|&part| &group.parts[part]);
            pieces.extend(parts.map(|part| Piece {
                stock: &group.stock,
                at,
                times: run.len(),
                label: &part.label,
                area: None,
                length: part.length,
            }));
        }
    }
    for group in &layout.sheets {
        for (at, sheet) in group.layout.sheets.iter().enumerate() {
            pieces.extend(sheet.parts.iter().map(|laid| Piece {
                stock: &group.stock,
                at,
                times: 1,
                label: &group.parts[laid.part].label,
                area: Some(laid.area),
                length: group.parts[laid.part].height,
            }));
        }
    }
    pieces
}

/// The cut list as CSV.
///
/// # Errors
/// When nothing is laid out.
pub fn csv(seen: Seen<'_>) -> Result<String, Stop> {
    let layout = seen.plan.layout.as_ref().map_err(Clone::clone)?;
    crate::report::csv::tables(&[&list(seen, layout)])
}

fn list(seen: Seen<'_>, layout: &Layout) -> Table {
    rows("cut_list", "", pieces(layout))
        .col(only("stock"), |it| it.stock)
        .col(only("piece"), |it| it.at + 1)
        .col(only("times"), |it| it.times)
        .col(only("part"), |it| it.label)
        .col(only("x_in"), |it| it.area.map(|area| area.x))
        .col(only("y_in"), |it| it.area.map(|area| area.y))
        .col(only("width_in"), |it| it.area.map(|area| area.width))
        .col(only("length_in"), |it| it.area.map_or(it.length, |area| area.height))
        .col(only("state"), |it| state(seen, it.label))
        .table()
}
