//! Recomputes a plan from the numbers of the problem. Shares no step with the
//! solver: only the types of the question and the answer.

use super::plan::{Axis, Cut, Placed, Rect, SheetPlan, Solution};
use super::problem::{Method, Problem};

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
    /// The cost is not the sum of the sheets.
    #[error("the cost is {stated} and adds up to {counted}")]
    Cost {
        /// Cost of the plan.
        stated: i64,
        /// Sum over its sheets.
        counted: i64,
    },
    /// The bound and the word "proven" contradict the cost.
    #[error("the bound, the cost and \"proven\" contradict one another")]
    Bound,
    /// A cut of a piece that is not there, or beside it.
    #[error("sheet {sheet}: cut {cut} cannot be made")]
    Cut {
        /// Sheet of the plan.
        sheet: usize,
        /// Place of the cut in the list.
        cut: usize,
    },
    /// A stage number that does not follow from the cuts before it.
    #[error("sheet {sheet}: cut {cut} is in the wrong stage")]
    Stage {
        /// Sheet of the plan.
        sheet: usize,
        /// Place of the cut in the list.
        cut: usize,
    },
    /// A part that the cuts do not set free.
    #[error("sheet {sheet}: the cuts do not set part {part} free")]
    NotFreed {
        /// Sheet of the plan.
        sheet: usize,
        /// Row of the part.
        part: usize,
    },
    /// An offcut that meets a part or leaves the usable area.
    #[error("sheet {0}: the offcut is not free")]
    Offcut(usize),
}

/// Checks every statement of a plan against the problem.
///
/// # Errors
/// The first fault found.
pub fn check(problem: &Problem, method: Method, solution: &Solution) -> Result<(), Fault> {
    for (index, plan) in solution.sheets.iter().enumerate() {
        check_rows(problem, index, plan)?;
        let parts = part_rects(problem, index, plan)?;
        check_apart(problem, index, &parts)?;
        check_offcut(problem, index, plan, &parts)?;
        if let Method::Knife { stages } = method {
            check_cuts(problem, index, plan, &parts, stages)?;
        }
    }
    check_quantities(problem, solution)?;
    check_supply(problem, solution)?;
    check_cost(problem, solution)
}

fn check_rows(problem: &Problem, index: usize, plan: &SheetPlan) -> Result<(), Fault> {
    let known = plan.sheet < problem.sheets.len()
        && plan.placed.iter().all(|placed| placed.part < problem.parts.len());
    if known { Ok(()) } else { Err(Fault::NoSuchRow(index)) }
}

fn usable(problem: &Problem, plan: &SheetPlan) -> Rect {
    let sheet = &problem.sheets[plan.sheet];
    let margin = problem.margin;
    Rect::new(margin, margin, sheet.width - 2 * margin, sheet.height - 2 * margin)
}

fn part_rect(problem: &Problem, placed: &Placed) -> Rect {
    let part = &problem.parts[placed.part];
    let (width, height) =
        if placed.turned { (part.height, part.width) } else { (part.width, part.height) };
    Rect::new(placed.x, placed.y, width, height)
}

fn part_rects(
    problem: &Problem,
    sheet: usize,
    plan: &SheetPlan,
) -> Result<Vec<(usize, Rect)>, Fault> {
    let area = usable(problem, plan);
    let rect_of = |placed: &Placed| {
        let part = placed.part;
        let rect = part_rect(problem, placed);
        if placed.turned && !problem.parts[part].may_turn {
            return Err(Fault::Grain { sheet, part });
        }
        if area.holds(&rect) { Ok((part, rect)) } else { Err(Fault::Outside { sheet, part }) }
    };
    plan.placed.iter().map(rect_of).collect()
}

/// Room kept free round a part is the gap on every side.
fn grown(rect: &Rect, gap: i64) -> Rect {
    Rect::new(rect.x - gap, rect.y - gap, rect.width + 2 * gap, rect.height + 2 * gap)
}

fn check_apart(problem: &Problem, sheet: usize, parts: &[(usize, Rect)]) -> Result<(), Fault> {
    for (index, (one, first)) in parts.iter().enumerate() {
        let kept = grown(first, problem.gap);
        if let Some((other, _)) = parts[index + 1..].iter().find(|(_, rect)| kept.overlaps(rect)) {
            return Err(Fault::TooClose { sheet, one: *one, other: *other });
        }
    }
    Ok(())
}

fn check_offcut(
    problem: &Problem,
    sheet: usize,
    plan: &SheetPlan,
    parts: &[(usize, Rect)],
) -> Result<(), Fault> {
    let Some(offcut) = plan.offcut else { return Ok(()) };
    let kept = grown(&offcut, problem.gap);
    let free = offcut.width > 0
        && offcut.height > 0
        && usable(problem, plan).holds(&offcut)
        && parts.iter().all(|(_, rect)| !kept.overlaps(rect));
    if free { Ok(()) } else { Err(Fault::Offcut(sheet)) }
}

/// A piece in hand: where it is, the axis of the cut that made it, its stage.
#[derive(Clone, Copy)]
struct Piece {
    rect: Rect,
    axis: Option<Axis>,
    stage: u32,
}

