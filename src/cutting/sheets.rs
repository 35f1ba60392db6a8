//! Flat parts of one thickness, laid out on sheets.

use crate::finding::{Finding, Stop, Subject};
use crate::quantity::{Model, ModelLength};
use crate::solve::sheets::{
    self, Axis, Budget, Control, Method, Problem, ProblemError, Progress, Rect, SheetPlan,
};
use crate::takeoff::{Outline, Point};

/// A flat part.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetPart {
    /// The label it is marked with.
    pub label: String,
    /// Size across the grain.
    pub width: ModelLength,
    /// Size along the grain.
    pub height: ModelLength,
    /// How many are wanted.
    pub quantity: u32,
    /// Whether the grain does not matter, so that it may be turned.
    pub grain_free: bool,
    /// The strips it is, where it is no part of its own.
    pub strip: Option<StripOf>,
    /// Its shape where it is no rectangle, `x` along the grain.
    pub outline: Option<Outline<Model>>,
    /// Lines scribed on its face, in the same frame.
    pub scribed: Vec<[Point<Model>; 2]>,
}

impl SheetPart {
    /// Its shape, `x` along the grain, its lower left corner at zero.
    #[must_use]
    pub fn shape(&self) -> Outline<Model> {
        self.outline.clone().unwrap_or_else(|| Outline::rectangle(self.height, self.width))
    }

    /// The shape and its scribed lines, turned by quarters against the clock,
    /// the corner of the rectangle round them at `at`.
    pub(super) fn laid(
        &self,
        quarters: u8,
        at: Point<Model>,
    ) -> (Outline<Model>, Vec<[Point<Model>; 2]>) {
        let turned = |p: &Point<Model>| match quarters % 4 {
            0 => *p,
            1 => Point::new(-p.y, p.x),
            2 => Point::new(-p.x, -p.y),
            _ => Point::new(p.y, -p.x),
        };
        let own = self.shape();
        let corners = own.outer.iter().map(&turned);
        let low = corners.reduce(|a, b| Point::new(a.x.min(b.x), a.y.min(b.y))).unwrap_or(at);
        let moved = |p: &Point<Model>| {
            let p = turned(p);
            Point::new(p.x - low.x + at.x, p.y - low.y + at.y)
        };
        let line = |points: &Vec<Point<Model>>| points.iter().map(moved).collect();
        let shape =
            Outline { outer: line(&own.outer), openings: own.openings.iter().map(line).collect() };
        (shape, self.scribed.iter().map(|[a, b]| [moved(a), moved(b)]).collect())
    }
}

/// Strips that are ripped from a sheet and cut to length afterwards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StripOf {
    /// The stock they make.
    pub stock: String,
    /// Whether they are for breakage.
    pub spare: bool,
}

/// Sheets that can be had.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetStock {
    /// The name of the size.
    pub name: String,
    /// Size across the grain.
    pub width: ModelLength,
    /// Size along the grain.
    pub height: ModelLength,
    /// Cost of one sheet in the smallest coin, or 1 to count sheets; 0 for an
    /// offcut already paid for.
    pub cost: i64,
    /// How many there are; `None` for as many as wanted.
    pub supply: Option<u32>,
}

/// What there is to lay out, and the measures all lengths are put on.
#[derive(Clone, Copy, Debug)]
pub struct SheetJob<'a> {
    /// Sheets that can be had.
    pub stock: &'a [SheetStock],
    /// Parts wanted.
    pub parts: &'a [SheetPart],
    /// Kept between neighbouring parts: the width of the cut.
    pub gap: ModelLength,
    /// Kept free along the edges of every sheet.
    pub margin: ModelLength,
    /// One count of the whole-number grid: parts, gap and margin are rounded
    /// up to it, sheets down.
    pub grid: ModelLength,
    /// How the parts are cut out.
    pub method: Method,
}

