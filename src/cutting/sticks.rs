//! Parts of one section, laid out on strips of stock.

use crate::finding::{Finding, Stop, Subject};
use crate::quantity::ModelLength;
use crate::solve::sticks::{self, Budget, Control, ProblemError, Progress};
use std::collections::BTreeMap;

/// A part to be cut from strips.
#[derive(Clone, Debug, PartialEq)]
pub struct StickPart {
    /// The label it is marked with.
    pub label: String,
    /// Its length on the model.
    pub length: ModelLength,
    /// How many are wanted.
    pub quantity: u32,
}

/// Strips that can be had.
#[derive(Clone, Debug, PartialEq)]
pub struct StickStock {
    /// The name of the size.
    pub name: String,
    /// Usable length of one strip.
    pub length: ModelLength,
    /// Its length as it is bought, or as it lies on the rack.
    pub bought: ModelLength,
    /// Cost of one strip in the smallest coin, or 1 to count strips; 0 for an
    /// offcut already paid for.
    pub cost: i64,
    /// How many there are; `None` for as many as wanted.
    pub supply: Option<u32>,
}

/// Strips cut alike: to the same lengths, whatever is marked on the pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct StickCut {
    /// Index into the stock given.
    pub stock: usize,
    /// Indexes into the parts given, longest first, repeated as cut: those of
    /// the first strip.
    pub pieces: Vec<usize>,
    /// Number of strips.
    pub times: u32,
    /// The pieces of each strip, as `pieces` says them of the first.
    pub each: Vec<Vec<usize>>,
    /// What is left of each strip after the last piece and its kerf.
    pub left: ModelLength,
}

/// Sticks laid out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StickLayout {
    /// The strips to cut.
    pub cuts: Vec<StickCut>,
    /// Total cost.
    pub cost: i64,
    /// No layout of these parts costs less.
    pub bound: i64,
    /// Whether cost equals bound: no better layout exists.
    pub proven: bool,
    /// Parts, by index, that fit no stock and are not laid out.
    pub misfits: Vec<usize>,
}

/// What there is to lay out, and the measures all lengths are put on.
#[derive(Clone, Copy, Debug)]
pub struct StickJob<'a> {
    /// Strips that can be had.
    pub stock: &'a [StickStock],
    /// Parts wanted.
    pub parts: &'a [StickPart],
    /// Width of the cut, lost between two neighbouring parts.
    pub kerf: ModelLength,
    /// One count of the whole-number grid: parts and kerf are rounded up to
    /// it, stock down.
    pub grid: ModelLength,
}

/// Rounding slack, in counts of the grid: a length that is a whole number of
/// counts but for floating-point noise is not pushed to the next.
const SLACK: f64 = 1e-6;

/// Lays the parts out as cheaply as can be found within the budget.
///
/// Parts that fit no stock are left out, listed in
/// [`StickLayout::misfits`] and named in a finding.
///
/// # Errors
/// A grid that is not more than zero; sizes out of range; a supply that does
/// not hold the parts.
pub fn lay_out(
    job: &StickJob,
    budget: &Budget,
    watch: &mut dyn FnMut(&Progress) -> Control,
) -> Result<(StickLayout, Vec<Finding>), Stop> {
    let mut problem = on_grid(job)?;
    let mut misfits = Vec::new();
    let solution = match sticks::solve(&problem, budget, watch) {
        Err(ProblemError::FitsNoStock { parts }) => {
            for &part in &parts {
                problem.parts[part].quantity = 0;
            }
            misfits = parts;
            sticks::solve(&problem, budget, watch)
        }
        other => other,
    }
    .map_err(|error| stop(job, &error))?;
    let findings = misfits.iter().map(|&part| misfit(job, part)).collect();
    let cuts = alike(job, &problem, &solution.plan);
    let sticks::Solution { cost, bound, proven, .. } = solution;
    Ok((StickLayout { cuts, cost, bound, proven, misfits }, findings))
}

