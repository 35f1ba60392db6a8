//! Closed forms for one picture of one plane: vanishing points, focal length,
//! the aspect of a rectangle, heights and cross-ratios.
//!
//! They give starts and degenerate tests; the adjustment gives the answers.

use nalgebra::{Matrix3, Vector3};

/// A picture point or line in homogeneous coordinates.
pub type Homogeneous = Vector3<f64>;

/// A pixel as a homogeneous point.
#[must_use]
pub fn point([x, y]: [f64; 2]) -> Homogeneous {
    Vector3::new(x, y, 1.0)
}

/// The cross-ratio (a, b; c, d) = ((c-a)(d-b)) / ((c-b)(d-a)) of four places
/// along a line, the same in the picture and on the wall.
///
/// Hartley and Zisserman 2004, chapter 2.
#[must_use]
pub fn cross_ratio(a: f64, b: f64, c: f64, d: f64) -> f64 {
    ((c - a) * (d - b)) / ((c - b) * (d - a))
}

/// The place of `x` on a wall line of which three places are known: pairs of
/// (picture, wall). Nothing when two of them coincide.
#[must_use]
pub fn fourth_on_line(known: [(f64, f64); 3], x: f64) -> Option<f64> {
    let [(pa, a), (pb, b), (pc, c)] = known;
    // (a, b; c, d) = k, solved for d.
    let k = cross_ratio(pa, pb, pc, x);
    let numerator = (c - a) * b - k * (c - b) * a;
    let denominator = (c - a) - k * (c - b);
    let d = numerator / denominator;
    d.is_finite().then_some(d)
}

/// The focal length from the vanishing points of two directions at right
/// angles, squared: f^2 = -(v1 - p).(v2 - p). Nothing when either point lies
/// at infinity (compared with `unit`, the size of the picture).
///
/// The square can come out negative: then the directions are not at right
/// angles, or the principal point is wrong.
#[must_use]
pub fn focal_squared(
    v1: Homogeneous,
    v2: Homogeneous,
    principal: [f64; 2],
    unit: f64,
) -> Option<f64> {
    let (a, b) = (finite(v1, principal, unit)?, finite(v2, principal, unit)?);
    Some(-(a[0] * b[0] + a[1] * b[1]))
}

/// A vanishing point relative to the principal point, if it is within a
/// thousand pictures.
fn finite(v: Homogeneous, principal: [f64; 2], unit: f64) -> Option<[f64; 2]> {
    let direction = [v.x - principal[0] * v.z, v.y - principal[1] * v.z];
    let far = direction[0].hypot(direction[1]) > 1e3 * unit * v.z.abs();
    (!far).then(|| direction.map(|d| d / v.z))
}

/// The shape of a rectangle seen in perspective.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// Both pairs of edges converge: focal length and width over height.
    Projective {
        /// Focal length in pixels.
        focal: f64,
        /// Width divided by height.
        aspect: f64,
    },
    /// A pair of edges is parallel in the picture, so the focal length cannot
    /// be found; the aspect is that of the parallelogram as drawn.
    Affine {
        /// Width divided by height as drawn.
        aspect: f64,
    },
    /// The squared focal length came out zero or negative.
    Impossible,
}

/// The focal length and aspect of a rectangle from its corners (0,0), (w,0),
/// (0,h), (w,h) and the principal point.
///
/// Zhang and He, *Whiteboard scanning and image enhancement*, Microsoft
/// Research report 2003.
#[must_use]
pub fn rectangle_shape(corners: [[f64; 2]; 4], principal: [f64; 2]) -> Shape {
    let m = corners.map(|[x, y]| point([x - principal[0], y - principal[1]]));
    let [m1, m2, m3, m4] = m;
    let k2 = m1.cross(&m4).dot(&m3) / m2.cross(&m4).dot(&m3);
    let k3 = m1.cross(&m4).dot(&m2) / m3.cross(&m4).dot(&m2);
    let (n2, n3) = (k2 * m2 - m1, k3 * m3 - m1);
    if n2.z.abs() < 1e-9 || n3.z.abs() < 1e-9 {
        return Shape::Affine { aspect: n2.xy().norm() / n3.xy().norm() };
    }
    let square = -(n2.x * n3.x + n2.y * n3.y) / (n2.z * n3.z);
    if square.is_nan() || square <= 0.0 {
        return Shape::Impossible;
    }
    let omega = Matrix3::from_diagonal(&Vector3::new(1.0 / square, 1.0 / square, 1.0));
    let aspect = (n2.dot(&(omega * n2)) / n3.dot(&(omega * n3))).sqrt();
    Shape::Projective { focal: square.sqrt(), aspect }
}

