//! A small dense revised simplex: least cost of `x >= 0` with every row
//! `sum(a x) >= b`.
//!
//! The inverse of the basis is kept whole and updated at each change, so a
//! warm start after new columns, new right-hand sides or new rows costs a few
//! changes only. Right-hand sides are nudged by tiny fixed amounts against
//! ties; multipliers do not depend on that, and no proof rests on the values.

mod changes;
mod invert;

/// Values below this count as nothing.
pub(super) const TINY: f64 = 1e-9;
/// Reduced costs above minus this count as no gain.
const NO_GAIN: f64 = 1e-9;
/// Smallest number divided by.
const PIVOT: f64 = 1e-8;
/// Changes of the basis between two fresh inversions.
const FRESH: u32 = 150;
/// Size of the nudges.
const NUDGE: f64 = 1e-7;

/// One column.
#[derive(Clone, Debug)]
pub(super) struct Column {
    pub cost: f64,
    /// `(row, coefficient)`.
    pub entries: Vec<(u32, f64)>,
    /// May enter the basis.
    pub open: bool,
}

/// What stands at a place of the basis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Basic {
    Column(u32),
    /// Surplus of a row.
    Surplus(u32),
    /// Shortfall of a row, at the price [`Lp::penalty`].
    Shortfall(u32),
}

/// How a solve ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum End {
    /// Least cost over the columns given.
    Least,
    /// The meter ran out or the numbers went bad.
    Broken,
}

#[derive(Clone)]
pub(super) struct Lp {
    pub columns: Vec<Column>,
    pub rhs: Vec<f64>,
    pub penalty: f64,
    basis: Vec<Basic>,
    in_basis: Vec<bool>,
    /// Row `i` of the inverse belongs to place `i` of the basis.
    inverse: Vec<f64>,
    pub multipliers: Vec<f64>,
    values: Vec<f64>,
    changes: u32,
}

/// A fixed number in `0.5..1`, different for each row.
fn nudge(row: usize) -> f64 {
    let mixed = (row as u64 + 1).wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 40;
    NUDGE * (0.5 + mixed as f64 / (1u64 << 25) as f64)
}

impl Lp {
    /// No columns yet: every row short, or in surplus where `rhs <= 0`.
    pub(super) fn new(rhs: Vec<f64>, penalty: f64) -> Self {
        let rows = rhs.len();
        let mut lp = Self {
            columns: Vec::new(),
            rhs,
            penalty,
            basis: Vec::new(),
            in_basis: Vec::new(),
            inverse: Vec::new(),
            multipliers: vec![0.0; rows],
            values: Vec::new(),
            changes: 0,
        };
        lp.restart();
        lp
    }

