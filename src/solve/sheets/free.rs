//! Free placement: the largest free rectangles of a sheet are kept, and a part
//! goes to a corner of the one that suits it best.

use super::plan::Rect;
use super::separate::stages;

/// Which free rectangle suits best.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rule {
    /// The least left over on the shorter side.
    ShortSide,
    /// The least left over on the longer side.
    LongSide,
    /// The smallest.
    Area,
    /// The lowest, then the one farthest left.
    Low,
    /// The one farthest left, then the lowest.
    Left,
}

/// Every rule.
pub(super) const RULES: [Rule; 5] =
    [Rule::ShortSide, Rule::LongSide, Rule::Area, Rule::Low, Rule::Left];

/// How well a place suits; the least is best.
pub(super) fn score(rule: Rule, free: &Rect, width: i64, height: i64) -> (i64, i64) {
    let (dx, dy) = (free.width - width, free.height - height);
    match rule {
        Rule::ShortSide => (dx.min(dy), dx.max(dy)),
        Rule::LongSide => (dx.max(dy), dx.min(dy)),
        Rule::Area => (free.area() - width * height, dx.min(dy)),
        Rule::Low => (free.y + height, free.x),
        Rule::Left => (free.x + width, free.y),
    }
}

/// A sheet being filled.
#[derive(Clone, Debug, Default)]
pub(super) struct FreeSheet {
    width: i64,
    height: i64,
    /// Largest free rectangles; they overlap.
    free: Vec<Rect>,
    placed: Vec<Rect>,
    /// The most stages, when the parts must come apart edge to edge.
    knife: Option<u32>,
    scratch: Vec<Rect>,
    choices: Vec<((i64, i64), Rect, bool)>,
}

impl FreeSheet {
    /// Starts an empty sheet.
    pub(super) fn start(&mut self, width: i64, height: i64, knife: Option<u32>) {
        (self.width, self.height, self.knife) = (width, height, knife);
        self.free.clear();
        self.free.push(Rect::new(0, 0, width, height));
        self.placed.clear();
    }

    /// The largest free rectangles.
    pub(super) fn free(&self) -> &[Rect] {
        &self.free
    }

    /// Places one rectangle where `rule` likes it best; says where and whether
    /// it was turned.
    pub(super) fn insert(
        &mut self,
        width: i64,
        height: i64,
        may_turn: bool,
        rule: Rule,
    ) -> Option<(Rect, bool)> {
        let (rect, turned) = if self.knife.is_some() {
            self.best_apart(width, height, may_turn, rule)?
        } else {
            self.best(width, height, may_turn, rule)?
        };
        self.take(rect);
        Some((rect, turned))
    }

    fn best(&self, width: i64, height: i64, may_turn: bool, rule: Rule) -> Option<(Rect, bool)> {
        let mut found: Option<((i64, i64), Rect, bool)> = None;
        for (w, h, turned) in positions(width, height, may_turn) {
            for free in self.free.iter().filter(|free| w <= free.width && h <= free.height) {
                let suits = score(rule, free, w, h);
                if found.is_none_or(|(best, ..)| suits < best) {
                    found = Some((suits, Rect::new(free.x, free.y, w, h), turned));
                }
            }
        }
        found.map(|(_, rect, turned)| (rect, turned))
    }

    /// The best place that leaves the sheet one that edge-to-edge cuts can take apart.
    fn best_apart(
        &mut self,
        width: i64,
        height: i64,
        may_turn: bool,
        rule: Rule,
    ) -> Option<(Rect, bool)> {
        let mut choices = std::mem::take(&mut self.choices);
        choices.clear();
        for (w, h, turned) in positions(width, height, may_turn) {
            let fitting = self.free.iter().filter(|free| w <= free.width && h <= free.height);
            choices
                .extend(fitting.map(|free| {
                    (score(rule, free, w, h), Rect::new(free.x, free.y, w, h), turned)
                }));
        }
        choices.sort_unstable_by_key(|choice| choice.0);
        let found = choices.iter().find(|choice| self.comes_apart_with(choice.1));
        let found = found.map(|choice| (choice.1, choice.2));
        self.choices = choices;
        found
    }

    fn comes_apart_with(&mut self, rect: Rect) -> bool {
        let Some(most) = self.knife else { return true };
        self.scratch.clear();
        self.scratch.extend_from_slice(&self.placed);
        self.scratch.push(rect);
        stages(&mut self.scratch, self.width, self.height).is_some_and(|needed| needed <= most)
    }

    /// Marks a rectangle as taken.
    pub(super) fn take(&mut self, taken: Rect) {
        self.placed.push(taken);
        let before = self.free.len();
        let mut kept = 0;
        let mut pieces = std::mem::take(&mut self.scratch);
        pieces.clear();
        for index in 0..before {
            let free = self.free[index];
            if free.overlaps(&taken) {
                around(&free, &taken, &mut pieces);
            } else {
                self.free[kept] = free;
                kept += 1;
            }
        }
        self.free.truncate(kept);
        self.add_maximal(&pieces, kept);
        self.scratch = pieces;
    }

    /// Adds the pieces that no other rectangle holds. The first `kept` are
    /// untouched free rectangles and cannot lie inside a piece.
    fn add_maximal(&mut self, pieces: &[Rect], kept: usize) {
        for (index, piece) in pieces.iter().enumerate() {
            let held = self.free[..kept].iter().any(|free| free.holds(piece))
                || pieces.iter().enumerate().any(|(other, free)| {
                    other != index && free.holds(piece) && (free != piece || other < index)
                });
            if !held {
                self.free.push(*piece);
            }
        }
    }
}

/// The positions a rectangle may take.
pub(super) fn positions(
    width: i64,
    height: i64,
    may_turn: bool,
) -> impl Iterator<Item = (i64, i64, bool)> {
    let turned = may_turn.then_some((height, width, true));
    std::iter::once((width, height, false)).chain(turned)
}

/// The rectangles of `free` beside `taken`.
fn around(free: &Rect, taken: &Rect, pieces: &mut Vec<Rect>) {
    if taken.x > free.x {
        pieces.push(Rect { width: taken.x - free.x, ..*free });
    }
    if taken.right() < free.right() {
        pieces.push(Rect { x: taken.right(), width: free.right() - taken.right(), ..*free });
    }
    if taken.y > free.y {
        pieces.push(Rect { height: taken.y - free.y, ..*free });
    }
    if taken.top() < free.top() {
        pieces.push(Rect { y: taken.top(), height: free.top() - taken.top(), ..*free });
    }
}
