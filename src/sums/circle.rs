//! Circles, regular figures, tanks.

use std::f64::consts::PI;

use crate::quantity::{Angle, Length, Space};

/// Round a circle.
#[must_use]
pub fn circumference<S: Space>(across: Length<S>) -> Length<S> {
    across * PI
}

/// How an arch or another part of a circle lies: its radius, the angle it turns
/// through and the length along it, from its chord and its height. Nothing
/// where the height is none.
#[must_use]
pub fn segment<S: Space>(
    chord: Length<S>,
    high: Length<S>,
) -> Option<(Length<S>, Angle, Length<S>)> {
    let radius = super::curve::radius_of(chord, high)?;
    // Twice the angle whose tangent is the height over half the chord, twice.
    let turn = 4.0 * (high.in_metres() / (chord.in_metres() / 2.0)).atan();
    Some((radius, Angle::radians(turn), radius * turn))
}

/// A side of a regular figure of so many sides and so far across its flats.
#[must_use]
pub fn side_across_flats<S: Space>(sides: f64, flats: Length<S>) -> Length<S> {
    flats * (PI / sides).tan()
}

/// How far a cut stands from square where so many equal sides close.
#[must_use]
pub fn mitre(sides: f64) -> Angle {
    Angle::radians(PI / sides)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::PrototypeLength;

    /// An octagon 10 ft across its flats has sides of 4 ft 1 11/16 in and ends
    /// cut at 22 1/2 degrees (tan 22.5 = sqrt 2 - 1); an arch as high as half its
    /// chord is half a circle.
    #[test]
    fn octagon_and_round_arch() {
        let side = side_across_flats(8.0, PrototypeLength::feet(10.0));
        assert!((side.in_inches() - 120.0 * (2.0_f64.sqrt() - 1.0)).abs() < 1e-9);
        assert!((mitre(8.0).in_degrees() - 22.5).abs() < 1e-12);
        let four = PrototypeLength::feet(4.0);
        let (radius, turn, along) = segment(four, four / 2.0).unwrap();
        assert!((radius.in_feet() - 2.0).abs() < 1e-12);
        assert!((turn.in_degrees() - 180.0).abs() < 1e-9);
        assert!((along / circumference(four) - 0.5).abs() < 1e-12);
        assert!(segment(four, PrototypeLength::ZERO).is_none());
    }
}
