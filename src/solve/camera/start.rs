//! First values for the unknowns from vanishing points.

use nalgebra::{Matrix3, Vector3};

use super::network::{Measure, Network, Sight, Tie};
use super::single_view::{Homogeneous, focal_squared, line_through, meeting_point};
use super::state::State;

/// What the vanishing points say before anything is adjusted.
#[derive(Clone, Debug, PartialEq)]
pub struct Glance {
    /// Meeting point of the level lines, in picture widths; nothing with fewer
    /// than two of them.
    pub level: Option<Homogeneous>,
    /// Meeting point of the plumb lines.
    pub plumb: Option<Homogeneous>,
    /// Squared focal length in picture widths; nothing when either meeting
    /// point is missing or at infinity.
    pub focal_squared: Option<f64>,
    /// Meeting point of the level lines of walls at right angles.
    pub side: Option<Homogeneous>,
    /// Squared focal length from the level lines of both walls.
    pub side_focal_squared: Option<f64>,
}

/// Looks at the level and plumb lines of a network.
#[must_use]
pub(super) fn glance(network: &Network) -> Glance {
    let (level, plumb) = (vanishing(network, 1), vanishing(network, 0));
    let w = network.camera.width;
    let centre = network.camera.principal.map(|p| p.value / w);
    let square = |a: Option<Homogeneous>, b: Option<Homogeneous>| {
        a.zip(b).and_then(|(a, b)| focal_squared(a, b, centre, 1.0))
    };
    let side = meeting(network, network.side_lines());
    Glance {
        level,
        plumb,
        focal_squared: square(level, plumb),
        side,
        side_focal_squared: square(level, side),
    }
}

/// A mark in picture widths, the stretch that is expected taken out.
fn level_scale(network: &Network, sight: usize) -> [f64; 2] {
    let camera = &network.camera;
    let [x, y] = network.sights[sight].pixel;
    let middle = camera.principal[1].value;
    [x, middle + (y - middle) / camera.aspect.value.exp()].map(|p| p / camera.width)
}

fn vanishing(network: &Network, axis: usize) -> Option<Homogeneous> {
    meeting(network, network.lines(axis))
}

/// Where the lines through groups of marks meet.
fn meeting(network: &Network, groups: Vec<Vec<usize>>) -> Option<Homogeneous> {
    let lines: Vec<_> = groups
        .into_iter()
        .filter_map(|group| {
            let at: Vec<_> = group.iter().map(|&i| level_scale(network, i)).collect();
            let span = extent(&at);
            Some((line_through(&at)?, span))
        })
        .collect();
    meeting_point(&lines)
}

/// The longer side of the box round some points.
fn extent(points: &[[f64; 2]]) -> f64 {
    let side = |k: usize| {
        let values = points.iter().map(|p| p[k]);
        values.clone().fold(f64::MIN, f64::max) - values.fold(f64::MAX, f64::min)
    };
    side(0).max(side(1))
}

/// The state for a focal length (in picture widths); nothing when a mark lies
/// beyond the horizon of it.
#[must_use]
pub(super) fn begin(network: &Network, seen: &Glance, focal: f64) -> Option<State> {
    let w = network.camera.width;
    let centre = network.camera.principal.map(|p| p.value / w);
    let turn = orientation(network, seen, centre, focal)?;
    let mut state = State {
        ln_scale: 0.0,
        ln_focal: focal.ln(),
        centre,
        radial: network.camera.radial.value,
        aspect: network.camera.aspect.value,
        turn,
        coordinates: vec![0.0; network.coordinates],
        setbacks: network.setbacks.iter().map(|p| p.value).collect(),
    };
    place_marks(network, &mut state, false)?;
    state.ln_scale = scale(network, &state).ln();
    place_marks(network, &mut state, true)?;
    Some(state)
}

