//! Curves of a track.

use crate::quantity::{Angle, Length, Space};

/// Radius of a curve on which a chord turns through an angle: `c / 2` over the
/// sine of half the angle. The degree of a curve in railway practice of the
/// United States is that angle for a chord of 100 ft (NMRA S-8 prints radii by
/// it, read). Nothing where the angle is none or turns more than half round.
#[must_use]
pub fn radius_by_chord<S: Space>(degree: Angle, chord: Length<S>) -> Option<Length<S>> {
    let sine = (degree.in_radians() / 2.0).sin();
    let sound = degree.in_degrees() > 0.0 && degree.in_degrees() <= 180.0;
    sound.then(|| chord / (2.0 * sine))
}

/// The same where the degree is counted along the arc, as roads do.
#[must_use]
pub fn radius_by_arc<S: Space>(degree: Angle, arc: Length<S>) -> Option<Length<S>> {
    (degree.in_radians() > 0.0).then(|| arc / degree.in_radians())
}

/// The angle a chord turns through; nothing where it is longer than the curve
/// is wide.
#[must_use]
pub fn degree_by_chord<S: Space>(radius: Length<S>, chord: Length<S>) -> Option<Angle> {
    let sine = chord / (radius * 2.0);
    (sine > 0.0 && sine <= 1.0).then(|| Angle::radians(2.0 * sine.asin()))
}

/// How far the middle of a chord lies inside the curve: `R - sqrt(R^2 - (c/2)^2)`.
/// Nothing where the chord is longer than the curve is wide.
#[must_use]
pub fn mid_ordinate<S: Space>(radius: Length<S>, chord: Length<S>) -> Option<Length<S>> {
    let (r, half) = (radius.in_metres(), chord.in_metres() / 2.0);
    // R - sqrt(R^2 - h^2) without the loss of digits of the difference.
    (half <= r && r > 0.0).then(|| Length::metres(half * half / (r + (r * r - half * half).sqrt())))
}

/// Radius from a chord and its mid-ordinate: `(c^2 / 4 + m^2) / 2m`.
#[must_use]
pub fn radius_of<S: Space>(chord: Length<S>, middle: Length<S>) -> Option<Length<S>> {
    let (half, m) = (chord.in_metres() / 2.0, middle.in_metres());
    (m > 0.0).then(|| Length::metres((half * half + m * m) / (2.0 * m)))
}

/// The angle of a frog by its number, `2 atan(1 / 2N)` (American railway
/// practice, from memory).
#[must_use]
pub fn frog_angle(number: f64) -> Angle {
    Angle::radians(2.0 * (0.5 / number).atan())
}

/// The number of a frog of so many degrees.
#[must_use]
pub fn frog_number(degrees: f64) -> f64 {
    0.5 / (degrees.to_radians() / 2.0).tan()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::PrototypeLength;

    #[test]
    fn there_and_back_on_a_chord() {
        let chord = PrototypeLength::feet(100.0);
        let radius = radius_by_chord(Angle::degrees(25.0), chord).unwrap();
        assert!((radius.in_feet() - 231.011).abs() < 1e-3);
        let degree = degree_by_chord(radius, chord).unwrap();
        assert!((degree.in_degrees() - 25.0).abs() < 1e-9);
        let middle = mid_ordinate(radius, chord).unwrap();
        assert!((radius_of(chord, middle).unwrap() / radius - 1.0).abs() < 1e-12);
        assert!(mid_ordinate(radius, radius * 2.1).is_none());
        assert!(radius_by_chord(Angle::degrees(0.0), chord).is_none());
    }
    /// A number 6 frog is 9 degrees 32 minutes (from memory of the tables).
    #[test]
    fn frogs_by_number_and_angle() {
        assert!((frog_angle(6.0).in_degrees() - 9.527).abs() < 1e-3);
        assert!((frog_number(frog_angle(8.0).in_degrees()) - 8.0).abs() < 1e-12);
    }
}