/// A rectangle on a sheet: `x` across the grain from the left edge, `y` along
/// the grain from the lower edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Left edge.
    pub x: ModelLength,
    /// Lower edge.
    pub y: ModelLength,
    /// Size along `x`.
    pub width: ModelLength,
    /// Size along `y`.
    pub height: ModelLength,
}

/// A part on its sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LaidPart {
    /// Index into the parts given.
    pub part: usize,
    /// Where it lies, in its true size.
    pub area: Area,
    /// Whether it lies with its grain across the sheet's.
    pub turned: bool,
}

/// One cut of the knife, from edge to edge of the piece in hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnifeCut {
    /// The piece that is cut.
    pub piece: Area,
    /// [`Axis::X`] for a cut along the grain at an `x`, [`Axis::Y`] for one
    /// across the grain at a `y`.
    pub axis: Axis,
    /// Where the cut falls.
    pub at: ModelLength,
    /// Which turn of the sheet it belongs to, from 1; 0 trims a margin.
    pub stage: u32,
}

/// One sheet to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetCut {
    /// Index into the stock given.
    pub stock: usize,
    /// The parts on it.
    pub parts: Vec<LaidPart>,
    /// Every cut in order; empty for the laser.
    pub cuts: Vec<KnifeCut>,
    /// The largest rectangle left whole.
    pub offcut: Option<Area>,
    /// Share of the sheet that becomes parts.
    pub used: f64,
    /// For the laser: the shape of each of the parts where it lies, `x` along
    /// the grain; empty for the knife.
    pub outlines: Vec<Outline<Model>>,
    /// The lines scribed on each of them.
    pub scribed: Vec<Vec<[Point<Model>; 2]>>,
}

/// Sheets laid out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetLayout {
    /// The sheets, the fullest first.
    pub sheets: Vec<SheetCut>,
    /// Total cost.
    pub cost: i64,
    /// No layout of these parts costs less.
    pub bound: i64,
    /// Whether no better layout exists.
    pub proven: bool,
    /// Parts, by index, that fit no sheet and are not laid out.
    pub misfits: Vec<usize>,
    /// Parts that fit but found no room on the sheets there are: index, count.
    pub unplaced: Vec<(usize, u64)>,
    /// Steps taken to spare settings of the fence; more time may spare more.
    pub tidied: u64,
    /// For the laser: what the rectangles round the parts would cost.
    pub in_boxes: Option<i64>,
}

impl SheetLayout {
    /// How often the fence is set, all sheets together.
    #[must_use]
    pub fn settings(&self) -> usize {
        self.sheets.iter().map(SheetCut::settings).sum()
    }
}

impl SheetCut {
    /// How often the fence is set.
    #[must_use]
    pub fn settings(&self) -> usize {
        runs_of_settings(&self.cuts).count()
    }
}

/// The cuts in runs that one setting of the fence makes.
pub fn runs_of_settings(cuts: &[KnifeCut]) -> impl Iterator<Item = &[KnifeCut]> {
    cuts.chunk_by(|a, b| {
        let hair = ModelLength::thou(0.01);
        a.axis == b.axis && a.set_to().agrees(b.set_to(), hair)
    })
}

impl KnifeCut {
    /// How far the cut lies from the edge laid against the fence.
    #[must_use]
    pub fn set_to(&self) -> ModelLength {
        match self.axis {
            Axis::X => self.at - self.piece.x,
            Axis::Y => self.at - self.piece.y,
        }
    }
}

impl KnifeCut {
    /// What is kept between the fence and the cut.
    #[must_use]
    pub fn kept(&self) -> Area {
        match self.axis {
            Axis::X => Area { width: self.set_to(), ..self.piece },
            Axis::Y => Area { height: self.set_to(), ..self.piece },
        }
    }
}

/// What no layout of these parts can cost less than, worked out at once;
/// `cost` where nothing says that less would not do.
///
/// # Errors
/// As [`lay_out`]; parts that fit no sheet.
pub fn least_cost(job: &SheetJob, cost: i64) -> Result<i64, Stop> {
    sheets::least_cost(&on_grid(job)?, job.method, cost).map_err(|error| stop(&error))
}

