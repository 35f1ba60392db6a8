//! The problem as the solver sees it: the gap folded into every size.
//!
//! Adding the gap to the width and height of every part and of every usable
//! area gives the same problem without a gap, because k parts in a row need
//! their widths and k - 1 gaps.

use super::plan::Rect;
use super::problem::{Method, Problem};

/// A size of sheet, folded.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    pub(super) width: i64,
    pub(super) height: i64,
    pub(super) cost: i64,
    pub(super) supply: usize,
    /// Row in the problem.
    pub(super) row: usize,
}

/// One copy of a part, folded.
#[derive(Clone, Copy, Debug)]
pub(super) struct Item {
    pub(super) width: i64,
    pub(super) height: i64,
    pub(super) may_turn: bool,
    /// Row in the problem.
    pub(super) row: usize,
    /// Area as a share of the largest sheet.
    pub(super) share: f64,
}

impl Item {
    /// Width and height as laid.
    pub(super) fn laid(&self, turned: bool) -> (i64, i64) {
        if turned { (self.height, self.width) } else { (self.width, self.height) }
    }
}

/// The folded problem.
#[derive(Clone, Debug)]
pub(super) struct Work {
    pub(super) kinds: Vec<Kind>,
    pub(super) items: Vec<Item>,
    /// `Some` for edge-to-edge cuts, with the most stages.
    pub(super) knife: Option<u32>,
    pub(super) gap: i64,
    pub(super) margin: i64,
}

/// One item on a sheet, folded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Spot {
    pub(super) item: usize,
    pub(super) rect: Rect,
    pub(super) turned: bool,
}

/// One sheet with what lies on it.
#[derive(Clone, Debug, Default)]
pub(super) struct Filled {
    pub(super) kind: usize,
    pub(super) spots: Vec<Spot>,
}

/// Sheets, and items that found no place.
#[derive(Clone, Debug, Default)]
pub(super) struct Layout {
    pub(super) bins: Vec<Filled>,
    pub(super) left: Vec<usize>,
}

impl Work {
    /// Folds a problem that has been validated.
    pub(super) fn fold(problem: &Problem, method: Method) -> Self {
        let total = problem.parts.iter().map(|part| part.quantity).sum::<u64>();
        let kinds = fold_sheets(problem, usize::try_from(total).unwrap_or(usize::MAX));
        let largest = kinds.iter().map(|kind| as_share(kind.width, kind.height, 1.0));
        let largest = largest.fold(1.0, f64::max);
        let items = fold_parts(problem, largest);
        let knife = match method {
            Method::Laser => None,
            Method::Knife { stages } => Some(stages.unwrap_or(u32::MAX)),
        };
        Self { kinds, items, knife, gap: problem.gap, margin: problem.margin }
    }

    pub(super) fn cost(&self, bins: &[Filled]) -> i64 {
        bins.iter().map(|bin| self.kinds[bin.kind].cost).sum()
    }

    /// Sum of shares.
    pub(super) fn share(&self, items: &[usize]) -> f64 {
        items.iter().map(|&item| self.items[item].share).sum()
    }

    /// How much of a sheet is covered, as a share of the largest sheet.
    pub(super) fn covered(&self, bin: &Filled) -> f64 {
        bin.spots.iter().map(|spot| self.items[spot.item].share).sum()
    }
}

#[allow(clippy::cast_precision_loss)] // shares only steer the search
fn as_share(width: i64, height: i64, whole: f64) -> f64 {
    (width as f64) * (height as f64) / whole
}

fn fold_sheets(problem: &Problem, total: usize) -> Vec<Kind> {
    let usable = problem.sheets.iter().enumerate().map(|(row, sheet)| Kind {
        width: sheet.width - 2 * problem.margin + problem.gap,
        height: sheet.height - 2 * problem.margin + problem.gap,
        cost: sheet.cost,
        supply: sheet
            .supply
            .map_or(total, |supply| usize::try_from(supply).unwrap_or(usize::MAX).min(total)),
        row,
    });
    usable
        .filter(|kind| kind.width > problem.gap && kind.height > problem.gap && kind.supply > 0)
        .collect()
}

fn fold_parts(problem: &Problem, largest: f64) -> Vec<Item> {
    let mut items = Vec::new();
    for (row, part) in problem.parts.iter().enumerate() {
        let (width, height) = (part.width + problem.gap, part.height + problem.gap);
        let item = Item {
            width,
            height,
            may_turn: part.may_turn && width != height,
            row,
            share: as_share(width, height, largest),
        };
        items.extend((0..part.quantity).map(|_| item));
    }
    items
}
