//! The layout with time: better, or proven to have no better.
//!
//! Stocks whose quick answer is not proven are solved again with more steps,
//! in rounds, so that one hard stock keeps no other waiting.

use super::parts::{Layout, SheetGroup, Steps, StickGroup};
use super::sheets;
use super::sticks;
use super::wanted::{SheetsWanted, SticksWanted, Wanted};
use crate::solve::watch::{Control, Standing, Watch};
use crate::solve::{sheets as sheet_solver, sticks as stick_solver};

/// Each round takes this many times the steps of the one before.
const MORE: u64 = 8;
/// After so many rounds the steps have grown a million times.
const ROUNDS: u32 = 7;

/// Works on `quick`, a layout of `wanted`, until every stock is proven, the
/// watcher stops it, or nothing more comes of it. The answer is never worse.
///
/// Without a stop the answer depends on its input only.
#[must_use]
pub fn prove(wanted: &Wanted, quick: &Layout, watch: &mut Watch<'_>) -> Layout {
    let mut layout = quick.clone();
    let mut steps = Steps::QUICK;
    for _ in 0..ROUNDS {
        steps = Steps {
            sticks: steps.sticks.saturating_mul(MORE),
            sheets: steps.sheets.saturating_mul(MORE),
        };
        round(wanted, &mut layout, steps, watch);
        if is_proven(&layout) || (watch.stop)() {
            break;
        }
    }
    layout
}

/// Whether nothing is left to find.
#[must_use]
pub fn is_proven(layout: &Layout) -> bool {
    layout.sticks.iter().all(|group| group.layout.proven)
        && layout.sheets.iter().all(|group| group.layout.proven)
}

fn round(wanted: &Wanted, layout: &mut Layout, steps: Steps, watch: &mut Watch<'_>) {
    for at in 0..layout.sticks.len() {
        let group = &layout.sticks[at];
        let of = wanted.sticks.iter().find(|one| one.stock == group.stock);
        if let Some(of) = of.filter(|_| !group.layout.proven && !(watch.stop)()) {
            let better = stick_group(of, layout, at, steps.sticks, watch);
            layout.sticks[at] = better;
        }
    }
    for at in 0..layout.sheets.len() {
        let group = &layout.sheets[at];
        let of = wanted.sheets.iter().find(|one| one.stock == group.stock);
        if let Some(of) = of.filter(|_| !group.layout.proven && !(watch.stop)()) {
            let better = sheet_group(of, layout, at, steps.sheets, watch);
            layout.sheets[at] = better;
        }
    }
}

fn stick_group(
    wanted: &SticksWanted,
    all: &Layout,
    at: usize,
    steps: u64,
    watch: &mut Watch<'_>,
) -> StickGroup {
    let old = &all.sticks[at];
    let mut totals = Totals::of(all);
    let (stop, tell) = (watch.stop, &mut *watch.tell);
    let budget = stick_solver::Budget { steps, stop: Some(stop) };
    let mut hear = |progress: &stick_solver::Progress| {
        totals.sticks[at] =
            (progress.best.min(old.layout.cost), progress.bound.max(old.layout.bound));
        tell(&totals.standing(stick_phase(progress.phase)));
        control(stop)
    };
    let found = sticks::lay_out(&wanted.problem(), &budget, &mut hear).ok();
    let Some((found, _)) = found else { return old.clone() };
    let bound = found.bound.max(old.layout.bound);
    let mut layout = if found.cost < old.layout.cost { found } else { old.layout.clone() };
    layout.bound = bound.min(layout.cost);
    layout.proven = layout.bound >= layout.cost;
    StickGroup::new(wanted, layout)
}

fn sheet_group(
    wanted: &SheetsWanted,
    all: &Layout,
    at: usize,
    steps: u64,
    watch: &mut Watch<'_>,
) -> SheetGroup {
    let old = &all.sheets[at];
    let mut totals = Totals::of(all);
    let (stop, tell) = (watch.stop, &mut *watch.tell);
    let budget = sheet_solver::Budget { stop: Some(stop), ..sheet_solver::Budget::steps(steps) };
    let mut hear = |progress: &sheet_solver::Progress| {
        let best = progress.cost.unwrap_or(old.layout.cost).min(old.layout.cost);
        totals.sheets[at] = (best, progress.bound.max(old.layout.bound));
        tell(&totals.standing(sheet_phase(progress.phase)));
        control(stop)
    };
    let found = sheets::lay_out(&wanted.problem(), &budget, &mut hear).ok();
    let Some((found, _)) = found else { return old.clone() };
    let bound = found.bound.max(old.layout.bound);
    let rank = |layout: &sheets::SheetLayout| (outside(layout), layout.cost);
    let better = rank(&found) < rank(&old.layout);
    let mut layout = if better { found } else { old.layout.clone() };
    if layout.unplaced.is_empty() {
        layout.bound = bound.min(layout.cost);
        layout.proven = layout.bound >= layout.cost;
    }
    SheetGroup::new(wanted, layout)
}

/// Parts that found no room on the sheets in supply.
fn outside(layout: &sheets::SheetLayout) -> u64 {
    layout.unplaced.iter().map(|(_, count)| count).sum()
}

