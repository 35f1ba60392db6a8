//! Outlines rounded outwards to square cells: a column of cells is a number
//! with a bit for each cell.

use super::shape::{Shape, as_f64};

/// Cells of a column.
pub(super) const CELLS: u32 = 256;

/// A column of cells, the lowest first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Column {
    low: u128,
    high: u128,
}

impl Column {
    pub(super) const FULL: Self = Self { low: u128::MAX, high: u128::MAX };

    /// Bits `from..to` set.
    pub(super) fn span(from: u32, to: u32) -> Self {
        Self::below(to).without(Self::below(from))
    }

    fn below(count: u32) -> Self {
        let part = |count: u32| if count >= 128 { u128::MAX } else { (1 << count) - 1 };
        Self { low: part(count), high: part(count.saturating_sub(128)) }
    }

    fn without(self, other: Self) -> Self {
        Self { low: self.low & !other.low, high: self.high & !other.high }
    }

    pub(super) fn or(self, other: Self) -> Self {
        Self { low: self.low | other.low, high: self.high | other.high }
    }

    /// Moved towards the foot; what falls below is gone.
    pub(super) fn down(self, by: u32) -> Self {
        match by {
            0 => self,
            1..128 => Self { low: self.low >> by | self.high << (128 - by), high: self.high >> by },
            128..256 => Self { low: self.high >> (by - 128), high: 0 },
            _ => Self::default(),
        }
    }

    /// Moved upwards.
    pub(super) fn up(self, by: u32) -> Self {
        match by {
            0 => self,
            1..128 => Self { low: self.low << by, high: self.high << by | self.low >> (128 - by) },
            128..256 => Self { low: 0, high: self.low << (by - 128) },
            _ => Self::default(),
        }
    }

    /// Bits below which one of the next `length` bits, itself counted, is set:
    /// places where a run of that length would meet something.
    fn met_by(self, length: u32) -> Self {
        let mut met = self;
        let mut reach = 1;
        while reach < length {
            let by = reach.min(length - reach);
            met = met.or(met.down(by));
            reach += by;
        }
        met
    }

    /// The lowest bit that is not set.
    pub(super) fn lowest_free(self) -> Option<u32> {
        if self.low != u128::MAX {
            return Some(self.low.trailing_ones());
        }
        (self.high != u128::MAX).then(|| 128 + self.high.trailing_ones())
    }
}

/// A turned shape as cells.
#[derive(Clone, Debug)]
pub(super) struct Mask {
    /// The cells it touches, column by column: runs of bits as from, length.
    runs: Vec<Vec<(u32, u32)>>,
    /// Those nearer than the gap as well, columns and rows from `reach` before it.
    kept: Vec<Column>,
    /// Columns and rows by which `kept` begins earlier.
    pub(super) reach: u32,
    /// Columns and rows it takes.
    pub(super) long: usize,
    pub(super) high: u32,
}

/// The number of cells that hold a length.
pub(super) fn cells(length: i64, cell: i64) -> i64 {
    length.div_euclid(cell) + i64::from(length.rem_euclid(cell) > 0)
}

impl Mask {
    /// A shape whose lower left corner is at nothing; `None` where it is higher
    /// than a column.
    pub(super) fn new(shape: &Shape, cell: i64, gap: i64) -> Option<Self> {
        let (wide, tall) = shape.size();
        let reach = cells(gap, cell);
        let (long, high) = (cells(wide, cell), cells(tall, cell));
        if high + 2 * reach > i64::from(CELLS) {
            return None;
        }
        let mut touched = vec![Column::default(); usize::try_from(long).ok()?];
        fill(shape, cell, &mut touched, high);
        let mut kept = vec![Column::default(); usize::try_from(long + 2 * reach).ok()?];
        for (at, column) in touched.iter().enumerate() {
            kept[at + reach as usize] = column.up(reach as u32);
        }
        if gap > 0 {
            spread(shape, cell, gap, reach, &mut kept);
        }
        Some(Self {
            runs: touched.iter().map(|column| runs(*column)).collect(),
            kept,
            reach: u32::try_from(reach).ok()?,
            long: touched.len(),
            high: u32::try_from(high).ok()?,
        })
    }

