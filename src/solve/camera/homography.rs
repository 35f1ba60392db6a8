//! Plane-to-plane projective maps by the normalised direct linear transform.

use nalgebra::{DMatrix, Matrix3, Vector3};

/// A projective map of the plane, as a 3 by 3 matrix up to scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Homography(pub Matrix3<f64>);

impl Homography {
    /// The map that best carries `from` to `to` (four or more pairs).
    ///
    /// Normalised DLT: Hartley and Zisserman, *Multiple View Geometry*, 2nd
    /// ed. 2004, algorithm 4.2. Nothing for fewer than four pairs, or when
    /// three of four points lie on one line.
    #[must_use]
    pub fn fit(from: &[[f64; 2]], to: &[[f64; 2]]) -> Option<Self> {
        if from.len() < 4 || from.len() != to.len() {
            return None;
        }
        let (source, target) = (normalising(from)?, normalising(to)?);
        let h = null_vector(equations(from, to, &source, &target))?;
        let h = Matrix3::from_row_slice(&h);
        let full = target.try_inverse()? * h * source;
        let full = full / full.norm();
        (full.determinant().abs() > 1e-15).then_some(Self(full))
    }

    /// Where a point goes; nothing when it goes to infinity.
    #[must_use]
    pub fn map(&self, [x, y]: [f64; 2]) -> Option<[f64; 2]> {
        let p = self.0 * Vector3::new(x, y, 1.0);
        let size = p.x.abs() + p.y.abs();
        (p.z.abs() > 1e-14 * size).then(|| [p.x / p.z, p.y / p.z])
    }

    /// The map that undoes this one.
    #[must_use]
    pub fn inverse(&self) -> Option<Self> {
        self.0.try_inverse().map(Self)
    }
}

/// The similarity that brings the centroid to zero and the mean distance to
/// the square root of two.
fn normalising(points: &[[f64; 2]]) -> Option<Matrix3<f64>> {
    let n = points.len() as f64;
    let cx = points.iter().map(|p| p[0]).sum::<f64>() / n;
    let cy = points.iter().map(|p| p[1]).sum::<f64>() / n;
    let mean = points.iter().map(|p| (p[0] - cx).hypot(p[1] - cy)).sum::<f64>() / n;
    let s = std::f64::consts::SQRT_2 / mean;
    s.is_finite().then(|| Matrix3::new(s, 0.0, -s * cx, 0.0, s, -s * cy, 0.0, 0.0, 1.0))
}

/// Two rows a pair, padded to nine so that the null vector is always kept.
fn equations(
    from: &[[f64; 2]],
    to: &[[f64; 2]],
    source: &Matrix3<f64>,
    target: &Matrix3<f64>,
) -> DMatrix<f64> {
    let mut a = DMatrix::zeros((2 * from.len()).max(9), 9);
    for (i, (p, q)) in from.iter().zip(to).enumerate() {
        let p = source * Vector3::new(p[0], p[1], 1.0);
        let q = target * Vector3::new(q[0], q[1], 1.0);
        for k in 0..3 {
            a[(2 * i, 3 + k)] = -p[k];
            a[(2 * i, 6 + k)] = q.y * p[k];
            a[(2 * i + 1, k)] = p[k];
            a[(2 * i + 1, 6 + k)] = -q.x * p[k];
        }
    }
    a
}

/// The right singular vector of the least singular value; nothing when the
/// second least is zero too.
fn null_vector(a: DMatrix<f64>) -> Option<Vec<f64>> {
    let svd = a.svd(false, true);
    let v = svd.v_t.as_ref()?;
    let mut order: Vec<usize> = (0..svd.singular_values.len()).collect();
    order.sort_by(|&i, &j| svd.singular_values[i].total_cmp(&svd.singular_values[j]));
    let (least, second) = (*order.first()?, *order.get(1)?);
    let most = svd.singular_values.max();
    (svd.singular_values[second] > 1e-10 * most).then(|| v.row(least).iter().copied().collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn goes_there_and_back() {
        let from = [[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [0.0, 3.0], [2.0, 1.0]];
        let known = Homography(Matrix3::new(1.1, 0.2, 3.0, -0.1, 0.9, 5.0, 0.01, 0.02, 1.0));
        let to: Vec<_> = from.iter().map(|&p| known.map(p).unwrap()).collect();
        let fitted = Homography::fit(&from, &to).unwrap();
        let back = fitted.inverse().unwrap();
        for p in from {
            let q = back.map(fitted.map(p).unwrap()).unwrap();
            assert!((p[0] - q[0]).abs() < 1e-9 && (p[1] - q[1]).abs() < 1e-9);
        }
    }

    #[test]
    fn refuses_three_points_on_a_line() {
        let from = [[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [0.0, 1.0]];
        let to = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        assert!(Homography::fit(&from, &to).is_none());
        assert!(Homography::fit(&from[..3], &to[..3]).is_none());
    }
}
