//! Fewer ways to cut at the same cost: what two, three or four ways give
//! together is given by one way less, where numbers and lengths allow it.

use super::normal::{Counts, Cut, Instance};
use super::search::Meter;

/// Steps this may take.
const STEPS: u64 = 3_000_000;
/// Steps that looking at one set of ways counts.
const EACH: u64 = 30;
/// Strips of the ways taken together, at most.
const MOST_STRIPS: u32 = 60;

/// The plan with as few ways as are found within `steps`, and within a number
/// that is enough for the largest plans.
pub(super) fn fewer(instance: &Instance, cuts: &[Cut], steps: u64, meter: &mut Meter) -> Vec<Cut> {
    let mut cuts = merged(cuts);
    meter.allowance = STEPS.min(steps);
    for size in 2..=4 {
        while let Some(better) = one_less(instance, &cuts, size, meter) {
            cuts = better;
        }
    }
    meter.allowance = u64::MAX;
    cuts
}

/// Ways alike counted together.
fn merged(cuts: &[Cut]) -> Vec<Cut> {
    let mut merged: Vec<Cut> = Vec::new();
    for cut in cuts {
        match merged.iter_mut().find(|one| one.bar == cut.bar && one.counts == cut.counts) {
            Some(one) => one.times += cut.times,
            None => merged.push(cut.clone()),
        }
    }
    merged
}

/// The first `size` ways of one kind of strip that `size - 1` can replace.
fn one_less(instance: &Instance, cuts: &[Cut], size: usize, meter: &mut Meter) -> Option<Vec<Cut>> {
    let mut chosen: Vec<usize> = (0..size).collect();
    if cuts.len() < size {
        return None;
    }
    loop {
        if !meter.spend(EACH) {
            return None;
        }
        let bar = cuts[chosen[0]].bar;
        if chosen.iter().all(|&at| cuts[at].bar == bar) {
            let old: Vec<&Cut> = chosen.iter().map(|&at| &cuts[at]).collect();
            if let Some(new) = replaced(instance, &old, meter) {
                let kept = cuts.iter().enumerate().filter(|(at, _)| !chosen.contains(at));
                return Some(kept.map(|(_, cut)| cut.clone()).chain(new).collect());
            }
        }
        if !next_choice(&mut chosen, cuts.len()) {
            return None;
        }
    }
}

/// The next set of places below `count`, in order.
fn next_choice(chosen: &mut [usize], count: usize) -> bool {
    let size = chosen.len();
    for at in (0..size).rev() {
        if chosen[at] < count - (size - at) {
            chosen[at] += 1;
            for later in at + 1..size {
                chosen[later] = chosen[later - 1] + 1;
            }
            return true;
        }
    }
    false
}

/// One way less that gives the same pieces from as many strips.
fn replaced(instance: &Instance, old: &[&Cut], meter: &mut Meter) -> Option<Vec<Cut>> {
    let strips: u32 = old.iter().map(|cut| cut.times).sum();
    if strips > MOST_STRIPS {
        return None;
    }
    let mut wanted: Vec<(u32, u32)> = Vec::new();
    for cut in old {
        for &(item, count) in &cut.counts {
            match wanted.iter_mut().find(|(other, _)| *other == item) {
                Some((_, sum)) => *sum += count * cut.times,
                None => wanted.push((item, count * cut.times)),
            }
        }
    }
    // The pieces that are fewest decide most.
    wanted
        .sort_by_key(|&(item, sum)| (std::cmp::Reverse(instance.items[item as usize].length), sum));
    let needs = needs(instance, &wanted);
    let bar = old[0].bar;
    let mut times = Vec::new();
    split(strips, old.len() - 1, strips, &mut times, &mut |times| {
        let mut fit = Fit {
            instance,
            wanted: &wanted,
            times,
            needs: &needs,
            rooms: vec![instance.bars[bar].length; times.len()],
            counts: vec![Counts::new(); times.len()],
        };
        fit.item(0, meter).then(|| {
            let ways = times.iter().zip(fit.counts);
            ways.map(|(&times, mut counts)| {
                counts.sort_unstable();
                Cut { bar, counts, times }
            })
            .filter(|cut| !cut.counts.is_empty())
            .collect()
        })
    })
}

