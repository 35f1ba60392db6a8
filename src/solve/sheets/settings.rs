//! Cuts in the order of the hands: all that one setting of the fence does are
//! made together, and sheets are laid again so that fewer settings do.

use std::cmp::Reverse;
use std::collections::{BTreeMap, HashMap, HashSet, VecDeque};

use super::beam::{Wish, grown};
use super::fill::Stop;
use super::finish::{apart_of, offcut_area};
use super::plan::{Axis, Cut, Rect};
use super::work::{Filled, Layout, Spot, Work};

/// Layouts grown beside each other when a sheet is laid again.
const WIDTHS: [usize; 2] = [12, 60];
/// Parts on a sheet up to which it is laid again.
const MOST_PARTS: usize = 150;
/// The share of the offcut that must stay when a sheet is laid again.
const KEPT_OFFCUT: f64 = 0.8;

/// What the fence is set to for a cut: the way it runs, and how far it lies
/// from the edge laid against the fence.
#[must_use]
pub fn setting(cut: &Cut) -> (Axis, i64) {
    let edge = match cut.axis {
        Axis::X => cut.piece.x,
        Axis::Y => cut.piece.y,
    };
    (cut.axis, cut.at - edge)
}

/// Cuts in runs that one setting of the fence makes.
pub fn runs_of_settings(cuts: &[Cut]) -> impl Iterator<Item = &[Cut]> {
    cuts.chunk_by(|a, b| setting(a) == setting(b))
}

/// How often the fence is set, when the cuts are made in their order.
pub(super) fn settings(cuts: &[Cut]) -> usize {
    runs_of_settings(cuts).count()
}

/// How long a cut is.
fn run_of(cut: &Cut) -> i64 {
    match cut.axis {
        Axis::X => cut.piece.height,
        Axis::Y => cut.piece.width,
    }
}

/// The same cuts, those of one setting together as far as each piece is there
/// when it is cut; the settings that are done with first, then the longest.
/// The cuts are folded: what a cut leaves begins where the cut falls.
pub(super) fn in_order(cuts: &[Cut]) -> Vec<Cut> {
    let of: HashMap<Rect, usize> = cuts.iter().enumerate().map(|(at, c)| (c.piece, at)).collect();
    let after = |cut: &Cut| halves(cut).into_iter().filter_map(|piece| of.get(&piece).copied());
    let made: HashSet<usize> = cuts.iter().flat_map(after).collect();
    let mut left: HashMap<(Axis, i64), usize> = HashMap::new();
    let mut ready = Ready::new();
    for (at, cut) in cuts.iter().enumerate() {
        *left.entry(setting(cut)).or_default() += 1;
        if !made.contains(&at) {
            ready.entry(setting(cut)).or_default().push_back(at);
        }
    }
    let mut done = Vec::with_capacity(cuts.len());
    while let Some(now) = best_setting(cuts, &left, &ready) {
        // Cuts that come free on the way are made with the others.
        while let Some(at) = ready.get_mut(&now).and_then(VecDeque::pop_front) {
            done.push(cuts[at]);
            left.entry(now).and_modify(|count| *count -= 1);
            for next in after(&cuts[at]) {
                ready.entry(setting(&cuts[next])).or_default().push_back(next);
            }
        }
        ready.remove(&now);
    }
    done
}

type Ready = BTreeMap<(Axis, i64), VecDeque<usize>>;

fn best_setting(
    cuts: &[Cut],
    left: &HashMap<(Axis, i64), usize>,
    ready: &Ready,
) -> Option<(Axis, i64)> {
    let worth = |(now, here): (&(Axis, i64), &VecDeque<usize>)| {
        let blocked = left.get(now).map_or(0, |left| left - here.len());
        let longest = here.iter().map(|&at| run_of(&cuts[at])).max();
        (Reverse(blocked), longest, here.len(), *now)
    };
    ready.iter().map(worth).max().map(|(_, _, _, now)| now)
}

/// What a folded cut makes of its piece.
fn halves(cut: &Cut) -> [Rect; 2] {
    let piece = cut.piece;
    match cut.axis {
        Axis::X => [
            Rect { width: cut.at - piece.x, ..piece },
            Rect { x: cut.at, width: piece.right() - cut.at, ..piece },
        ],
        Axis::Y => [
            Rect { height: cut.at - piece.y, ..piece },
            Rect { y: cut.at, height: piece.top() - cut.at, ..piece },
        ],
    }
}

/// Lays each sheet again where the same parts come off it with fewer settings.
pub(super) fn fewer_settings(
    work: &Work,
    layout: &mut Layout,
    stop: Stop<'_>,
    go_on: &mut dyn FnMut(u64) -> bool,
) {
    for bin in &mut layout.bins {
        if bin.spots.len() < 2 || bin.spots.len() > MOST_PARTS || stop.now() {
            continue;
        }
        let mut best = count(work, bin);
        let offcut = offcut_area(work, bin);
        for wish in wishes() {
            let Some(again) = laid_again(work, bin, wish, go_on) else { continue };
            let settings = count(work, &again);
            #[allow(clippy::cast_precision_loss)] // compared with a share
            let kept = offcut_area(work, &again) as f64 >= KEPT_OFFCUT * offcut as f64;
            if settings < best && kept {
                best = settings;
                *bin = again;
            }
        }
    }
}

fn wishes() -> impl Iterator<Item = Wish> {
    WIDTHS.into_iter().flat_map(|width| {
        [false, true].into_iter().flat_map(move |across| {
            [false, true].into_iter().map(move |large_first| Wish {
                width,
                across,
                large_first,
                few_settings: true,
            })
        })
    })
}

fn count(work: &Work, bin: &Filled) -> usize {
    apart_of(work, bin).map_or(usize::MAX, |apart| settings(&in_order(&apart.cuts)))
}

/// The parts of one sheet laid on it anew.
fn laid_again(
    work: &Work,
    bin: &Filled,
    wish: Wish,
    go_on: &mut dyn FnMut(u64) -> bool,
) -> Option<Filled> {
    let items: Vec<usize> = bin.spots.iter().map(|spot| spot.item).collect();
    let only = Work {
        kinds: vec![work.kinds[bin.kind].clone()],
        items: items.iter().map(|&item| work.items[item]).collect(),
        ..*work
    };
    let grown = grown(&only, &[1], wish, go_on)?.bins.pop()?;
    let spots = grown.spots.iter().map(|spot| Spot { item: items[spot.item], ..*spot });
    Some(Filled { kind: bin.kind, spots: spots.collect() })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(piece: (i64, i64, i64, i64), axis: Axis, at: i64) -> Cut {
        Cut { piece: Rect::new(piece.0, piece.1, piece.2, piece.3), axis, at, stage: 1 }
    }

    /// Two rows, each cut at 3: the fence is set twice, not three times.
    #[test]
    fn cuts_of_one_setting_are_made_together() {
        let first = cut((0, 0, 10, 8), Axis::Y, 4);
        let low = cut((0, 0, 10, 4), Axis::X, 3);
        let between = cut((0, 0, 3, 4), Axis::Y, 2);
        let high = cut((0, 4, 10, 4), Axis::X, 3);
        let ordered = in_order(&[first, low, between, high]);
        assert_eq!(settings(&[first, low, between, high]), 4);
        assert_eq!(settings(&ordered), 3);
        assert_eq!((ordered.len(), ordered[0]), (4, first));
    }
}
