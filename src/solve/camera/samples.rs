//! Made-up walls for the tests of this room.

use nalgebra::{Rotation3, Vector3};

use super::network::{Camera, Measure, Network, Prior, Sight, Tie};
use super::state::State;

/// How a made-up picture is taken.
pub(super) struct View {
    pub(super) focal: f64,
    pub(super) radial: f64,
    /// Degrees: to the side, up, and roll.
    pub(super) turns: [f64; 3],
}

/// A camera of 1600 by 1200 that knows nothing of its focal length.
pub(super) fn camera() -> Camera {
    let prior = |value, sigma| Prior { value, sigma };
    Camera {
        width: 1600.0,
        principal: [prior(799.5, 32.0), prior(599.5, 32.0)],
        ln_focal: prior(1760.0_f64.ln(), 0.6),
        radial: prior(0.0, 0.15),
        aspect: prior(0.0, 0.02),
    }
}

/// The true state of a view of a wall 12 units away.
pub(super) fn state(view: &View, coordinates: &[f64]) -> State {
    let [side, up, roll] = view.turns.map(f64::to_radians);
    let facing = nalgebra::Matrix3::from_diagonal(&Vector3::new(1.0, -1.0, -1.0));
    let turn = Rotation3::from_axis_angle(&Vector3::z_axis(), roll)
        * Rotation3::from_axis_angle(&Vector3::x_axis(), up)
        * Rotation3::from_axis_angle(&Vector3::y_axis(), side);
    let focal = view.focal / 1600.0;
    let scale = 12.0 / focal;
    State {
        ln_scale: f64::ln(scale),
        ln_focal: focal.ln(),
        centre: [799.5 / 1600.0, 599.5 / 1600.0],
        radial: view.radial,
        aspect: 0.0,
        turn: turn.into_inner() * facing,
        coordinates: coordinates.iter().map(|c| c / scale).collect(),
        setbacks: vec![],
    }
}

/// Windows 1.2 by 1.5 in rows; `n` of them. Four coordinates each: left,
/// right, top, bottom.
pub(super) fn windows(n: usize) -> Vec<f64> {
    (0..n)
        .flat_map(|i| {
            let (x, y) = ((i % 4) as f64 * 2.0 - 3.6, (i / 4) as f64 * 2.2 - 2.0);
            [x, x + 1.2, y + 1.5, y]
        })
        .collect()
}

/// Corner marks of the windows as the state sees them, 1 px each.
pub(super) fn picture(camera: Camera, state: &State, n: usize) -> Network {
    let mut network = Network {
        camera,
        coordinates: 4 * n,
        pinned: vec![],
        setbacks: vec![],
        sights: vec![],
        ties: vec![],
        rightward: Some([0, 1]),
        upward: Some([3, 0]),
    };
    for i in 0..n {
        for (x, y) in [(0, 2), (1, 2), (1, 3), (0, 3)] {
            let (x, y) = (4 * i + x, 4 * i + y);
            let place = [state.coordinate(x), state.coordinate(y), 0.0];
            let pixel = state.project(&network, place).unwrap();
            network.sights.push(Sight { pixel, sigma: 1.0, x, y, plane: None, z: None });
        }
    }
    network
}

/// Width and height of window `i` as a measure.
pub(super) fn side(i: usize, upright: bool) -> Measure {
    let k = 4 * i;
    if upright {
        Measure::Along { from: k + 3, to: k + 2 }
    } else {
        Measure::Along { from: k, to: k + 1 }
    }
}

/// A known length.
pub(super) fn known(of: Measure, value: f64) -> Tie {
    Tie::Length { of, value, sigma: 0.001 * value }
}

/// A turned wall with every kind of row.
pub(super) fn turned_wall() -> (Network, State) {
    let view = View { focal: 1350.0, radial: -0.1, turns: [30.0, 8.0, 2.0] };
    let mut state = State { aspect: 0.015, ..state(&view, &windows(3)) };
    let mut network = picture(camera(), &state, 3);
    network.coordinates += 2;
    state.coordinates.extend([0.05, -0.02]);
    network.setbacks.push(Prior { value: 0.8, sigma: 0.05 });
    state.setbacks.push(0.8);
    let mut sight = Sight { pixel: [0.0; 2], sigma: 2.0, x: 12, y: 13, plane: Some(0), z: None };
    let s = state.scale();
    let place = state.place(&sight).map(|v| v * s);
    sight.pixel = state.project(&network, place).unwrap();
    network.sights.push(sight);
    network.ties = vec![
        known(side(0, false), 1.2),
        known(Measure::Straight { from: [0, 2], to: [5, 7] }, 3.5),
        Tie::Ratio { a: side(1, true), b: side(2, true), ratio: 1.0, sigma: 0.01 },
    ];
    (network, state)
}
