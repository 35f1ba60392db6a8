//! A layout grown item by item along three kinds of cut, many at a time.
//!
//! A sheet is cut into columns, a column into rows, a row into items; an item
//! lower than its row is trimmed where the stages allow it. Every partial
//! layout is followed by one item more: in its row, in a new row, in a new
//! column or on the next sheet. Of those with like many items the best by the
//! area lost so far are kept. After the tree searches for guillotine packing
//! of F. Parreno, M. Alonso, R. Alvarez-Valdes (2020) and F. Fontan,
//! L. Libralesso (2020); from memory.

use std::collections::HashSet;

use super::plan::Rect;
use super::work::{Filled, Layout, Spot, Work};

/// Items of one size.
struct Kind {
    width: i64,
    height: i64,
    turns: bool,
    /// The copies.
    items: Vec<usize>,
}

/// What is asked of one search.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wish {
    /// Partial layouts kept of each length.
    pub(super) width: usize,
    /// Whether columns run across the sheet instead of along it.
    pub(super) across: bool,
    /// Whether large items are wished for early.
    pub(super) large_first: bool,
    /// Whether few settings of the fence are wished for before little waste.
    pub(super) few_settings: bool,
}

/// A partial layout: what its last item was and where the next may go.
#[derive(Clone)]
struct Node {
    parent: usize,
    step: Option<Step>,
    left: Vec<u16>,
    /// Sheet in hand, by place in the list.
    sheet: usize,
    /// Where the column in hand begins and ends.
    column: (i64, i64),
    /// Where the row in hand begins and ends.
    row: (i64, i64),
    /// Where the next item of the row begins.
    at: i64,
    covered: i64,
    count: i64,
    set: Set,
    rank: f64,
}

/// Settings of the fence so far: a bit for each size, and the columns.
#[derive(Clone, Copy, Default)]
struct Set {
    along: u128,
    across: u128,
    columns: u32,
}

/// A size as a bit; a few sizes may share one.
fn bit(size: i64) -> u128 {
    1 << (size.unsigned_abs().wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 57)
}

/// An item laid.
#[derive(Clone, Copy)]
struct Step {
    kind: usize,
    turned: bool,
    sheet: usize,
    x: i64,
    y: i64,
}

/// Where an item goes.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Into {
    Row,
    NewRow,
    NewColumn,
    NewSheet,
}

const PLACES: [Into; 4] = [Into::Row, Into::NewRow, Into::NewColumn, Into::NewSheet];

struct Beam<'a> {
    work: &'a Work,
    kinds: Vec<Kind>,
    /// Sheets in hand: kind, width and height as the columns run.
    sheets: Vec<(usize, i64, i64)>,
    /// Area of all sheets up to each.
    before: Vec<i64>,
    /// Area that may be lost in all.
    spare: i64,
    wish: Wish,
    exact_rows: bool,
}

/// The fewest stages with which the cuts of this search can be made.
const LEAST_STAGES: u32 = 3;

/// Lays everything on the sheets of `list`, or finds no way to.
///
/// `go_on` hears of the work done and may end it.
pub(super) fn grown(
    work: &Work,
    list: &[usize],
    wish: Wish,
    go_on: &mut dyn FnMut(u64) -> bool,
) -> Option<Layout> {
    if work.knife.is_some_and(|most| most < LEAST_STAGES) {
        return None;
    }
    let beam = Beam::new(work, list, wish)?;
    let mut nodes = vec![beam.start()];
    let mut front = vec![0];
    for _ in 0..work.items.len() {
        let mut next = beam.followed(&nodes, &front, go_on)?;
        next.sort_by(|a, b| a.rank.total_cmp(&b.rank));
        let mut seen = HashSet::new();
        front.clear();
        for node in next {
            if front.len() >= wish.width {
                break;
            }
            if seen.insert((node.left.clone(), node.sheet, node.column, node.row, node.at)) {
                front.push(nodes.len());
                nodes.push(node);
            }
        }
        if front.is_empty() {
            return None;
        }
    }
    front.first().map(|&last| beam.layout(&nodes, last))
}

