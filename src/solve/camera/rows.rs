//! The rows of the adjustment: value computed from the unknowns, standard
//! uncertainty, and derivatives by the unknowns.

use nalgebra::Vector3;

use super::network::{Measure, Network, Prior, Sight, Tie};
use super::state::{ASPECT, CENTRE, FOCAL, Layout, RADIAL, SCALE, State, TURN};

/// One row. Derivatives are divided by the standard uncertainty.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    /// The value the unknowns give, in the unit of the observation.
    pub(super) computed: f64,
    /// Standard uncertainty of the observation.
    pub(super) sigma: f64,
    entries: [(usize, f64); 12],
    filled: usize,
}

impl Row {
    fn new(computed: f64, sigma: f64) -> Self {
        Self { computed, sigma, entries: [(0, 0.0); 12], filled: 0 }
    }

    fn put(&mut self, column: Option<usize>, slope: f64) {
        if let Some(column) = column {
            self.entries[self.filled] = (column, slope / self.sigma);
            self.filled += 1;
        }
    }

    /// Columns and derivatives over sigma; a column may come twice.
    pub(super) fn entries(&self) -> &[(usize, f64)] {
        &self.entries[..self.filled]
    }

    /// Computed minus observed, in standard uncertainties.
    pub(super) fn residual(&self, observed: f64) -> f64 {
        (self.computed - observed) / self.sigma
    }
}

/// Standard uncertainty of a coordinate that is zero, in picture widths: less
/// than any mark shows.
const PINNED: f64 = 1e-6;

/// The observed values, in row order: marks (x, y), ties, priors, coordinates
/// that are zero.
pub(super) fn observed(network: &Network) -> Vec<f64> {
    let w = network.camera.width;
    let mut values: Vec<f64> =
        network.sights.iter().flat_map(|sight| sight.pixel.map(|p| p / w)).collect();
    values.extend(network.ties.iter().map(|tie| match tie {
        Tie::Length { value, .. } => *value,
        Tie::Ratio { .. } => 0.0,
    }));
    values.extend(priors(network).into_iter().filter(|p| p.sigma > 0.0).map(|p| p.value));
    values.extend(network.pinned.iter().map(|_| 0.0));
    values
}

/// The priors in inner units: set-backs, focal, centre, radial, aspect.
fn priors(network: &Network) -> Vec<Prior> {
    let (camera, w) = (&network.camera, network.camera.width);
    let mut list = network.setbacks.clone();
    list.push(Prior { value: camera.ln_focal.value - w.ln(), sigma: camera.ln_focal.sigma });
    list.extend(camera.principal.map(|p| Prior { value: p.value / w, sigma: p.sigma / w }));
    list.extend([camera.radial, camera.aspect]);
    list
}

/// Hands every row, with its number, to `each`; false when a mark lies beyond
/// the horizon.
pub(super) fn visit(
    network: &Network,
    layout: &Layout,
    state: &State,
    mut each: impl FnMut(usize, &Row),
) -> bool {
    let mut number = 0;
    let mut hand = |row: &Row| {
        each(number, row);
        number += 1;
    };
    for sight in &network.sights {
        let Some(pair) = mark(network, layout, state, sight) else { return false };
        pair.iter().for_each(&mut hand);
    }
    for tie in &network.ties {
        hand(&tie_row(layout, state, tie));
    }
    prior_rows(network, layout, state, &mut hand);
    true
}

