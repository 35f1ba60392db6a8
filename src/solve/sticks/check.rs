//! An independent check of a plan against the problem as it was asked.
//!
//! Shares no code with the search: it knows only the numbers asked and the
//! plan answered.

use super::problem::{Problem, Solution};
use thiserror::Error;

/// What is wrong with a plan.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Fault {
    /// A pattern speaks of a stock or part that does not exist.
    #[error("strip {pattern} speaks of a stock or part that is not in the problem")]
    Unknown {
        /// Index of the pattern.
        pattern: usize,
    },
    /// A pattern holds no piece or is cut no time.
    #[error("strip {pattern} is empty")]
    Empty {
        /// Index of the pattern.
        pattern: usize,
    },
    /// Pieces and kerfs are longer than the strip.
    #[error("strip {pattern} needs {needed} of {length}")]
    TooLong {
        /// Index of the pattern.
        pattern: usize,
        /// Pieces and kerfs.
        needed: i128,
        /// Length of the strip.
        length: i64,
    },
    /// A part is not cut as often as wanted.
    #[error("part {part} is cut {cut} times, wanted {wanted}")]
    Quantity {
        /// Index of the part.
        part: usize,
        /// Times cut.
        cut: u128,
        /// Times wanted.
        wanted: u32,
    },
    /// More strips of a stock are used than there are.
    #[error("stock {stock} is used {used} times, there are {supply}")]
    Supply {
        /// Index of the stock.
        stock: usize,
        /// Strips used.
        used: u128,
        /// Strips there are.
        supply: u32,
    },
    /// The cost given is not the cost of the plan.
    #[error("the plan costs {actual}, said to cost {said}")]
    Cost {
        /// Cost recomputed.
        actual: i128,
        /// Cost said.
        said: i64,
    },
    /// The bound is above the cost, or "proven" does not agree with them.
    #[error("bound {bound}, cost {cost} and the word 'proven' do not agree")]
    Claim {
        /// Bound said.
        bound: i64,
        /// Cost said.
        cost: i64,
    },
}

/// Recomputes a plan: lengths, kerf, quantities, supply, cost, claims.
///
/// # Errors
/// The first fault found.
pub fn check(problem: &Problem, solution: &Solution) -> Result<(), Fault> {
    lengths(problem, solution)?;
    quantities(problem, solution)?;
    let cost = supply_and_cost(problem, solution)?;
    if cost != i128::from(solution.cost) {
        return Err(Fault::Cost { actual: cost, said: solution.cost });
    }
    let (bound, cost) = (solution.bound, solution.cost);
    if bound > cost || solution.proven != (bound == cost) {
        return Err(Fault::Claim { bound, cost });
    }
    Ok(())
}

fn lengths(problem: &Problem, solution: &Solution) -> Result<(), Fault> {
    for (pattern, strip) in solution.plan.iter().enumerate() {
        let stock = problem.stock.get(strip.stock).ok_or(Fault::Unknown { pattern })?;
        if strip.pieces.is_empty() || strip.times == 0 {
            return Err(Fault::Empty { pattern });
        }
        let mut needed = -i128::from(problem.kerf);
        for &piece in &strip.pieces {
            let part = problem.parts.get(piece).ok_or(Fault::Unknown { pattern })?;
            needed += i128::from(part.length) + i128::from(problem.kerf);
        }
        if needed > i128::from(stock.length) {
            return Err(Fault::TooLong { pattern, needed, length: stock.length });
        }
    }
    Ok(())
}

fn quantities(problem: &Problem, solution: &Solution) -> Result<(), Fault> {
    let mut cut = vec![0u128; problem.parts.len()];
    for strip in &solution.plan {
        for &piece in &strip.pieces {
            cut[piece] += u128::from(strip.times);
        }
    }
    for (part, (wanted, &cut)) in problem.parts.iter().zip(&cut).enumerate() {
        if cut != u128::from(wanted.quantity) {
            return Err(Fault::Quantity { part, cut, wanted: wanted.quantity });
        }
    }
    Ok(())
}

fn supply_and_cost(problem: &Problem, solution: &Solution) -> Result<i128, Fault> {
    let mut used = vec![0u128; problem.stock.len()];
    let mut cost = 0;
    for strip in &solution.plan {
        used[strip.stock] += u128::from(strip.times);
        cost += i128::from(problem.stock[strip.stock].cost) * i128::from(strip.times);
    }
    for (stock, (kind, &used)) in problem.stock.iter().zip(&used).enumerate() {
        if let Some(supply) = kind.supply
            && used > u128::from(supply)
        {
            return Err(Fault::Supply { stock, used, supply });
        }
    }
    Ok(cost)
}

#[cfg(test)]
mod tests {
    use super::super::problem::{Part, Pattern, Stock};
    use super::*;

    /// Ten long, kerf 1: 4 + 1 + 5 just fits.
    fn sound() -> (Problem, Solution) {
        let problem = Problem {
            stock: vec![Stock { length: 10, cost: 3, supply: Some(2) }],
            parts: vec![Part { length: 4, quantity: 2 }, Part { length: 5, quantity: 2 }],
            kerf: 1,
        };
        let plan = vec![Pattern { stock: 0, pieces: vec![1, 0], times: 2 }];
        (problem, Solution { plan, cost: 6, bound: 6, proven: true })
    }

    #[test]
    fn a_sound_plan_passes() {
        let (problem, solution) = sound();
        assert_eq!(check(&problem, &solution), Ok(()));
    }

    #[test]
    fn each_fault_is_named() {
        type Spoil = fn(&mut Problem, &mut Solution);
        let spoils: [(Spoil, Fault); 8] = [
            (|_, s| s.plan[0].stock = 1, Fault::Unknown { pattern: 0 }),
            (|_, s| s.plan[0].pieces.clear(), Fault::Empty { pattern: 0 }),
            (|p, _| p.kerf = 2, Fault::TooLong { pattern: 0, needed: 11, length: 10 }),
            (|p, _| p.parts[1].quantity = 3, Fault::Quantity { part: 1, cut: 2, wanted: 3 }),
            (|p, _| p.parts[0].quantity = 1, Fault::Quantity { part: 0, cut: 2, wanted: 1 }),
            (|p, _| p.stock[0].supply = Some(1), Fault::Supply { stock: 0, used: 2, supply: 1 }),
            (|_, s| s.cost = 5, Fault::Cost { actual: 6, said: 5 }),
            (|_, s| s.bound = 5, Fault::Claim { bound: 5, cost: 6 }),
        ];
        for (spoil, fault) in spoils {
            let (mut problem, mut solution) = sound();
            spoil(&mut problem, &mut solution);
            assert_eq!(check(&problem, &solution), Err(fault));
        }
    }
}