/// Rounding slack, in counts of the grid.
const SLACK: f64 = 1e-6;

/// Lays the parts out as cheaply as can be found within the budget.
///
/// Parts that fit no sheet are left out and named in a finding that says what
/// would help; so are parts for which the sheets in supply do not suffice.
///
/// # Errors
/// A grid that is not more than zero; sizes, quantities or costs out of range.
pub fn lay_out(
    job: &SheetJob,
    budget: &Budget,
    watch: &mut dyn FnMut(&Progress) -> Control,
) -> Result<(SheetLayout, Vec<Finding>), Stop> {
    let mut problem = on_grid(job)?;
    let mut misfits = Vec::new();
    let mut solved = sheets::solve(&problem, job.method, budget, watch);
    if let Err(ProblemError::FitNoSheet(parts)) = &solved {
        misfits.clone_from(parts);
        for &part in parts {
            problem.parts[part].quantity = 0;
        }
        solved = sheets::solve(&problem, job.method, budget, watch);
    }
    let solution = solved.map_err(|error| stop(&error))?;
    let mut findings: Vec<Finding> = misfits.iter().map(|&part| misfit(job, part)).collect();
    findings.extend(solution.unplaced.iter().map(|&(part, count)| short(job, part, count)));
    let layout = SheetLayout {
        sheets: solution.sheets.iter().map(|plan| sheet_cut(job, plan)).collect(),
        cost: solution.cost,
        bound: solution.bound,
        proven: solution.proven,
        misfits,
        unplaced: solution.unplaced,
        tidied: budget.steps,
        in_boxes: None,
    };
    Ok((layout, findings))
}

fn on_grid(job: &SheetJob) -> Result<Problem, Stop> {
    if !(job.grid.is_finite() && job.grid > ModelLength::ZERO) {
        return Err(Stop::new(
            "laying out sheets",
            "the grid must be more than zero",
            "0.001 in or 0.01 mm serves most jobs",
        ));
    }
    let up = |length, what: &str| counts(job, length, what, |value| (value - SLACK).ceil());
    let down = |length, what: &str| counts(job, length, what, |value| (value + SLACK).floor());
    let stock = job.stock.iter().map(|stock| {
        Ok(sheets::Sheet {
            width: down(stock.width, &stock.name)?,
            height: down(stock.height, &stock.name)?,
            cost: stock.cost,
            supply: stock.supply.map(u64::from),
        })
    });
    let parts = job.parts.iter().map(|part| {
        Ok(sheets::Part {
            width: up(part.width, &part.label)?,
            height: up(part.height, &part.label)?,
            quantity: part.quantity.into(),
            may_turn: part.grain_free,
        })
    });
    Ok(Problem {
        sheets: stock.collect::<Result<_, Stop>>()?,
        parts: parts.collect::<Result<_, Stop>>()?,
        gap: up(job.gap, "the gap")?,
        margin: up(job.margin, "the margin")?,
    })
}

/// A length as a whole number of counts of the grid.
fn counts(
    job: &SheetJob,
    length: ModelLength,
    what: &str,
    round: fn(f64) -> f64,
) -> Result<i64, Stop> {
    /// Far beyond what the solver takes, and exact in floating point.
    const EXACT: f64 = 9.0e15;
    let value = round(length / job.grid);
    if value.abs() < EXACT {
        // In range and whole, so the conversion is exact.
        return Ok(value as i64);
    }
    Err(Stop::new(
        format!("laying out sheets: {what}"),
        "the length is no number or is too long for the grid",
        "use a coarser grid",
    ))
}

fn length(job: &SheetJob, counts: i64) -> ModelLength {
    job.grid * counts as f64
}

fn area(job: &SheetJob, rect: &Rect) -> Area {
    Area {
        x: length(job, rect.x),
        y: length(job, rect.y),
        width: length(job, rect.width),
        height: length(job, rect.height),
    }
}

