//! Bounds in whole numbers.

use super::normal::{Bar, Instance, greatest_common};

/// Bits behind the point of a multiplier made whole.
const BITS: u32 = 30;

/// Most sums of prices that are listed one by one.
const MOST_SUMS: i64 = 1 << 22;

/// The factor that makes the multipliers of an instance whole: 2^30, or less
/// when costs are so high that sums would not fit.
pub(super) fn whole(instance: &Instance) -> i64 {
    let dearest = instance.bars.iter().map(|bar| bar.cost).max().unwrap_or(0);
    let used = bits(dearest) + bits(i64::from(instance.pieces()));
    1 << BITS.min(58u32.saturating_sub(used))
}

/// The largest whole multiplier: sums over the pieces of a strip, and over
/// some hundred rows, stay inside 64 bits. Smaller multipliers than those
/// wanted weaken a bound and never make it wrong.
pub(super) fn ceiling(instance: &Instance) -> i64 {
    1 << 53u32.saturating_sub(bits(i64::from(instance.pieces())))
}

fn bits(number: i64) -> u32 {
    i64::BITS - number.leading_zeros()
}

/// A bound from any multipliers `values >= 0` of the items, when no strip of
/// kind `b` can hold pieces worth more than `largest[b]`.
///
/// For every factor `f` with `f * largest[b] <= cost[b]` on unlimited stock,
/// weak duality gives `f * sum(values * demand)` less, for limited stock,
/// `supply[b] * max(0, f * largest[b] - cost[b])`. The best `f` is one of
/// `cost[b] / largest[b]`. All in 128-bit integers; `None` when no factor
/// serves.
pub(super) fn dual_bound(instance: &Instance, values: &[i64], largest: &[i64]) -> Option<i64> {
    let bars = &instance.bars;
    let total: i128 = (instance.items.iter().zip(values))
        .map(|(item, &value)| i128::from(item.demand) * i128::from(value))
        .sum();
    let factors = bars.iter().zip(largest).filter(|(_, most)| **most > 0);
    let mut best = None;
    for (bar, &most) in factors {
        let (over, under) = (i128::from(bar.cost), i128::from(most));
        if let Some(gain) = gain_at(bars, largest, total, over, under) {
            let bound = -(-gain).div_euclid(under);
            best = best.max(i64::try_from(bound).ok());
        }
    }
    best.map(|bound| bound.max(0))
}

/// The dual value at the factor `over / under`, times `under`.
fn gain_at(bars: &[Bar], largest: &[i64], total: i128, over: i128, under: i128) -> Option<i128> {
    let mut gain = over.checked_mul(total)?;
    for (bar, &most) in bars.iter().zip(largest) {
        let excess = over * i128::from(most) - i128::from(bar.cost) * under;
        if excess > 0 {
            if !bar.limited {
                return None;
            }
            gain = gain.checked_sub(excess.checked_mul(i128::from(bar.supply))?)?;
        }
    }
    Some(gain)
}

/// The bound from lengths alone: material wanted against material bought.
pub(super) fn material_bound(instance: &Instance) -> Option<i64> {
    let lengths: Vec<i64> = instance.items.iter().map(|item| item.length).collect();
    let largest: Vec<i64> = instance.bars.iter().map(|bar| bar.length).collect();
    dual_bound(instance, &lengths, &largest)
}

/// Whether all the stock there is is shorter than all the parts.
pub(super) fn too_little_material(instance: &Instance) -> bool {
    let wanted: i128 =
        instance.items.iter().map(|i| i128::from(i.length) * i128::from(i.demand)).sum();
    let there: i128 =
        instance.bars.iter().map(|b| i128::from(b.length) * i128::from(b.supply)).sum();
    wanted > there
}

/// The sums that the prices of strips can reach.
#[derive(Default)]
pub(super) struct Reachable {
    step: i64,
    /// `sums[k]`: the least sum of prices that is at least `k * step`, over
    /// `step`; empty when there are too many to list.
    sums: Vec<u32>,
}

impl Reachable {
    /// All sums up to `most`.
    pub(super) fn new(bars: &[Bar], most: i64) -> Self {
        let step = bars.iter().fold(0, |common, bar| greatest_common(common, bar.cost));
        if step == 0 || most / step >= MOST_SUMS {
            return Self { step, sums: Vec::new() };
        }
        let top = usize::try_from(most / step).unwrap_or(0);
        let mut reached = vec![false; top + 1];
        reached[0] = true;
        for bar in bars.iter().filter(|bar| bar.cost > 0) {
            let price = usize::try_from(bar.cost / step).unwrap_or(usize::MAX);
            add_price(&mut reached, price, bar.limited.then_some(bar.supply));
        }
        Self { step, sums: next_reached(&reached) }
    }

    /// The least sum of prices that is at least `bound`; `bound` itself where
    /// nothing better is known.
    pub(super) fn round_up(&self, bound: i64) -> i64 {
        if self.step == 0 || bound <= 0 {
            return bound;
        }
        let steps = bound / self.step + i64::from(bound % self.step > 0);
        let listed = usize::try_from(steps).ok().and_then(|at| self.sums.get(at));
        let steps = listed.map_or(steps, |&sum| i64::from(sum));
        steps.saturating_mul(self.step)
    }
}

/// Marks the sums that up to `supply` strips of one price add.
fn add_price(reached: &mut [bool], price: usize, supply: Option<u32>) {
    // Strips of this price used to reach a sum; the fewest are kept.
    let mut used = vec![0u32; reached.len()];
    for sum in price..reached.len() {
        let before = sum - price;
        if !reached[sum] && reached[before] && supply.is_none_or(|most| used[before] < most) {
            reached[sum] = true;
            used[sum] = used[before] + 1;
        }
    }
}

fn next_reached(reached: &[bool]) -> Vec<u32> {
    let mut next = u32::try_from(reached.len()).unwrap_or(u32::MAX);
    let mut sums = vec![0; reached.len()];
    for at in (0..reached.len()).rev() {
        if reached[at] {
            next = u32::try_from(at).unwrap_or(u32::MAX);
        }
        sums[at] = next;
    }
    sums
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar(length: i64, cost: i64, supply: u32, limited: bool) -> Bar {
        Bar { length, cost, supply, limited, origin: 0 }
    }

    #[test]
    fn sums_skip_what_prices_cannot_reach() {
        // 24 and 11: 45 is out of reach, 46 = 24 + 2 * 11.
        let reachable = Reachable::new(&[bar(1, 24, 9, false), bar(1, 11, 9, false)], 200);
        assert_eq!(reachable.round_up(45), 46);
        assert_eq!(reachable.round_up(46), 46);
        assert_eq!(reachable.round_up(0), 0);
    }

    #[test]
    fn sums_respect_the_supply() {
        let reachable = Reachable::new(&[bar(1, 10, 9, false), bar(1, 3, 2, true)], 100);
        assert_eq!(reachable.round_up(7), 10);
        assert_eq!(reachable.round_up(14), 16);
        assert_eq!(reachable.round_up(17), 20);
    }
}
