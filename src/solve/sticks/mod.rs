//! One-dimensional cutting: the fewest, or cheapest, strips that give all
//! parts, with a proof where one is found.
//!
//! | file | what it does |
//! |---|---|
//! | `problem` | what is asked and answered |
//! | `normal` | kerf folded in, equal lengths merged |
//! | `greedy` | plans at once |
//! | `bound` | bounds in whole numbers |
//! | `lp`, `knapsack`, `master` | column generation: simplex, pricing, both together |
//! | `dive` | plans by rounding the relaxation |
//! | `mix` | which strips a sum of money can buy |
//! | `cover`, `rows` | all useful patterns listed, then cuts and branches |
//! | `exact` | the order in which all this is tried |
//! | `search` | best plan, bound, budget, progress |
//! | `fewer` | fewer ways to cut at the same cost |
//! | `check` | an independent check of a plan |

mod bound;
mod check;
mod cover;
mod dive;
mod exact;
mod fewer;
mod greedy;
mod knapsack;
mod lp;
mod master;
mod mix;
mod normal;
mod problem;
mod rows;
mod search;
#[cfg(test)]
mod tests;

pub use super::watch::Control;
pub use check::{Fault, check};
pub use problem::{
    Budget, LARGEST, Part, Pattern, Phase, Problem, ProblemError, Progress, Solution, Stock,
};

use normal::{Counts, Cut, Instance};
use search::Search;

/// Finds a plan of least cost, or the best that the budget allows.
///
/// `watch` hears of every better plan, every better bound and every change of
/// phase, and can stop the search. Without a stop the answer depends on the
/// problem and the number of steps only.
///
/// # Errors
/// Numbers out of range; parts that fit no stock; a supply that does not hold
/// the parts (or for which no plan was found).
pub fn solve(
    problem: &Problem,
    budget: &Budget,
    watch: &mut dyn FnMut(&Progress) -> Control,
) -> Result<Solution, ProblemError> {
    let instance = Instance::new(problem)?;
    if bound::too_little_material(&instance) {
        return Err(ProblemError::SupplyShort { proven: true });
    }
    let mut search = Search::new(problem, &instance, *budget, watch);
    quick_plans(&mut search);
    if let Some(bound) = bound::material_bound(&instance) {
        search.raise(bound);
    }
    if !search.done() && instance.items.len() <= exact::MOST_LENGTHS {
        exact::run(&mut search);
    }
    match &search.best {
        Some(cuts) => {
            let exact = exactly(&instance, cuts);
            let cuts = fewer::fewer(&instance, &exact, budget.steps, &mut Search::handiwork());
            Ok(search.solution(&cuts))
        }
        None => Err(ProblemError::SupplyShort { proven: search.proven() }),
    }
}

/// The plan without the pieces that are cut beyond what is wanted.
fn exactly(instance: &Instance, cuts: &[Cut]) -> Vec<Cut> {
    let mut left = instance.demands();
    let mut exact = Vec::new();
    for cut in cuts {
        let mut times = cut.times;
        while times > 0 {
            let useful = cut.counts.iter().map(|&(i, count)| (i, count.min(left[i as usize])));
            let counts: Counts = useful.filter(|&(_, count)| count > 0).collect();
            let whole = counts.iter().map(|&(i, count)| left[i as usize] / count).min();
            let Some(whole) = whole else { break };
            let now = whole.min(times);
            counts.iter().for_each(|&(i, count)| left[i as usize] -= count * now);
            exact.push(Cut { bar: cut.bar, counts, times: now });
            times -= now;
        }
    }
    exact
}

fn quick_plans(search: &mut Search) {
    let wanted = search.instance.demands();
    let supply: Vec<u32> = search.instance.bars.iter().map(|bar| bar.supply).collect();
    for (fill, pick) in greedy::WAYS {
        if let Some(cuts) = greedy::plan(search.instance, &wanted, &supply, fill, pick) {
            search.offer(&cuts);
        }
        if search.best.is_some() && search.meter.is_late() {
            return;
        }
    }
}
