//! Which stick or sheet a row of the cut list speaks of.

use super::setups;
use crate::cutting::parts::{Layout, SheetGroup, StickGroup};
use crate::cutting::shopping::{Source, sources};

/// A table of the view.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum TableKind {
    /// What fits nothing that can be bought.
    Misfits,
    /// What to buy: a row for each stock.
    Buying,
    /// The order of the work.
    Work,
    /// The offcuts on hand.
    Rack,
    /// The sticks of one stock: a row for each way to cut one.
    Sticks(usize),
    /// The stop for each length of one stock.
    StickSetUps(usize),
    /// The parts on the sheets of one stock.
    Sheets(usize),
    /// The fence for each run of cuts.
    SetUps(usize),
    /// The cuts of those sheets.
    Cuts(usize),
}

/// What a row shows.
#[derive(Clone, Copy, Debug)]
pub enum Shown<'a> {
    /// Sticks of one stock, and the row of its layout.
    Sticks(&'a StickGroup, usize),
    /// A sheet of one stock, by number from 0, with the part or the cut on it.
    Sheet(&'a SheetGroup, usize, OnSheet),
}

/// What is marked on a sheet, by number from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OnSheet {
    /// The sheet as a whole.
    Whole,
    /// One of its parts.
    Part(usize),
    /// One of its cuts.
    Cut(usize),
}

/// The tables of the view in their order; those without rows are left out.
/// `rack` says whether there are offcuts on hand.
pub(crate) fn tables(layout: &Layout, rack: bool) -> Vec<TableKind> {
    let some = |count: usize, kind| (count > 0).then_some(kind);
    let sticks = layout.sticks.iter().enumerate();
    let sheets = layout.sheets.iter().enumerate();
    let all = layout.sticks.len() + layout.sheets.len();
    let mut tables = Vec::new();
    tables.extend(some(layout.misfits.len(), TableKind::Misfits));
    tables.extend(some(all, TableKind::Buying));
    tables.extend(some(all, TableKind::Work));
    tables.extend(rack.then_some(TableKind::Rack));
    for (at, group) in sticks {
        tables.extend(some(group.layout.cuts.len(), TableKind::Sticks(at)));
        // A single row says all there is to set.
        let rows = group.layout.cuts.len();
        tables.extend(some(rows.saturating_sub(1), TableKind::StickSetUps(at)));
    }
    for (at, group) in sheets {
        let count = |of: fn(&crate::cutting::sheets::SheetCut) -> usize| {
            group.layout.sheets.iter().map(of).sum::<usize>()
        };
        tables.extend(some(count(|sheet| sheet.parts.len()), TableKind::Sheets(at)));
        tables.extend(some(count(|sheet| sheet.cuts.len()), TableKind::SetUps(at)));
        tables.extend(some(count(|sheet| sheet.cuts.len()), TableKind::Cuts(at)));
    }
    tables
}

/// What a row shows, by table and row as the view has them; `rack` says
/// whether there are offcuts on hand.
#[must_use]
pub fn shown(layout: &Layout, rack: bool, table: usize, row: usize) -> Option<Shown<'_>> {
    let first = |count: usize| (count > 0).then_some(0);
    match *tables(layout, rack).get(table)? {
        TableKind::Buying => match sources(layout).into_iter().nth(row)? {
            Source::Sticks(at, size) => {
                let group = &layout.sticks[at];
                let here = group.layout.cuts.iter().position(|cut| cut.stock == size);
                Some(Shown::Sticks(group, here.or(first(group.layout.cuts.len()))?))
            }
            Source::Sheets(at, size) => {
                let group = layout.sheets.get(at)?;
                let here = group.layout.sheets.iter().position(|sheet| sheet.stock == size);
                let here = here.or(first(group.layout.sheets.len()))?;
                Some(Shown::Sheet(group, here, OnSheet::Whole))
            }
        },
        TableKind::Misfits | TableKind::Work | TableKind::Rack => None,
        TableKind::StickSetUps(at) => {
            let group = &layout.sticks[at];
            Some(Shown::Sticks(group, *setups::stick_rows(group).get(row)?))
        }
        TableKind::SetUps(at) => {
            let group = &layout.sheets[at];
            let (sheet, cut) = *setups::sheet_rows(group).get(row)?;
            Some(Shown::Sheet(group, sheet, OnSheet::Cut(cut)))
        }
        TableKind::Sticks(at) => Some(Shown::Sticks(&layout.sticks[at], row)),
        TableKind::Sheets(at) => {
            let group = &layout.sheets[at];
            let (sheet, part) = nth(group.layout.sheets.iter().map(|s| s.parts.len()), row)?;
            Some(Shown::Sheet(group, sheet, OnSheet::Part(part)))
        }
        TableKind::Cuts(at) => {
            let group = &layout.sheets[at];
            let (sheet, cut) = nth(group.layout.sheets.iter().map(|s| s.cuts.len()), row)?;
            Some(Shown::Sheet(group, sheet, OnSheet::Cut(cut)))
        }
    }
}

/// The `row`-th of several runs laid end to end: which run, and where in it.
fn nth(runs: impl Iterator<Item = usize>, mut row: usize) -> Option<(usize, usize)> {
    for (at, count) in runs.enumerate() {
        if row < count {
            return Some((at, row));
        }
        row -= count;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_counted_through_the_sheets() {
        let runs = || [2, 0, 3].into_iter();
        assert_eq!(nth(runs(), 1), Some((0, 1)));
        assert_eq!(nth(runs(), 2), Some((2, 0)));
        assert_eq!(nth(runs(), 5), None);
    }
}
