//! The quick way: one known object and a ruler on a square-on picture.
//!
//! It holds only in a plane square to the line of sight, and every picture and
//! enlargement has its own factor (common practice, no source).

/// A length by comparison: real = known x (length on the picture / length of
/// the known object on the picture).
///
/// Nothing unless all three are greater than zero.
#[must_use]
pub fn compare(known: f64, known_on_picture: f64, on_picture: f64) -> Option<f64> {
    let fine = [known, known_on_picture, on_picture].iter().all(|v| v.is_finite() && *v > 0.0);
    fine.then(|| known * on_picture / known_on_picture)
}

/// By what part an object `ahead` of the wall looks too big, measured with the
/// wall's factor; `distance` from the camera to the wall: d / (D - d).
///
/// Nothing when the object is not between the camera and the horizon behind.
#[must_use]
pub fn depth_error(ahead: f64, distance: f64) -> Option<f64> {
    let fine = distance.is_finite() && distance > 0.0 && ahead < distance;
    fine.then(|| ahead / (distance - ahead))
}

/// A length on the wall by comparison with an object `ahead` of it, the
/// object's depth taken out.
#[must_use]
pub fn compare_ahead(
    known: f64,
    known_on_picture: f64,
    on_picture: f64,
    ahead: f64,
    distance: f64,
) -> Option<f64> {
    let raw = compare(known, known_on_picture, on_picture)?;
    Some(raw * (1.0 + depth_error(ahead, distance)?))
}
