//! The layout with time: better, or proven to have no better.
//!
//! Stocks whose quick answer is not proven are solved again with more steps,
//! in rounds, so that one hard stock keeps no other waiting.

use super::amount::{Amount, Unit};
use super::parts::{Layout, SheetGroup, Steps, StickGroup, laid};
use super::rip;
use super::sheets::{SheetLayout, SheetPart};
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
        if is_final(&layout) || (watch.stop)() {
            break;
        }
    }
    layout
}

/// Steps for a sheet after which no setting of the fence is looked for any more.
const TIDY: u64 = Steps::QUICK.sheets * MORE;

/// Whether nothing is left to find.
#[must_use]
pub fn is_final(layout: &Layout) -> bool {
    layout.sticks.iter().all(|group| group.layout.proven) && layout.sheets.iter().all(is_done)
}

fn is_done(group: &SheetGroup) -> bool {
    group.layout.proven && group.layout.tidied >= TIDY
}

fn round(wanted: &Wanted, layout: &mut Layout, steps: Steps, watch: &mut Watch<'_>) {
    let before = layout.sticks.clone();
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
        let Some(of) = wanted.sheets.iter().find(|one| one.stock == group.stock) else { continue };
        let parts = rip::with_strips(of, &layout.sticks);
        let same = parts == group.parts;
        if same && (is_done(group) || (watch.stop)()) {
            continue;
        }
        let better = sheet_group(of, parts, layout, at, steps.sheets, watch);
        let worse = |better: &SheetGroup| rank(&better.layout) > rank(&group.layout);
        match better.filter(|better| same || !worse(better)) {
            Some(better) => layout.sheets[at] = better,
            // Fewer strips that need more sheets: the strips stay as they were.
            None if !same => keep_strips(of, &before, &mut layout.sticks),
            None => {}
        }
    }
}