fn stick_phase(phase: stick_solver::Phase) -> &'static str {
    match phase {
        stick_solver::Phase::Greedy => "first plans",
        stick_solver::Phase::Relaxing => "bounding",
        stick_solver::Phase::Diving => "better plans",
        stick_solver::Phase::Proving => "proving",
    }
}

fn sheet_phase(phase: sheet_solver::Phase) -> &'static str {
    match phase {
        sheet_solver::Phase::Starts => "first plans",
        sheet_solver::Phase::Moves => "better plans",
        sheet_solver::Phase::Proof => "proving",
        sheet_solver::Phase::Offcut => "a larger offcut",
    }
}

fn control(stop: &dyn Fn() -> bool) -> Control {
    if stop() { Control::Stop } else { Control::Continue }
}

/// How a layout stands as it is.
#[must_use]
pub fn standing(layout: &Layout) -> Standing {
    Totals::of(layout).standing(if is_proven(layout) { "proven" } else { "not proven" })
}

/// Cost and bound of every stock.
struct Totals {
    sticks: Vec<(i64, i64)>,
    sheets: Vec<(i64, i64)>,
    /// The cost of one sheet, where all sheets of the job cost the same.
    each: Option<i64>,
}

impl Totals {
    fn of(layout: &Layout) -> Self {
        let sheets = layout.sheets.iter().flat_map(|group| &group.sheets);
        let costs = sheets.filter(|sheet| sheet.supply.is_none()).map(|sheet| sheet.cost);
        let (least, most) = (costs.clone().min(), costs.max());
        Self {
            sticks: layout.sticks.iter().map(|g| (g.layout.cost, g.layout.bound)).collect(),
            sheets: layout.sheets.iter().map(|g| (g.layout.cost, g.layout.bound)).collect(),
            each: least.filter(|least| *least > 0 && Some(*least) == most),
        }
    }

    fn standing(&self, phase: &'static str) -> Standing {
        let best = |both: &[(i64, i64)]| both.iter().map(|(best, _)| best).sum();
        let bound = |both: &[(i64, i64)]| both.iter().map(|(_, bound)| bound).sum();
        Standing {
            phase,
            best: self.words(best(&self.sticks), best(&self.sheets)),
            bound: self.words(bound(&self.sticks), bound(&self.sheets)),
        }
    }

    fn words(&self, sticks: i64, sheets: i64) -> String {
        let sheets = match self.each {
            Some(each) => format!("{} sheets", (sheets + each - 1) / each),
            // Sheets of several sizes cost their area, in hundredths.
            None => format!("{} sq in of sheet", sheets / 100),
        };
        match (self.sticks.is_empty(), self.sheets.is_empty()) {
            (_, true) => format!("{sticks} sticks"),
            (true, false) => sheets,
            (false, false) => format!("{sticks} sticks, {sheets}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::parts::lay_out;
    use super::super::sticks::{StickPart, StickStock};
    use super::*;
    use crate::quantity::ModelLength;

    /// Twenty lengths, about three a strip: no rule of thumb finds the best.
    fn wanted() -> Wanted {
        let part = |n: u32| StickPart {
            label: format!("board-{n}"),
            length: ModelLength::thou(f64::from(200 + n * 467 % 331)),
            quantity: 1 + n % 4,
        };
        let usable = ModelLength::thou(1000.0);
        let strip = StickStock { name: "strip".into(), length: usable, cost: 1, supply: None };
        Wanted {
            sticks: vec![SticksWanted {
                stock: "strip".into(),
                usable,
                bought: usable,
                kerf: ModelLength::ZERO,
                strips: vec![strip],
                parts: (0..20).map(part).collect(),
                made_up: None,
            }],
            sheets: Vec::new(),
        }
    }

    #[test]
    fn with_time_a_quick_answer_is_proven_and_the_watcher_hears_of_it() {
        let wanted = wanted();
        let quick = lay_out(&wanted, Steps { sticks: 0, sheets: 0 }).value;
        assert!(!is_proven(&quick));
        let mut told = Vec::new();
        let mut tell = |standing: &Standing| told.push(standing.clone());
        let better = prove(&wanted, &quick, &mut Watch { stop: &|| false, tell: &mut tell });
        assert!(is_proven(&better));
        assert!(better.sticks[0].layout.cost <= quick.sticks[0].layout.cost);
        let last = told.last().expect("the watcher hears");
        assert_eq!(last.best, last.bound);
    }

    #[test]
    fn stopped_at_once_the_quick_answer_is_kept() {
        let wanted = wanted();
        let quick = lay_out(&wanted, Steps { sticks: 0, sheets: 0 }).value;
        let kept = prove(&wanted, &quick, &mut Watch { stop: &|| true, tell: &mut |_| {} });
        assert_eq!(kept.sticks[0].layout, quick.sticks[0].layout);
    }

    #[test]
    fn the_input_changes_with_what_is_wanted_and_with_nothing_else() {
        let (one, mut other) = (wanted(), wanted());
        assert_eq!(one.input(), other.input());
        other.sticks[0].parts[0].length += ModelLength::thou(1e-9);
        assert_ne!(one.input(), other.input());
    }
}
