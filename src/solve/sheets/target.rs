//! Lists of sheets worth aiming for: cheaper than the best plan, and roomy
//! enough as far as the bound can tell.

use super::bound::Bank;
use super::work::Work;

/// The most lists looked at.
const MOST: usize = 4000;

/// Lists of sheets, as counts of each kind.
#[derive(Clone, Debug, Default)]
pub(super) struct Targets {
    /// Every list worth trying that costs less than the best, with its cost,
    /// the dearest first.
    pub(super) lists: Vec<(i64, Vec<usize>)>,
    /// All of them were looked at.
    pub(super) complete: bool,
}

impl Targets {
    /// Leaves out what a list known to be impossible covers.
    pub(super) fn without(&mut self, impossible: &[Vec<usize>]) {
        self.lists.retain(|(_, list)| !impossible.iter().any(|known| covers(known, list)));
    }

    /// Lists that no other list covers.
    pub(super) fn largest(&self) -> Vec<Vec<usize>> {
        let covered = |list: &Vec<usize>| {
            self.lists.iter().any(|(_, other)| other != list && covers(other, list))
        };
        self.lists.iter().map(|(_, list)| list).filter(|list| !covered(list)).cloned().collect()
    }

    /// Nothing costs less than this, when the best plan costs `cost`.
    pub(super) fn bound(&self, cost: i64) -> Option<i64> {
        let cheapest = self.lists.iter().map(|(cost, _)| *cost).min();
        self.complete.then(|| cheapest.unwrap_or(cost))
    }
}

/// Whether `list` has at least as many of every kind as `other`.
fn covers(list: &[usize], other: &[usize]) -> bool {
    list.iter().zip(other).all(|(one, other)| one >= other)
}

/// Looks through the lists of sheets that cost less than `cost`.
pub(super) fn targets(work: &Work, bank: &Bank, cost: i64) -> Targets {
    let mut walk = Walk { work, bank, cost, lists: Vec::new(), seen: 0 };
    let complete = walk.go(&mut vec![0; work.kinds.len()], 0, 0);
    let mut lists = walk.lists;
    lists.sort_by_key(|(cost, counts)| (std::cmp::Reverse(*cost), counts.iter().sum::<usize>()));
    Targets { lists, complete }
}

struct Walk<'a> {
    work: &'a Work,
    bank: &'a Bank,
    cost: i64,
    lists: Vec<(i64, Vec<usize>)>,
    seen: usize,
}

impl Walk<'_> {
    /// Tries every count of `kind` and of the kinds after it; false when there
    /// are too many lists to see them all.
    fn go(&mut self, counts: &mut Vec<usize>, kind: usize, spent: i64) -> bool {
        let Some(sort) = self.work.kinds.get(kind) else {
            self.seen += 1;
            if self.bank.allows(counts) {
                self.lists.push((spent, counts.clone()));
            }
            return self.seen < MOST;
        };
        let mut complete = true;
        for count in 0..=sort.supply {
            let now = spent.saturating_add(sort.cost.saturating_mul(count as i64));
            if now >= self.cost || (count > 0 && self.seen >= MOST) {
                complete &= now >= self.cost;
                break;
            }
            counts[kind] = count;
            complete &= self.go(counts, kind + 1, now);
        }
        counts[kind] = 0;
        complete
    }
}
