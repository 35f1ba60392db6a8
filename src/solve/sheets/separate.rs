//! Edge-to-edge cuts: whether a placement can be taken apart by them, in how
//! many stages, and the list of cuts that does it.
//!
//! All cuts that can be made along one axis are made at once, then each piece
//! is cut along the other axis. Cutting more never hinders a later cut, so this
//! finds the fewest stages.

use super::plan::{Axis, Cut, Rect};

/// The interval of a rectangle along an axis.
fn span(rect: &Rect, axis: Axis) -> (i64, i64) {
    match axis {
        Axis::X => (rect.x, rect.right()),
        Axis::Y => (rect.y, rect.top()),
    }
}

/// The fewest stages that cut `rects` free from a sheet of the given size, or
/// `None` when edge-to-edge cuts cannot. The rectangles are reordered.
pub(super) fn stages(rects: &mut [Rect], width: i64, height: i64) -> Option<u32> {
    let whole = Rect::new(0, 0, width, height);
    [Axis::Y, Axis::X].into_iter().filter_map(|axis| depth(rects, &whole, axis)).min()
}

fn depth(rects: &mut [Rect], piece: &Rect, axis: Axis) -> Option<u32> {
    if let [only] = rects {
        let along = span(only, axis).1 - span(only, axis).0 < length(piece, axis);
        let across = length(only, axis.other()) < length(piece, axis.other());
        return Some(u32::from(along) + u32::from(across));
    }
    rects.sort_unstable_by_key(|rect| span(rect, axis).0);
    let first = run(rects, axis);
    if first == rects.len() {
        return None;
    }
    let (mut deepest, mut rest) = (0, rects);
    while !rest.is_empty() {
        let (group, after) = rest.split_at_mut(run(rest, axis));
        let held = tight(group, piece, axis);
        deepest = deepest.max(depth(group, &held, axis.other())?);
        rest = after;
    }
    Some(deepest + 1)
}

fn length(rect: &Rect, axis: Axis) -> i64 {
    match axis {
        Axis::X => rect.width,
        Axis::Y => rect.height,
    }
}

/// How many of the rectangles, sorted by their start, hang together.
fn run(rects: &[Rect], axis: Axis) -> usize {
    let mut reach = i64::MIN;
    for (index, rect) in rects.iter().enumerate() {
        let (start, end) = span(rect, axis);
        if index > 0 && start >= reach {
            return index;
        }
        reach = reach.max(end);
    }
    rects.len()
}

/// The piece cut down along `axis` to what the group needs.
fn tight(group: &[Rect], piece: &Rect, axis: Axis) -> Rect {
    let start = group.iter().map(|rect| span(rect, axis).0).min().unwrap_or(0);
    let end = group.iter().map(|rect| span(rect, axis).1).max().unwrap_or(0);
    match axis {
        Axis::X => Rect { x: start, width: end - start, ..*piece },
        Axis::Y => Rect { y: start, height: end - start, ..*piece },
    }
}

/// A placement taken apart.
#[derive(Clone, Debug, Default)]
pub(super) struct Apart {
    /// Where each rectangle ends up: pushed towards the corner, so that what is
    /// left over lies together. Folded coordinates, in the order given.
    pub(super) moved: Vec<Rect>,
    /// The cuts in order, in folded coordinates with `at` at the folded edge.
    pub(super) cuts: Vec<Cut>,
    /// Pieces left over, folded.
    pub(super) waste: Vec<Rect>,
}

/// Takes a placement apart, first along `axis`; `None` when that cannot be done.
pub(super) fn take_apart(rects: &[Rect], width: i64, height: i64, axis: Axis) -> Option<Apart> {
    let mut apart = Apart { moved: rects.to_vec(), ..Apart::default() };
    let group: Vec<usize> = (0..rects.len()).collect();
    let whole = Rect::new(0, 0, width, height);
    apart.split(&group, whole, axis, 1).then_some(apart)
}

impl Apart {
    /// Cuts the group out of `piece`; false when it hangs together.
    fn split(&mut self, group: &[usize], piece: Rect, axis: Axis, stage: u32) -> bool {
        let groups = self.groups(group, axis);
        if let [only] = group {
            return self.trim(*only, piece, axis, stage);
        }
        if groups.len() < 2 {
            return false;
        }
        let mut held = piece;
        let mut pieces = Vec::new();
        for group in &groups {
            let part = self.cut_off(group, &mut held, axis, stage);
            pieces.push(part);
        }
        if length(&held, axis) > 0 {
            self.waste.push(held);
        }
        let halves = groups.iter().zip(pieces);
        halves.into_iter().all(|(group, part)| self.split(group, part, axis.other(), stage + 1))
    }