fn keep_strips(of: &SheetsWanted, before: &[StickGroup], sticks: &mut [StickGroup]) {
    for (now, before) in sticks.iter_mut().zip(before) {
        if of.ripped.contains(&now.stock) {
            now.clone_from(before);
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
        totals.stick(at, old, progress);
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

/// A better layout of these parts; where the parts are those of the layout so
/// far, never a worse one.
fn sheet_group(
    wanted: &SheetsWanted,
    parts: Vec<SheetPart>,
    all: &Layout,
    at: usize,
    steps: u64,
    watch: &mut Watch<'_>,
) -> Option<SheetGroup> {
    let old = &all.sheets[at];
    let mut totals = Totals::of(all);
    let (stop, tell) = (watch.stop, &mut *watch.tell);
    let budget = sheet_solver::Budget { stop: Some(stop), ..sheet_solver::Budget::steps(steps) };
    let mut hear = |progress: &sheet_solver::Progress| {
        totals.sheet(at, old, progress);
        tell(&totals.standing(sheet_phase(progress.phase)));
        control(stop)
    };
    let (mut found, _) = laid(wanted, &parts, &budget, &mut hear).ok()?;
    rip::bound_by_pieces(wanted, &all.sticks, &mut found);
    if parts != old.parts {
        return Some(SheetGroup::new(wanted, parts, found));
    }
    let (bound, tidied) = (found.bound.max(old.layout.bound), found.tidied);
    let order = |layout: &SheetLayout| (rank(layout), layout.settings());
    let better = order(&found) < order(&old.layout);
    let mut layout = if better { found } else { old.layout.clone() };
    layout.tidied = tidied;
    if layout.unplaced.is_empty() {
        layout.bound = bound.min(layout.cost);
        layout.proven = layout.bound >= layout.cost;
    }
    Some(SheetGroup::new(wanted, parts, layout))
}

/// Lower is better.
fn rank(layout: &SheetLayout) -> (u64, i64) {
    (outside(layout), layout.cost)
}

/// Parts that found no room on the sheets in supply.
fn outside(layout: &SheetLayout) -> u64 {
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
        sheet_solver::Phase::Settings => "fewer settings",
    }
}

fn control(stop: &dyn Fn() -> bool) -> Control {
    if stop() { Control::Stop } else { Control::Continue }
}

/// How a layout stands as it is.
#[must_use]
pub fn standing(layout: &Layout) -> Standing {
    Totals::of(layout).standing(if is_final(layout) { "proven" } else { "not proven" })
}

/// Cost and bound of every stock.
struct Totals {
    sticks: Vec<[Amount; 2]>,
    sheets: Vec<[Amount; 2]>,
}

impl Totals {
    fn of(layout: &Layout) -> Self {
        // Sticks that are ripped are counted as the sheets they come from.
        let sticks = layout.sticks.iter();
        Self {
            sticks: sticks
                .map(|group| if group.is_ripped() { Default::default() } else { group.amounts() })
                .collect(),
            sheets: layout.sheets.iter().map(SheetGroup::amounts).collect(),
        }
    }

    fn stick(&mut self, at: usize, old: &StickGroup, progress: &stick_solver::Progress) {
        if !old.is_ripped() {
            let mut group = old.clone();
            group.layout.cost = progress.best.min(old.layout.cost);
            group.layout.bound = progress.bound.max(old.layout.bound).min(group.layout.cost);
            self.sticks[at] = group.amounts();
        }
    }

    fn sheet(&mut self, at: usize, old: &SheetGroup, progress: &sheet_solver::Progress) {
        let mut group = old.clone();
        group.layout.cost = progress.cost.unwrap_or(old.layout.cost).min(old.layout.cost);
        // With strips the bound is that of the pieces, which is not known here.
        if old.parts.iter().all(|part| part.strip.is_none()) {
            group.layout.bound = progress.bound.max(old.layout.bound).min(group.layout.cost);
        }
        self.sheets[at] = group.amounts();
    }

    fn standing(&self, phase: &'static str) -> Standing {
        Standing { phase, best: self.words(0), bound: self.words(1) }
    }

    /// The sums by unit: "42 sticks, 3 sheets, 216.0 sq in of sheet".
    fn words(&self, which: usize) -> String {
        let mut texts = Vec::new();
        for (all, piece, what) in
            [(&self.sticks, "sticks", "of stick"), (&self.sheets, "sheets", "of sheet")]
        {
            for unit in [Unit::Count, Unit::Length, Unit::Area, Unit::Money] {
                let mut here = all.iter().map(|both| both[which]).filter(|one| one.unit == unit);
                let sum = here.clone().map(|one| one.value).sum();
                if all.is_empty() || here.next().is_none() || (sum == 0 && unit != Unit::Count) {
                    continue;
                }
                let amount = Amount::new(unit, sum);
                texts.push(match unit {
                    Unit::Count => format!("{amount} {piece}"),
                    Unit::Length | Unit::Area | Unit::Money => format!("{amount} {what}"),
                });
            }
        }
        texts.join(", ")
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
        let strip = StickStock {
            name: "strip".into(),
            length: usable,
            bought: usable,
            cost: 1,
            supply: None,
        };
        Wanted {
            sticks: vec![SticksWanted {
                stock: "strip".into(),
                usable,
                bought: usable,
                kerf: ModelLength::ZERO,
                strips: vec![strip],
                parts: (0..20).map(part).collect(),
                unit: Unit::Count,
                made_up: None,
            }],
            sheets: Vec::new(),
        }
    }

    #[test]
    fn with_time_a_quick_answer_is_proven_and_the_watcher_hears_of_it() {
        let wanted = wanted();
        let quick = lay_out(&wanted, Steps { sticks: 0, sheets: 0 }).value;
        assert!(!is_final(&quick));
        let mut told = Vec::new();
        let mut tell = |standing: &Standing| told.push(standing.clone());
        let better = prove(&wanted, &quick, &mut Watch { stop: &|| false, tell: &mut tell });
        assert!(is_final(&better));
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
