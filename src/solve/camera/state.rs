//! The unknowns and how a mark follows from them.
//!
//! Inner unit: the width of the picture. The wall coordinates are scaled so
//! that they are picture-sized: X' = f X / D, with D the distance along the
//! optical axis. The focal length then acts only through the convergence, and
//! a head-on picture, where it cannot be found, stays well posed.

use nalgebra::{Matrix3, Rotation3, Vector3};

use super::network::{Network, Sight};

/// Places of the unknowns that every mark shares, counted from the first of them.
pub(super) const SCALE: usize = 0;
pub(super) const FOCAL: usize = 1;
pub(super) const CENTRE: usize = 2;
pub(super) const RADIAL: usize = 4;
pub(super) const ASPECT: usize = 5;
pub(super) const TURN: usize = 6;
/// How many there are.
pub(super) const SHARED: usize = 9;

/// The unknowns, in inner units.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// ln of wall units (metres, say) for one inner unit.
    pub(super) ln_scale: f64,
    /// ln of the focal length in picture widths.
    pub(super) ln_focal: f64,
    /// Principal point from the picture's corner, in picture widths.
    pub(super) centre: [f64; 2],
    /// k1.
    pub(super) radial: f64,
    /// ln of the stretch in height.
    pub(super) aspect: f64,
    /// From wall axes (right, up, toward the viewer) to camera axes (right,
    /// down, away).
    pub(super) turn: Matrix3<f64>,
    /// Wall coordinates in inner units.
    pub(super) coordinates: Vec<f64>,
    /// Distances in front of the wall, in wall units.
    pub(super) setbacks: Vec<f64>,
}

impl State {
    /// Wall units for one inner unit.
    #[must_use]
    pub fn scale(&self) -> f64 {
        self.ln_scale.exp()
    }

    /// Wall coordinate in wall units.
    #[must_use]
    pub fn coordinate(&self, index: usize) -> f64 {
        self.coordinates[index] * self.scale()
    }

    /// The focal length in pixels.
    #[must_use]
    pub fn focal(&self, network: &Network) -> f64 {
        self.ln_focal.exp() * network.camera.width
    }

    /// The principal point in pixels.
    #[must_use]
    pub fn principal(&self, network: &Network) -> [f64; 2] {
        self.centre.map(|c| c * network.camera.width)
    }

    /// The radial term k1.
    #[must_use]
    pub fn radial(&self) -> f64 {
        self.radial
    }

    /// How much the picture is stretched in height.
    #[must_use]
    pub fn stretch(&self) -> f64 {
        self.aspect.exp()
    }

    /// Wall axes in the camera's axes, as columns.
    #[must_use]
    pub fn turn(&self) -> Matrix3<f64> {
        self.turn
    }

    /// Distance of the wall from the camera along the optical axis, in wall units.
    #[must_use]
    pub fn axis_distance(&self) -> f64 {
        self.scale() * self.ln_focal.exp()
    }

    /// Angle between the optical axis and the wall's normal, in radians.
    #[must_use]
    pub fn obliquity(&self) -> f64 {
        (-self.turn[(2, 2)]).clamp(-1.0, 1.0).acos()
    }

    /// Depth of a place relative to that of the axis point; it grows without
    /// bound toward the horizon and turns negative beyond it.
    #[must_use]
    pub fn depth(&self, place: [f64; 3]) -> f64 {
        1.0 + (-self.ln_focal).exp() * (self.turn * Vector3::from(place)).z
    }

    /// A place of the wall plane (inner units) seen in the picture (inner units).
    #[must_use]
    pub(super) fn see(&self, place: [f64; 3]) -> Option<[f64; 2]> {
        let q = self.depth(place);
        let p = self.turn * Vector3::from(place);
        let m = [p.x / q, p.y / q];
        let grown = 1.0 + self.radial * (-2.0 * self.ln_focal).exp() * (m[0] * m[0] + m[1] * m[1]);
        let tall = self.aspect.exp();
        (q > 1e-6).then(|| [self.centre[0] + m[0] * grown, self.centre[1] + m[1] * grown * tall])
    }

    /// A place of the wall, in wall units, seen in the picture, in pixels;
    /// nothing beyond the horizon.
    #[must_use]
    pub fn project(&self, network: &Network, place: [f64; 3]) -> Option<[f64; 2]> {
        let s = self.scale();
        Some(self.see(place.map(|v| v / s))?.map(|u| u * network.camera.width))
    }

    /// Where the marks lie, in inner units.
    #[must_use]
    pub(super) fn place(&self, sight: &Sight) -> [f64; 3] {
        let plane = sight.plane.map_or(0.0, |k| self.setbacks[k] / self.scale());
        let h = sight.z.map_or(plane, |z| self.coordinates[z]);
        [self.coordinates[sight.x], self.coordinates[sight.y], h]
    }