fn sheet_cut(job: &SheetJob, plan: &SheetPlan) -> SheetCut {
    let stock = &job.stock[plan.sheet];
    let parts: Vec<LaidPart> = plan.placed.iter().map(|placed| laid_part(job, placed)).collect();
    let covered = parts.iter().map(|part| part.area.width * part.area.height);
    let covered: f64 = covered.map(|area| area.in_square_inches()).sum();
    let cuts = plan.cuts.iter().map(|cut| KnifeCut {
        piece: area(job, &cut.piece),
        axis: cut.axis,
        at: length(job, cut.at),
        stage: cut.stage,
    });
    SheetCut {
        stock: plan.sheet,
        parts,
        cuts: cuts.collect(),
        offcut: plan.offcut.map(|rect| area(job, &rect)),
        used: covered / (stock.width * stock.height).in_square_inches(),
        outlines: Vec::new(),
        scribed: Vec::new(),
    }
}

fn laid_part(job: &SheetJob, placed: &sheets::Placed) -> LaidPart {
    let part = &job.parts[placed.part];
    let (width, height) =
        if placed.turned { (part.height, part.width) } else { (part.width, part.height) };
    let (x, y) = (length(job, placed.x), length(job, placed.y));
    LaidPart { part: placed.part, area: Area { x, y, width, height }, turned: placed.turned }
}

fn size(width: ModelLength, height: ModelLength) -> String {
    format!("{:.3} by {:.3} in", width.in_inches(), height.in_inches())
}

/// Says which part fits no sheet, and what would help.
fn misfit(job: &SheetJob, part: usize) -> Finding {
    let part = &job.parts[part];
    let message = format!(
        "{} is {} (width across the grain) and fits no sheet inside its margins",
        part.label,
        size(part.width, part.height)
    );
    Finding::trouble(Subject::Part(part.label.clone()), message, remedy(job, part))
}

/// What would help a part that fits no sheet.
pub(super) fn remedy(job: &SheetJob, part: &SheetPart) -> String {
    let room =
        |stock: &SheetStock| (stock.width - job.margin * 2.0, stock.height - job.margin * 2.0);
    let fits = |stock: &SheetStock, width, height| {
        let (wide, high) = room(stock);
        width <= wide && height <= high
    };
    let across = job.stock.iter().find(|s| fits(s, part.height, part.width));
    if let Some(stock) = across.filter(|_| !part.grain_free) {
        return format!("with its grain the other way it fits {}: free its grain", stock.name);
    }
    let whole = |stock: &&SheetStock| part.width <= stock.width && part.height <= stock.height;
    if let Some(stock) = job.stock.iter().find(whole) {
        return format!("without the margin, or with more of them in hand, it fits {}", stock.name);
    }
    let pieces = |stock: &SheetStock| {
        let (wide, high) = room(stock);
        let across = (part.width / wide).ceil();
        let along = (part.height / high).ceil();
        (wide > ModelLength::ZERO && high > ModelLength::ZERO).then_some((across, along))
    };
    let fewest =
        job.stock.iter().filter_map(pieces).min_by(|a, b| (a.0 * a.1).total_cmp(&(b.0 * b.1)));
    match fewest {
        Some((across, along)) if across * along > 1.0 => format!(
            "splice it from {:.0} pieces ({across:.0} across the grain, {along:.0} along it), \
             each joint backed by a doubler, or find a larger sheet",
            across * along
        ),
        _ => "add a sheet that is large enough".to_owned(),
    }
}

fn short(job: &SheetJob, part: usize, count: u64) -> Finding {
    let part = &job.parts[part];
    Finding::trouble(
        Subject::Part(part.label.clone()),
        format!("{count} of {} found no room on the sheets in supply", part.label),
        "add sheets, or a size that can be bought as wanted",
    )
}