fn on_grid(job: &StickJob) -> Result<sticks::Problem, Stop> {
    if !(job.grid.is_finite() && job.grid > ModelLength::ZERO) {
        return Err(Stop::new(
            "laying out sticks",
            "the grid must be more than zero",
            "0.001 in or 0.01 mm serves most jobs",
        ));
    }
    let up = |length| counts(job, length, |value| (value - SLACK).ceil());
    let down = |length| counts(job, length, |value| (value + SLACK).floor());
    let stock = (job.stock.iter())
        .map(|s| {
            let length = down(s.length).map_err(|e| e.into_stop(&s.name))?;
            Ok(sticks::Stock { length, cost: s.cost, supply: s.supply })
        })
        .collect::<Result<_, Stop>>()?;
    let parts = (job.parts.iter())
        .map(|p| {
            let length = up(p.length).map_err(|e| e.into_stop(&p.label))?;
            Ok(sticks::Part { length, quantity: p.quantity })
        })
        .collect::<Result<_, Stop>>()?;
    let kerf = up(job.kerf).map_err(|e| e.into_stop("the kerf"))?;
    Ok(sticks::Problem { stock, parts, kerf })
}

/// A length that cannot be put on the grid.
struct OffGrid;

impl OffGrid {
    fn into_stop(self, what: &str) -> Stop {
        Stop::new(
            format!("laying out sticks: {what}"),
            "the length is no number or is too long for the grid",
            "use a coarser grid",
        )
    }
}

/// A length as a whole number of counts of the grid.
fn counts(job: &StickJob, length: ModelLength, round: fn(f64) -> f64) -> Result<i64, OffGrid> {
    /// Whole numbers up to here are exact in floating point.
    const EXACT: f64 = 9.0e15;
    let value = round(length / job.grid);
    // In range and whole, so the conversion is exact.
    if value.abs() < EXACT { Ok(value as i64) } else { Err(OffGrid) }
}

/// The plan with strips that are cut to the same lengths in one row; those
/// with the longest pieces first.
fn alike(job: &StickJob, problem: &sticks::Problem, plan: &[sticks::Pattern]) -> Vec<StickCut> {
    let mut rows: Vec<(Vec<i64>, StickCut)> = Vec::new();
    for pattern in plan {
        let lengths = pattern.pieces.iter().map(|&part| problem.parts[part].length).collect();
        let each = vec![pattern.pieces.clone(); pattern.times as usize];
        let same =
            |row: &&mut (Vec<i64>, StickCut)| row.0 == lengths && row.1.stock == pattern.stock;
        match rows.iter_mut().find(same) {
            Some((_, row)) => {
                row.times += pattern.times;
                row.each.extend(each);
            }
            None => rows.push((lengths, StickCut { each, ..cut(job, pattern) })),
        }
    }
    rows.sort_by(|a, b| b.0.cmp(&a.0));
    rows.into_iter().map(|(_, row)| row).collect()
}

fn cut(job: &StickJob, pattern: &sticks::Pattern) -> StickCut {
    let pieces: ModelLength = pattern.pieces.iter().map(|&part| job.parts[part].length).sum();
    let kerfs = job.kerf * pattern.pieces.len() as f64;
    let left = (job.stock[pattern.stock].length - pieces - kerfs).max(ModelLength::ZERO);
    let sticks::Pattern { stock, pieces, times } = pattern.clone();
    StickCut { stock, pieces, times, each: Vec::new(), left }
}

fn misfit(job: &StickJob, part: usize) -> Finding {
    let part = &job.parts[part];
    let message = format!(
        "{} is {:.3} in long and fits no stock (longest {:.3} in)",
        part.label,
        part.length.in_inches(),
        longest(job).in_inches()
    );
    Finding::trouble(Subject::Part(part.label.clone()), message, remedy(job, part))
}

fn longest(job: &StickJob) -> ModelLength {
    job.stock.iter().map(|stock| stock.length).fold(ModelLength::ZERO, ModelLength::max)
}