    /// The lowest row where it lies free with its left edge at column `x` of a
    /// sheet of so many rows.
    pub(super) fn free_at(&self, taken: &[Column], x: usize, rows: u32) -> Option<u32> {
        let top = rows.checked_sub(self.high)?;
        let mut met = Column::span(top + 1, CELLS);
        for (runs, column) in self.runs.iter().zip(taken.get(x..x + self.long)?) {
            for &(from, length) in runs {
                met = met.or(column.down(from).met_by(length));
            }
            if met == Column::FULL {
                return None;
            }
        }
        met.lowest_free().filter(|&row| row <= top)
    }

    /// Takes the cells of it, and those nearer than the gap.
    pub(super) fn take(&self, taken: &mut [Column], x: usize, y: u32) {
        let reach = self.reach as usize;
        for (at, column) in self.kept.iter().enumerate() {
            let Some(place) = (x + at).checked_sub(reach) else { continue };
            if let Some(there) = taken.get_mut(place) {
                let moved = if y >= self.reach {
                    column.up(y - self.reach)
                } else {
                    column.down(self.reach - y)
                };
                *there = there.or(moved);
            }
        }
    }
}

fn runs(column: Column) -> Vec<(u32, u32)> {
    let mut found = Vec::new();
    let mut from = 0;
    while from < CELLS {
        let set = |bit: u32| {
            if bit < 128 { column.low >> bit & 1 } else { column.high >> (bit - 128) & 1 }
        };
        if set(from) == 0 {
            from += 1;
            continue;
        }
        let mut to = from;
        while to < CELLS && set(to) == 1 {
            to += 1;
        }
        found.push((from, to - from));
        from = to;
    }
    found
}

/// Sets every cell that holds some of the inside of the shape.
fn fill(shape: &Shape, cell: i64, columns: &mut [Column], high: i64) {
    let size = as_f64(cell);
    for (at, column) in columns.iter_mut().enumerate() {
        let x = (at as f64 + 0.5) * size;
        // Where the middle of the column crosses the line.
        let mut crossed: Vec<f64> = shape
            .edges()
            .filter_map(|(a, b)| {
                let ([ax, ay], [bx, by]) = (a.map(as_f64), b.map(as_f64));
                ((ax > x) != (bx > x)).then(|| ay + (by - ay) * ((x - ax) / (bx - ax)))
            })
            .collect();
        crossed.sort_by(f64::total_cmp);
        for inside in crossed.chunks_exact(2) {
            let (from, to) = (cell_below(inside[0] / size), cell_above(inside[1] / size));
            *column = column.or(Column::span(from, to.min(high as u32)));
        }
    }
    for (a, b) in shape.edges() {
        touch(a, b, cell, columns);
    }
}

/// Slack of a place in cells, so that a line on the edge of a cell stays there.
const SLACK: f64 = 1e-9;

fn cell_below(place: f64) -> u32 {
    (place + SLACK).floor().max(0.0) as u32
}

fn cell_above(place: f64) -> u32 {
    (place - SLACK).ceil().max(0.0) as u32
}

/// Sets the cells that a stretch passes through.
fn touch(a: [i64; 2], b: [i64; 2], cell: i64, columns: &mut [Column]) {
    let size = as_f64(cell);
    let ([ax, ay], [bx, by]) = (a.map(|n| as_f64(n) / size), b.map(|n| as_f64(n) / size));
    let (first, last) = (cell_below(ax.min(bx)), cell_above(ax.max(bx)));
    for (at, column) in columns.iter_mut().enumerate().take(last as usize).skip(first as usize) {
        let y_at = |x: f64| {
            if (bx - ax).abs() < SLACK { ay } else { ay + (by - ay) * ((x - ax) / (bx - ax)) }
        };
        let (left, right) = (ax.min(bx).max(at as f64), ax.max(bx).min(at as f64 + 1.0));
        let ends = if (bx - ax).abs() < SLACK { [ay, by] } else { [y_at(left), y_at(right)] };
        let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        *column = column.or(Column::span(cell_below(low), cell_above(high)));
    }
}

