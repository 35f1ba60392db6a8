//! Proof that a list of sheets cannot hold everything, or a plan that does.
//!
//! Sheets are completed one by one: the item that goes with the fewest others
//! is given a sheet, and every set of items that could share it, none of which
//! leaves room for one more, is tried. Each sheet wastes some of every weight
//! of the bound, and the waste allowed in all is known from the start.

use std::collections::{HashMap, HashSet};

use super::bound::Bank;
use super::fill::{Filler, Way};
use super::free::Rule;
use super::hull::{Hulls, MOST_ITEMS};
use super::onesheet::{Fit, one_sheet};
use super::work::{Filled, Kind, Layout, Spot, Work};

/// The most items: one bit each.
pub(super) const MOST: usize = 128;
/// Rounding slack of the weights, in sheets.
const SLACK: f64 = 1e-6;
/// Nodes of one branch and bound over a single sheet.
const NODES_PER_SHEET: u64 = 3000;
/// Items up to which a single sheet is searched to the end.
const EXACT_ITEMS: u32 = 12;

/// Effort after which the caller is asked.
const ASK_EVERY: u64 = 1000;

/// What came of it.
#[derive(Clone, Debug)]
pub(super) enum Verdict {
    /// The list of sheets cannot hold everything.
    Impossible,
    /// It can.
    Found(Layout),
    /// Cut short.
    Unknown,
}

/// A search over one list of sheets.
pub(super) struct Completion<'a> {
    work: &'a Work,
    /// For each pair of rescalings: the weight of every item, in sheets.
    weights: Vec<Vec<f64>>,
    /// For each pair, what every kind holds.
    holds: Vec<Vec<f64>>,
    /// For each item, those that can share a sheet with it.
    mates: Vec<u128>,
    fits: HashMap<(u128, usize), Fit>,
    hulls: Hulls<'a>,
    failed: HashSet<(u128, Vec<usize>)>,
    filler: Filler<'a>,
    chosen: Vec<(u128, usize)>,
    /// Work done in this run, as told to the caller.
    spent: u64,
    until: u64,
    /// Work done since the caller was asked.
    effort: u64,
}

/// One sheet being completed.
struct Sheet<'b> {
    kind: usize,
    rest: u128,
    /// For each pair, the least weight the sheet must take.
    need: &'b [f64],
}

/// Cut short: the nodes ran out or the caller said stop.
struct CutShort;

impl<'a> Completion<'a> {
    pub(super) fn new(work: &'a Work, bank: &Bank) -> Self {
        let (weights, holds) = bank.in_sheets();
        let wide = work.kinds.iter().map(|kind| kind.width).max().unwrap_or(0);
        let high = work.kinds.iter().map(|kind| kind.height).max().unwrap_or(0);
        Self {
            work,
            weights,
            holds,
            mates: mates(work),
            fits: HashMap::new(),
            hulls: Hulls::new(work, (wide, high)),
            failed: HashSet::new(),
            filler: Filler::default(),
            chosen: Vec::new(),
            spent: 0,
            until: 0,
            effort: 0,
        }
    }

    /// Searches with at most this effort; `go_on` is asked now and then.
    pub(super) fn run(
        &mut self,
        list: &[usize],
        effort: u64,
        go_on: &mut dyn FnMut(u64) -> bool,
    ) -> Verdict {
        (self.spent, self.effort, self.until) = (0, 0, effort);
        self.chosen.clear();
        let all = if self.work.items.len() == MOST {
            u128::MAX
        } else {
            (1 << self.work.items.len()) - 1
        };
        match self.complete(all, &mut list.to_vec(), go_on) {
            Err(CutShort) => Verdict::Unknown,
            Ok(false) => Verdict::Impossible,
            Ok(true) => self.layout().map_or(Verdict::Unknown, Verdict::Found),
        }
    }

    fn layout(&self) -> Option<Layout> {
        let filled = self.chosen.iter().map(|&(set, kind)| match self.fits.get(&(set, kind)) {
            Some(Fit::Yes(spots)) => Some(Filled { kind, spots: spots.clone() }),
            _ => None,
        });
        Some(Layout { bins: filled.collect::<Option<_>>()?, left: Vec::new() })
    }

    fn count(&mut self, go_on: &mut dyn FnMut(u64) -> bool) -> Result<(), CutShort> {
        self.effort += 1;
        let mut stop = self.spent + self.effort >= self.until;
        if self.effort >= ASK_EVERY {
            stop |= !go_on(self.effort);
            self.spent += self.effort;
            self.effort = 0;
        }
        if stop { Err(CutShort) } else { Ok(()) }
    }