fn check_cuts(
    problem: &Problem,
    sheet: usize,
    plan: &SheetPlan,
    parts: &[(usize, Rect)],
    stages: Option<u32>,
) -> Result<(), Fault> {
    let stock = &problem.sheets[plan.sheet];
    let whole = Rect::new(0, 0, stock.width, stock.height);
    let mut pieces = vec![Piece { rect: whole, axis: None, stage: 0 }];
    for (number, cut) in plan.cuts.iter().enumerate() {
        let fault = Fault::Cut { sheet, cut: number };
        let held = pieces.iter().position(|piece| piece.rect == cut.piece).ok_or(fault.clone())?;
        let piece = pieces.swap_remove(held);
        if cut.stage != stage_after(&piece, cut) || stages.is_some_and(|most| cut.stage > most) {
            return Err(Fault::Stage { sheet, cut: number });
        }
        let halves = halves(problem, &piece.rect, cut).ok_or(fault)?;
        let axis = (cut.stage > 0).then_some(cut.axis);
        let made = halves.into_iter().filter(|rect| rect.width > 0 && rect.height > 0);
        pieces.extend(made.map(|rect| Piece { rect, axis, stage: cut.stage }));
    }
    for (part, rect) in parts {
        let Some(found) = pieces.iter().position(|piece| piece.rect == *rect) else {
            return Err(Fault::NotFreed { sheet, part: *part });
        };
        pieces.swap_remove(found);
    }
    Ok(())
}

/// The stage a cut belongs to: a cut along the same axis as the one that made
/// the piece stays in its stage, any other opens the next one.
fn stage_after(piece: &Piece, cut: &Cut) -> u32 {
    match piece.axis {
        None if cut.stage == 0 => 0,
        Some(axis) if axis == cut.axis => piece.stage,
        _ => piece.stage + 1,
    }
}

fn halves(problem: &Problem, piece: &Rect, cut: &Cut) -> Option<[Rect; 2]> {
    let (low, high) = match cut.axis {
        Axis::X => (piece.x, piece.right()),
        Axis::Y => (piece.y, piece.top()),
    };
    if cut.stage == 0 {
        return trimmed(problem, piece, cut);
    }
    if cut.at <= low || cut.at >= high {
        return None;
    }
    let beyond = high.min(cut.at + problem.gap);
    Some(match cut.axis {
        Axis::X => [
            Rect { width: cut.at - low, ..*piece },
            Rect { x: beyond, width: high - beyond, ..*piece },
        ],
        Axis::Y => [
            Rect { height: cut.at - low, ..*piece },
            Rect { y: beyond, height: high - beyond, ..*piece },
        ],
    })
}

/// A margin falls off whole: what the blade eats it takes from the margin.
fn trimmed(problem: &Problem, piece: &Rect, cut: &Cut) -> Option<[Rect; 2]> {
    let margin = problem.margin;
    let (low, high) = match cut.axis {
        Axis::X => (piece.x, piece.right()),
        Axis::Y => (piece.y, piece.top()),
    };
    let (kept_low, kept_high) = if low == 0 && cut.at == margin {
        (margin, high)
    } else if cut.at == high - margin {
        (low, cut.at)
    } else {
        return None;
    };
    let kept = match cut.axis {
        Axis::X => Rect { x: kept_low, width: kept_high - kept_low, ..*piece },
        Axis::Y => Rect { y: kept_low, height: kept_high - kept_low, ..*piece },
    };
    Some([kept, Rect::default()])
}

fn check_quantities(problem: &Problem, solution: &Solution) -> Result<(), Fault> {
    for (part, wanted) in problem.parts.iter().map(|part| part.quantity).enumerate() {
        let laid = solution.sheets.iter().flat_map(|plan| &plan.placed);
        let laid = laid.filter(|placed| placed.part == part).count() as u64;
        let left = solution.unplaced.iter().filter(|(row, _)| *row == part);
        let counted = laid + left.map(|(_, count)| count).sum::<u64>();
        if counted != wanted {
            return Err(Fault::Quantity { part, counted, wanted });
        }
    }
    Ok(())
}

fn check_supply(problem: &Problem, solution: &Solution) -> Result<(), Fault> {
    for (row, sheet) in problem.sheets.iter().enumerate() {
        let used = solution.sheets.iter().filter(|plan| plan.sheet == row).count() as u64;
        if sheet.supply.is_some_and(|supply| used > supply) {
            return Err(Fault::Supply(row));
        }
    }
    Ok(())
}

fn check_cost(problem: &Problem, solution: &Solution) -> Result<(), Fault> {
    let counted = solution.sheets.iter().map(|plan| problem.sheets[plan.sheet].cost).sum();
    if counted != solution.cost {
        return Err(Fault::Cost { stated: solution.cost, counted });
    }
    let complete = solution.unplaced.is_empty();
    let sound = (!complete || solution.bound <= solution.cost)
        && (!solution.proven || (complete && solution.bound == solution.cost));
    if sound { Ok(()) } else { Err(Fault::Bound) }
}
