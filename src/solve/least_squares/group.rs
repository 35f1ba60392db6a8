//! Observations that share errors, made independent.
//!
//! Rows weighted by their sigmas are multiplied by the inverse of the Cholesky
//! factor of their correlation matrix; what comes out is uncorrelated and of
//! unit weight. An error in observation `i` alone then shows in several rows:
//! the column `i` of that inverse. Its test is Baarda's for correlated
//! observations (the `w` test with a full weight matrix, from memory).

use std::collections::BTreeMap;

use super::{Terms, Trouble, tidy};

/// The least share of an observation's variance that those before it in its
/// group must leave open.
const NEW: f64 = 1e-9;

/// Observations that are not independent.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Group {
    /// Which observations.
    pub of: Vec<usize>,
    /// Their correlations, row by row in the same order: ones on the diagonal.
    pub correlations: Vec<Vec<f64>>,
}

/// How weighted rows become independent ones. Only observations in groups are
/// in the lists.
#[derive(Clone, Debug, Default)]
pub(super) struct Whitener {
    /// Of which old rows a new row is made.
    rows: BTreeMap<usize, Terms>,
    /// In which new rows an old one shows.
    columns: BTreeMap<usize, Terms>,
}

impl Whitener {
    /// For so many observations, of which those in groups are correlated.
    pub(super) fn new(observations: usize, groups: &[Group]) -> Result<Self, Trouble> {
        let mut whitener = Self::default();
        for (number, group) in groups.iter().enumerate() {
            whitener.add(observations, group).ok_or(Trouble::Group { group: number })?;
        }
        Ok(whitener)
    }

    fn add(&mut self, observations: usize, group: &Group) -> Option<()> {
        let inverse = inverse_factor(&group.correlations, group.of.len())?;
        for (i, at) in group.of.iter().enumerate() {
            let row = group.of.iter().copied().zip(inverse[i].clone()).collect();
            let twice = self.rows.insert(*at, row).is_some();
            if twice || *at >= observations {
                return None;
            }
            let shows = (i..group.of.len()).map(|k| (group.of[k], inverse[k][i]));
            self.columns.insert(*at, shows.collect());
        }
        Some(())
    }

    /// The rows that become others, made of those before.
    pub(super) fn rows(&self, old: &[(Terms, f64)]) -> Vec<(usize, (Terms, f64))> {
        let made = |of: &Terms| {
            let right = of.iter().map(|(from, factor)| factor * old[*from].1).sum();
            (combined(of, |from| &old[from].0), right)
        };
        self.rows.iter().map(|(at, of)| (*at, made(of))).collect()
    }

    /// New figures from old ones, one for each observation.
    pub(super) fn figures(&self, mut figures: Vec<f64>) -> Vec<f64> {
        let made = |of: &Terms| of.iter().map(|(from, f)| f * figures[*from]).sum();
        let new: Vec<(usize, f64)> = self.rows.iter().map(|(at, of)| (*at, made(of))).collect();
        for (at, figure) in new {
            figures[at] = figure;
        }
        figures
    }

    /// The observations in groups, each with the rows in which an error in it
    /// shows.
    pub(super) fn shows(&self) -> impl Iterator<Item = (usize, &Terms)> {
        self.columns.iter().map(|(at, terms)| (*at, terms))
    }

    /// How alike the traces of errors in two observations are.
    pub(super) fn overlap(&self, one: usize, other: usize) -> f64 {
        let (Some(one_shows), Some(other_shows)) =
            (self.columns.get(&one), self.columns.get(&other))
        else {
            return f64::from(u8::from(one == other));
        };
        let there = |row: usize| other_shows.iter().find(|(at, _)| *at == row);
        one_shows.iter().map(|(row, f)| there(*row).map_or(0.0, |(_, g)| f * g)).sum()
    }

    /// The figures times the inverse of the correlations.
    pub(super) fn weighed(&self, figures: Vec<f64>) -> Vec<f64> {
        let new = self.figures(figures);
        let mut out = new.clone();
        for (at, shows) in self.shows() {
            out[at] = shows.iter().map(|(row, f)| f * new[*row]).sum();
        }
        out
    }
}

/// A sum of rows, each with its factor.
pub(super) fn combined<'r>(factors: &[(usize, f64)], row: impl Fn(usize) -> &'r Terms) -> Terms {
    let scaled = |(from, factor): &(usize, f64)| {
        let factor = *factor;
        row(*from).iter().map(move |(at, f)| (*at, f * factor))
    };
    let mut sum: Terms = factors.iter().flat_map(scaled).collect();
    tidy(&mut sum);
    sum
}