impl<'a> Beam<'a> {
    fn new(work: &'a Work, list: &[usize], wish: Wish) -> Option<Self> {
        let mut sheets: Vec<(usize, i64, i64)> = Vec::new();
        for (kind, &count) in list.iter().enumerate() {
            let Some(sort) = work.kinds.get(kind) else { continue };
            let (wide, high) =
                if wish.across { (sort.height, sort.width) } else { (sort.width, sort.height) };
            sheets.extend((0..count).map(|_| (kind, wide, high)));
        }
        sheets.sort_by_key(|&(kind, wide, high)| (std::cmp::Reverse(wide * high), kind));
        let mut total = 0_i64;
        let mut before = Vec::new();
        for &(_, wide, high) in &sheets {
            before.push(total);
            total = total.checked_add(wide.checked_mul(high)?)?;
        }
        let mut covered = 0_i64;
        for item in &work.items {
            covered = covered.checked_add(item.width.checked_mul(item.height)?)?;
        }
        let exact_rows = work.knife == Some(LEAST_STAGES);
        let kinds = kinds(work, wish.across);
        let spare = total - covered;
        let beam = Self { work, kinds, sheets, before, spare, wish, exact_rows };
        (spare >= 0 && !beam.sheets.is_empty()).then_some(beam)
    }

    fn start(&self) -> Node {
        let left = self.kinds.iter().map(|kind| u16::try_from(kind.items.len()));
        Node {
            parent: 0,
            step: None,
            left: left.map(|count| count.unwrap_or(u16::MAX)).collect(),
            sheet: 0,
            column: (0, 0),
            row: (0, 0),
            at: 0,
            covered: 0,
            count: 0,
            set: Set::default(),
            rank: 0.0,
        }
    }

    /// Every way to lay one item more; `None` when it is to end.
    fn followed(
        &self,
        nodes: &[Node],
        front: &[usize],
        go_on: &mut dyn FnMut(u64) -> bool,
    ) -> Option<Vec<Node>> {
        let mut next = Vec::new();
        for &parent in front {
            let before = next.len();
            for kind in 0..self.kinds.len() {
                if nodes[parent].left[kind] > 0 {
                    self.follow(&nodes[parent], parent, kind, &mut next);
                }
            }
            if !go_on(1 + (next.len() - before) as u64) {
                return None;
            }
            // The worst are dropped now and then, so that memory is bounded.
            if next.len() > 40 * self.wish.width + 4_000 {
                let keep = 4 * self.wish.width;
                next.select_nth_unstable_by(keep, |a: &Node, b| a.rank.total_cmp(&b.rank));
                next.truncate(keep);
            }
        }
        Some(next)
    }

    fn follow(&self, node: &Node, parent: usize, kind: usize, next: &mut Vec<Node>) {
        let sort = &self.kinds[kind];
        let sizes = [(sort.width, sort.height, false), (sort.height, sort.width, true)];
        for (wide, high, turned) in sizes {
            if turned && !sort.turns {
                continue;
            }
            for place in PLACES {
                let laid = self.laid(node, wide, high, place);
                let Some((mut child, x, y)) = laid else { continue };
                child.parent = parent;
                child.step = Some(Step { kind, turned, sheet: child.sheet, x, y });
                child.left[kind] -= 1;
                next.push(child);
            }
        }
    }

