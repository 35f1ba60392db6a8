//! Roofs by their pitch, the rise over the run.

use super::rows::hypotenuse;
use crate::quantity::{Angle, Length, Space};

/// Length along the slope over a level run: `run sqrt(1 + p^2)`.
#[must_use]
pub fn along_slope<S: Space>(run: Length<S>, pitch: f64) -> Length<S> {
    run * pitch.hypot(1.0)
}

/// What one plane is longer by where its top edge is left square over the
/// other: thickness times the tangent of the pitch.
#[must_use]
pub fn ridge_overlap<S: Space>(thickness: Length<S>, pitch: f64) -> Length<S> {
    thickness * pitch
}

/// A common rafter to the ridge board, without its tail: its line less half
/// the ridge board along the slope.
#[must_use]
pub fn rafter<S: Space>(run: Length<S>, pitch: f64, ridge_board: Length<S>) -> Length<S> {
    along_slope(run - ridge_board / 2.0, pitch)
}

/// A hip rafter: the diagonal of run, run and rise.
#[must_use]
pub fn hip_rafter<S: Space>(run: Length<S>, pitch: f64) -> Length<S> {
    run * (2.0 + pitch * pitch).sqrt()
}

/// What the meeting edges of two planes of one pitch are bevelled by along a
/// hip of a square corner, from square: half of what turns between the planes,
/// `acos(1 / (1 + p^2)) / 2`. It is also the backing of the hip rafter.
#[must_use]
pub fn hip_bevel(pitch: f64) -> Angle {
    Angle::radians((1.0 / (1.0 + pitch * pitch)).acos() / 2.0)
}

/// A valley between two roofs whose ridges stand square to each other: the
/// diagonal of the rise and of what each roof runs for it.
#[must_use]
pub fn valley<S: Space>(rise: Length<S>, one: f64, other: f64) -> Length<S> {
    if one <= 0.0 || other <= 0.0 {
        return Length::ZERO;
    }
    hypotenuse(hypotenuse(rise / one, rise / other), rise)
}

/// Length of the boards of a gable laid one beside the other, in the unit of
/// the span per unit of board width: `p D^2 / 4`.
#[must_use]
pub fn gable_area(pitch: f64, span: f64) -> f64 {
    pitch * span * span / 4.0
}
