//! From a folded layout to a plan: cuts, offcuts, sheet coordinates.

use std::cmp::Reverse;

use super::fill::{Filler, Stop, Way};
use super::free::{FreeSheet, Rule};
use super::plan::{Axis, Cut, Placed, Rect, SheetPlan};
use super::problem::Problem;
use super::separate::{Apart, take_apart};
use super::settings::{in_order, settings};
use super::work::{Filled, Layout, Spot, Work};
use super::{chance::Chance, first::orders};

/// How many layouts of the last sheet are tried for a larger offcut.
const OFFCUT_TRIES: usize = 120;

/// The plan of every sheet, the fullest first.
pub(super) fn plans(problem: &Problem, work: &Work, layout: &Layout) -> Vec<SheetPlan> {
    let mut bins: Vec<&Filled> = layout.bins.iter().filter(|bin| !bin.spots.is_empty()).collect();
    bins.sort_by(|a, b| work.covered(b).total_cmp(&work.covered(a)));
    bins.iter().map(|bin| plan(problem, work, bin)).collect()
}

fn plan(problem: &Problem, work: &Work, bin: &Filled) -> SheetPlan {
    let kind = &work.kinds[bin.kind];
    let rects: Vec<Rect> = bin.spots.iter().map(|spot| spot.rect).collect();
    let (moved, cuts, free) = if work.knife.is_some() {
        let apart = best_apart(work, &rects, kind.width, kind.height);
        let cuts = in_order(&apart.cuts);
        (apart.moved, unfold_cuts(problem, kind.row, &cuts), apart.waste)
    } else {
        let free = free_rects(&rects, kind.width, kind.height);
        (rects, Vec::new(), free)
    };
    let placed = bin.spots.iter().zip(&moved).map(|(spot, rect)| Placed {
        part: work.items[spot.item].row,
        x: rect.x + work.margin,
        y: rect.y + work.margin,
        turned: spot.turned,
    });
    SheetPlan { sheet: kind.row, placed: placed.collect(), cuts, offcut: largest(work, &free) }
}

/// The largest of the free rectangles, unfolded.
fn largest(work: &Work, free: &[Rect]) -> Option<Rect> {
    let unfolded = free.iter().map(|rect| unfold(work.gap, work.margin, rect));
    let unfolded = unfolded.filter(|rect| rect.width > 0 && rect.height > 0);
    unfolded.max_by_key(|rect| (rect.area(), Reverse((rect.y, rect.x))))
}

fn unfold(gap: i64, margin: i64, rect: &Rect) -> Rect {
    Rect::new(rect.x + margin, rect.y + margin, rect.width - gap, rect.height - gap)
}

/// Free rectangles round a placement.
fn free_rects(rects: &[Rect], width: i64, height: i64) -> Vec<Rect> {
    let mut sheet = FreeSheet::default();
    sheet.start(width, height, None);
    for rect in rects {
        sheet.take(*rect);
    }
    sheet.free().to_vec()
}

/// Taken apart along the axis that leaves the larger offcut, of like ones along
/// the one that needs fewer settings; within the stages there are.
fn best_apart(work: &Work, rects: &[Rect], width: i64, height: i64) -> Apart {
    let most = work.knife.unwrap_or(u32::MAX);
    let ways = [Axis::Y, Axis::X].into_iter();
    let ways = ways.filter_map(|axis| take_apart(rects, width, height, axis));
    let within = ways.filter(|apart| apart.cuts.iter().all(|cut| cut.stage <= most));
    within
        .max_by_key(|apart| {
            let offcut = largest(work, &apart.waste).map_or(0, |rect| rect.area());
            (offcut, Reverse(settings(&in_order(&apart.cuts))))
        })
        .unwrap_or_default()
}

/// Margins first, then the cuts of the usable area.
fn unfold_cuts(problem: &Problem, row: usize, cuts: &[Cut]) -> Vec<Cut> {
    let (gap, margin) = (problem.gap, problem.margin);
    let mut all = trims(problem, row);
    all.extend(cuts.iter().map(|cut| Cut {
        piece: unfold(gap, margin, &cut.piece),
        at: cut.at + margin - gap,
        ..*cut
    }));
    all
}

