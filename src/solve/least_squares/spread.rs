//! Rows times the inverse triangle.

use super::Terms;
use super::triangle::dot;

/// Rows taken together, so that each row of the inverse is fetched once for
/// all of them.
const TOGETHER: usize = 8;
/// Rows with more terms than this are taken together.
const FULL: usize = 16;

/// A placed row times the inverse triangle. The square of its length is the
/// row's variance; the product of two is their covariance.
pub(super) struct Spread {
    /// The first figure that may differ from zero.
    pub(super) first: usize,
    /// The figures from there on.
    pub(super) figures: Vec<f64>,
}

impl Spread {
    pub(super) fn square(&self) -> f64 {
        dot(&self.figures, &self.figures)
    }

    pub(super) fn product(&self, other: &Self) -> f64 {
        let first = self.first.max(other.first);
        let from = |spread: &Self| first - spread.first;
        let (a, b) = (self.figures.get(from(self)..), other.figures.get(from(other)..));
        a.zip(b).map_or(0.0, |(a, b)| dot(a, b))
    }
}

pub(super) fn spread(terms: &[(usize, f64)], inverse: &[Vec<f64>]) -> Spread {
    let first = terms.first().map_or(inverse.len(), |(at, _)| *at);
    let mut figures = vec![0.0; inverse.len() - first];
    for (at, factor) in terms {
        add(&mut figures[at - first..], *factor, &inverse[*at]);
    }
    Spread { first, figures }
}

/// The square of each row's spread.
pub(super) fn spreads(rows: &[Terms], inverse: &[Vec<f64>]) -> Vec<f64> {
    let mut squares = Vec::with_capacity(rows.len());
    for rows in rows.chunks(TOGETHER) {
        if rows.iter().all(|row| row.len() > FULL) {
            squares.extend(together(rows, inverse));
        } else {
            squares.extend(rows.iter().map(|row| spread(row, inverse).square()));
        }
    }
    squares
}

/// The same for full rows: by rows of the inverse, four of them at once.
fn together(rows: &[Terms], inverse: &[Vec<f64>]) -> Vec<f64> {
    let size = inverse.len();
    let mut full = vec![0.0; rows.len() * size];
    for (row, full) in rows.iter().zip(full.chunks_exact_mut(size)) {
        row.iter().for_each(|(at, factor)| full[*at] = *factor);
    }
    let mut out = vec![0.0; rows.len() * size];
    let mut at = 0;
    while at < size {
        let end = (at + 4).min(size);
        for (row, out) in full.chunks_exact(size).zip(out.chunks_exact_mut(size)) {
            if let ([a, b, c, d], [ra, rb, rc, rd]) = (&row[at..end], &inverse[at..end]) {
                out[at] += a * ra[0];
                out[at + 1] += a * ra[1] + b * rb[0];
                out[at + 2] += a * ra[2] + b * rb[1] + c * rc[0];
                add_four(&mut out[at + 3..], [*a, *b, *c, *d], [&ra[3..], &rb[2..], &rc[1..], rd]);
            } else {
                (at..end).for_each(|at| add(&mut out[at..], row[at], &inverse[at]));
            }
        }
        at = end;
    }
    out.chunks_exact(size).map(|row| dot(row, row)).collect()
}

fn add(to: &mut [f64], factor: f64, what: &[f64]) {
    for (to, what) in to.iter_mut().zip(what) {
        *to += factor * what;
    }
}

fn add_four(to: &mut [f64], factors: [f64; 4], what: [&[f64]; 4]) {
    let [a, b, c, d] = factors;
    let rows = what[0].iter().zip(what[1]).zip(what[2]).zip(what[3]);
    for (to, (((w, x), y), z)) in to.iter_mut().zip(rows) {
        *to += (a * w + b * x) + (c * y + d * z);
    }
}
