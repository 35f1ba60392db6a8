//! Whether a few items fit one sheet with edge-to-edge cuts, exactly.
//!
//! For a set of items, the sizes of the smallest rectangles out of which cuts
//! from edge to edge can free them all: those of every two parts of the set,
//! side by side or one above the other.

use std::collections::HashMap;
use std::rc::Rc;

use super::plan::Rect;
use super::work::{Spot, Work};

/// The most items of a set; the sizes of larger sets are not worked out.
pub(super) const MOST_ITEMS: u32 = 9;

/// Sizes of smallest rectangles, none of which holds another.
type Sizes = Rc<[(i64, i64)]>;

/// Smallest rectangles of sets of items, each worked out once. A set is a
/// number with a bit for every item.
pub(super) struct Hulls<'a> {
    work: &'a Work,
    /// No rectangle may be larger than this.
    limit: (i64, i64),
    known: HashMap<u128, Sizes>,
    /// Pairs joined since the last count.
    joins: u64,
}

impl<'a> Hulls<'a> {
    pub(super) fn new(work: &'a Work, limit: (i64, i64)) -> Self {
        Self { work, limit, known: HashMap::new(), joins: 0 }
    }

    /// Work done since the last call.
    pub(super) fn take_effort(&mut self) -> u64 {
        std::mem::take(&mut self.joins) / 4
    }

    /// Whether the set can be cut from a sheet of this size.
    pub(super) fn fits(&mut self, set: u128, size: (i64, i64)) -> bool {
        self.of(set).iter().any(|hull| hull.0 <= size.0 && hull.1 <= size.1)
    }

    /// A placement of the set on a sheet of this size.
    pub(super) fn place(&mut self, set: u128, size: (i64, i64)) -> Option<Vec<Spot>> {
        let hulls = self.of(set);
        let hull = hulls.iter().find(|hull| hull.0 <= size.0 && hull.1 <= size.1)?;
        let mut spots = Vec::new();
        self.build(set, *hull, (0, 0), &mut spots).then_some(spots)
    }

    fn of(&mut self, set: u128) -> Sizes {
        if let Some(known) = self.known.get(&set) {
            return Rc::clone(known);
        }
        let mut sizes = Vec::new();
        if set.count_ones() == 1 {
            self.single(set, &mut sizes);
        } else {
            for part in halves(set) {
                let (one, other) = (self.of(part), self.of(set & !part));
                self.joins += 2 + (one.len() * other.len()) as u64;
                self.join(&one, &other, &mut sizes);
            }
        }
        let sizes: Sizes = smallest(sizes).into();
        self.known.insert(set, Rc::clone(&sizes));
        sizes
    }

    fn single(&self, set: u128, sizes: &mut Vec<(i64, i64)>) {
        let item = &self.work.items[set.trailing_zeros() as usize];
        let turned = [false, true].into_iter().filter(|&turned| !turned || item.may_turn);
        sizes.extend(turned.map(|turned| item.laid(turned)).filter(|size| self.allowed(*size)));
    }

    fn allowed(&self, size: (i64, i64)) -> bool {
        size.0 <= self.limit.0 && size.1 <= self.limit.1
    }

    fn join(&self, one: &Sizes, other: &Sizes, sizes: &mut Vec<(i64, i64)>) {
        for a in one.iter() {
            for b in other.iter() {
                sizes.extend(joined(*a, *b).into_iter().filter(|size| self.allowed(*size)));
            }
        }
        if sizes.len() > 256 {
            *sizes = smallest(std::mem::take(sizes));
        }
    }

    /// Lays the set in a rectangle of one of its smallest sizes.
    fn build(
        &mut self,
        set: u128,
        hull: (i64, i64),
        at: (i64, i64),
        spots: &mut Vec<Spot>,
    ) -> bool {
        if set.count_ones() == 1 {
            let item = set.trailing_zeros() as usize;
            let turned = self.work.items[item].laid(false) != hull;
            spots.push(Spot { item, rect: Rect::new(at.0, at.1, hull.0, hull.1), turned });
            return true;
        }
        for part in halves(set) {
            let (one, other) = (self.of(part), self.of(set & !part));
            for a in one.iter() {
                for b in other.iter() {
                    let [side, stack] = joined(*a, *b);
                    let next = match hull {
                        _ if hull == side => (at.0 + a.0, at.1),
                        _ if hull == stack => (at.0, at.1 + a.1),
                        _ => continue,
                    };
                    return self.build(part, *a, at, spots)
                        && self.build(set & !part, *b, next, spots);
                }
            }
        }
        false
    }
}

/// Two rectangles side by side, and one above the other.
fn joined(a: (i64, i64), b: (i64, i64)) -> [(i64, i64); 2] {
    [(a.0 + b.0, a.1.max(b.1)), (a.0.max(b.0), a.1 + b.1)]
}

/// Every part of the set that has its lowest item, the whole set left out.
fn halves(set: u128) -> impl Iterator<Item = u128> {
    let lowest = set & set.wrapping_neg();
    let rest = set & !lowest;
    let mut part = rest;
    std::iter::from_fn(move || {
        if part == 0 {
            return None;
        }
        part = (part - 1) & rest;
        Some(lowest | part)
    })
}

/// The sizes that hold no other.
fn smallest(mut sizes: Vec<(i64, i64)>) -> Vec<(i64, i64)> {
    sizes.sort_unstable();
    let mut lowest = i64::MAX;
    sizes.retain(|size| {
        let keep = size.1 < lowest;
        lowest = lowest.min(size.1);
        keep
    });
    sizes
}