/// Sets the cells of `kept` that are nearer to the line than the gap.
fn spread(shape: &Shape, cell: i64, gap: i64, reach: i64, kept: &mut [Column]) {
    let size = as_f64(cell);
    let (gap, shift) = (as_f64(gap) / size, as_f64(reach));
    for (a, b) in shape.edges() {
        let place = |p: [i64; 2]| p.map(|n| as_f64(n) / size + shift);
        let (a, b) = (place(a), place(b));
        let range = |axis: usize| {
            let (low, high) = (a[axis].min(b[axis]) - gap, a[axis].max(b[axis]) + gap);
            (low.floor().max(0.0) as u32, high.ceil().max(0.0) as u32)
        };
        let ((left, right), (foot, top)) = (range(0), range(1));
        for (at, column) in kept.iter_mut().enumerate().take(right as usize).skip(left as usize) {
            for row in foot..top.min(CELLS) {
                let corner = [at as f64, f64::from(row)];
                if cell_to_stretch(corner, a, b) < gap - SLACK {
                    *column = column.or(Column::span(row, row + 1));
                }
            }
        }
    }
}

/// Distance from a cell with that lower left corner to a stretch.
fn cell_to_stretch(corner: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let [x, y] = corner;
    let inside = |p: [f64; 2]| p[0] > x && p[0] < x + 1.0 && p[1] > y && p[1] < y + 1.0;
    if inside(a) || inside(b) {
        return 0.0;
    }
    let corners = [[x, y], [x + 1.0, y], [x + 1.0, y + 1.0], [x, y + 1.0]];
    let mut least = f64::INFINITY;
    let mut sides = [false; 2];
    for (at, &corner) in corners.iter().enumerate() {
        least = least.min(to_stretch(corner, a, b));
        let next = corners[(at + 1) % 4];
        least = least.min(to_stretch(a, corner, next)).min(to_stretch(b, corner, next));
        let side = (b[0] - a[0]) * (corner[1] - a[1]) - (b[1] - a[1]) * (corner[0] - a[0]);
        sides[usize::from(side > 0.0)] = true;
    }
    // A line with corners on both sides passes through where the stretch does
    // not end before.
    let passes = sides == [true, true]
        && a[0].min(b[0]) < x + 1.0
        && a[0].max(b[0]) > x
        && a[1].min(b[1]) < y + 1.0
        && a[1].max(b[1]) > y;
    if passes { 0.0 } else { least }
}

fn to_stretch(p: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let length = dx * dx + dy * dy;
    let along = if length > 0.0 { ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length } else { 0.0 };
    let along = along.clamp(0.0, 1.0);
    (p[0] - a[0] - along * dx).hypot(p[1] - a[1] - along * dy)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bits_move_across_the_middle() {
        let span = Column::span(120, 140);
        assert_eq!(span.down(20), Column::span(100, 120));
        assert_eq!(span.up(100), Column::span(220, 240));
        assert_eq!(span.down(130), Column::span(0, 10));
        assert_eq!(Column::span(0, 200).lowest_free(), Some(200));
        assert_eq!(Column::span(10, 11).met_by(3), Column::span(8, 11));
    }

    #[test]
    fn a_rectangle_on_the_grid_takes_its_cells_and_no_more() {
        let mask = Mask::new(&Shape::rectangle(30, 20), 10, 0).expect("it is low");
        assert_eq!((mask.long, mask.high), (3, 2));
        assert_eq!(mask.runs, vec![vec![(0, 2)]; 3]);
        assert_eq!(mask.kept, vec![Column::span(0, 2); 3]);
    }

    #[test]
    fn an_opening_is_free_and_a_slope_is_rounded_outwards() {
        let mut frame = Shape::rectangle(50, 50);
        frame.openings.push(vec![[10, 10], [10, 40], [40, 40], [40, 10]]);
        let mask = Mask::new(&frame, 10, 0).expect("it is low");
        assert_eq!(mask.runs[2], vec![(0, 1), (4, 1)]);
        let gable = Shape { outer: vec![[0, 0], [40, 0], [20, 20]], openings: Vec::new() };
        let mask = Mask::new(&gable, 10, 0).expect("it is low");
        assert_eq!(mask.runs, vec![vec![(0, 1)], vec![(0, 2)], vec![(0, 2)], vec![(0, 1)]]);
    }
}
