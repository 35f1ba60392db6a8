//! Fewer or cheaper sheets by restarts with local moves.
//!
//! A target is a list of sheets that costs less than the best plan. What does
//! not fit on it stands outside; a move empties a few sheets, mixes their items
//! with those outside and fills again, keeping the result when less stands
//! outside. Items that stay outside long come to weigh more, so that others
//! take their place.

use super::block::{Blocks, Made};
use super::chance::Chance;
use super::fill::{Filler, Stop, Way};
use super::work::{Filled, Layout, Spot, Work};

/// A search for a plan on a given list of sheets.
pub(super) struct Search<'a> {
    work: &'a Work,
    filler: Filler<'a>,
    stop: Stop<'a>,
    blocks: Blocks,
    chance: Chance,
    weights: Vec<f64>,
    now: Layout,
    outside: f64,
}

/// Sheets filled anew, with what did not fit.
struct Refilled {
    bins: Vec<Filled>,
    left: Vec<usize>,
    weight: f64,
}

impl<'a> Search<'a> {
    /// Starts from a layout whose sheets are the target.
    pub(super) fn new(work: &'a Work, start: Layout, seed: u64, stop: Stop<'a>) -> Self {
        let weights: Vec<f64> = work.items.iter().map(|item| item.share).collect();
        let outside = start.left.iter().map(|&item| weights[item]).sum();
        Self {
            work,
            filler: Filler::new(stop),
            stop,
            blocks: Blocks::default(),
            chance: Chance::new(seed),
            weights,
            now: start,
            outside,
        }
    }

    /// Everything is on the sheets.
    pub(super) fn done(&self) -> bool {
        self.now.left.is_empty()
    }

    /// The layout as it stands.
    pub(super) fn into_layout(self) -> Layout {
        self.now
    }

    /// One move: how much work it was, counted in items placed.
    pub(super) fn step(&mut self) -> u64 {
        let chosen = self.choose();
        let mut pool: Vec<usize> = self.now.left.clone();
        for &bin in &chosen {
            pool.extend(self.now.bins[bin].spots.iter().map(|spot| spot.item));
        }
        let tries = 6;
        let mut best: Option<Refilled> = None;
        for _ in 0..tries {
            if self.stop.now() {
                // What was half filled is no better and is dropped.
                return 0;
            }
            let refilled = self.refill(&chosen, &pool);
            if best.as_ref().is_none_or(|found| refilled.weight < found.weight) {
                best = Some(refilled);
            }
            if best.as_ref().is_some_and(|found| found.left.is_empty()) {
                break;
            }
        }
        if let Some(refilled) = best {
            self.consider(&chosen, refilled);
        }
        tries * pool.len() as u64
    }

    /// One to three sheets by chance.
    fn choose(&mut self) -> Vec<usize> {
        let all = self.now.bins.len();
        let wanted = [1, 1, 2, 2, 2, 3][self.chance.below(6)].min(all);
        let mut chosen = Vec::with_capacity(wanted);
        while chosen.len() < wanted {
            let bin = self.chance.below(all);
            if !chosen.contains(&bin) {
                chosen.push(bin);
            }
        }
        chosen
    }

    fn refill(&mut self, chosen: &[usize], pool: &[usize]) -> Refilled {
        self.blocks.start(self.work, pool);
        let per_sheet = pool.len() / chosen.len();
        let way = Way::by_chance(self.work, &mut self.chance, per_sheet);
        self.join(chosen, pool.len());
        let mut order = self.shuffled();
        let mut bins = Vec::with_capacity(chosen.len());
        for &bin in chosen {
            let kind = self.now.bins[bin].kind;
            let spots = self.fill(kind, way, &mut order);
            bins.push(Filled { kind, spots });
        }
        let mut left = Vec::new();
        for &block in &order {
            self.blocks.items(block, &mut left);
        }
        if left.len() > order.len() {
            left = self.fill_up(&left, &mut bins);
        }
        let weight = left.iter().map(|&item| self.weights[item]).sum();
        Refilled { bins, left, weight }
    }

    /// Joins some items of the pool, for the knife more often. Blocks may need
    /// more stages than there are, so that they are for unlimited stages only.
    fn join(&mut self, chosen: &[usize], count: usize) {
        let limited = self.work.knife.is_some_and(|most| most != u32::MAX);
        let alone = if self.work.knife.is_some() { 1 } else { 2 };
        if limited || self.chance.below(4) < alone {
            return;
        }
        let kinds = chosen.iter().map(|&bin| &self.work.kinds[self.now.bins[bin].kind]);
        let limit = kinds.fold((0, 0), |limit: (i64, i64), kind| {
            (limit.0.max(kind.width), limit.1.max(kind.height))
        });
        let times = 1 + self.chance.below(count);
        let waste = [0.0, 0.01, 0.03, 0.06][self.chance.below(4)];
        self.blocks.join(self.work, &mut self.chance, times, limit, waste);
    }

    /// Fills one sheet with blocks in order; what is placed leaves the order.
    fn fill(&mut self, kind: usize, way: Way, order: &mut Vec<usize>) -> Vec<Spot> {
        let Self { work, filler, blocks, .. } = self;
        filler.start(work, kind, way);
        let mut spots = Vec::new();
        order.retain(|&place| {
            let block = blocks.get(place);
            let turns = matches!(block.made, Made::Item(item) if work.items[item].may_turn);
            let Some((rect, turned)) = filler.insert_size(block.width, block.height, turns) else {
                return true;
            };
            blocks.lay(work, place, &rect, turned, &mut spots);
            false
        });
        spots
    }

    /// Single items of blocks that found no place go where there is room left
    /// on the last sheet.
    fn fill_up(&mut self, left: &[usize], bins: &mut [Filled]) -> Vec<usize> {
        let mut still = Vec::new();
        if let Some(last) = bins.last_mut() {
            self.filler.add(self.work, left, &mut last.spots, &mut still);
        }
        still
    }

    /// The blocks sorted by a measure chosen by chance, blurred by chance.
    #[allow(clippy::cast_precision_loss)] // a sort key
    fn shuffled(&mut self) -> Vec<usize> {
        let measure = self.chance.below(5);
        let blur = [0.1, 0.3, 0.6, 1.0][self.chance.below(4)];
        let keyed = self.blocks.open.iter().map(|&place| {
            let block = self.blocks.get(place);
            let (width, height) = (block.width as f64, block.height as f64);
            let size = match measure {
                0 => width * height,
                1 => height,
                2 => width,
                3 => width + height,
                _ => width.max(height),
            };
            (size * (1.0 - blur * self.chance.unit()), place)
        });
        let mut keyed: Vec<(f64, usize)> = keyed.collect();
        keyed.sort_by(|a, b| b.0.total_cmp(&a.0));
        keyed.into_iter().map(|(_, place)| place).collect()
    }

    fn consider(&mut self, chosen: &[usize], refilled: Refilled) {
        let slack = 1.0 + 0.05 * self.chance.unit() * self.chance.unit();
        if refilled.weight > self.outside * slack {
            for &item in &self.now.left {
                let heavier = self.weights[item] * 0.01;
                self.weights[item] += heavier;
                self.outside += heavier;
            }
            return;
        }
        for (&bin, filled) in chosen.iter().zip(refilled.bins) {
            self.now.bins[bin] = filled;
        }
        self.now.left = refilled.left;
        self.outside = refilled.weight;
    }
}