/// An upright object in a picture: its foot and its top, in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Upright {
    /// Where it stands on the ground.
    pub base: [f64; 2],
    /// Its top.
    pub top: [f64; 2],
}

/// The height of `object` from a reference of known height, the vertical
/// vanishing point and two points of the horizon.
///
/// Height is in proportion to |b x t| / (|l.b| |v x t|): Criminisi, Reid and
/// Zisserman, *Single View Metrology*, IJCV 40(2), 2000.
#[must_use]
pub fn height(
    vertical: Homogeneous,
    horizon: [[f64; 2]; 2],
    reference: (Upright, f64),
    object: Upright,
) -> f64 {
    let line = point(horizon[0]).cross(&point(horizon[1]));
    let line = line / line.xy().norm();
    let rise = |of: Upright| {
        let (b, t) = (point(of.base), point(of.top));
        b.cross(&t).norm() / (line.dot(&b).abs() * vertical.cross(&t).norm())
    };
    reference.1 * rise(object) / rise(reference.0)
}

/// The height of an upright object seen by a level camera `eye` above its
/// foot: rows of its foot, the horizon and its top, y downward.
#[must_use]
pub fn height_level(eye: f64, base: f64, horizon: f64, top: f64) -> f64 {
    eye * (base - top) / (base - horizon)
}

/// The picture line through two or more points, by least squares on the
/// perpendicular distances: unit normal first. Nothing when they coincide.
#[must_use]
pub fn line_through(points: &[[f64; 2]]) -> Option<Homogeneous> {
    let n = points.len() as f64;
    let (cx, cy) = points.iter().fold((0.0, 0.0), |(x, y), p| (x + p[0] / n, y + p[1] / n));
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for p in points {
        let (dx, dy) = (p[0] - cx, p[1] - cy);
        xx += dx * dx;
        xy += dx * dy;
        yy += dy * dy;
    }
    let along = 0.5 * (2.0 * xy).atan2(xx - yy);
    let (a, b) = (-along.sin(), along.cos());
    (points.len() > 1 && xx + yy > 0.0).then(|| Vector3::new(a, b, -(a * cx + b * cy)))
}

/// The point nearest to all lines (each with its weight): the vanishing point
/// of a family of parallels. Nothing for fewer than two lines.
#[must_use]
pub fn meeting_point(lines: &[(Homogeneous, f64)]) -> Option<Homogeneous> {
    if lines.len() < 2 {
        return None;
    }
    let moment = lines.iter().map(|(l, w)| l * l.transpose() * (w * w)).sum::<Matrix3<f64>>();
    let eigen = moment.symmetric_eigen();
    let least = eigen.eigenvalues.imin();
    Some(eigen.eigenvectors.column(least).into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parallels_meet_at_infinity() {
        let lines: Vec<_> = [[[0.0, 0.0], [1.0, 0.0]], [[0.0, 1.0], [1.0, 1.0]]]
            .iter()
            .map(|pair| (line_through(pair).unwrap(), 1.0))
            .collect();
        let v = meeting_point(&lines).unwrap();
        assert!(v.z.abs() < 1e-12 && v.y.abs() < 1e-12);
        assert!(focal_squared(v, point([3.0, 900.0]), [0.0, 0.0], 10.0).is_none());
    }

    #[test]
    fn a_leaning_trapezium_has_no_focal_length() {
        // Both vanishing points on the same side of the centre: f^2 < 0.
        let corners = [[10.0, 10.0], [40.0, 18.0], [18.0, 40.0], [36.0, 36.0]];
        assert_eq!(rectangle_shape(corners, [0.0, 0.0]), Shape::Impossible);
    }
}
