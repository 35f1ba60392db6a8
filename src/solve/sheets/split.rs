//! Edge-to-edge placement by recursive splits: a part goes to the corner of a
//! free piece, and two cuts set it free and leave two smaller pieces.

use super::free::{Rule, positions, score};
use super::plan::{Axis, Rect};

/// Which of the two cuts runs from edge to edge first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum First {
    /// The cut that leaves the larger single piece.
    LargePiece,
    /// The cut that leaves two pieces of like size.
    LikePieces,
    /// Rows first.
    Rows,
    /// Columns first.
    Columns,
}

/// Every way.
pub(super) const FIRSTS: [First; 4] =
    [First::LargePiece, First::LikePieces, First::Rows, First::Columns];

/// A free piece with the axis and stage of the cut that made it.
#[derive(Clone, Copy, Debug)]
struct Piece {
    rect: Rect,
    axis: Option<Axis>,
    stage: u32,
}

/// A sheet being filled by splits.
#[derive(Clone, Debug, Default)]
pub(super) struct SplitSheet {
    pieces: Vec<Piece>,
    most: u32,
}

/// A place that will do.
#[derive(Clone, Copy, Debug)]
struct Choice {
    suits: (i64, i64),
    index: usize,
    width: i64,
    height: i64,
    turned: bool,
    axis: Axis,
}

impl Piece {
    /// Stage of a cut along `axis`.
    fn next(&self, axis: Axis) -> u32 {
        if self.axis == Some(axis) { self.stage } else { self.stage + 1 }
    }

    /// Stages used when a `width` by `height` part is cut out, `axis` first.
    fn needs(&self, width: i64, height: i64, axis: Axis) -> u32 {
        let (first, second) = match axis {
            Axis::X => (width < self.rect.width, height < self.rect.height),
            Axis::Y => (height < self.rect.height, width < self.rect.width),
        };
        match (first, second) {
            (false, false) => self.stage,
            (true, false) => self.next(axis),
            (false, true) => self.next(axis.other()),
            (true, true) => self.next(axis) + 1,
        }
    }
}

impl SplitSheet {
    /// Starts an empty sheet, to be cut in at most `most` stages.
    pub(super) fn start(&mut self, width: i64, height: i64, most: u32) {
        self.most = most;
        self.pieces.clear();
        self.pieces.push(Piece { rect: Rect::new(0, 0, width, height), axis: None, stage: 0 });
    }

    /// Places one rectangle in the free piece `rule` likes best.
    pub(super) fn insert(
        &mut self,
        width: i64,
        height: i64,
        may_turn: bool,
        rule: Rule,
        first: First,
    ) -> Option<(Rect, bool)> {
        let mut found: Option<Choice> = None;
        for (w, h, turned) in positions(width, height, may_turn) {
            for (index, piece) in self.pieces.iter().enumerate() {
                if w > piece.rect.width || h > piece.rect.height {
                    continue;
                }
                let Some(axis) = self.axis_for(piece, w, h, first) else { continue };
                let suits = score(rule, &piece.rect, w, h);
                if found.is_none_or(|best| suits < best.suits) {
                    found = Some(Choice { suits, index, width: w, height: h, turned, axis });
                }
            }
        }
        let Choice { index, width, height, turned, axis, .. } = found?;
        let piece = self.pieces.swap_remove(index);
        self.split(&piece, width, height, axis);
        Some((Rect::new(piece.rect.x, piece.rect.y, width, height), turned))
    }

    /// The axis of the first cut: the one wished for, or the other when the
    /// stages would not do.
    fn axis_for(&self, piece: &Piece, width: i64, height: i64, first: First) -> Option<Axis> {
        let wish = wished(piece, width, height, first);
        [wish, wish.other()].into_iter().find(|&axis| piece.needs(width, height, axis) <= self.most)
    }

    fn split(&mut self, piece: &Piece, width: i64, height: i64, axis: Axis) {
        let rect = piece.rect;
        let (dx, dy) = (rect.width - width, rect.height - height);
        let stage = match axis {
            Axis::X if dx > 0 => piece.next(axis),
            Axis::Y if dy > 0 => piece.next(axis),
            _ => piece.stage,
        };
        let second = if stage > piece.stage || piece.axis == Some(axis) {
            stage + 1
        } else {
            piece.next(axis.other())
        };
        let (wide, high) = match axis {
            Axis::X => (width, rect.height),
            Axis::Y => (rect.width, height),
        };
        let (beside, above) = match axis {
            Axis::X => (
                Rect { x: rect.x + width, width: dx, ..rect },
                Rect { y: rect.y + height, height: dy, width: wide, ..rect },
            ),
            Axis::Y => (
                Rect { x: rect.x + width, width: dx, height: high, ..rect },
                Rect { y: rect.y + height, height: dy, ..rect },
            ),
        };
        let (beside_stage, above_stage) = match axis {
            Axis::X => (stage, second),
            Axis::Y => (second, stage),
        };
        self.keep(beside, Axis::X, beside_stage);
        self.keep(above, Axis::Y, above_stage);
    }

    fn keep(&mut self, rect: Rect, axis: Axis, stage: u32) {
        if rect.width > 0 && rect.height > 0 {
            self.pieces.push(Piece { rect, axis: Some(axis), stage });
        }
    }
}

fn wished(piece: &Piece, width: i64, height: i64, first: First) -> Axis {
    let (dx, dy) = (piece.rect.width - width, piece.rect.height - height);
    // Cut along X first: a column beside of dx by the whole height, and dy over the part.
    let along_x = (dx * piece.rect.height).max(dy * width);
    let along_y = (dy * piece.rect.width).max(dx * height);
    match first {
        First::LargePiece if along_x >= along_y => Axis::X,
        First::LikePieces if along_x < along_y => Axis::X,
        First::Columns => Axis::X,
        _ => Axis::Y,
    }
}
