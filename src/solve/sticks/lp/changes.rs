//! Changes of the basis: primal ones that lower the cost, dual ones that mend
//! values below zero.

use super::{Basic, End, FRESH, Lp, NO_GAIN, PIVOT, TINY};
use crate::solve::sticks::search::Meter;

impl Lp {
    /// Finds the least cost over the open columns from the basis at hand.
    pub(in crate::solve::sticks) fn solve(&mut self, meter: &mut Meter) -> End {
        if self.values.iter().any(|&value| value < -TINY) {
            let end = self.mend(meter);
            if end != End::Least {
                return end;
            }
        }
        self.improve(meter)
    }

    /// Makes the values non-negative by dual changes. Costs of columns that
    /// would gain are lifted meanwhile, so that the dual side is sound.
    fn mend(&mut self, meter: &mut Meter) -> End {
        self.refresh_multipliers();
        let mut lifted = Vec::new();
        for at in 0..self.columns.len() {
            let reduced = self.reduced(&self.columns[at]);
            if reduced < 0.0 && self.columns[at].open && !self.in_basis[at] {
                lifted.push((at, self.columns[at].cost));
                self.columns[at].cost -= reduced;
            }
        }
        let end = self.dual_changes(meter);
        for (at, cost) in lifted {
            self.columns[at].cost = cost;
        }
        self.refresh_multipliers();
        end
    }

    fn dual_changes(&mut self, meter: &mut Meter) -> End {
        let rows = self.rows();
        for round in 0.. {
            if round > 50 * rows + 500 || !meter.spend(self.work()) {
                return End::Broken;
            }
            let Some(place) = self.most_negative() else { return End::Least };
            let Some((entering, _)) = self.dual_entering(place) else { return End::Broken };
            let direction = self.direction(entering);
            if direction[place].abs() < PIVOT {
                if self.changes == 0 {
                    return End::Broken;
                }
                if !self.invert(meter) {
                    return End::Broken;
                }
                continue;
            }
            if !self.change(place, entering, &direction, meter) {
                return End::Broken;
            }
        }
        End::Broken
    }

    fn work(&self) -> u64 {
        let rows = self.rows() as u64;
        rows * rows + 6 * self.columns.len() as u64
    }

    fn most_negative(&self) -> Option<usize> {
        let mut worst = (-TINY, None);
        for (place, &value) in self.values.iter().enumerate() {
            if value < worst.0 {
                worst = (value, Some(place));
            }
        }
        worst.1
    }

    /// The column whose reduced cost reaches zero first when place `place`
    /// leaves.
    fn dual_entering(&self, place: usize) -> Option<(Basic, f64)> {
        let rows = self.rows();
        let row = &self.inverse[place * rows..(place + 1) * rows];
        let mut best: Option<(Basic, f64, f64)> = None;
        let mut look = |basic, slope: f64, reduced: f64| {
            if slope > -PIVOT {
                return;
            }
            let ratio = reduced.max(0.0) / -slope;
            let better = best.is_none_or(|(_, least, steepest)| {
                ratio < least - 1e-12 || (ratio < least + 1e-12 && slope < steepest)
            });
            if better {
                best = Some((basic, ratio, slope));
            }
        };
        for (at, column) in self.columns.iter().enumerate() {
            if column.open && !self.in_basis[at] {
                let slope = column.entries.iter().map(|&(r, a)| a * row[r as usize]).sum();
                look(Basic::Column(at as u32), slope, self.reduced(column));
            }
        }
        for (at, (&slope, &multiplier)) in row.iter().zip(&self.multipliers).enumerate() {
            look(Basic::Surplus(at as u32), -slope, multiplier);
            look(Basic::Shortfall(at as u32), slope, self.penalty - multiplier);
        }
        best.map(|(basic, ratio, _)| (basic, ratio))
    }

    /// Lowers the cost by primal changes until nothing gains.
    fn improve(&mut self, meter: &mut Meter) -> End {
        let rows = self.rows();
        for round in 0.. {
            if round > 200 * rows + 2000 || !meter.spend(self.work()) {
                return End::Broken;
            }
            let Some(entering) = self.primal_entering() else { return End::Least };
            let direction = self.direction(entering);
            let Some(place) = self.leaving(&direction) else { return End::Broken };
            if !self.change(place, entering, &direction, meter) {
                return End::Broken;
            }
        }
        End::Broken
    }

    fn primal_entering(&self) -> Option<Basic> {
        let mut best = (-NO_GAIN * (1.0 + self.penalty * 0.01), None);
        for (at, column) in self.columns.iter().enumerate() {
            if column.open && !self.in_basis[at] {
                let reduced = self.reduced(column);
                if reduced < best.0 {
                    best = (reduced, Some(Basic::Column(at as u32)));
                }
            }
        }
        for (at, &multiplier) in self.multipliers.iter().enumerate() {
            if multiplier < best.0 {
                best = (multiplier, Some(Basic::Surplus(at as u32)));
            }
        }
        best.1
    }

    fn direction(&self, basic: Basic) -> Vec<f64> {
        let rows = self.rows();
        let entries = self.entries(basic);
        self.inverse
            .chunks_exact(rows.max(1))
            .map(|row| entries.iter().map(|&(r, a)| a * row[r as usize]).sum())
            .collect()
    }

    fn leaving(&self, direction: &[f64]) -> Option<usize> {
        let mut best: Option<(usize, f64)> = None;
        for (place, (&slope, &value)) in direction.iter().zip(&self.values).enumerate() {
            if slope > PIVOT {
                let ratio = value.max(0.0) / slope;
                let better = best.is_none_or(|(other, least)| {
                    ratio < least - 1e-13 || (ratio < least + 1e-13 && slope > direction[other])
                });
                if better {
                    best = Some((place, ratio));
                }
            }
        }
        best.map(|(place, _)| place)
    }

    /// Swaps `entering` for what stands at `place`.
    fn change(
        &mut self,
        place: usize,
        entering: Basic,
        direction: &[f64],
        meter: &mut Meter,
    ) -> bool {
        let rows = self.rows();
        let reduced = match entering {
            Basic::Column(column) => self.reduced(&self.columns[column as usize]),
            Basic::Surplus(row) => self.multipliers[row as usize],
            Basic::Shortfall(row) => self.penalty - self.multipliers[row as usize],
        };
        let step = self.values[place] / direction[place];
        let scale = 1.0 / direction[place];
        let start = place * rows;
        self.inverse[start..start + rows].iter_mut().for_each(|a| *a *= scale);
        let pivot_row = self.inverse[start..start + rows].to_vec();
        for (at, row) in self.inverse.chunks_exact_mut(rows).enumerate() {
            let factor = direction[at];
            if at != place && factor != 0.0 {
                row.iter_mut().zip(&pivot_row).for_each(|(a, p)| *a -= factor * p);
                self.values[at] -= factor * step;
            }
        }
        self.values[place] = step;
        self.multipliers.iter_mut().zip(&pivot_row).for_each(|(y, p)| *y += reduced * p);
        if let Basic::Column(column) = self.basis[place] {
            self.in_basis[column as usize] = false;
        }
        if let Basic::Column(column) = entering {
            self.in_basis[column as usize] = true;
        }
        self.basis[place] = entering;
        self.changes += 1;
        self.changes < FRESH || self.invert(meter)
    }
}