fn stop(error: &ProblemError) -> Stop {
    let hint = match error {
        ProblemError::NoSheet | ProblemError::NoSupply => "add a size of sheet that can be had",
        ProblemError::OutOfRange { .. } => "correct the number, or use a coarser grid",
        ProblemError::TooManyParts => "lay the parts out in several groups",
        ProblemError::TooFewStages => "allow two or three stages",
        ProblemError::FitNoSheet(_) => "splice the parts, or find larger sheets",
    };
    Stop::new("laying out sheets", error.to_string(), hint)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(value: f64) -> ModelLength {
        ModelLength::inches(value)
    }

    fn part(label: &str, width: f64, height: f64, quantity: u32) -> SheetPart {
        let (width, height) = (inches(width), inches(height));
        SheetPart {
            label: label.into(),
            width,
            height,
            quantity,
            grain_free: false,
            strip: None,
            outline: None,
            scribed: Vec::new(),
        }
    }

    fn stock(width: f64, height: f64, supply: Option<u32>) -> SheetStock {
        let (width, height) = (inches(width), inches(height));
        SheetStock { name: "3 by 24 in sheet".into(), width, height, cost: 1, supply }
    }

    fn job<'a>(stock: &'a [SheetStock], parts: &'a [SheetPart], gap: f64) -> SheetJob<'a> {
        SheetJob {
            stock,
            parts,
            gap: inches(gap),
            margin: ModelLength::ZERO,
            grid: ModelLength::thou(1.0),
            method: Method::Knife { stages: None },
        }
    }

    fn laid_out(job: &SheetJob) -> (SheetLayout, Vec<Finding>) {
        let budget = Budget::steps(100_000);
        lay_out(job, &budget, &mut |_| Control::Continue).unwrap()
    }

    #[test]
    fn the_gap_is_lost_between_parts_and_not_at_the_edge() {
        let stock = [stock(3.0, 24.0, None)];
        let parts = [part("wall", 3.0, 8.0, 3)];
        assert_eq!(laid_out(&job(&stock, &parts, 0.0)).0.cost, 1);
        assert_eq!(laid_out(&job(&stock, &parts, 0.016)).0.cost, 2);
        let narrower = [part("wall", 3.0, 7.98, 3)];
        assert_eq!(laid_out(&job(&stock, &narrower, 0.016)).0.cost, 1);
    }

    #[test]
    fn lengths_come_back_in_the_space_of_the_model() {
        let stock = [stock(3.0, 24.0, None)];
        let parts = [part("wall", 3.0, 8.0, 2)];
        let (layout, _) = laid_out(&job(&stock, &parts, 0.01));
        let sheet = &layout.sheets[0];
        let offcut = sheet.offcut.unwrap();
        assert!(offcut.height.agrees(inches(24.0 - 16.02), inches(1e-6)), "{offcut:?}");
        assert!((sheet.used - 2.0 / 3.0).abs() < 1e-9);
        assert!(sheet.cuts[0].at.agrees(inches(8.0), inches(1e-6)));
    }

    #[test]
    fn a_part_too_large_is_named_with_what_would_help() {
        let stock = [stock(3.0, 24.0, None)];
        let parts =
            [part("deck", 5.0, 30.0, 1), part("end", 10.0, 2.5, 1), part("wall", 3.0, 8.0, 1)];
        let (layout, findings) = laid_out(&job(&stock, &parts, 0.0));
        assert_eq!((layout.cost, layout.misfits), (1, vec![0, 1]));
        assert!(findings[0].hint.contains("4 pieces"), "{}", findings[0].hint);
        assert!(findings[1].hint.contains("grain the other way"), "{}", findings[1].hint);
    }

    #[test]
    fn a_short_supply_is_said_and_nothing_proven() {
        let stock = [stock(3.0, 24.0, Some(1))];
        let parts = [part("wall", 3.0, 12.0, 3)];
        let (layout, findings) = laid_out(&job(&stock, &parts, 0.0));
        assert_eq!((layout.unplaced, layout.proven), (vec![(0, 1)], false));
        assert!(findings[0].message.contains("1 of wall"), "{}", findings[0].message);
    }
}