    fn groups(&self, group: &[usize], axis: Axis) -> Vec<Vec<usize>> {
        let mut sorted = group.to_vec();
        sorted.sort_by_key(|&index| span(&self.moved[index], axis).0);
        let (mut groups, mut reach) = (Vec::<Vec<usize>>::new(), i64::MIN);
        for index in sorted {
            let (start, end) = span(&self.moved[index], axis);
            match groups.last_mut() {
                Some(last) if start < reach => last.push(index),
                _ => groups.push(vec![index]),
            }
            reach = reach.max(end);
        }
        // The long ones first, those alike one after the other: the fence
        // stays where it is.
        groups.sort_by_key(|group| std::cmp::Reverse(self.extent(group, axis)));
        groups
    }

    /// What a group takes along an axis.
    fn extent(&self, group: &[usize], axis: Axis) -> i64 {
        let spans = || group.iter().map(|&index| span(&self.moved[index], axis));
        let start = spans().map(|(start, _)| start).min().unwrap_or(0);
        spans().map(|(_, end)| end).max().unwrap_or(0) - start
    }

    /// Pushes a group to the start of `held` and cuts it off there.
    fn cut_off(&mut self, group: &[usize], held: &mut Rect, axis: Axis, stage: u32) -> Rect {
        let rects = group.iter().map(|&index| self.moved[index]);
        let (start, end) = rects.fold((i64::MAX, i64::MIN), |(low, high), rect| {
            let (start, end) = span(&rect, axis);
            (low.min(start), high.max(end))
        });
        let (base, reach) = span(held, axis);
        for &index in group {
            shift(&mut self.moved[index], axis, base - start);
        }
        let at = base + end - start;
        if at < reach {
            self.cuts.push(Cut { piece: *held, axis, at, stage });
        }
        let (part, rest) = match axis {
            Axis::X => {
                (Rect { width: at - base, ..*held }, Rect { x: at, width: reach - at, ..*held })
            }
            Axis::Y => {
                (Rect { height: at - base, ..*held }, Rect { y: at, height: reach - at, ..*held })
            }
        };
        *held = rest;
        part
    }

    /// Cuts a single rectangle out of its piece.
    fn trim(&mut self, only: usize, piece: Rect, axis: Axis, stage: u32) -> bool {
        let mut held = piece;
        let mut stage = stage;
        for axis in [axis, axis.other()] {
            let cuts = self.cuts.len();
            let part = self.cut_off(&[only], &mut held, axis, stage);
            if length(&held, axis) > 0 {
                self.waste.push(held);
            }
            held = part;
            stage += u32::from(self.cuts.len() > cuts);
        }
        true
    }
}

fn shift(rect: &mut Rect, axis: Axis, by: i64) {
    match axis {
        Axis::X => rect.x += by,
        Axis::Y => rect.y += by,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Four rectangles round a hole: no cut runs from edge to edge.
    const PINWHEEL: [Rect; 4] = [
        Rect::new(0, 0, 2, 1),
        Rect::new(2, 0, 1, 2),
        Rect::new(1, 2, 2, 1),
        Rect::new(0, 1, 1, 2),
    ];

    #[test]
    fn a_pinwheel_cannot_be_cut_edge_to_edge() {
        assert_eq!(stages(&mut PINWHEEL.clone(), 3, 3), None);
        assert!(take_apart(&PINWHEEL, 3, 3, Axis::X).is_none());
    }

    #[test]
    fn a_grid_needs_two_stages() {
        let mut rects = [
            Rect::new(0, 0, 2, 1),
            Rect::new(2, 0, 1, 1),
            Rect::new(0, 1, 2, 2),
            Rect::new(2, 1, 1, 2),
        ];
        assert_eq!(stages(&mut rects, 3, 3), Some(2));
        let apart = take_apart(&rects, 3, 3, Axis::Y).expect("a grid comes apart");
        assert_eq!((apart.cuts.len(), apart.waste.len()), (3, 0));
    }

    #[test]
    fn a_part_smaller_than_its_row_needs_a_third_stage() {
        let mut rects = [Rect::new(0, 0, 2, 2), Rect::new(2, 0, 1, 1), Rect::new(0, 2, 3, 1)];
        assert_eq!(stages(&mut rects, 3, 3), Some(3));
        assert_eq!(stages(&mut [Rect::new(0, 0, 3, 3)], 3, 3), Some(0));
    }
}