/// Those rows of a correlation matrix that have at least such a share of
/// their variance to themselves, given the rows taken before them.
#[must_use]
pub fn independent(correlations: &[Vec<f64>], least: f64) -> Vec<usize> {
    let mut factor: Vec<(usize, Vec<f64>)> = Vec::new();
    for (at, wanted) in correlations.iter().enumerate() {
        factor.extend(next_row(wanted, at, &factor, least).map(|row| (at, row)));
    }
    factor.into_iter().map(|(at, _)| at).collect()
}

/// The next row of the lower Cholesky factor; nothing where less than `least`
/// is left for its diagonal.
fn next_row(
    wanted: &[f64],
    at: usize,
    factor: &[(usize, Vec<f64>)],
    least: f64,
) -> Option<Vec<f64>> {
    let mut row: Vec<f64> = Vec::with_capacity(factor.len() + 1);
    for (place, (column, other)) in factor.iter().enumerate() {
        let known: f64 = row.iter().zip(other).map(|(a, b)| a * b).sum();
        row.push((wanted[*column] - known) / other[place]);
    }
    let left = wanted[at] - row.iter().map(|v| v * v).sum::<f64>();
    if left.is_nan() || left < least {
        return None;
    }
    row.push(left.sqrt());
    Some(row)
}

/// The inverse of the lower Cholesky factor, row by row; nothing where the
/// matrix is no correlation matrix of that size.
fn inverse_factor(matrix: &[Vec<f64>], size: usize) -> Option<Vec<Vec<f64>>> {
    let square = matrix.len() == size && matrix.iter().all(|row| row.len() == size);
    let ones = square && (0..size).all(|i| (matrix[i][i] - 1.0).abs() < 1e-6);
    if !ones {
        return None;
    }
    let mut factor: Vec<(usize, Vec<f64>)> = Vec::with_capacity(size);
    let mut inverse: Vec<Vec<f64>> = Vec::with_capacity(size);
    for i in 0..size {
        let row = next_row(&matrix[i], i, &factor, NEW)?;
        let new = (0..=i).map(|j| {
            let sum: f64 = (j..i).map(|k| row[k] * inverse[k][j]).sum();
            (f64::from(u8::from(i == j)) - sum) / row[i]
        });
        let new: Vec<f64> = new.collect();
        inverse.push(new);
        factor.push((i, row));
    }
    Some(inverse)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_that_share_half_their_variance() {
        let group = Group { of: vec![2, 0], correlations: vec![vec![1.0, 0.5], vec![0.5, 1.0]] };
        let whitener = Whitener::new(3, &[group]).expect("a correlation matrix");
        let new = whitener.figures(vec![3.0, 7.0, 2.0]);
        // The second less half of the first, over the root of three quarters.
        let wanted = [(3.0 - 1.0) / 0.75_f64.sqrt(), 7.0, 2.0];
        for (new, wanted) in new.iter().zip(wanted) {
            assert!((new - wanted).abs() < 1e-12, "{new} for {wanted}");
        }
        // The diagonal of the inverse matrix is 1 / (1 - 0.25) for both.
        assert!((whitener.overlap(0, 0) - 1.0 / 0.75).abs() < 1e-12);
        assert!((whitener.overlap(0, 2) + 0.5 / 0.75).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_correlation_matrix_is_refused() {
        let pair = |correlations| Whitener::new(2, &[Group { of: vec![0, 1], correlations }]);
        assert!(pair(vec![vec![1.0, 1.0], vec![1.0, 1.0]]).is_err());
        assert!(pair(vec![vec![1.0, 2.0], vec![2.0, 1.0]]).is_err());
        assert!(pair(vec![vec![1.0, f64::NAN], vec![f64::NAN, 1.0]]).is_err());
        assert!(pair(vec![vec![1.0]]).is_err());
        let twice = Group { of: vec![0, 0], correlations: vec![vec![1.0, 0.0], vec![0.0, 1.0]] };
        assert!(Whitener::new(2, &[twice]).is_err());
    }

    #[test]
    fn what_follows_from_others_is_not_independent() {
        // The third is the sum of the first two, which are uncorrelated.
        let half = 0.5_f64.sqrt();
        let all = vec![vec![1.0, 0.0, half], vec![0.0, 1.0, half], vec![half, half, 1.0]];
        assert_eq!(independent(&all, 1e-4), [0, 1]);
        assert_eq!(independent(&all[..2], 1e-4), [0, 1]);
    }
}