    /// Whether the sheets in `counts` can hold `rest`.
    fn complete(
        &mut self,
        rest: u128,
        counts: &mut Vec<usize>,
        go_on: &mut dyn FnMut(u64) -> bool,
    ) -> Result<bool, CutShort> {
        if rest == 0 {
            return Ok(true);
        }
        self.count(go_on)?;
        let Some(spare) = self.spare(rest, counts) else { return Ok(false) };
        if self.failed.contains(&(rest, counts.clone())) {
            return Ok(false);
        }
        let hardest = self.hardest(rest);
        for kind in 0..counts.len() {
            if counts[kind] == 0 || *self.fit(1 << hardest, kind) == Fit::No {
                continue;
            }
            counts[kind] -= 1;
            let need: Vec<f64> =
                self.holds.iter().zip(&spare).map(|(holds, spare)| holds[kind] - spare).collect();
            let sheet = Sheet { kind, rest, need: &need };
            let mates = self.mates[hardest] & rest;
            let found = self.extend(&sheet, 1 << hardest, mates, 0, counts, go_on)?;
            counts[kind] += 1;
            if found {
                return Ok(true);
            }
        }
        self.failed.insert((rest, counts.clone()));
        Ok(false)
    }

    /// For each pair, how much weight may be wasted; `None` when one is short.
    fn spare(&self, rest: u128, counts: &[usize]) -> Option<Vec<f64>> {
        let spare = self.weights.iter().zip(&self.holds).map(|(weights, holds)| {
            let room: f64 =
                holds.iter().zip(counts).map(|(hold, &count)| hold * as_f64(count)).sum();
            let spare = room - sum(weights, rest) + SLACK;
            (spare >= 0.0).then_some(spare)
        });
        spare.collect()
    }

    /// The item that goes with the least of the rest.
    fn hardest(&self, rest: u128) -> usize {
        let room = |item: &usize| {
            let mates = bits(self.mates[*item] & rest);
            let share: f64 = mates.map(|mate| self.work.items[mate].share).sum();
            share - self.work.items[*item].share
        };
        bits(rest).min_by(|a, b| room(a).total_cmp(&room(b))).unwrap_or(0)
    }

    /// Adds items to `set` from `open`; those in `shut` were left out on purpose.
    fn extend(
        &mut self,
        sheet: &Sheet,
        set: u128,
        open: u128,
        shut: u128,
        counts: &mut Vec<usize>,
        go_on: &mut dyn FnMut(u64) -> bool,
    ) -> Result<bool, CutShort> {
        self.count(go_on)?;
        let reach = set | open;
        let short = |(weights, need): (&Vec<f64>, &f64)| sum(weights, reach) < need - SLACK;
        if self.weights.iter().zip(sheet.need).any(short) {
            return Ok(false);
        }
        if open == 0 {
            return self.close(sheet, set, shut, counts, go_on);
        }
        let next = self.largest(open);
        let bit = 1_u128 << next;
        let with = set | bit;
        if *self.fit(with, sheet.kind) != Fit::No {
            let open = open & !bit & self.mates[next];
            if self.extend(sheet, with, open, shut, counts, go_on)? {
                return Ok(true);
            }
        }
        // Left out: its equals are left out with it.
        let alike = self.alike(next, open);
        self.extend(sheet, set, open & !alike, shut | bit, counts, go_on)
    }

    fn close(
        &mut self,
        sheet: &Sheet,
        set: u128,
        shut: u128,
        counts: &mut Vec<usize>,
        go_on: &mut dyn FnMut(u64) -> bool,
    ) -> Result<bool, CutShort> {
        // A set with room for one more is tried with it instead.
        for item in bits(shut) {
            let with = set | 1 << item;
            let apart = bits(set).any(|mate| self.mates[item] & 1 << mate == 0);
            if !apart && matches!(self.fit(with, sheet.kind), Fit::Yes(_)) {
                return Ok(false);
            }
        }
        self.chosen.push((set, sheet.kind));
        let found = self.complete(sheet.rest & !set, counts, go_on)?;
        if !found {
            self.chosen.pop();
        }
        Ok(found)
    }

