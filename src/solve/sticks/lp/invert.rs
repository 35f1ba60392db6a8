//! The inverse of the basis, made afresh.

use super::Lp;
use crate::solve::sticks::search::Meter;

impl Lp {
    /// Inverts the basis afresh; false when it is singular.
    pub(in crate::solve::sticks) fn invert(&mut self, meter: &mut Meter) -> bool {
        let Some(inverse) = self.inverted(meter) else { return false };
        self.inverse = inverse;
        self.changes = 0;
        self.refresh_values();
        self.refresh_multipliers();
        true
    }

    /// Gauss-Jordan: single-entry columns first, then rows of largest pivot.
    fn inverted(&self, meter: &mut Meter) -> Option<Vec<f64>> {
        let rows = self.rows();
        // Columns of the basis, dense, one after the other, are reduced to the
        // identity while the same steps build the inverse.
        let mut matrix = vec![0.0; rows * rows];
        for (place, &basic) in self.basis.iter().enumerate() {
            for (row, value) in self.entries(basic) {
                matrix[row as usize * rows + place] = value;
            }
        }
        let mut inverse = vec![0.0; rows * rows];
        (0..rows).for_each(|row| inverse[row * rows + row] = 1.0);
        let mut row_of = vec![usize::MAX; rows];
        let mut taken = vec![false; rows];
        let mut order: Vec<usize> = (0..rows).collect();
        order.sort_by_key(|&place| self.entries(self.basis[place]).len());
        for place in order {
            if !meter.spend((rows * rows) as u64) {
                return None;
            }
            let mut pivot = (1e-10, None);
            for row in 0..rows {
                let size = matrix[row * rows + place].abs();
                if !taken[row] && size > pivot.0 {
                    pivot = (size, Some(row));
                }
            }
            let row = pivot.1?;
            taken[row] = true;
            row_of[place] = row;
            let scale = 1.0 / matrix[row * rows + place];
            let scaled = |from: &mut [f64]| from.iter_mut().for_each(|a| *a *= scale);
            scaled(&mut matrix[row * rows..(row + 1) * rows]);
            scaled(&mut inverse[row * rows..(row + 1) * rows]);
            let (upper, lower) = (
                matrix[row * rows..(row + 1) * rows].to_vec(),
                inverse[row * rows..(row + 1) * rows].to_vec(),
            );
            for other in (0..rows).filter(|&other| other != row) {
                let factor = matrix[other * rows + place];
                if factor != 0.0 {
                    let span = other * rows..(other + 1) * rows;
                    matrix[span.clone()].iter_mut().zip(&upper).for_each(|(a, p)| *a -= factor * p);
                    inverse[span].iter_mut().zip(&lower).for_each(|(a, p)| *a -= factor * p);
                }
            }
        }
        let mut ordered = vec![0.0; rows * rows];
        for (place, &row) in row_of.iter().enumerate() {
            ordered[place * rows..(place + 1) * rows]
                .copy_from_slice(&inverse[row * rows..(row + 1) * rows]);
        }
        Some(ordered)
    }
}