/// What would help a part that fits no stock.
pub(super) fn remedy(job: &StickJob, part: &StickPart) -> String {
    let longest = longest(job);
    let pieces = if longest > ModelLength::ZERO { (part.length / longest).ceil() } else { 0.0 };
    if pieces >= 2.0 {
        return format!(
            "splice it from {pieces:.0} lengths, the joint over a support, or find stock {:.2} in long",
            part.length.in_inches()
        );
    }
    "add stock that is long enough".to_owned()
}

fn stop(job: &StickJob, error: &ProblemError) -> Stop {
    let hint = match error {
        ProblemError::SupplyShort { .. } => "add strips, or stock that can be bought as wanted",
        ProblemError::TooLarge { .. } => "use a coarser grid",
        _ => "correct the number",
    };
    let mut names: BTreeMap<usize, &str> = BTreeMap::new();
    let doing = match error {
        ProblemError::StockLength { index, .. } | ProblemError::StockCost { index, .. } => {
            names.extend(job.stock.iter().map(|s| s.name.as_str()).enumerate());
            format!("laying out sticks: {}", names.get(index).unwrap_or(&"stock"))
        }
        ProblemError::PartLength { index, .. } => {
            names.extend(job.parts.iter().map(|p| p.label.as_str()).enumerate());
            format!("laying out sticks: {}", names.get(index).unwrap_or(&"part"))
        }
        _ => "laying out sticks".to_owned(),
    };
    Stop::new(doing, error.to_string(), hint)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(value: f64) -> ModelLength {
        ModelLength::inches(value)
    }

    fn part(label: &str, length: f64, quantity: u32) -> StickPart {
        StickPart { label: label.into(), length: inches(length), quantity }
    }

    fn laid_out(parts: &[StickPart], kerf: f64) -> (StickLayout, Vec<Finding>) {
        let stock = [StickStock {
            name: "24 in strip".into(),
            length: inches(24.0),
            bought: inches(24.0),
            cost: 1,
            supply: None,
        }];
        let job =
            StickJob { stock: &stock, parts, kerf: inches(kerf), grid: ModelLength::thou(1.0) };
        lay_out(&job, &Budget::steps(1_000_000_000), &mut |_| Control::Continue).unwrap()
    }

    #[test]
    fn eight_threes_fill_a_strip_without_kerf_and_not_with() {
        let parts = [part("stud", 3.0, 8)];
        assert_eq!(laid_out(&parts, 0.0).0.cost, 1);
        assert_eq!(laid_out(&parts, 0.016).0.cost, 2);
    }

    /// Pieces of 87.5 mm from 24 in with a 0.4 mm saw: six a stick
    /// (arithmetic: (24 * 25.4 + 0.4) / 87.9 = 6.94).
    #[test]
    fn pieces_per_stick_count_one_kerf_less_than_pieces() {
        let length = ModelLength::millimetres(87.5).in_inches();
        let kerf = ModelLength::millimetres(0.4).in_inches();
        assert_eq!(laid_out(&[part("post", length, 6)], kerf).0.cost, 1);
        assert_eq!(laid_out(&[part("post", length, 7)], kerf).0.cost, 2);
    }

    #[test]
    fn parts_that_fit_no_stock_are_named_and_left_out() {
        let (layout, findings) = laid_out(&[part("plate", 30.0, 2), part("stud", 8.0, 3)], 0.0);
        assert_eq!((layout.cost, layout.misfits), (1, vec![0]));
        assert_eq!(findings[0].subject, Subject::Part("plate".into()));
        assert!(findings[0].hint.contains("2 lengths"), "{}", findings[0].hint);
    }

    #[test]
    fn what_is_left_counts_the_last_kerf() {
        let (layout, _) = laid_out(&[part("stud", 10.0, 2)], 0.5);
        assert!(layout.cuts[0].left.agrees(inches(3.0), inches(1e-6)));
    }

    #[test]
    fn a_grid_of_nothing_is_refused() {
        let job =
            StickJob { stock: &[], parts: &[], kerf: ModelLength::ZERO, grid: ModelLength::ZERO };
        assert!(lay_out(&job, &Budget::steps(1), &mut |_| Control::Continue).is_err());
    }
}
