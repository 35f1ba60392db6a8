//! The most valuable content of a strip: an exact search in whole numbers
//! under a table of bounds.

use super::normal::Counts;
use super::search::Meter;

/// Cells of the table per row, at most.
const WIDTH: i64 = 4096;
/// Cells of the whole table, at most.
const CELLS: usize = 1 << 20;

/// How a search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ended {
    /// Everything above the threshold was seen.
    Complete,
    /// The visitor had enough, or the nodes or the meter ran out.
    Cut,
}

/// Bounds on what the items from `i` on can add in the room left.
///
/// Room is counted in units of `unit`, lengths rounded down, which can only
/// raise the bound; with `unit` 1 the bound is met.
pub(super) struct Knapsack<'a> {
    lengths: &'a [i64],
    values: Vec<i64>,
    limits: Vec<u32>,
    unit: i64,
    width: usize,
    /// Row `i`: the most that items `i..` can be worth, by room.
    table: Vec<i64>,
}

/// Sees each content found: counts, value, room left. False to end.
type Visit<'v> = dyn FnMut(&Counts, i64, i64) -> bool + 'v;

struct Walk<'w, 'v> {
    now: Counts,
    threshold: &'w mut i64,
    nodes: u64,
    /// Whether items worth nothing are tried too.
    idle: bool,
    visit: &'w mut Visit<'v>,
}

impl<'a> Knapsack<'a> {
    /// Builds the table for strips up to `longest`. `None` when the meter ran
    /// out.
    pub(super) fn new(
        lengths: &'a [i64],
        values: Vec<i64>,
        limits: Vec<u32>,
        longest: i64,
        meter: &mut Meter,
    ) -> Option<Self> {
        let rows = lengths.len() + 1;
        let width = WIDTH.min((CELLS / rows).max(256) as i64);
        let unit = longest / width + 1;
        let width = (longest / unit + 1) as usize;
        let mut knapsack = Self { lengths, values, limits, unit, width, table: Vec::new() };
        knapsack.fill(meter).then_some(knapsack)
    }

    /// Whether the table's bounds are met.
    pub(super) fn is_exact(&self) -> bool {
        self.unit == 1
    }

    fn fill(&mut self, meter: &mut Meter) -> bool {
        let width = self.width;
        self.table = vec![0; (self.lengths.len() + 1) * width];
        for item in (0..self.lengths.len()).rev() {
            let (head, tail) = self.table.split_at_mut((item + 1) * width);
            let row = &mut head[item * width..];
            row.copy_from_slice(&tail[..width]);
            let value = self.values[item];
            if value <= 0 || self.limits[item] == 0 {
                continue;
            }
            let length = (self.lengths[item] / self.unit) as usize;
            let most = width.checked_div(length).unwrap_or(usize::MAX);
            let mut left = self.limits[item].min(u32::try_from(most).unwrap_or(u32::MAX));
            let mut lot = 1;
            while left > 0 {
                let take = lot.min(left);
                add_lot(row, length.saturating_mul(take as usize), value * i64::from(take));
                left -= take;
                lot *= 2;
                if !meter.spend(width as u64) {
                    return false;
                }
            }
        }
        true
    }

    /// The most a strip of `length` can hold, or a little more.
    pub(super) fn most(&self, length: i64) -> i64 {
        self.at(0, length)
    }

    fn at(&self, item: usize, room: i64) -> i64 {
        self.table[item * self.width + (room / self.unit) as usize]
    }

    /// Visits contents of a strip of `length` worth more than `threshold`, in
    /// a fixed order; the visitor may raise the threshold.
    pub(super) fn walk(
        &self,
        length: i64,
        limits: &[u32],
        threshold: &mut i64,
        nodes: u64,
        meter: &mut Meter,
        visit: &mut Visit,
    ) -> Ended {
        let mut walk = Walk { now: Counts::new(), threshold, nodes, idle: false, visit };
        self.step(&mut walk, 0, length, 0, limits, meter)
    }

    /// As [`Self::walk`], items worth nothing included.
    pub(super) fn walk_all(
        &self,
        length: i64,
        limits: &[u32],
        threshold: &mut i64,
        nodes: u64,
        meter: &mut Meter,
        visit: &mut Visit,
    ) -> Ended {
        let mut walk = Walk { now: Counts::new(), threshold, nodes, idle: true, visit };
        self.step(&mut walk, 0, length, 0, limits, meter)
    }

    fn step(
        &self,
        walk: &mut Walk,
        from: usize,
        room: i64,
        worth: i64,
        limits: &[u32],
        meter: &mut Meter,
    ) -> Ended {
        if worth > *walk.threshold && !(walk.visit)(&walk.now, worth, room) {
            return Ended::Cut;
        }
        let first = from + self.lengths[from..].partition_point(|&length| length > room);
        for item in first..self.lengths.len() {
            if worth + self.at(item, room) <= *walk.threshold {
                break;
            }
            let (length, value) = (self.lengths[item], self.values[item]);
            if value <= 0 && !walk.idle {
                continue;
            }
            let most = i64::from(limits[item]).min(room / length);
            for count in (1..=most).rev() {
                let (room, worth) = (room - count * length, worth + count * value);
                if worth + self.at(item + 1, room) <= *walk.threshold {
                    continue;
                }
                if walk.nodes == 0 || !meter.spend(8) {
                    return Ended::Cut;
                }
                walk.nodes -= 1;
                walk.now.push((item as u32, count as u32));
                let ended = self.step(walk, item + 1, room, worth, limits, meter);
                walk.now.pop();
                if ended == Ended::Cut {
                    return Ended::Cut;
                }
            }
        }
        Ended::Complete
    }
}

/// One lot of an item, taken or not, into a row of the table.
fn add_lot(row: &mut [i64], length: usize, value: i64) {
    if length >= row.len() {
        return;
    }
    for room in (length..row.len()).rev() {
        row[room] = row[room].max(row[room - length] + value);
    }
}