    fn largest(&self, open: u128) -> usize {
        let share = |item: usize| self.work.items[item].share;
        bits(open).max_by(|&a, &b| share(a).total_cmp(&share(b))).unwrap_or(0)
    }

    fn alike(&self, item: usize, open: u128) -> u128 {
        let size = |item: usize| {
            let item = &self.work.items[item];
            (item.width, item.height, item.may_turn)
        };
        bits(open).filter(|&other| size(other) == size(item)).fold(0, |set, bit| set | 1 << bit)
    }

    /// Whether a set fits a sheet; each set is looked into once.
    fn fit(&mut self, set: u128, kind: usize) -> &Fit {
        if !self.fits.contains_key(&(set, kind)) {
            let fit = self.look_into(set, kind);
            self.fits.insert((set, kind), fit);
        }
        &self.fits[&(set, kind)]
    }

    fn look_into(&mut self, set: u128, kind: usize) -> Fit {
        let over =
            |(weights, holds): (&Vec<f64>, &Vec<f64>)| sum(weights, set) > holds[kind] + SLACK;
        if self.weights.iter().zip(&self.holds).any(over) {
            return Fit::No;
        }
        self.effort += 10 * u64::from(set.count_ones());
        if let Some(spots) = self.quick(set, kind) {
            return Fit::Yes(spots);
        }
        let size = (self.work.kinds[kind].width, self.work.kinds[kind].height);
        let count = set.count_ones();
        if self.work.knife.is_some() && count <= MOST_ITEMS {
            return self.cut_exactly(set, size);
        }
        if self.work.knife.is_none() && count <= EXACT_ITEMS {
            let items: Vec<usize> = bits(set).collect();
            let mut nodes = NODES_PER_SHEET;
            let fit = one_sheet(self.work, &items, size, &mut nodes);
            self.effort += (NODES_PER_SHEET - nodes) / 2;
            return fit;
        }
        Fit::Unknown
    }

    fn cut_exactly(&mut self, set: u128, size: (i64, i64)) -> Fit {
        let fits = self.hulls.fits(set, size);
        self.effort += self.hulls.take_effort();
        if !fits {
            return Fit::No;
        }
        if self.work.knife != Some(u32::MAX) {
            return Fit::Unknown;
        }
        self.hulls.place(set, size).map_or(Fit::Unknown, Fit::Yes)
    }

    /// A few placements one by one.
    fn quick(&mut self, set: u128, kind: usize) -> Option<Vec<Spot>> {
        let mut order: Vec<usize> = bits(set).collect();
        order.sort_by(|&a, &b| self.work.items[b].share.total_cmp(&self.work.items[a].share));
        for rule in [Rule::ShortSide, Rule::Low, Rule::Left] {
            let (mut spots, mut left) = (Vec::new(), Vec::new());
            let way = Way { rule, first: None };
            self.filler.fill(self.work, kind, way, &order, &mut spots, &mut left);
            if left.is_empty() {
                return Some(spots);
            }
        }
        None
    }
}

/// For each item, those that some sheet holds beside or above it.
fn mates(work: &Work) -> Vec<u128> {
    let mut mates = vec![0_u128; work.items.len()];
    for one in 0..work.items.len() {
        for other in 0..one {
            if work.kinds.iter().any(|kind| pair_fits(work, one, other, kind)) {
                mates[one] |= 1 << other;
                mates[other] |= 1 << one;
            }
        }
    }
    mates
}

fn pair_fits(work: &Work, one: usize, other: usize, kind: &Kind) -> bool {
    let laid = |item: usize| {
        let item = work.items[item];
        [item.laid(false), item.laid(item.may_turn)]
    };
    laid(one).into_iter().any(|(w, h)| {
        laid(other).into_iter().any(|(v, g)| {
            let beside = w + v <= kind.width && h.max(g) <= kind.height;
            beside || (w.max(v) <= kind.width && h + g <= kind.height)
        })
    })
}

/// The items of a set.
fn bits(set: u128) -> impl Iterator<Item = usize> {
    let mut rest = set;
    std::iter::from_fn(move || {
        if rest == 0 {
            return None;
        }
        let item = rest.trailing_zeros() as usize;
        rest &= rest - 1;
        Some(item)
    })
}

fn sum(weights: &[f64], set: u128) -> f64 {
    bits(set).map(|item| weights[item]).sum()
}

#[allow(clippy::cast_precision_loss)] // at most MAX_PARTS
fn as_f64(count: usize) -> f64 {
    count as f64
}
