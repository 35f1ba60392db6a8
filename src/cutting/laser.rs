//! Flat parts in their true outlines, cut round by a laser.
//!
//! The same parts and the same sheets as for the knife; parts may lie in each
//! other's openings and head to tail. Where rectangles round the parts take
//! less, they are taken: outlines never need more.

use super::sheets::{self, Area, LaidPart, SheetCut, SheetJob, SheetLayout, SheetPart, SheetStock};
use crate::finding::{Finding, Stop};
use crate::quantity::slack::WHOLE;
use crate::quantity::{Model, ModelLength};
use crate::solve::nest::{self, Part, Placed, Problem, ProblemError, Shape, Turns};
use crate::solve::sheets as rectangles;
use crate::solve::watch::Control;
use crate::takeoff::{Outline, Point};

/// One count of the grid of outlines, in thou: corners are rounded to it.
const GRID_THOU: f64 = 0.25;
/// What rounding may bring two outlines nearer by, in counts.
const ROUNDING: i64 = 2;
/// Steps of outlines for each step of rectangles.
const STEPS_EACH: u64 = 8;

/// Lays the parts out as cheaply as is found within the budget.
///
/// # Errors
/// As [`sheets::lay_out`]; an outline that is none.
pub(super) fn lay_out(
    job: &SheetJob,
    budget: &rectangles::Budget,
    watch: &mut dyn FnMut(&rectangles::Progress) -> Control,
) -> Result<(SheetLayout, Vec<Finding>), Stop> {
    let (mut boxed, findings) = sheets::lay_out(job, budget, watch)?;
    if job.parts.iter().all(|part| part.outline.is_none()) {
        boxed.sheets.iter_mut().for_each(|sheet| outline_boxes(job, sheet));
        boxed.in_boxes = Some(boxed.cost);
        return Ok((boxed, findings));
    }
    let mut problem = problem(job);
    for &misfit in &boxed.misfits {
        problem.parts[misfit].quantity = 0;
    }
    let share = nest::Budget { steps: budget.steps.saturating_mul(STEPS_EACH), stop: budget.stop };
    let nested = nest::solve(&problem, &share).map_err(|error| stop(job, &error))?;
    let rank = |left: u64, cost: i64| (left, cost);
    let outside = |left: &[(usize, u64)]| left.iter().map(|(_, count)| count).sum::<u64>();
    let fewer =
        rank(outside(&nested.unplaced), nested.cost) <= rank(outside(&boxed.unplaced), boxed.cost);
    let bound = nested.bound;
    let in_boxes = boxed.cost;
    let mut layout = if fewer {
        let laid = nested.sheets.iter().map(|plan| sheet_cut(job, &problem, plan)).collect();
        SheetLayout { sheets: laid, cost: nested.cost, unplaced: nested.unplaced, ..boxed }
    } else {
        boxed.sheets.iter_mut().for_each(|sheet| outline_boxes(job, sheet));
        boxed
    };
    layout.bound = bound.min(layout.cost);
    layout.proven = layout.unplaced.is_empty() && layout.bound == layout.cost;
    layout.in_boxes = Some(in_boxes);
    Ok((layout, findings))
}

fn problem(job: &SheetJob) -> Problem {
    let up = |length: ModelLength| counts(length, |n| (n - WHOLE).ceil());
    let down = |length: ModelLength| counts(length, |n| (n + WHOLE).floor());
    let sheet = |stock: &SheetStock| nest::Sheet {
        length: down(stock.height),
        width: down(stock.width),
        cost: stock.cost,
        supply: stock.supply,
    };
    let part = |part: &SheetPart| Part {
        shape: shape(part),
        quantity: part.quantity,
        turns: if part.grain_free { Turns::Quarter } else { Turns::Half },
    };
    Problem {
        sheets: job.stock.iter().map(sheet).collect(),
        parts: job.parts.iter().map(part).collect(),
        gap: up(job.gap) + ROUNDING,
        margin: up(job.margin),
    }
}

fn counts(length: ModelLength, round: fn(f64) -> f64) -> i64 {
    // Lengths of a job are far inside what a number holds; others saturate and
    // are refused by the search.
    round(length / ModelLength::thou(GRID_THOU)) as i64
}

fn shape(part: &SheetPart) -> Shape {
    let line = |points: &Vec<Point<Model>>| {
        points.iter().map(|p| [counts(p.x, f64::round), counts(p.y, f64::round)]).collect()
    };
    match &part.outline {
        Some(outline) => Shape {
            outer: line(&outline.outer),
            openings: outline.openings.iter().map(line).collect(),
        },
        None => Shape::rectangle(counts(part.height, f64::round), counts(part.width, f64::round)),
    }
}

fn length(counts: i64) -> ModelLength {
    ModelLength::thou(GRID_THOU) * counts as f64
}

