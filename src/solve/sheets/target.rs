//! Lists of sheets worth aiming for: cheaper than the best plan, and roomy
//! enough as far as the bound can tell.

use super::bound::Bank;
use super::work::Work;

/// The most lists looked at.
const MOST: usize = 4000;

/// Lists of sheets, as counts of each kind.
#[derive(Clone, Debug, Default)]
pub(super) struct Targets {
    /// Every list worth trying that costs less than the best, the dearest first.
    pub(super) lists: Vec<Vec<usize>>,
    /// No plan costs less than this.
    pub(super) bound: i64,
}

/// Looks through the lists of sheets that cost less than `cost`.
pub(super) fn targets(work: &Work, bank: &Bank, cost: i64) -> Targets {
    let least = bank.least_cost(work);
    let mut walk = Walk { work, bank, cost, lists: Vec::new(), seen: 0 };
    let complete = walk.go(&mut vec![0; work.kinds.len()], 0, 0);
    let mut lists = walk.lists;
    lists.sort_by_key(|(cost, counts)| (std::cmp::Reverse(*cost), counts.iter().sum::<usize>()));
    let cheapest = lists.last().map_or(cost, |(cost, _)| *cost);
    let bound = if complete { least.max(cheapest) } else { least };
    Targets { lists: lists.into_iter().map(|(_, counts)| counts).collect(), bound }
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
    /// are too many lists to see them all. Of lists that differ in the last
    /// kind only the smallest that will do and the largest are kept.
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