    /// Forgets the basis.
    pub(super) fn restart(&mut self) {
        let rows = self.rows();
        self.basis = (0..rows as u32)
            .map(|row| {
                if self.rhs[row as usize] > 0.0 {
                    Basic::Shortfall(row)
                } else {
                    Basic::Surplus(row)
                }
            })
            .collect();
        self.in_basis = vec![false; self.columns.len()];
        self.inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            self.inverse[row * rows + row] =
                if self.basis[row] == Basic::Shortfall(row as u32) { 1.0 } else { -1.0 };
        }
        self.changes = 0;
        self.refresh_values();
        self.refresh_multipliers();
    }

    pub(super) fn rows(&self) -> usize {
        self.rhs.len()
    }

    pub(super) fn add_column(&mut self, cost: f64, entries: Vec<(u32, f64)>) -> usize {
        self.columns.push(Column { cost, entries, open: true });
        self.in_basis.push(false);
        self.columns.len() - 1
    }

    /// Adds a row; `entries` are `(column, coefficient)`. Its surplus, perhaps
    /// negative, joins the basis.
    pub(super) fn add_row(&mut self, rhs: f64, entries: &[(u32, f64)]) {
        let (old, new) = (self.rows(), self.rows() + 1);
        self.rhs.push(rhs);
        let mut dense = vec![0.0; self.columns.len()];
        for &(column, value) in entries {
            self.columns[column as usize].entries.push((old as u32, value));
            dense[column as usize] = value;
        }
        let mut inverse = vec![0.0; new * new];
        for row in 0..old {
            inverse[row * new..row * new + old]
                .copy_from_slice(&self.inverse[row * old..(row + 1) * old]);
        }
        // Basis [B 0; r -1] has the inverse [B' 0; r B' -1].
        for place in 0..old {
            let Basic::Column(column) = self.basis[place] else { continue };
            let value = dense[column as usize];
            if value != 0.0 {
                for at in 0..old {
                    inverse[old * new + at] += value * self.inverse[place * old + at];
                }
            }
        }
        inverse[old * new + old] = -1.0;
        self.inverse = inverse;
        self.basis.push(Basic::Surplus(old as u32));
        self.multipliers.push(0.0);
        self.refresh_values();
    }

    /// Keeps the marked columns, which must include those of the basis; gives
    /// the new place of each.
    pub(super) fn keep(&mut self, keep: &[bool]) -> Vec<Option<usize>> {
        let mut next = 0;
        let map: Vec<Option<usize>> = (keep.iter())
            .map(|&kept| {
                next += usize::from(kept);
                kept.then(|| next - 1)
            })
            .collect();
        let mut marks = keep.iter();
        self.columns.retain(|_| *marks.next().unwrap_or(&false));
        let mut marks = keep.iter();
        self.in_basis.retain(|_| *marks.next().unwrap_or(&false));
        for basic in &mut self.basis {
            if let Basic::Column(column) = basic {
                *column = map[*column as usize].unwrap_or(0) as u32;
            }
        }
        map
    }

    /// Columns in the basis with their values.
    pub(super) fn used(&self) -> Vec<(usize, f64)> {
        let pairs = self.basis.iter().zip(&self.values);
        pairs
            .filter_map(|(basic, &value)| match basic {
                Basic::Column(column) if value > 1e-6 => Some((*column as usize, value)),
                _ => None,
            })
            .collect()
    }

    /// Total shortfall of the rows.
    pub(super) fn shortfall(&self) -> f64 {
        let pairs = self.basis.iter().zip(&self.values);
        pairs.filter(|(b, _)| matches!(b, Basic::Shortfall(_))).map(|(_, v)| v.max(0.0)).sum()
    }

    /// Least cost by the multipliers, without the nudges.
    pub(super) fn objective(&self) -> f64 {
        self.multipliers.iter().zip(&self.rhs).map(|(y, b)| y * b).sum()
    }

    pub(super) fn is_basic(&self, column: usize) -> bool {
        self.in_basis[column]
    }

    pub(super) fn set_rhs(&mut self, rhs: &[f64]) {
        self.rhs[..rhs.len()].copy_from_slice(rhs);
        self.refresh_values();
    }

    /// Reduced cost of a column.
    pub(super) fn reduced(&self, column: &Column) -> f64 {
        let gain: f64 = column.entries.iter().map(|&(r, a)| a * self.multipliers[r as usize]).sum();
        column.cost - gain
    }

    fn cost_of(&self, basic: Basic) -> f64 {
        match basic {
            Basic::Column(column) => self.columns[column as usize].cost,
            Basic::Surplus(_) => 0.0,
            Basic::Shortfall(_) => self.penalty,
        }
    }

    fn refresh_values(&mut self) {
        let rows = self.rows();
        let rhs: Vec<f64> = self.rhs.iter().enumerate().map(|(row, b)| b + nudge(row)).collect();
        self.values = self
            .inverse
            .chunks_exact(rows.max(1))
            .map(|row| row.iter().zip(&rhs).map(|(a, b)| a * b).sum())
            .collect();
    }

    pub(super) fn refresh_multipliers(&mut self) {
        let rows = self.rows();
        let mut multipliers = vec![0.0; rows];
        for (place, &basic) in self.basis.iter().enumerate() {
            let cost = self.cost_of(basic);
            if cost != 0.0 {
                let row = &self.inverse[place * rows..(place + 1) * rows];
                multipliers.iter_mut().zip(row).for_each(|(y, a)| *y += cost * a);
            }
        }
        self.multipliers = multipliers;
    }

    fn entries(&self, basic: Basic) -> Vec<(u32, f64)> {
        match basic {
            Basic::Column(column) => self.columns[column as usize].entries.clone(),
            Basic::Surplus(row) => vec![(row, -1.0)],
            Basic::Shortfall(row) => vec![(row, 1.0)],
        }
    }
}