/// The two rows of a mark.
fn mark(network: &Network, layout: &Layout, state: &State, sight: &Sight) -> Option<[Row; 2]> {
    let phi = (-state.ln_focal).exp();
    let place = state.place(sight);
    let p = state.turn * Vector3::from(place);
    let q = 1.0 + phi * p.z;
    if q.is_nan() || q < 1e-6 {
        return None;
    }
    let m = [p.x / q, p.y / q];
    let square = m[0] * m[0] + m[1] * m[1];
    let bend = state.radial * phi * phi;
    let grown = 1.0 + bend * square;
    let tall = [1.0, state.aspect.exp()];
    // d(pixel)/d(undistorted), and through it by the place in camera axes.
    let lens = |k: usize, l: usize| {
        tall[k] * (2.0 * bend * m[k] * m[l] + if k == l { grown } else { 0.0 })
    };
    let by_camera = |k: usize| {
        let (a, b) = (lens(k, 0) / q, lens(k, 1) / q);
        Vector3::new(a, b, -phi * (a * m[0] + b * m[1]))
    };
    let sigma = sight.sigma / network.camera.width;
    let rows = [0, 1].map(|k| {
        let seen = m[k] * grown * tall[k];
        let mut row = Row::new(state.centre[k] + seen, sigma);
        let slope = by_camera(k);
        let along = |axis: usize| slope.dot(&state.turn.column(axis));
        row.put(Some(sight.x), along(0));
        row.put(Some(sight.y), along(1));
        if let Some(z) = sight.z {
            row.put(Some(z), along(2));
        } else if let Some(plane) = sight.plane {
            row.put(layout.setbacks[plane], along(2) / state.scale());
            row.put(layout.shared[SCALE], -along(2) * place[2]);
        }
        let drift = -slope.z * p.z - 2.0 * bend * square * m[k] * tall[k];
        row.put(layout.shared[FOCAL], drift);
        row.put(layout.shared[CENTRE + k], 1.0);
        row.put(layout.shared[RADIAL], phi * phi * square * m[k] * tall[k]);
        row.put(layout.shared[ASPECT].filter(|_| k == 1), seen);
        let by_turn = p.cross(&slope);
        for axis in 0..3 {
            row.put(layout.shared[TURN + axis], by_turn[axis]);
        }
        row
    });
    Some(rows)
}

fn tie_row(layout: &Layout, state: &State, tie: &Tie) -> Row {
    let s = state.scale();
    let put = |row: &mut Row, measure: Measure, factor: f64| {
        for (column, slope) in measure.slopes(&state.coordinates) {
            if slope.abs() > 0.0 {
                row.put(Some(column), slope * factor);
            }
        }
    };
    match *tie {
        Tie::Length { of, sigma, .. } => {
            let mut row = Row::new(s * of.of(&state.coordinates), sigma);
            put(&mut row, of, s);
            row.put(layout.shared[SCALE], row.computed);
            row
        }
        Tie::Ratio { a, b, ratio, sigma } => {
            let (left, right) = (a.of(&state.coordinates), ratio * b.of(&state.coordinates));
            let mean = 0.5 * (left + right).abs().max(1e-9);
            let mut row = Row::new((left - right) / mean, sigma);
            // The mean changes too, but that only matters far from the answer.
            put(&mut row, a, 1.0 / mean);
            put(&mut row, b, -ratio / mean);
            row
        }
    }
}

fn prior_rows(network: &Network, layout: &Layout, state: &State, hand: &mut impl FnMut(&Row)) {
    let mut values = state.setbacks.clone();
    values.extend([state.ln_focal, state.centre[0], state.centre[1], state.radial, state.aspect]);
    let mut columns = layout.setbacks.clone();
    columns.extend(&layout.shared[FOCAL..=ASPECT]);
    for ((prior, value), column) in priors(network).iter().zip(values).zip(columns) {
        if prior.sigma > 0.0 {
            let mut row = Row::new(value, prior.sigma);
            row.put(column, 1.0);
            hand(&row);
        }
    }
    for &pinned in &network.pinned {
        let mut row = Row::new(state.coordinates[pinned], PINNED);
        row.put(Some(pinned), 1.0);
        hand(&row);
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;

    #[test]
    fn derivatives_agree_with_differences() {
        let (network, state) = samples::turned_wall();
        let layout = Layout::of(&network);
        let values = |s: &State| {
            let mut list = Vec::new();
            assert!(visit(&network, &layout, s, |_, row| list.push(row.computed / row.sigma)));
            list
        };
        let mut analytic = vec![vec![0.0; layout.columns]; values(&state).len()];
        visit(&network, &layout, &state, |i, row| {
            for &(column, slope) in row.entries() {
                analytic[i][column] += slope;
            }
        });
        for column in 0..layout.columns {
            let mut step = vec![0.0; layout.columns];
            step[column] = 1e-6;
            let ahead = values(&state.moved(&layout, &step));
            step[column] = -1e-6;
            let behind = values(&state.moved(&layout, &step));
            for (i, row) in analytic.iter().enumerate() {
                let numeric = (ahead[i] - behind[i]) / 2e-6;
                let slack = 1e-5 * (1.0 + numeric.abs());
                assert!((numeric - row[column]).abs() < slack, "row {i}, column {column}");
            }
        }
    }
}
