//! Storeys left out: the ground storey and the top stay, heights come down by what
//! is taken from between.

use crate::elevation::built::Kept;
use crate::elevation::sized::Storey;

/// Every way to leave out one storey or more, fewest first.
pub(crate) fn ways(storeys: &[Storey]) -> Vec<Kept> {
    let mut ways = vec![Kept::new()];
    for storey in storeys.iter().filter(|storey| storey.at_least < storey.count) {
        ways = (storey.at_least..=storey.count)
            .rev()
            .flat_map(|count| {
                let name = storey.name.clone();
                ways.iter().map(move |known| {
                    let mut with = known.clone();
                    with.insert(name.clone(), count);
                    with
                })
            })
            .collect();
    }
    let out = |kept: &Kept| -> u32 {
        storeys.iter().map(|it| it.count - kept.get(&it.name).copied().unwrap_or(it.count)).sum()
    };
    ways.retain(|kept| out(kept) > 0);
    ways.sort_by_key(out);
    ways.truncate(MOST);
    ways
}

/// Ways looked at.
const MOST: usize = 6;