fn sheet_cut(job: &SheetJob, problem: &Problem, plan: &nest::SheetPlan) -> SheetCut {
    let laid = |placed: &Placed| {
        let turned = problem.parts[placed.part].shape.turned(placed.quarters);
        let (long, wide) = turned.size();
        let at = Point::new(length(placed.x), length(placed.y));
        let own = job.parts[placed.part].laid(placed.quarters, at);
        let area = Area {
            x: length(placed.y),
            y: length(placed.x),
            width: length(wide),
            height: length(long),
        };
        (LaidPart { part: placed.part, area, turned: placed.quarters % 2 == 1 }, own)
    };
    let (parts, own): (Vec<_>, Vec<_>) = plan.placed.iter().map(laid).unzip();
    let (outlines, scribed) = own.into_iter().unzip();
    let mut cut = SheetCut {
        stock: plan.sheet,
        parts,
        cuts: Vec::new(),
        offcut: None,
        used: 0.0,
        outlines,
        scribed,
    };
    finish(job, &mut cut);
    cut
}

/// The share used, and what is left whole at the right end.
fn finish(job: &SheetJob, cut: &mut SheetCut) {
    let stock = &job.stock[cut.stock];
    let covered: f64 = cut.outlines.iter().map(Outline::square_inches).sum();
    cut.used = covered / (stock.width * stock.height).in_square_inches();
    let right = cut.parts.iter().map(|laid| laid.area.y + laid.area.height);
    let from = right.fold(job.margin, ModelLength::max) + job.gap;
    let height = stock.height - job.margin - from;
    let width = stock.width - job.margin * 2.0;
    cut.offcut = (height > ModelLength::ZERO && width > ModelLength::ZERO).then_some(Area {
        x: job.margin,
        y: from,
        width,
        height,
    });
}

/// The outlines of parts that were laid as the rectangles round them.
fn outline_boxes(job: &SheetJob, sheet: &mut SheetCut) {
    let of = |laid: &LaidPart| {
        let at = Point::new(laid.area.y, laid.area.x);
        job.parts[laid.part].laid(u8::from(laid.turned), at)
    };
    (sheet.outlines, sheet.scribed) = sheet.parts.iter().map(of).unzip();
    finish(job, sheet);
}

fn stop(job: &SheetJob, error: &ProblemError) -> Stop {
    let doing = match error {
        ProblemError::NoOutline(row) => {
            let label = row.checked_sub(1).and_then(|at| job.parts.get(at));
            format!("laying out outlines: {}", label.map_or("", |part| part.label.as_str()))
        }
        _ => "laying out outlines".to_owned(),
    };
    let hint = match error {
        ProblemError::OutOfRange { .. } => "correct the number",
        ProblemError::NoOutline(_) => "cut it with a knife, or mend its shape",
        ProblemError::TooManyParts => "lay the parts out in several groups",
        ProblemError::FitNoSheet(_) => "splice the parts, or find larger sheets",
    };
    Stop::new(doing, error.to_string(), hint)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::sheets::Method;

    fn inches(value: f64) -> ModelLength {
        ModelLength::inches(value)
    }

    fn gable(quantity: u32) -> SheetPart {
        let at = |x: f64, y: f64| Point::new(inches(x), inches(y));
        let outer = vec![at(0.0, 0.0), at(4.0, 0.0), at(2.0, 2.0)];
        SheetPart {
            label: "gable".into(),
            width: inches(2.0),
            height: inches(4.0),
            quantity,
            grain_free: false,
            strip: None,
            outline: Some(Outline::polygon(outer)),
            scribed: Vec::new(),
        }
    }

    /// Four gables head to tail take 10.5 in where rectangles take 16
    /// (arithmetic: 4 + 3 * 2 in, and a kerf between two slopes).
    #[test]
    fn gables_lie_head_to_tail_and_the_saving_is_said() {
        let stock = [SheetStock {
            name: "sheet".into(),
            width: inches(2.1),
            height: inches(10.5),
            cost: 1,
            supply: None,
        }];
        let parts = [gable(4)];
        let job = SheetJob {
            stock: &stock,
            parts: &parts,
            gap: ModelLength::thou(7.0),
            margin: ModelLength::ZERO,
            grid: ModelLength::thou(0.5),
            method: Method::Laser,
        };
        let budget = rectangles::Budget::steps(20_000);
        let (layout, _) = lay_out(&job, &budget, &mut |_| Control::Continue).expect("a layout");
        assert_eq!((layout.cost, layout.in_boxes), (1, Some(2)));
        let sheet = &layout.sheets[0];
        assert_eq!(sheet.outlines.len(), 4);
        assert!((sheet.used - 16.0 / (2.1 * 10.5)).abs() < 1e-3, "{}", sheet.used);
    }
}
