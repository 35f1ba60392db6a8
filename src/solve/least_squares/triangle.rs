//! Upper triangle of a least squares problem, built block by block.

use super::Terms;

/// Rows folded in at a time: a block of columns then stays in the cache.
const BLOCK: usize = 32;
/// How small a diagonal, over columns of length one, counts as none.
const TINY: f64 = 1e-10;

/// `R` and the right side that goes with it.
#[derive(Clone, Debug)]
pub(super) struct Triangle {
    size: usize,
    /// Row `k` holds columns `k..size`.
    rows: Vec<Vec<f64>>,
    /// One past the last column of row `k` that may differ from zero.
    ends: Vec<usize>,
    right: Vec<f64>,
    /// Unknowns that the others already make up.
    pub(super) dependent: Vec<usize>,
}

/// A block of rows by columns, with its right side as the last column.
struct Block {
    height: usize,
    first: usize,
    end: usize,
    columns: Vec<f64>,
    right: Vec<f64>,
}

impl Triangle {
    /// The triangle of sparse rows with their right sides. Columns should be
    /// of length one, and rows sorted by their first column.
    pub(super) fn new(size: usize, rows: &[(Terms, f64)]) -> Self {
        let mut triangle = Self {
            size,
            rows: (0..size).map(|k| vec![0.0; size - k]).collect(),
            ends: (0..size).map(|k| k + 1).collect(),
            right: vec![0.0; size],
            dependent: Vec::new(),
        };
        for chunk in rows.chunks(BLOCK) {
            triangle.fold(Block::new(size, chunk));
        }
        triangle.settle();
        triangle
    }

    /// Reflects the block into the rows of the triangle, column by column.
    fn fold(&mut self, mut block: Block) {
        let height = block.height;
        let mut pivot = vec![0.0; height];
        let mut k = block.first;
        while k < block.end {
            let start = k * height;
            pivot.copy_from_slice(&block.columns[start..start + height]);
            let square: f64 = pivot.iter().map(|v| v * v).sum();
            if square > 0.0 {
                block.end = block.end.max(self.ends[k]);
                self.ends[k] = block.end;
                self.reflect(k, square, &mut pivot, &mut block);
            }
            k += 1;
        }
    }

    fn reflect(&mut self, k: usize, square: f64, pivot: &mut [f64], block: &mut Block) {
        let row = &mut self.rows[k];
        let alpha = row[0];
        let beta = -alpha.signum() * alpha.hypot(square.sqrt());
        let tau = (beta - alpha) / beta;
        let lead = alpha - beta;
        pivot.iter_mut().for_each(|v| *v /= lead);
        row[0] = beta;
        let height = block.height;
        let columns = &mut block.columns[(k + 1) * height..block.end * height];
        let mut entries = row[1..].chunks_exact_mut(2);
        let mut pairs = columns.chunks_exact_mut(2 * height);
        for (entries, pair) in entries.by_ref().zip(pairs.by_ref()) {
            let (one, other) = pair.split_at_mut(height);
            let dots = dot_two(pivot, one, other);
            let weights = [tau * (entries[0] + dots[0]), tau * (entries[1] + dots[1])];
            entries[0] -= weights[0];
            entries[1] -= weights[1];
            take_two(one, other, weights, pivot);
        }
        let last = pairs.into_remainder();
        if !last.is_empty() {
            let entry = &mut row[block.end - 1 - k];
            let weight = tau * (*entry + dot(pivot, last));
            *entry -= weight;
            add(last, -weight, pivot);
        }
        let weight = tau * (self.right[k] + dot(pivot, &block.right));
        self.right[k] -= weight;
        add(&mut block.right, -weight, pivot);
    }

    /// Finds columns without a diagonal and hands their rows on to the rest.
    fn settle(&mut self) {
        for k in 0..self.size {
            if self.rows[k][0].abs() > TINY {
                continue;
            }
            self.dependent.push(k);
            let row = std::mem::replace(&mut self.rows[k], vec![0.0; self.size - k]);
            let terms: Terms = (k + 1..self.ends[k]).map(|at| (at, row[at - k])).collect();
            let right = std::mem::take(&mut self.right[k]);
            self.ends[k] = k + 1;
            if terms.iter().any(|(_, factor)| factor.abs() > TINY) {
                self.fold(Block::new(self.size, &[(terms, right)]));
            }
        }
    }

    fn is_dependent(&self, k: usize) -> bool {
        self.dependent.binary_search(&k).is_ok()
    }