fn trims(problem: &Problem, row: usize) -> Vec<Cut> {
    let (sheet, margin) = (&problem.sheets[row], problem.margin);
    if margin == 0 {
        return Vec::new();
    }
    let whole = Rect::new(0, 0, sheet.width, sheet.height);
    let no_left = Rect { x: margin, width: whole.width - margin, ..whole };
    let narrow = Rect { width: no_left.width - margin, ..no_left };
    let no_foot = Rect { y: margin, height: narrow.height - margin, ..narrow };
    [
        (whole, Axis::X, margin),
        (no_left, Axis::X, sheet.width - margin),
        (narrow, Axis::Y, margin),
        (no_foot, Axis::Y, sheet.height - margin),
    ]
    .map(|(piece, axis, at)| Cut { piece, axis, at, stage: 0 })
    .to_vec()
}

/// Lays the least filled sheet again so that its largest free rectangle grows.
pub(super) fn enlarge_offcut(
    work: &Work,
    layout: &mut Layout,
    stop: Stop<'_>,
    go_on: &mut dyn FnMut() -> bool,
) {
    let emptiest = (0..layout.bins.len())
        .min_by(|&a, &b| work.covered(&layout.bins[a]).total_cmp(&work.covered(&layout.bins[b])));
    let Some(emptiest) = emptiest.filter(|_| go_on()) else { return };
    let mut best = layout.bins[emptiest].clone();
    let mut best_area = offcut_area(work, &best);
    let mut chance = Chance::new(7);
    let mut filler = Filler::new(stop);
    let items: Vec<usize> = best.spots.iter().map(|spot| spot.item).collect();
    let sorted: Vec<Vec<usize>> = orders(work)
        .iter()
        .map(|order| order.iter().copied().filter(|item| items.contains(item)).collect())
        .collect();
    for attempt in 0..OFFCUT_TRIES {
        if !go_on() {
            break;
        }
        let order = &sorted[attempt % sorted.len()];
        let tried = relaid(work, &mut filler, &mut chance, best.kind, order);
        if let Some(tried) = tried {
            let area = offcut_area(work, &tried);
            if area > best_area {
                (best, best_area) = (tried, area);
            }
        }
    }
    layout.bins[emptiest] = best;
}

/// A sheet taken apart as it will be cut.
pub(super) fn apart_of(work: &Work, bin: &Filled) -> Option<Apart> {
    let kind = &work.kinds[bin.kind];
    let rects: Vec<Rect> = bin.spots.iter().map(|spot| spot.rect).collect();
    let apart = best_apart(work, &rects, kind.width, kind.height);
    (apart.moved.len() == rects.len()).then_some(apart)
}

pub(super) fn offcut_area(work: &Work, bin: &Filled) -> i64 {
    let kind = &work.kinds[bin.kind];
    let rects: Vec<Rect> = bin.spots.iter().map(|spot| spot.rect).collect();
    let free = if work.knife.is_some() {
        best_apart(work, &rects, kind.width, kind.height).waste
    } else {
        free_rects(&rects, kind.width, kind.height)
    };
    largest(work, &free).map_or(0, |rect| rect.area())
}

/// The items in a corner of the sheet, narrowed by chance in one direction.
#[allow(clippy::cast_possible_truncation, clippy::cast_precision_loss)] // a length by chance
fn relaid(
    work: &Work,
    filler: &mut Filler<'_>,
    chance: &mut Chance,
    kind: usize,
    order: &[usize],
) -> Option<Filled> {
    let (width, height) = (work.kinds[kind].width, work.kinds[kind].height);
    let share = 0.2 + 0.8 * chance.unit();
    let (wide, high) = match chance.below(3) {
        0 => ((width as f64 * share) as i64, height),
        1 => (width, (height as f64 * share) as i64),
        _ => (width, height),
    };
    let mut way = Way::by_chance(work, chance, order.len());
    if chance.below(2) == 0 {
        way.rule = if chance.below(2) == 0 { Rule::Low } else { Rule::Left };
    }
    filler.start_sized(work, wide.max(1), high.max(1), way);
    let (mut spots, mut left) = (Vec::<Spot>::new(), Vec::new());
    filler.add(work, order, &mut spots, &mut left);
    left.is_empty().then_some(Filled { kind, spots })
}