    /// The state after a step of the unknowns laid out as in `layout`.
    #[must_use]
    pub(super) fn moved(&self, layout: &Layout, step: &[f64]) -> Self {
        let mut next = self.clone();
        for (value, d) in next.coordinates.iter_mut().zip(step) {
            *value += d;
        }
        for (value, place) in next.setbacks.iter_mut().zip(&layout.setbacks) {
            *value += place.map_or(0.0, |k| step[k]);
        }
        let shared = |k: usize| layout.shared[k].map_or(0.0, |column| step[column]);
        next.ln_scale += shared(SCALE);
        next.ln_focal += shared(FOCAL);
        next.centre[0] += shared(CENTRE);
        next.centre[1] += shared(CENTRE + 1);
        next.radial += shared(RADIAL);
        next.aspect += shared(ASPECT);
        let turn = Vector3::new(shared(TURN), shared(TURN + 1), shared(TURN + 2));
        next.turn = Rotation3::new(turn).into_inner() * self.turn;
        next
    }
}

/// How the wall is seen, in pixels: wall place (homogeneous, wall units) by
/// `from_wall` to a place relative to the principal point without distortion,
/// then grown by 1 + bend r^2, then stretched in height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// From the wall plane to the undistorted picture.
    pub from_wall: Matrix3<f64>,
    /// Principal point in pixels.
    pub principal: [f64; 2],
    /// k1 over the squared focal length, per square pixel.
    pub bend: f64,
    /// Stretch of the picture in height.
    pub tall: f64,
}

impl View {
    /// A pixel with the distortion taken out, relative to the principal point.
    #[must_use]
    pub fn straight(&self, pixel: [f64; 2]) -> [f64; 2] {
        let d = [pixel[0] - self.principal[0], (pixel[1] - self.principal[1]) / self.tall];
        let mut m = d;
        // A contraction for every lens the adjustment allows.
        for _ in 0..20 {
            let grown = 1.0 + self.bend * (m[0] * m[0] + m[1] * m[1]);
            m = d.map(|v| v / grown.max(0.2));
        }
        m
    }

    /// The pixel of a place without distortion.
    #[must_use]
    pub fn bent(&self, m: [f64; 2]) -> [f64; 2] {
        let grown = 1.0 + self.bend * (m[0] * m[0] + m[1] * m[1]);
        [self.principal[0] + m[0] * grown, self.principal[1] + m[1] * grown * self.tall]
    }
}

impl State {
    /// How the wall is seen.
    #[must_use]
    pub fn view(&self, network: &Network) -> View {
        let (w, s, phi) = (network.camera.width, self.scale(), (-self.ln_focal).exp());
        let t = &self.turn;
        let from_wall = Matrix3::new(
            w * t[(0, 0)] / s,
            w * t[(0, 1)] / s,
            0.0,
            w * t[(1, 0)] / s,
            w * t[(1, 1)] / s,
            0.0,
            phi * t[(2, 0)] / s,
            phi * t[(2, 1)] / s,
            1.0,
        );
        let bend = self.radial * phi * phi / (w * w);
        View { from_wall, principal: self.principal(network), bend, tall: self.aspect.exp() }
    }
}

/// Which unknown stands in which column; a fixed one has none.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Layout {
    /// Columns of the set-backs.
    pub(super) setbacks: Vec<Option<usize>>,
    /// Columns of the unknowns that every mark shares.
    pub(super) shared: [Option<usize>; SHARED],
    /// How many columns.
    pub(super) columns: usize,
}

impl Layout {
    /// The layout of a network: coordinates first, what all marks share last.
    pub(super) fn of(network: &Network) -> Self {
        let mut columns = network.coordinates;
        let mut next = |free: bool| {
            let at = columns;
            columns += usize::from(free);
            free.then_some(at)
        };
        let setbacks = network.setbacks.iter().map(|prior| next(prior.sigma > 0.0)).collect();
        let camera = &network.camera;
        // Without a level or a plumb line nothing holds the wall's axes.
        let spin = !network.lines(0).is_empty() || !network.lines(1).is_empty();
        let free = [
            network.has_scale(),
            camera.ln_focal.sigma > 0.0,
            camera.principal[0].sigma > 0.0,
            camera.principal[1].sigma > 0.0,
            camera.radial.sigma > 0.0,
            camera.aspect.sigma > 0.0,
            true,
            true,
            spin,
        ];
        let shared = free.map(&mut next);
        Self { setbacks, shared, columns }
    }
}
