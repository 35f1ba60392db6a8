//! Dual feasible functions: lengths rescaled so that whatever fits in a row
//! before still fits after.
//!
//! Each is superadditive and never falling, so that a shorter row of length
//! `w` has room for no more than the value at `w`. Sources: S. P. Fekete,
//! J. Schepers (2001), "New classes of fast lower bounds for bin packing
//! problems"; J. Carlier, F. Clautiaux, A. Moukrim (2007), "New reduction
//! procedures and lower bounds for the two-dimensional bin packing problem
//! with fixed orientation"; the collection of F. Clautiaux, C. Alves,
//! J. Valerio de Carvalho (2010), "A survey of dual-feasible and superadditive
//! functions". From memory; each is tested by trying every pair of lengths.

/// One rescaling of lengths from 0 to `full`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Scale {
    /// As it is.
    Plain,
    /// Shorter than the threshold counts nothing, its complement everything.
    Drop(i64),
    /// Rounded down to whole shares of `1 / k`, exact shares of `1 / (k + 1)` kept.
    Steps(i64),
    /// Whole multiples of `k`, counted twice, rounded up past the half.
    Twice(i64),
    /// [`Scale::Steps`] after [`Scale::Drop`].
    DropSteps(i64, i64),
}

impl Scale {
    /// The value at `x`, which lies from 0 to `full`.
    pub(super) fn at(self, x: i64, full: i64) -> i128 {
        match self {
            Self::Plain => i128::from(x),
            Self::Drop(least) => i128::from(dropped(x, full, least)),
            Self::Steps(k) => stepped(x, full, k),
            Self::Twice(k) => twice(x, full, k),
            Self::DropSteps(least, k) => stepped(dropped(x, full, least), full, k),
        }
    }
}

fn dropped(x: i64, full: i64, least: i64) -> i64 {
    match x {
        _ if x > full - least => full,
        _ if x < least => 0,
        _ => x,
    }
}

fn stepped(x: i64, full: i64, k: i64) -> i128 {
    let (x, full, k) = (i128::from(x), i128::from(full), i128::from(k));
    let shares = (k + 1) * x;
    if shares % full == 0 { x * k } else { shares / full * full }
}

fn twice(x: i64, full: i64, k: i64) -> i128 {
    let (x, full, k) = (i128::from(x), i128::from(full), i128::from(k));
    match (2 * x).cmp(&full) {
        std::cmp::Ordering::Less => 2 * (x / k),
        std::cmp::Ordering::Equal => full / k,
        std::cmp::Ordering::Greater => 2 * (full / k) - 2 * ((full - x) / k),
    }
}

/// The rescalings worth trying for these lengths, `most` of them at most.
pub(super) fn candidates(lengths: &[i64], full: i64, most: usize) -> Vec<Scale> {
    let halves = thresholds(lengths, full);
    let mut scales = vec![Scale::Plain];
    scales.extend((1..=12).map(Scale::Steps));
    let spread = halves.len().div_ceil(most / 4 + 1).max(1);
    for &least in halves.iter().step_by(spread) {
        scales.push(Scale::Drop(least));
        scales.push(Scale::Twice(least));
    }
    for &least in halves.iter().step_by(halves.len().div_ceil(most / 8 + 1).max(1)) {
        scales.push(Scale::DropSteps(least, 1));
        scales.push(Scale::DropSteps(least, 2));
    }
    let shares = (2..=12).map(|part| full / part + 1);
    scales.extend(shares.filter(|&k| k > 0 && k <= full / 2).map(Scale::Twice));
    scales.truncate(most);
    scales
}

/// Lengths up to the half, and complements of those above it.
fn thresholds(lengths: &[i64], full: i64) -> Vec<i64> {
    let mut found: Vec<i64> = lengths
        .iter()
        .map(|&length| if 2 * length <= full { length } else { full - length + 1 })
        .filter(|&least| least > 0 && 2 * least <= full)
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_scale_is_superadditive_and_never_falls() {
        for full in [1_i64, 2, 3, 7, 10, 12, 25, 40] {
            let lengths: Vec<i64> = (1..=full).collect();
            for scale in candidates(&lengths, full, 120) {
                for x in 0..=full {
                    assert!(x == 0 || scale.at(x, full) >= scale.at(x - 1, full), "{scale:?} {x}");
                    for y in 0..=full - x {
                        let apart = scale.at(x, full) + scale.at(y, full);
                        assert!(apart <= scale.at(x + y, full), "{scale:?} of {full}: {x} {y}");
                    }
                }
            }
        }
    }
}