    /// The layout with an item of that size more, and where it lies.
    fn laid(&self, node: &Node, wide: i64, high: i64, place: Into) -> Option<(Node, i64, i64)> {
        let (mut sheet, mut column, mut row, mut at) = (node.sheet, node.column, node.row, node.at);
        match place {
            Into::Row => {
                if at == column.0 || (self.exact_rows && high != row.1 - row.0) {
                    return None;
                }
            }
            Into::NewRow => {
                if row.1 == 0 {
                    return None;
                }
                row = (row.1, row.1);
                at = column.0;
            }
            Into::NewColumn => {
                column = (column.1, column.1);
                row = (0, 0);
                at = column.0;
            }
            Into::NewSheet => {
                sheet += 1;
                (column, row, at) = ((0, 0), (0, 0), 0);
            }
        }
        let &(_, width, height) = self.sheets.get(sheet)?;
        let (x, y) = (at, row.0);
        at += wide;
        row.1 = row.1.max(row.0 + high);
        column.1 = column.1.max(at);
        if column.1 > width || row.1 > height {
            return None;
        }
        let covered = node.covered + wide * high;
        let reached = self.before[sheet]
            + column.0 * height
            + (column.1 - column.0) * row.0
            + (at - column.0) * (row.1 - row.0);
        let lost = reached - covered;
        if lost > self.spare {
            return None;
        }
        let count = node.count + 1;
        let mut set = node.set;
        set.along |= bit(wide);
        set.across |= bit(high);
        set.columns += u32::from(matches!(place, Into::NewColumn | Into::NewSheet));
        let rank = self.rank((lost, reached, covered), count, set);
        let left = node.left.clone();
        let child =
            Node { parent: 0, step: None, left, sheet, column, row, at, covered, count, set, rank };
        Some((child, x, y))
    }

    /// Lower is better: the share lost, of small items more than of large.
    #[allow(clippy::cast_precision_loss)] // only ranks
    fn rank(&self, (lost, reached, covered): (i64, i64, i64), count: i64, set: Set) -> f64 {
        let share = lost as f64 / reached.max(1) as f64;
        if self.wish.few_settings {
            let settings = set.along.count_ones() + set.across.count_ones() + set.columns;
            let early =
                if self.wish.large_first { count as f64 / covered.max(1) as f64 } else { 0.0 };
            return f64::from(settings) + share + early;
        }
        if self.wish.large_first {
            (0.02 + share) * (count as f64 / covered.max(1) as f64)
        } else {
            share - 1e-9 * covered as f64 / reached.max(1) as f64
        }
    }

    fn layout(&self, nodes: &[Node], last: usize) -> Layout {
        let mut bins: Vec<Filled> =
            self.sheets.iter().map(|&(kind, ..)| Filled { kind, spots: Vec::new() }).collect();
        let mut taken = vec![0; self.kinds.len()];
        let mut at = last;
        while let Some(step) = nodes[at].step {
            let kind = &self.kinds[step.kind];
            let item = kind.items[taken[step.kind]];
            taken[step.kind] += 1;
            let (mut wide, mut high) = (kind.width, kind.height);
            if step.turned {
                (wide, high) = (high, wide);
            }
            let rect = if self.wish.across {
                Rect::new(step.y, step.x, high, wide)
            } else {
                Rect::new(step.x, step.y, wide, high)
            };
            let turned = self.work.items[item].laid(false) != (rect.width, rect.height);
            bins[step.sheet].spots.push(Spot { item, rect, turned });
            at = nodes[at].parent;
        }
        bins.retain(|bin| !bin.spots.is_empty());
        Layout { bins, left: Vec::new() }
    }
}

/// Items by size, as the columns run.
fn kinds(work: &Work, across: bool) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for (place, item) in work.items.iter().enumerate() {
        let (width, height) =
            if across { (item.height, item.width) } else { (item.width, item.height) };
        let like = |kind: &&mut Kind| {
            (kind.width, kind.height, kind.turns) == (width, height, item.may_turn)
        };
        match kinds.iter_mut().find(like) {
            Some(kind) => kind.items.push(place),
            None => {
                kinds.push(Kind { width, height, turns: item.may_turn, items: vec![place] });
            }
        }
    }
    kinds
}
