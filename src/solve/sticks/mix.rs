//! Which strips to buy for a given sum of money.

use super::normal::Instance;

/// Most mixes tried.
const MOST: usize = 200;
/// Most steps of the listing.
const STEPS: u32 = 100_000;

/// All ways to spend exactly `target`: strips by kind, as many of the free
/// ones as there are. The one with most material first. `None` when there is
/// one price only, or too many ways.
pub(super) fn mixes(instance: &Instance, target: i64) -> Option<Vec<Vec<u32>>> {
    let priced = instance.bars.iter().filter(|bar| bar.cost > 0).count();
    if priced < 2 {
        return None;
    }
    let wanted: i128 =
        instance.items.iter().map(|i| i128::from(i.length) * i128::from(i.demand)).sum();
    let mut list = List { instance, wanted, mixes: Vec::new(), steps: STEPS };
    let now = instance.bars.iter().map(|bar| if bar.cost > 0 { 0 } else { bar.supply }).collect();
    if !list.extend(0, target, now) {
        return None;
    }
    let mut mixes = list.mixes;
    mixes.sort_by_key(|mix| std::cmp::Reverse(material(instance, mix)));
    Some(mixes)
}

fn material(instance: &Instance, mix: &[u32]) -> i128 {
    instance.bars.iter().zip(mix).map(|(b, &n)| i128::from(b.length) * i128::from(n)).sum()
}

struct List<'a> {
    instance: &'a Instance,
    wanted: i128,
    mixes: Vec<Vec<u32>>,
    steps: u32,
}

impl List<'_> {
    /// False when there are too many.
    fn extend(&mut self, bar: usize, left: i64, now: Vec<u32>) -> bool {
        if self.steps == 0 || self.mixes.len() > MOST {
            return false;
        }
        self.steps -= 1;
        let Some(kind) = self.instance.bars.get(bar) else {
            if left == 0 && material(self.instance, &now) >= self.wanted {
                self.mixes.push(now);
            }
            return true;
        };
        if kind.cost == 0 {
            return self.extend(bar + 1, left, now);
        }
        let most = (left / kind.cost).min(i64::from(kind.supply));
        let last = self.instance.bars[bar + 1..].iter().all(|later| later.cost == 0);
        let least = if last { most } else { 0 };
        for count in (least..=most).rev() {
            let mut next = now.clone();
            next[bar] = count as u32;
            if !self.extend(bar + 1, left - count * kind.cost, next) {
                return false;
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::problem;
    use super::*;

    #[test]
    fn every_way_to_spend_is_listed() {
        let asked = problem(&[(30, 24, -1), (20, 11, -1), (9, 0, 2)], &[(9, 11)], 0);
        let instance = Instance::new(&asked).unwrap();
        // 57 = 24 + 3 * 11 and nothing else.
        assert_eq!(mixes(&instance, 57), Some(vec![vec![1, 3, 2]]));
        assert_eq!(mixes(&instance, 58), Some(vec![]));
    }

    #[test]
    fn one_price_needs_no_mix() {
        let asked = problem(&[(30, 24, -1)], &[(9, 12)], 0);
        assert_eq!(mixes(&Instance::new(&asked).unwrap(), 48), None);
    }
}
