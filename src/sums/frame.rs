//! Braces.

use super::rows::hypotenuse;
use crate::quantity::{Angle, Length, Space};

/// An inclined member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Brace<S: Space> {
    /// Length of its line, and of its long side where both ends are cut to lie
    /// flat.
    pub line: Length<S>,
    /// Length of its short side, for a stick of the given depth.
    pub short: Length<S>,
    /// Its angle from level.
    pub from_level: Angle,
}

/// A brace of a level and an upright leg, from a stick of some depth whose
/// ends lie flat on post and beam.
#[must_use]
pub fn brace<S: Space>(level: Length<S>, upright: Length<S>, depth: Length<S>) -> Brace<S> {
    let angle = upright.in_metres().atan2(level.in_metres());
    let line = hypotenuse(level, upright);
    // Each flat end takes depth / tan of its own angle off one side.
    let taken = depth * (angle.tan() + 1.0 / angle.tan());
    Brace { line, short: line - taken, from_level: Angle::radians(angle) }
}

/// A cross brace between posts at some spacing, over some height.
#[must_use]
pub fn cross_brace<S: Space>(spacing: Length<S>, post: Length<S>, height: Length<S>) -> Brace<S> {
    let clear = spacing - post;
    let angle = height.in_metres().atan2(clear.in_metres());
    let line = hypotenuse(clear, height);
    Brace { line, short: line, from_level: Angle::radians(angle) }
}
