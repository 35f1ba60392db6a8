//! Plans at once: strips filled one after the other.

use super::normal::{Counts, Cut, Instance, Item};

/// Tries of the search for the fullest strip, each time.
const TRIES: u32 = 400;

/// How a strip is filled.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Fill {
    /// The longest piece that fits, again and again (first fit decreasing).
    Longest,
    /// The longest piece, and with it what fills the strip best (best fit,
    /// looking at sets of pieces instead of one piece at a time).
    Fullest,
}

/// Which strip is taken next.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Pick {
    /// The one cheapest for the length used, of all.
    Cheapest,
    /// The one cheapest for the length used, of those that hold the longest
    /// piece left.
    CheapestForLongest,
    /// The longest.
    LongestBar,
}

/// All ways to fill and pick.
pub(super) const WAYS: [(Fill, Pick); 6] = [
    (Fill::Longest, Pick::Cheapest),
    (Fill::Fullest, Pick::Cheapest),
    (Fill::Longest, Pick::CheapestForLongest),
    (Fill::Fullest, Pick::CheapestForLongest),
    (Fill::Longest, Pick::LongestBar),
    (Fill::Fullest, Pick::LongestBar),
];

/// A plan for `wanted` from `supply`, strip by strip; `None` when the supply
/// runs out.
pub(super) fn plan(
    instance: &Instance,
    wanted: &[u32],
    supply: &[u32],
    fill: Fill,
    pick: Pick,
) -> Option<Vec<Cut>> {
    let (mut wanted, mut supply) = (wanted.to_vec(), supply.to_vec());
    let mut cuts = Vec::new();
    while let Some(first) = wanted.iter().position(|&count| count > 0) {
        let (bar, counts) = next_strip(instance, &wanted, &supply, first, fill, pick)?;
        let mut times = supply[bar];
        for &(item, count) in &counts {
            times = times.min(wanted[item as usize] / count);
        }
        for &(item, count) in &counts {
            wanted[item as usize] -= count * times;
        }
        supply[bar] -= times;
        cuts.push(Cut { bar, counts, times });
    }
    Some(cuts)
}

fn next_strip(
    instance: &Instance,
    wanted: &[u32],
    supply: &[u32],
    first: usize,
    fill: Fill,
    pick: Pick,
) -> Option<(usize, Counts)> {
    let longest = instance.items[first].length;
    let mut best: Option<(usize, Counts, i128)> = None;
    for (at, bar) in instance.bars.iter().enumerate() {
        let holds = bar.length >= longest;
        if supply[at] == 0 || (!holds && pick != Pick::Cheapest) {
            continue;
        }
        let counts = filled(instance, wanted, bar.length, fill);
        let used = length(instance, &counts);
        if used == 0 {
            continue;
        }
        let better = best.as_ref().is_none_or(|(other, _, most)| {
            let (here, there) = (i128::from(bar.cost), i128::from(instance.bars[*other].cost));
            here * most < there * used || (here * most == there * used && used > *most)
        });
        if better {
            best = Some((at, counts, used));
        }
        if pick == Pick::LongestBar {
            break;
        }
    }
    best.map(|(bar, counts, _)| (bar, counts))
}

fn length(instance: &Instance, counts: &Counts) -> i128 {
    counts
        .iter()
        .map(|&(item, count)| i128::from(instance.items[item as usize].length) * i128::from(count))
        .sum()
}

fn filled(instance: &Instance, wanted: &[u32], room: i64, fill: Fill) -> Counts {
    match fill {
        Fill::Longest => longest_first(instance, wanted, room),
        Fill::Fullest => Fullest::search(instance, wanted, room),
    }
}

fn longest_first(instance: &Instance, wanted: &[u32], mut room: i64) -> Counts {
    let mut counts = Counts::new();
    for (item, &left) in wanted.iter().enumerate() {
        let length = instance.items[item].length;
        let count = i64::from(left).min(room / length);
        if count > 0 {
            room -= count * length;
            counts.push((item as u32, count as u32));
        }
    }
    counts
}

/// The search for the fullest strip that holds the longest piece that fits.
struct Fullest<'a> {
    instance: &'a Instance,
    wanted: &'a [u32],
    now: Counts,
    best: Counts,
    least_left: i64,
    tries: u32,
}

impl Fullest<'_> {
    fn search(instance: &Instance, wanted: &[u32], room: i64) -> Counts {
        let lead = (0..wanted.len()).find(|&i| wanted[i] > 0 && instance.items[i].length <= room);
        let Some(lead) = lead else { return Counts::new() };
        let mut search = Fullest {
            instance,
            wanted,
            now: Counts::new(),
            best: Counts::new(),
            least_left: i64::MAX,
            tries: TRIES,
        };
        let length = instance.items[lead].length;
        for count in (1..=i64::from(wanted[lead]).min(room / length)).rev() {
            search.now.push((lead as u32, count as u32));
            search.extend(lead + 1, room - count * length);
            search.now.pop();
        }
        search.best
    }

    fn extend(&mut self, from: usize, room: i64) {
        if room < self.least_left {
            self.least_left = room;
            self.best.clone_from(&self.now);
        }
        let longer = |item: &Item| item.length > room;
        let first = from + self.instance.items[from..].partition_point(longer);
        for item in first..self.wanted.len() {
            if self.wanted[item] == 0 {
                // Looked at all the same: of thousands most may be gone.
                self.tries = self.tries.saturating_sub(u32::from(item % 16 == 0));
                continue;
            }
            let length = self.instance.items[item].length;
            let most = i64::from(self.wanted[item]).min(room / length);
            for count in (1..=most).rev() {
                if self.tries == 0 || self.least_left == 0 {
                    return;
                }
                self.tries -= 1;
                self.now.push((item as u32, count as u32));
                self.extend(item + 1, room - count * length);
                self.now.pop();
            }
        }
    }
}
