//! Fewer or cheaper sheets by restarts with local moves.
//!
//! A target is a list of sheets that costs less than the best plan. What does
//! not fit on it stands outside; a move empties a few sheets, mixes their items
//! with those outside and fills again, keeping the result when less stands
//! outside. Items that stay outside long come to weigh more, so that others
//! take their place.

use super::chance::Chance;
use super::fill::{Filler, Way};
use super::work::{Filled, Layout, Spot, Work};

/// A search for a plan on a given list of sheets.
pub(super) struct Search<'a> {
    work: &'a Work,
    filler: Filler,
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
    pub(super) fn new(work: &'a Work, start: Layout, seed: u64) -> Self {
        let weights: Vec<f64> = work.items.iter().map(|item| item.share).collect();
        let outside = start.left.iter().map(|&item| weights[item]).sum();
        Self {
            work,
            filler: Filler::default(),
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
        let mut order = self.shuffled(pool);
        let mut bins = Vec::with_capacity(chosen.len());
        let per_sheet = pool.len() / chosen.len();
        let way = Way::by_chance(self.work, &mut self.chance, per_sheet);
        for &bin in chosen {
            let kind = self.now.bins[bin].kind;
            let (mut spots, mut left) = (Vec::<Spot>::new(), Vec::new());
            self.filler.fill(self.work, kind, way, &order, &mut spots, &mut left);
            bins.push(Filled { kind, spots });
            order = left;
        }
        let weight = order.iter().map(|&item| self.weights[item]).sum();
        Refilled { bins, left: order, weight }
    }

    /// The pool sorted by a measure chosen by chance, blurred by chance.
    #[allow(clippy::cast_precision_loss)] // a sort key
    fn shuffled(&mut self, pool: &[usize]) -> Vec<usize> {
        let measure = self.chance.below(5);
        let blur = [0.1, 0.3, 0.6, 1.0][self.chance.below(4)];
        let keyed = pool.iter().map(|&index| {
            let item = &self.work.items[index];
            let (width, height) = (item.width as f64, item.height as f64);
            let size = match measure {
                0 => width * height,
                1 => height,
                2 => width,
                3 => width + height,
                _ => width.max(height),
            };
            (size * (1.0 - blur * self.chance.unit()), index)
        });
        let mut keyed: Vec<(f64, usize)> = keyed.collect();
        keyed.sort_by(|a, b| b.0.total_cmp(&a.0));
        keyed.into_iter().map(|(_, index)| index).collect()
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
