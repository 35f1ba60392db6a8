//! Cholesky factors of a symmetric matrix stored from the first non-zero of
//! each row to the diagonal. Fill stays inside that envelope.

/// A symmetric positive matrix, or its lower factor, in envelope form.
#[derive(Clone, Debug)]
pub(super) struct Envelope {
    first: Vec<usize>,
    start: Vec<usize>,
    data: Vec<f64>,
}

impl Envelope {
    /// An empty matrix of which row `i` begins at column `first[i]`.
    pub(super) fn new(first: Vec<usize>) -> Self {
        let mut start = Vec::with_capacity(first.len());
        let mut total = 0;
        for (i, f) in first.iter().enumerate() {
            start.push(total);
            total += i + 1 - f;
        }
        Self { first, start, data: vec![0.0; total] }
    }

    /// How many rows.
    pub(super) fn len(&self) -> usize {
        self.first.len()
    }

    /// Sets every entry to zero.
    pub(super) fn clear(&mut self) {
        self.data.fill(0.0);
    }

    fn row(&self, i: usize) -> &[f64] {
        &self.data[self.start[i]..=self.start[i] + i - self.first[i]]
    }

    /// Adds to entry (i, j), j not above i and inside the envelope.
    pub(super) fn add(&mut self, i: usize, j: usize, value: f64) {
        self.data[self.start[i] + j - self.first[i]] += value;
    }

    /// The diagonal entry.
    pub(super) fn diagonal(&self, i: usize) -> f64 {
        self.data[self.start[i] + i - self.first[i]]
    }

    /// Turns the matrix into its lower Cholesky factor, after `added` times
    /// the diagonal is added to it; false when it is not positive.
    pub(super) fn factor(&mut self, added: f64) -> bool {
        for i in 0..self.len() {
            let (before, rest) = self.data.split_at_mut(self.start[i]);
            let row = &mut rest[..=i - self.first[i]];
            let whole = row[i - self.first[i]] * (1.0 + added);
            for j in self.first[i]..i {
                let other = &before[self.start[j]..=self.start[j] + j - self.first[j]];
                let from = self.first[i].max(self.first[j]);
                let mine = &row[from - self.first[i]..j - self.first[i]];
                let theirs = &other[from - self.first[j]..j - self.first[j]];
                let dot: f64 = mine.iter().zip(theirs).map(|(a, b)| a * b).sum();
                let at = j - self.first[i];
                row[at] = (row[at] - dot) / other[j - self.first[j]];
            }
            let Some((last, head)) = row.split_last_mut() else { return false };
            let pivot = whole - head.iter().map(|a| a * a).sum::<f64>();
            // The pivot shows how much of the column is new; below this nothing is.
            if pivot.is_nan() || pivot <= 1e-14 * whole {
                return false;
            }
            *last = pivot.sqrt();
        }
        true
    }

    /// Solves L y = b in place.
    pub(super) fn forward(&self, b: &mut [f64]) {
        for i in 0..self.len() {
            let (last, head) = self.row(i).split_last().unwrap_or((&1.0, &[]));
            let dot: f64 = head.iter().zip(&b[self.first[i]..i]).map(|(a, b)| a * b).sum();
            b[i] = (b[i] - dot) / last;
        }
    }

    /// Solves L^T x = y in place.
    pub(super) fn backward(&self, y: &mut [f64]) {
        for i in (0..self.len()).rev() {
            let (last, head) = self.row(i).split_last().unwrap_or((&1.0, &[]));
            y[i] /= last;
            let value = y[i];
            for (a, b) in head.iter().zip(&mut y[self.first[i]..i]) {
                *b -= a * value;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solves_an_arrow() {
        let mut a = Envelope::new(vec![0, 1, 0]);
        for (i, j, v) in [(0, 0, 4.0), (1, 1, 9.0), (2, 0, 2.0), (2, 1, 3.0), (2, 2, 6.0)] {
            a.add(i, j, v);
        }
        assert!(a.factor(0.0));
        // x = (1, 2, 3): b = (10, 27, 26).
        let mut b = [10.0, 27.0, 26.0];
        a.forward(&mut b);
        a.backward(&mut b);
        for (got, want) in b.iter().zip([1.0, 2.0, 3.0]) {
            assert!((got - want).abs() < 1e-12);
        }
    }

    #[test]
    fn refuses_a_repeated_column() {
        let mut a = Envelope::new(vec![0, 0]);
        for (i, j) in [(0, 0), (1, 0), (1, 1)] {
            a.add(i, j, 1.0);
        }
        assert!(!a.factor(0.0));
    }
}