/// Wall axes from the two directions, made orthogonal evenly.
fn orientation(
    network: &Network,
    seen: &Glance,
    centre: [f64; 2],
    focal: f64,
) -> Option<Matrix3<f64>> {
    let ray = |v: Homogeneous| {
        Vector3::new((v.x - centre[0] * v.z) / focal, (v.y - centre[1] * v.z) / focal, v.z)
            .try_normalize(0.0)
    };
    let right = ray(seen.level.unwrap_or(Vector3::new(1.0, 0.0, 0.0)))?;
    let up = ray(seen.plumb.unwrap_or(Vector3::new(0.0, -1.0, 0.0)))?;
    let right = pointed(network, right, network.rightward, 0, centre, focal);
    let up = pointed(network, up, network.upward, 1, centre, focal);
    // What leads into the depth of a side wall comes toward the viewer.
    let near = seen.side.and_then(ray).map(|near| if near.z > 0.0 { -near } else { near });
    let near = near.filter(|near| near.dot(&right.cross(&up)) > 0.3);
    let near = near.unwrap_or_else(|| right.cross(&up));
    let rough = Matrix3::from_columns(&[right, up, near]);
    let svd = rough.svd(true, true);
    let turn = svd.u? * svd.v_t?;
    // The wall's face must look at the camera.
    Some(if turn[(2, 2)] > 0.0 {
        turn * Matrix3::from_diagonal(&Vector3::new(-1.0, 1.0, -1.0))
    } else {
        turn
    })
}

/// A direction with the sign that leads from the first mark to the second.
fn pointed(
    network: &Network,
    direction: Vector3<f64>,
    marks: Option<[usize; 2]>,
    axis: usize,
    centre: [f64; 2],
    focal: f64,
) -> Vector3<f64> {
    let w = network.camera.width;
    let (at, step) = match marks {
        Some([a, b]) => {
            let (a, b) = (network.sights[a].pixel, network.sights[b].pixel);
            (a.map(|p| p / w), [b[0] - a[0], b[1] - a[1]])
        }
        None => (centre, [[1.0, 0.0], [0.0, -1.0]][axis]),
    };
    let m = [at[0] - centre[0], at[1] - centre[1]];
    let moves = [0, 1].map(|k| direction[k] - m[k] * direction.z / focal);
    if moves[0] * step[0] + moves[1] * step[1] < 0.0 { -direction } else { direction }
}

/// Puts every mark on its plane; shared coordinates get the mean.
fn place_marks(network: &Network, state: &mut State, with_planes: bool) -> Option<()> {
    let mut sums = vec![(0.0, 0.0); network.coordinates];
    let deep = |sight: &&Sight| sight.z.is_some_and(|z| !network.pinned.contains(&z));
    for sight in network.sights.iter().filter(|sight| !deep(sight)) {
        let h = match sight.plane {
            Some(k) if with_planes => state.setbacks[k] / state.scale(),
            _ => 0.0,
        };
        let [x, y] = on_plane(state, sight.pixel.map(|p| p / network.camera.width), h)?;
        for (index, value) in [(sight.x, x), (sight.y, y)] {
            sums[index].0 += value;
            sums[index].1 += 1.0;
        }
    }
    // Marks on a wall at right angles: their place along the first wall is that
    // of the corner.
    let corners = sums.clone();
    for sight in network.sights.iter().filter(deep) {
        let (sum, n) = corners[sight.x];
        let at = sight.pixel.map(|p| p / network.camera.width);
        let Some((z, true)) = sight.z.map(|z| (z, n > 0.0)) else { continue };
        let [y, deep] = on_side(state, at, sum / n)?;
        for (index, value) in [(sight.y, y), (z, deep)] {
            sums[index].0 += value;
            sums[index].1 += 1.0;
        }
    }
    for (value, (sum, n)) in state.coordinates.iter_mut().zip(sums) {
        *value = if n > 0.0 { sum / n } else { 0.0 };
    }
    place_the_deep(network, state);
    Some(())
}

