//! Parts laid one after the other: each on the first sheet that has room, as
//! far left and then as low as it can lie.

use super::mask::{CELLS, Column, Mask, cells};
use super::problem::{Placed, Problem, SheetPlan};

/// Columns of the longest sheet, at most.
const MOST_COLUMNS: i64 = 2_000;

/// The problem as cells.
pub(super) struct Cells<'a> {
    pub(super) problem: &'a Problem,
    cell: i64,
    /// By part: its turns, those that fit a column.
    masks: Vec<Vec<(u8, Mask)>>,
    /// By sheet: columns and rows inside the margins.
    rooms: Vec<(usize, u32)>,
}

/// A sheet being filled.
struct Open {
    kind: usize,
    taken: Vec<Column>,
    placed: Vec<Placed>,
    /// By part and turn: no room further left than this.
    from: Vec<[usize; 4]>,
    /// Columns taken from the left.
    used: usize,
}

/// Sheets filled, and copies of parts that found no room.
#[derive(Clone, Debug, Default)]
pub(super) struct Filled {
    pub(super) plans: Vec<SheetPlan>,
    /// Columns taken on each.
    pub(super) used: Vec<usize>,
    pub(super) left: Vec<usize>,
    /// Places looked at.
    pub(super) work: u64,
}

impl<'a> Cells<'a> {
    pub(super) fn new(problem: &'a Problem, cell: i64) -> Self {
        let mask = |part: &super::problem::Part| {
            let turns = part.turns.quarters().iter();
            let made = turns.filter_map(|&quarters| {
                let turned = part.shape.turned(quarters);
                Some((quarters, Mask::new(&turned, cell, problem.gap)?))
            });
            made.collect()
        };
        let room = |sheet: &super::problem::Sheet| {
            let inside = |size: i64| (size - 2 * problem.margin).max(0) / cell;
            let rows = u32::try_from(inside(sheet.width)).unwrap_or(CELLS).min(CELLS);
            (usize::try_from(inside(sheet.length)).unwrap_or(0), rows)
        };
        Self {
            problem,
            cell,
            masks: problem.parts.iter().map(mask).collect(),
            rooms: problem.sheets.iter().map(room).collect(),
        }
    }

    /// The finest cells that suit: a 128th of the widest sheet, coarser where a
    /// sheet is so long that it would have very many.
    pub(super) fn suiting(problem: &Problem) -> i64 {
        let inside = |size: i64| (size - 2 * problem.margin).max(1);
        let widest = problem.sheets.iter().map(|sheet| inside(sheet.width)).max().unwrap_or(1);
        let longest = problem.sheets.iter().map(|sheet| inside(sheet.length)).max().unwrap_or(1);
        cells(widest, i64::from(CELLS / 2)).max(cells(longest, MOST_COLUMNS)).max(1)
    }

    /// Lays copies of parts in that order. A new sheet is of the kind wished
    /// for where it has room, else of the first that has.
    ///
    /// `None` when `stop` says so on the way.
    pub(super) fn lay(
        &self,
        order: &[usize],
        wish: usize,
        stop: &dyn Fn() -> bool,
    ) -> Option<Filled> {
        let mut open: Vec<Open> = Vec::new();
        let mut out = Filled::default();
        let mut supply: Vec<u32> =
            self.problem.sheets.iter().map(|sheet| sheet.supply.unwrap_or(u32::MAX)).collect();
        for &part in order {
            if stop() {
                return None;
            }
            let there = open.iter_mut().any(|sheet| self.place(sheet, part, &mut out.work));
            if !there && !self.open_for(part, wish, &mut open, &mut supply, &mut out.work) {
                out.left.push(part);
            }
        }
        for sheet in open {
            out.used.push(sheet.used);
            out.plans.push(SheetPlan { sheet: sheet.kind, placed: sheet.placed });
        }
        Some(out)
    }

    /// Free sheets first, then the one wished for.
    fn open_for(
        &self,
        part: usize,
        wish: usize,
        open: &mut Vec<Open>,
        supply: &mut [u32],
        work: &mut u64,
    ) -> bool {
        let sheets = &self.problem.sheets;
        let mut kinds: Vec<usize> = (0..sheets.len()).filter(|&kind| supply[kind] > 0).collect();
        kinds.sort_by_key(|&kind| (sheets[kind].cost > 0, kind != wish, sheets[kind].cost));
        for kind in kinds {
            let (columns, _) = self.rooms[kind];
            let mut sheet = Open {
                kind,
                taken: vec![Column::default(); columns],
                placed: Vec::new(),
                from: vec![[0; 4]; self.problem.parts.len()],
                used: 0,
            };
            if self.place(&mut sheet, part, work) {
                supply[kind] -= 1;
                open.push(sheet);
                return true;
            }
        }
        false
    }

    fn place(&self, sheet: &mut Open, part: usize, work: &mut u64) -> bool {
        let (columns, rows) = self.rooms[sheet.kind];
        let mut best: Option<(usize, u32, usize)> = None;
        for (turn, (quarters, mask)) in self.masks[part].iter().enumerate() {
            let Some(last) = columns.checked_sub(mask.long) else { continue };
            let from = &mut sheet.from[part][usize::from(*quarters)];
            let reach = best.map_or(last, |(x, _, turn)| {
                // Farther right than the best it need not be looked for.
                let edge = x + self.masks[part][turn].1.long;
                edge.saturating_sub(mask.long).min(last)
            });
            let mut x = *from;
            while x <= reach {
                *work += 1;
                if let Some(y) = mask.free_at(&sheet.taken, x, rows) {
                    let edge = |x: usize, turn: usize| x + self.masks[part][turn].1.long;
                    let better = best.is_none_or(|(other, low, old)| {
                        (edge(x, turn), y) < (edge(other, old), low)
                    });
                    if better {
                        best = Some((x, y, turn));
                    }
                    break;
                }
                x += 1;
            }
            *from = x;
        }
        let Some((x, y, turn)) = best else { return false };
        let (quarters, mask) = &self.masks[part][turn];
        mask.take(&mut sheet.taken, x, y);
        sheet.used = sheet.used.max(x + mask.long);
        sheet.placed.push(Placed {
            part,
            quarters: *quarters,
            x: self.problem.margin + x as i64 * self.cell,
            y: self.problem.margin + i64::from(y) * self.cell,
        });
        true
    }
}
