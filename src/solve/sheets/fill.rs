//! Filling sheets one by one from an ordered list of items.

use super::chance::Chance;
use super::free::{FreeSheet, RULES, Rule};
use super::plan::Rect;
use super::run::Budget;
use super::split::{FIRSTS, First, SplitSheet};
use super::work::{Filled, Item, Layout, Spot, Work};

/// Whether work is to be broken off, asked at every item.
#[derive(Clone, Copy, Default)]
pub(super) struct Stop<'a>(Option<&'a dyn Fn() -> bool>);

impl<'a> Stop<'a> {
    pub(super) fn of(budget: &Budget<'a>) -> Self {
        Self(budget.stop)
    }

    pub(super) fn now(self) -> bool {
        self.0.is_some_and(|stop| stop())
    }
}

/// How places are chosen: a rule, and for splits the first cut.
#[derive(Clone, Copy, Debug)]
pub(super) struct Way {
    pub(super) rule: Rule,
    /// `None` keeps largest free rectangles and tests that cuts take them apart.
    pub(super) first: Option<First>,
}

impl Way {
    /// A way by chance; splits are tried more often the more parts a sheet holds.
    pub(super) fn by_chance(work: &Work, chance: &mut Chance, per_sheet: usize) -> Self {
        let rule = RULES[chance.below(RULES.len())];
        let split = work.knife.is_some() && chance.below(per_sheet + 20) >= 20;
        Self { rule, first: split.then(|| FIRSTS[chance.below(FIRSTS.len())]) }
    }
}

/// Keeps the working store of both kinds of sheet.
#[derive(Clone, Default)]
pub(super) struct Filler<'a> {
    free: FreeSheet,
    split: SplitSheet,
    way: Option<Way>,
    stop: Stop<'a>,
}

impl<'a> Filler<'a> {
    /// A filler that places nothing more once it is to stop.
    pub(super) fn new(stop: Stop<'a>) -> Self {
        Self { stop, ..Self::default() }
    }

    /// Places nothing more once it is to stop.
    pub(super) fn stop_when(&mut self, stop: Stop<'a>) {
        self.stop = stop;
    }

    /// Starts an empty sheet.
    pub(super) fn start(&mut self, work: &Work, kind: usize, way: Way) {
        let kind = &work.kinds[kind];
        self.start_sized(work, kind.width, kind.height, way);
    }

    /// Starts an empty sheet of a size of its own.
    pub(super) fn start_sized(&mut self, work: &Work, width: i64, height: i64, way: Way) {
        self.way = Some(way);
        match way.first {
            Some(_) => self.split.start(width, height, work.knife.unwrap_or(u32::MAX)),
            None => self.free.start(width, height, work.knife),
        }
    }

    /// Places one item if there is room.
    pub(super) fn insert(&mut self, item: &Item) -> Option<(Rect, bool)> {
        self.insert_size(item.width, item.height, item.may_turn)
    }

    /// Places one rectangle if there is room.
    pub(super) fn insert_size(
        &mut self,
        width: i64,
        height: i64,
        may_turn: bool,
    ) -> Option<(Rect, bool)> {
        let way = self.way.filter(|_| !self.stop.now())?;
        match way.first {
            Some(first) => self.split.insert(width, height, may_turn, way.rule, first),
            None => self.free.insert(width, height, may_turn, way.rule),
        }
    }

    /// Places what it can of `order`, in that order; the rest goes to `left`.
    pub(super) fn fill(
        &mut self,
        work: &Work,
        kind: usize,
        way: Way,
        order: &[usize],
        spots: &mut Vec<Spot>,
        left: &mut Vec<usize>,
    ) {
        self.start(work, kind, way);
        self.add(work, order, spots, left);
    }

    /// Places what it can on the sheet in hand.
    pub(super) fn add(
        &mut self,
        work: &Work,
        order: &[usize],
        spots: &mut Vec<Spot>,
        left: &mut Vec<usize>,
    ) {
        let mut refused: Option<(i64, i64, bool)> = None;
        for &index in order {
            let item = &work.items[index];
            let size = (item.width, item.height, item.may_turn);
            if refused == Some(size) {
                left.push(index);
                continue;
            }
            match self.insert(item) {
                Some((rect, turned)) => spots.push(Spot { item: index, rect, turned }),
                None => {
                    refused = Some(size);
                    left.push(index);
                }
            }
        }
    }
}

/// Lays an ordered list on as many sheets as it takes, choosing for each sheet
/// the kind whose room comes cheapest, and the cheapest that ends the list.
pub(super) fn lay(
    work: &Work,
    filler: &mut Filler<'_>,
    way: Way,
    order: &[usize],
    only: Option<usize>,
    go_on: &mut dyn FnMut() -> bool,
) -> Option<Layout> {
    let mut layout = Layout { bins: Vec::new(), left: order.to_vec() };
    let mut supply: Vec<usize> = work.kinds.iter().map(|kind| kind.supply).collect();
    while !layout.left.is_empty() {
        if !go_on() {
            return None;
        }
        let Some((bin, left)) = best_sheet(work, filler, way, &layout.left, &supply, only) else {
            break;
        };
        supply[bin.kind] -= 1;
        layout.bins.push(bin);
        layout.left = left;
    }
    Some(layout)
}

fn best_sheet(
    work: &Work,
    filler: &mut Filler<'_>,
    way: Way,
    order: &[usize],
    supply: &[usize],
    only: Option<usize>,
) -> Option<(Filled, Vec<usize>)> {
    let open: Vec<usize> = (0..work.kinds.len()).filter(|&kind| supply[kind] > 0).collect();
    let wished: Vec<usize> = open.iter().copied().filter(|&kind| only == Some(kind)).collect();
    let mut best = best_of(work, filler, way, order, &wished);
    if best.is_none() {
        best = best_of(work, filler, way, order, &open);
    }
    best.map(|(_, bin, left)| (bin, left))
}

/// The sheet with the lowest price for what it takes; a sheet that takes all
/// that is left comes before any other, the cheapest of them first.
#[allow(clippy::cast_precision_loss)] // only ranks the kinds
fn best_of(
    work: &Work,
    filler: &mut Filler<'_>,
    way: Way,
    order: &[usize],
    kinds: &[usize],
) -> Option<((bool, f64), Filled, Vec<usize>)> {
    let mut best: Option<((bool, f64), Filled, Vec<usize>)> = None;
    for &kind in kinds {
        let (mut bin, mut left) = (Filled { kind, spots: Vec::new() }, Vec::new());
        filler.fill(work, kind, way, order, &mut bin.spots, &mut left);
        if bin.spots.is_empty() {
            continue;
        }
        let cost = work.kinds[kind].cost as f64;
        let rank = if left.is_empty() { (false, cost) } else { (true, cost / work.covered(&bin)) };
        if best.as_ref().is_none_or(|found| rank < found.0) {
            best = Some((rank, bin, left));
        }
    }
    best
}