/// What the items from each on take together.
fn needs(instance: &Instance, wanted: &[(u32, u32)]) -> Vec<i64> {
    let mut needs = vec![0; wanted.len() + 1];
    for (at, &(item, sum)) in wanted.iter().enumerate().rev() {
        needs[at] = needs[at + 1] + i64::from(sum) * instance.items[item as usize].length;
    }
    needs
}

/// Every way to split `strips` into `parts` numbers that do not rise.
fn split<T>(
    strips: u32,
    parts: usize,
    most: u32,
    times: &mut Vec<u32>,
    of: &mut dyn FnMut(&[u32]) -> Option<T>,
) -> Option<T> {
    if parts == 1 {
        if strips == 0 || strips > most {
            return None;
        }
        times.push(strips);
        let found = of(times);
        times.pop();
        return found;
    }
    for first in (1..=most.min(strips.saturating_sub(parts as u32 - 1))).rev() {
        times.push(first);
        let found = split(strips - first, parts - 1, first, times, of);
        times.pop();
        if found.is_some() {
            return found;
        }
    }
    None
}

/// The search for what each way holds.
struct Fit<'a> {
    instance: &'a Instance,
    wanted: &'a [(u32, u32)],
    times: &'a [u32],
    needs: &'a [i64],
    rooms: Vec<i64>,
    counts: Vec<Counts>,
}

impl Fit<'_> {
    fn item(&mut self, at: usize, meter: &mut Meter) -> bool {
        let room: i64 =
            self.rooms.iter().zip(self.times).map(|(room, times)| room * i64::from(*times)).sum();
        match self.wanted.get(at) {
            None => true,
            Some(&(_, sum)) => room >= self.needs[at] && self.way(at, 0, sum, meter),
        }
    }

    /// Gives the way `way` so many of the item, the ways after it the rest.
    fn way(&mut self, at: usize, way: usize, left: u32, meter: &mut Meter) -> bool {
        if !meter.spend(1) {
            return false;
        }
        let Some(&times) = self.times.get(way) else {
            return left == 0 && self.item(at + 1, meter);
        };
        let item = self.wanted[at].0;
        let length = self.instance.items[item as usize].length;
        let most = i64::from(left / times).min(self.rooms[way] / length);
        let last = way + 1 == self.times.len();
        for count in (0..=most).rev() {
            let rest = left - count as u32 * times;
            if last && rest > 0 {
                return false;
            }
            self.rooms[way] -= count * length;
            if count > 0 {
                self.counts[way].push((item, count as u32));
            }
            if self.way(at, way + 1, rest, meter) {
                return true;
            }
            self.rooms[way] += count * length;
            if count > 0 {
                self.counts[way].pop();
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::super::problem::Budget;
    use super::super::tests::problem;
    use super::*;

    /// Two of 60 and one of 40 in a strip, one of 60 and two of 40 in another:
    /// the same pieces come from two strips cut alike.
    #[test]
    fn two_ways_become_one() {
        let asked = problem(&[(200, 1, -1)], &[(60, 4), (40, 2)], 0);
        let instance = Instance::new(&asked).unwrap();
        let cut = |counts: &[(u32, u32)]| Cut { bar: 0, counts: counts.to_vec(), times: 1 };
        let cuts = [cut(&[(0, 3)]), cut(&[(0, 1), (1, 2)])];
        let mut meter = Meter::new(Budget::steps(1_000_000));
        let better = fewer(&instance, &cuts, u64::MAX, &mut meter);
        assert_eq!(better, vec![Cut { bar: 0, counts: vec![(0, 2), (1, 1)], times: 2 }]);
        assert_eq!(instance.cost(&better), instance.cost(&cuts));
    }
}
