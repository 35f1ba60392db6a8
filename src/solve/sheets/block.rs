//! Items joined to blocks that waste little, then laid as one.

use super::chance::Chance;
use super::plan::Rect;
use super::work::{Spot, Work};

/// One item, or two blocks side by side or one above the other.
#[derive(Clone, Copy, Debug)]
pub(super) struct Block {
    pub(super) width: i64,
    pub(super) height: i64,
    pub(super) made: Made,
}

/// What a block is made of; numbers are places in the list of [`Blocks`].
#[derive(Clone, Copy, Debug)]
pub(super) enum Made {
    /// A single item.
    Item(usize),
    /// The second to the right of the first.
    Beside(usize, usize),
    /// The second above the first.
    Above(usize, usize),
}

/// Every block made, and those that are in no other.
#[derive(Clone, Debug, Default)]
pub(super) struct Blocks {
    all: Vec<Block>,
    /// Places of the blocks to lay.
    pub(super) open: Vec<usize>,
}

impl Blocks {
    /// Every item on its own.
    pub(super) fn start(&mut self, work: &Work, pool: &[usize]) {
        self.all.clear();
        self.all.extend(pool.iter().map(|&index| {
            let item = &work.items[index];
            Block { width: item.width, height: item.height, made: Made::Item(index) }
        }));
        self.open.clear();
        self.open.extend(0..pool.len());
    }

    /// The block at a place.
    pub(super) fn get(&self, place: usize) -> &Block {
        &self.all[place]
    }

    /// Joins blocks by chance with the neighbours that suit them best, up to
    /// `limit` in size, wasting at most `waste` of each new block.
    pub(super) fn join(
        &mut self,
        work: &Work,
        chance: &mut Chance,
        times: usize,
        limit: (i64, i64),
        waste: f64,
    ) {
        for _ in 0..times {
            if self.open.len() < 2 {
                return;
            }
            let one = chance.below(self.open.len());
            self.turn(work, chance, self.open[one]);
            if let Some((other, block)) = self.partner(one, limit, waste) {
                self.all.push(block);
                let (first, second) = (one.min(other), one.max(other));
                self.open.swap_remove(second);
                self.open[first] = self.all.len() - 1;
            }
        }
    }

    /// Turns a single item that may turn, by chance.
    fn turn(&mut self, work: &Work, chance: &mut Chance, place: usize) {
        let block = &mut self.all[place];
        if let Made::Item(item) = block.made
            && work.items[item].may_turn
            && chance.below(2) == 0
        {
            (block.width, block.height) = (block.height, block.width);
        }
    }

    #[allow(clippy::cast_precision_loss)] // compared with a share
    fn partner(&self, one: usize, limit: (i64, i64), waste: f64) -> Option<(usize, Block)> {
        let place = self.open[one];
        let a = self.all[place];
        let mut best: Option<(f64, usize, Block)> = None;
        for (index, &other) in self.open.iter().enumerate().filter(|(index, _)| *index != one) {
            let b = self.all[other];
            for block in pair(place, &a, other, &b) {
                if block.width > limit.0 || block.height > limit.1 {
                    continue;
                }
                let whole = block.width as f64 * block.height as f64;
                let filled = (a.width * a.height) as f64 + (b.width * b.height) as f64;
                let lost = 1.0 - filled / whole;
                if lost <= waste && best.as_ref().is_none_or(|found| lost < found.0) {
                    best = Some((lost, index, block));
                }
            }
        }
        best.map(|(_, index, block)| (index, block))
    }

    /// The items of a block laid at a corner.
    pub(super) fn lay(
        &self,
        work: &Work,
        place: usize,
        rect: &Rect,
        turned: bool,
        spots: &mut Vec<Spot>,
    ) {
        let block = self.all[place];
        let at = |place: usize, x: i64, y: i64| {
            let block = &self.all[place];
            Rect::new(x, y, block.width, block.height)
        };
        match block.made {
            Made::Item(item) => {
                let (width, height) =
                    if turned { (block.height, block.width) } else { (block.width, block.height) };
                let turned = work.items[item].laid(false) != (width, height);
                spots.push(Spot { item, rect: Rect::new(rect.x, rect.y, width, height), turned });
            }
            Made::Beside(one, other) => {
                self.lay(work, one, &at(one, rect.x, rect.y), false, spots);
                let x = rect.x + self.all[one].width;
                self.lay(work, other, &at(other, x, rect.y), false, spots);
            }
            Made::Above(one, other) => {
                self.lay(work, one, &at(one, rect.x, rect.y), false, spots);
                let y = rect.y + self.all[one].height;
                self.lay(work, other, &at(other, rect.x, y), false, spots);
            }
        }
    }

    /// The items of a block.
    pub(super) fn items(&self, place: usize, items: &mut Vec<usize>) {
        match self.all[place].made {
            Made::Item(item) => items.push(item),
            Made::Beside(one, other) | Made::Above(one, other) => {
                self.items(one, items);
                self.items(other, items);
            }
        }
    }
}

fn pair(place: usize, a: &Block, other: usize, b: &Block) -> [Block; 2] {
    let beside = Block {
        width: a.width + b.width,
        height: a.height.max(b.height),
        made: Made::Beside(place, other),
    };
    let above = Block {
        width: a.width.max(b.width),
        height: a.height + b.height,
        made: Made::Above(place, other),
    };
    [beside, above]
}
