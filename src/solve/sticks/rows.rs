//! Rows added to the covering program: cuts and branches.

use super::master::Strip;
use std::collections::{BTreeMap, BTreeSet};

/// Most cuts added at a time.
const MOST_CUTS: usize = 40;
/// Least violation worth a cut.
const VIOLATION: f64 = 0.02;

/// A row `sum(coefficient * x) >= rhs` over patterns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Row {
    /// Half the rows of some items added up and rounded up (a
    /// Chvatal-Gomory cut): a pattern with `k` pieces of them counts
    /// `ceil(k / 2)`.
    Half(Vec<u32>),
    /// Patterns with a piece of both items (two pieces, if the same item),
    /// times the sign.
    Pair(u32, u32, i64),
    /// Strips of a kind, times the sign.
    Kind(usize, i64),
    /// One pattern, times the sign.
    Only(Strip, i64),
}

impl Row {
    pub(super) fn coefficient(&self, strip: &Strip) -> i64 {
        match self {
            Self::Half(items) => {
                let pieces: u32 = items.iter().map(|&item| count_of(strip, item)).sum();
                i64::from(pieces.div_ceil(2))
            }
            Self::Pair(a, b, sign) => {
                let both = if a == b {
                    count_of(strip, *a) >= 2
                } else {
                    count_of(strip, *a) > 0 && count_of(strip, *b) > 0
                };
                sign * i64::from(both)
            }
            Self::Kind(bar, sign) => sign * i64::from(strip.0 == *bar),
            Self::Only(only, sign) => sign * i64::from(strip == only),
        }
    }
}

fn count_of(strip: &Strip, item: u32) -> u32 {
    strip.1.binary_search_by_key(&item, |entry| entry.0).map_or(0, |at| strip.1[at].1)
}

/// The fractional solution, seen from the items.
pub(super) struct Fraction<'a> {
    used: Vec<(&'a Strip, f64)>,
    /// By item: patterns with it.
    holders: Vec<Vec<u32>>,
}

impl<'a> Fraction<'a> {
    pub(super) fn new(items: usize, used: Vec<(&'a Strip, f64)>) -> Self {
        let mut holders = vec![Vec::new(); items];
        for (at, (strip, _)) in used.iter().enumerate() {
            for &(item, _) in &strip.1 {
                holders[item as usize].push(at as u32);
            }
        }
        Self { used, holders }
    }

    /// Sums of the solution over patterns with both of two items.
    pub(super) fn pairs(&self) -> BTreeMap<(u32, u32), f64> {
        let mut pairs = BTreeMap::new();
        for (strip, value) in &self.used {
            for (at, &(a, count)) in strip.1.iter().enumerate() {
                if count >= 2 {
                    *pairs.entry((a, a)).or_insert(0.0) += value;
                }
                for &(b, _) in &strip.1[at + 1..] {
                    *pairs.entry((a, b)).or_insert(0.0) += value;
                }
            }
        }
        pairs
    }

    /// Strips of a kind.
    pub(super) fn kind(&self, bar: usize) -> f64 {
        self.used.iter().filter(|(strip, _)| strip.0 == bar).map(|(_, value)| value).sum()
    }

    /// Left side of [`Row::Half`].
    fn half(&self, items: &[u32]) -> f64 {
        let mut touched: Vec<u32> =
            items.iter().flat_map(|&item| self.holders[item as usize].iter().copied()).collect();
        touched.sort_unstable();
        touched.dedup();
        (touched.iter())
            .map(|&at| {
                let (strip, value) = self.used[at as usize];
                let pieces: u32 = items.iter().map(|&item| count_of(strip, item)).sum();
                value * f64::from(pieces.div_ceil(2))
            })
            .sum()
    }

    fn neighbours(&self, item: u32) -> BTreeSet<u32> {
        let holders = self.holders[item as usize].iter();
        let mut all: BTreeSet<u32> = holders
            .flat_map(|&at| self.used[at as usize].0.1.iter().map(|entry| entry.0))
            .collect();
        all.remove(&item);
        all
    }

    /// The most violated half cuts on up to three items.
    pub(super) fn cuts(&self, demands: &[u32]) -> Vec<(Row, i64)> {
        let mut found: Vec<(f64, Vec<u32>)> = Vec::new();
        let mut seen = BTreeSet::new();
        let mut consider = |items: Vec<u32>| {
            let sum: u64 = items.iter().map(|&item| u64::from(demands[item as usize])).sum();
            if sum % 2 == 1 && seen.insert(items.clone()) {
                let violation = sum.div_ceil(2) as f64 - self.half(&items);
                if violation > VIOLATION {
                    found.push((violation, items));
                }
            }
        };
        for item in 0..self.holders.len() as u32 {
            consider(vec![item]);
            let neighbours: Vec<u32> = self.neighbours(item).into_iter().collect();
            for (at, &a) in neighbours.iter().enumerate() {
                consider(sorted(vec![item, a]));
                for &b in &neighbours[at + 1..] {
                    consider(sorted(vec![item, a, b]));
                }
            }
        }
        found.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        found.dedup();
        found.truncate(MOST_CUTS);
        found
            .into_iter()
            .map(|(_, items)| {
                let sum: u64 = items.iter().map(|&item| u64::from(demands[item as usize])).sum();
                (Row::Half(items), sum.div_ceil(2) as i64)
            })
            .collect()
    }
}

fn sorted(mut items: Vec<u32>) -> Vec<u32> {
    items.sort_unstable();
    items
}
