//! Whether a few items fit one sheet, free placement, by branch and bound.
//!
//! Any placement can be pushed left and down until every item rests on others
//! or on the edges. The search keeps the outline of what is filled from the
//! left. In the deepest niche of that outline such a placement has either an
//! item in the lower corner, or nothing at all up to the nearer of the two
//! walls; both are tried.

use super::plan::Rect;
use super::work::{Spot, Work};

/// What a search says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Fit {
    /// A placement.
    Yes(Vec<Spot>),
    /// There is none.
    No,
    /// The search was cut short.
    Unknown,
}

/// A stretch of the outline: from `low` to `high` everything left of `x` is
/// filled or given up.
#[derive(Clone, Copy, Debug)]
struct Step {
    low: i64,
    high: i64,
    x: i64,
}

struct Search<'a> {
    work: &'a Work,
    width: i64,
    spots: Vec<Spot>,
    left: Vec<usize>,
    /// Area that may still be given up.
    spare: i64,
    nodes: u64,
}

/// Looks for a placement of `items` on a sheet of the given size in at most
/// `nodes` nodes; takes what it used from `nodes`.
pub(super) fn one_sheet(
    work: &Work,
    items: &[usize],
    (width, height): (i64, i64),
    nodes: &mut u64,
) -> Fit {
    let mut left = items.to_vec();
    left.sort_by_key(|&item| std::cmp::Reverse(area(work, item)));
    let used: i128 = items.iter().map(|&item| i128::from(area(work, item))).sum();
    let Ok(spare) = i64::try_from(i128::from(width) * i128::from(height) - used) else {
        return Fit::No;
    };
    if spare < 0 {
        return Fit::No;
    }
    let mut search = Search { work, width, spots: Vec::new(), left, spare, nodes: *nodes };
    let found = search.go(&[Step { low: 0, high: height, x: 0 }]);
    *nodes = search.nodes;
    match found {
        Some(true) => Fit::Yes(search.spots),
        Some(false) => Fit::No,
        None => Fit::Unknown,
    }
}

fn area(work: &Work, item: usize) -> i64 {
    work.items[item].width * work.items[item].height
}

impl Search<'_> {
    /// `None` when the nodes run out.
    fn go(&mut self, outline: &[Step]) -> Option<bool> {
        if self.left.is_empty() {
            return Some(true);
        }
        self.nodes = self.nodes.checked_sub(1)?;
        let Some(deepest) = (0..outline.len()).min_by_key(|&step| outline[step].x) else {
            return Some(false);
        };
        let niche = outline[deepest];
        for index in 0..self.left.len() {
            if self.seen_before(index) {
                continue;
            }
            if self.try_item(outline, deepest, niche, index)? {
                return Some(true);
            }
        }
        self.give_up(outline, deepest)
    }

    /// Whether an item of the same size stood earlier in the list.
    fn seen_before(&self, index: usize) -> bool {
        let size = |item: usize| {
            let item = &self.work.items[item];
            (item.width, item.height, item.may_turn)
        };
        index > 0 && size(self.left[index - 1]) == size(self.left[index])
    }

    fn try_item(
        &mut self,
        outline: &[Step],
        deepest: usize,
        niche: Step,
        index: usize,
    ) -> Option<bool> {
        let item = self.left[index];
        let Self { work, width, .. } = *self;
        for turned in [false, true] {
            let (w, h) = work.items[item].laid(turned);
            if (turned && !work.items[item].may_turn)
                || h > niche.high - niche.low
                || w > width - niche.x
            {
                continue;
            }
            self.left.remove(index);
            self.spots.push(Spot { item, rect: Rect::new(niche.x, niche.low, w, h), turned });
            if self.go(&raised(outline, deepest, niche.low + h, niche.x + w))? {
                return Some(true);
            }
            self.spots.pop();
            self.left.insert(index, item);
        }
        Some(false)
    }

    /// Leaves the niche empty up to the nearer wall.
    fn give_up(&mut self, outline: &[Step], deepest: usize) -> Option<bool> {
        let niche = outline[deepest];
        let below = deepest.checked_sub(1).map_or(self.width, |step| outline[step].x);
        let above = outline.get(deepest + 1).map_or(self.width, |step| step.x);
        let wall = below.min(above);
        let lost = (niche.high - niche.low) * (wall - niche.x);
        if wall >= self.width && outline.len() == 1 || lost > self.spare {
            return Some(false);
        }
        self.spare -= lost;
        let found = self.go(&raised(outline, deepest, niche.high, wall))?;
        self.spare += lost;
        Some(found)
    }
}

/// The outline with the lower part of one step, up to `to`, moved to `x`.
fn raised(outline: &[Step], step: usize, to: i64, x: i64) -> Vec<Step> {
    let old = outline[step];
    let mut new = Vec::with_capacity(outline.len() + 1);
    new.extend_from_slice(&outline[..step]);
    join(&mut new, Step { low: old.low, high: to, x });
    if to < old.high {
        join(&mut new, Step { low: to, ..old });
    }
    for next in &outline[step + 1..] {
        join(&mut new, *next);
    }
    new
}

fn join(outline: &mut Vec<Step>, next: Step) {
    match outline.last_mut() {
        Some(last) if last.x == next.x => last.high = next.high,
        _ => outline.push(next),
    }
}