/// Marks whose depth is that of others: their own place on that plane.
fn place_the_deep(network: &Network, state: &mut State) {
    for sight in &network.sights {
        let Some(z) = sight.z.filter(|z| !network.pinned.contains(z)) else { continue };
        let alone = |index: usize, of: fn(&Sight) -> usize| {
            network.sights.iter().filter(|other| of(other) == index).count() == 1
        };
        if alone(sight.x, |other| other.x) {
            let at = sight.pixel.map(|p| p / network.camera.width);
            if let Some([x, y]) = on_plane(state, at, state.coordinates[z]) {
                state.coordinates[sight.x] = x;
                state.coordinates[sight.y] = y;
            }
        }
    }
}

/// The height and the depth of a place on the wall at right angles that stands
/// at `x` along the first one (inner units), under a picture place.
fn on_side(state: &State, at: [f64; 2], x: f64) -> Option<[f64; 2]> {
    let m = undistorted(state, at);
    let phi = (-state.ln_focal).exp();
    let column = |k: usize| {
        let a = state.turn.column(k);
        [a[0] - phi * m[0] * a[2], a[1] - phi * m[1] * a[2]]
    };
    let (a, b, c) = (column(0), column(1), column(2));
    let right = [m[0] - x * a[0], m[1] - x * a[1]];
    let det = b[0] * c[1] - b[1] * c[0];
    let y = (right[0] * c[1] - right[1] * c[0]) / det;
    let z = (b[0] * right[1] - b[1] * right[0]) / det;
    (state.depth([x, y, z]) > 1e-3).then_some([y, z])
}

/// The place on the plane `h` in front of the wall (inner units) under a
/// picture place, distortion taken out by a few rounds.
pub(super) fn on_plane(state: &State, at: [f64; 2], h: f64) -> Option<[f64; 2]> {
    let m = undistorted(state, at);
    let phi = (-state.ln_focal).exp();
    let column = |k: usize| {
        let a = state.turn.column(k);
        [a[0] - phi * m[0] * a[2], a[1] - phi * m[1] * a[2]]
    };
    let (a, b, c) = (column(0), column(1), column(2));
    let right = [m[0] - h * c[0], m[1] - h * c[1]];
    let det = a[0] * b[1] - a[1] * b[0];
    let x = (right[0] * b[1] - right[1] * b[0]) / det;
    let y = (a[0] * right[1] - a[1] * right[0]) / det;
    (state.depth([x, y, h]) > 1e-3).then_some([x, y])
}

/// Picture place relative to the principal point, distortion taken out.
fn undistorted(state: &State, at: [f64; 2]) -> [f64; 2] {
    let d = [at[0] - state.centre[0], (at[1] - state.centre[1]) / state.aspect.exp()];
    let bend = state.radial * (-2.0 * state.ln_focal).exp();
    let mut m = d;
    for _ in 0..20 {
        let grown = 1.0 + bend * (m[0] * m[0] + m[1] * m[1]);
        m = d.map(|v| v / grown.max(0.2));
    }
    m
}

/// Wall units for one inner unit, from the known lengths.
fn scale(network: &Network, state: &State) -> f64 {
    let (mut sum, mut n) = (0.0, 0.0);
    for tie in &network.ties {
        if let Tie::Length { of, value, .. } = tie {
            let drawn = of.of(&state.coordinates).abs();
            if drawn > 0.0 {
                sum += (value / drawn).ln();
                n += 1.0;
            }
        }
    }
    if n > 0.0 { f64::exp(sum / n) } else { 1.0 }
}

/// Turns every measure so that it comes out positive.
pub(super) fn face_forward(network: &mut Network, state: &State) {
    let turn = |of: &mut Measure| {
        if of.of(&state.coordinates) < 0.0 {
            *of = of.reversed();
        }
    };
    for tie in &mut network.ties {
        match tie {
            Tie::Length { of, .. } => turn(of),
            Tie::Ratio { a, b, .. } => {
                turn(a);
                turn(b);
            }
        }
    }
}