    /// The unknowns; those that depend on others are set to zero.
    pub(super) fn solve(&self) -> Vec<f64> {
        self.back(&self.right)
    }

    fn back(&self, right: &[f64]) -> Vec<f64> {
        let mut x = vec![0.0; self.size];
        for k in (0..self.size).rev().filter(|k| !self.is_dependent(*k)) {
            let row = &self.rows[k][..self.ends[k] - k];
            let rest: f64 = row[1..].iter().zip(&x[k + 1..]).map(|(r, x)| r * x).sum();
            x[k] = (right[k] - rest) / row[0];
        }
        x
    }

    /// For each dependent unknown the direction nothing holds: changing the
    /// unknowns along it changes no row.
    pub(super) fn free_directions(&self) -> Vec<Vec<f64>> {
        let column = |d: usize| -> Vec<f64> {
            (0..self.size).map(|k| if k < d { -self.rows[k][d - k] } else { 0.0 }).collect()
        };
        let mut directions = Vec::new();
        for d in &self.dependent {
            let mut direction = self.back(&column(*d));
            direction[*d] = 1.0;
            let largest = direction.iter().map(|v| v.abs()).fold(0.0, f64::max);
            direction.iter_mut().for_each(|v| *v /= largest);
            directions.push(direction);
        }
        directions
    }

    /// The inverse of the triangle, row `k` from column `k` on; the rows of
    /// dependent unknowns are zero.
    pub(super) fn inverse(&self) -> Vec<Vec<f64>> {
        let mut inverse: Vec<Vec<f64>> = vec![Vec::new(); self.size];
        for k in (0..self.size).rev() {
            let mut row = vec![0.0; self.size - k];
            if !self.is_dependent(k) {
                row[0] = 1.0;
                for at in k + 1..self.ends[k] {
                    let factor = self.rows[k][at - k];
                    if factor.abs() > 0.0 {
                        add(&mut row[at - k..], -factor, &inverse[at]);
                    }
                }
                let diagonal = self.rows[k][0];
                row.iter_mut().for_each(|v| *v /= diagonal);
            }
            inverse[k] = row;
        }
        inverse
    }
}

impl Block {
    fn new(size: usize, rows: &[(Terms, f64)]) -> Self {
        let height = rows.len();
        let mut columns = vec![0.0; size * height];
        let (mut first, mut end) = (size, 0);
        for (at, (terms, _)) in rows.iter().enumerate() {
            for (column, factor) in terms {
                columns[column * height + at] = *factor;
                first = first.min(*column);
                end = end.max(column + 1);
            }
        }
        Self { height, first, end, columns, right: rows.iter().map(|(_, right)| *right).collect() }
    }
}

/// Four sums side by side, so that they can run at once.
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (a4, a_rest) = a.as_chunks::<4>();
    let (b4, b_rest) = b.as_chunks::<4>();
    let mut sums = [0.0; 4];
    for (x, y) in a4.iter().zip(b4) {
        for at in 0..4 {
            sums[at] += x[at] * y[at];
        }
    }
    let rest: f64 = a_rest.iter().zip(b_rest).map(|(x, y)| x * y).sum();
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}

/// A column with two others: it is fetched once.
fn dot_two(a: &[f64], one: &[f64], other: &[f64]) -> [f64; 2] {
    let ((a4, rest), (one4, one_rest), (other4, other_rest)) =
        (a.as_chunks::<4>(), one.as_chunks::<4>(), other.as_chunks::<4>());
    let (mut x, mut y) = ([0.0; 4], [0.0; 4]);
    for ((a, b), c) in a4.iter().zip(one4).zip(other4) {
        for at in 0..4 {
            x[at] += a[at] * b[at];
            y[at] += a[at] * c[at];
        }
    }
    let sum = |s: [f64; 4]| (s[0] + s[1]) + (s[2] + s[3]);
    let left = |other: &[f64]| -> f64 { rest.iter().zip(other).map(|(a, b)| a * b).sum() };
    [sum(x) + left(one_rest), sum(y) + left(other_rest)]
}

fn take_two(one: &mut [f64], other: &mut [f64], weights: [f64; 2], what: &[f64]) {
    for ((one, other), what) in one.iter_mut().zip(other).zip(what) {
        *one -= weights[0] * what;
        *other -= weights[1] * what;
    }
}

fn add(to: &mut [f64], factor: f64, what: &[f64]) {
    for (to, what) in to.iter_mut().zip(what) {
        *to += factor * what;
    }
}
