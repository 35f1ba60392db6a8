//! Recomputes a plan from the outlines of the problem. Knows nothing of masks.

use super::problem::{Placed, Problem, SheetPlan, Solution, Turns};
use super::shape::{Shape, as_f64, is_near};

/// What is wrong with a plan.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// A row that does not exist.
    #[error("sheet {0} of the plan names a row that does not exist")]
    NoSuchRow(usize),
    /// A part in the margin or off the sheet.
    #[error("sheet {sheet}: part {part} leaves the usable area")]
    Outside {
        /// Sheet of the plan.
        sheet: usize,
        /// Row of the part.
        part: usize,
    },
    /// Two parts overlap or stand closer than the gap.
    #[error("sheet {sheet}: parts {one} and {other} are closer than the gap")]
    TooClose {
        /// Sheet of the plan.
        sheet: usize,
        /// Row of one part.
        one: usize,
        /// Row of the other.
        other: usize,
    },
    /// A part turned against its grain.
    #[error("sheet {sheet}: part {part} lies against its grain")]
    Grain {
        /// Sheet of the plan.
        sheet: usize,
        /// Row of the part.
        part: usize,
    },
    /// Laid and unplaced do not add up to the quantity.
    #[error("part {part}: {counted} of {wanted} accounted for")]
    Quantity {
        /// Row of the part.
        part: usize,
        /// Laid plus unplaced.
        counted: u64,
        /// Quantity of the problem.
        wanted: u64,
    },
    /// More sheets used than there are.
    #[error("sheet row {0} is used more often than it is in supply")]
    Supply(usize),
    /// Cost, bound and the word "proven" do not agree.
    #[error("the bound, the cost and \"proven\" contradict one another")]
    Claim,
}

/// Checks every statement of a plan against the problem.
///
/// # Errors
/// The first fault found.
pub fn check(problem: &Problem, solution: &Solution) -> Result<(), Fault> {
    for (index, plan) in solution.sheets.iter().enumerate() {
        check_sheet(problem, index, plan)?;
    }
    for (part, wanted) in problem.parts.iter().map(|part| u64::from(part.quantity)).enumerate() {
        let laid = solution.sheets.iter().flat_map(|plan| &plan.placed);
        let laid = laid.filter(|placed| placed.part == part).count() as u64;
        let left = solution.unplaced.iter().filter(|(row, _)| *row == part);
        let counted = laid + left.map(|(_, count)| count).sum::<u64>();
        if counted != wanted {
            return Err(Fault::Quantity { part, counted, wanted });
        }
    }
    for (row, sheet) in problem.sheets.iter().enumerate() {
        let used = solution.sheets.iter().filter(|plan| plan.sheet == row).count() as u64;
        if sheet.supply.is_some_and(|supply| used > u64::from(supply)) {
            return Err(Fault::Supply(row));
        }
    }
    let cost: i64 = solution.sheets.iter().map(|plan| problem.sheets[plan.sheet].cost).sum();
    let complete = solution.unplaced.is_empty();
    let sound = cost == solution.cost
        && (!complete || solution.bound <= cost)
        && (!solution.proven || (complete && solution.bound == cost));
    if sound { Ok(()) } else { Err(Fault::Claim) }
}

fn check_sheet(problem: &Problem, index: usize, plan: &SheetPlan) -> Result<(), Fault> {
    let known = plan.sheet < problem.sheets.len()
        && plan.placed.iter().all(|placed| placed.part < problem.parts.len());
    if !known {
        return Err(Fault::NoSuchRow(index));
    }
    let sheet = &problem.sheets[plan.sheet];
    let margin = problem.margin;
    let shapes: Vec<Shape> = plan.placed.iter().map(|placed| laid(problem, placed)).collect();
    for (placed, shape) in plan.placed.iter().zip(&shapes) {
        let (low, high) = shape.bounds();
        let part = placed.part;
        if low[0] < margin
            || low[1] < margin
            || high[0] > sheet.length - margin
            || high[1] > sheet.width - margin
        {
            return Err(Fault::Outside { sheet: index, part });
        }
        if problem.parts[part].turns == Turns::Half && placed.quarters % 2 == 1 {
            return Err(Fault::Grain { sheet: index, part });
        }
    }
    for (at, one) in shapes.iter().enumerate() {
        for (after, other) in shapes[at + 1..].iter().enumerate() {
            if !apart(one, other, problem.gap) {
                let other = plan.placed[at + 1 + after].part;
                return Err(Fault::TooClose { sheet: index, one: plan.placed[at].part, other });
            }
        }
    }
    Ok(())
}

fn laid(problem: &Problem, placed: &Placed) -> Shape {
    problem.parts[placed.part].shape.turned(placed.quarters).moved(placed.x, placed.y)
}

/// Whether two shapes stand at least the gap apart everywhere.
fn apart(one: &Shape, other: &Shape, gap: i64) -> bool {
    let ((a, b), (c, d)) = (one.bounds(), other.bounds());
    let clear = |axis: usize| a[axis] >= d[axis] + gap || c[axis] >= b[axis] + gap;
    if clear(0) || clear(1) {
        return true;
    }
    let near = one.edges().any(|edge| other.edges().any(|over| is_near(edge, over, gap)));
    !near && !covers(one, other) && !covers(other, one)
}

/// Whether a point of the inside of `other` lies inside `one`; the lines of the
/// two do not cross.
fn covers(one: &Shape, other: &Shape) -> bool {
    inner_points(other).into_iter().any(|point| one.holds(point))
}

/// Points inside a shape: near the middle of each stretch, a little inwards.
fn inner_points(shape: &Shape) -> Vec<[f64; 2]> {
    let near = |(a, b): super::shape::Edge| {
        let ([ax, ay], [bx, by]) = (a.map(as_f64), b.map(as_f64));
        let length = (bx - ax).hypot(by - ay).max(1e-9);
        let (mx, my) = (f64::midpoint(ax, bx), f64::midpoint(ay, by));
        let off = [(by - ay) / length * 1e-3, (ax - bx) / length * 1e-3];
        [[mx + off[0], my + off[1]], [mx - off[0], my - off[1]]]
    };
    shape.edges().flat_map(near).filter(|&point| shape.holds(point)).collect()
}
