//! How near two figures are to be the same, by what they are.

/// Places, inches: nearer than this they are one place. Far below what any tool
/// cuts, far above what sums of lengths lose.
pub const TOUCH: f64 = 1e-6;

/// Places worked out in two ways, inches: through a pitch, a slope or an area.
pub const NEAR: f64 = 1e-4;

/// Counts that come out of a division: so far from a whole number they still are
/// that number.
pub const WHOLE: f64 = 1e-6;

/// Below this a length, a rise or a bend is nothing and is not divided by.
pub const NOTHING: f64 = 1e-9;

/// Figures that only rounding keeps apart.
pub const EXACT: f64 = 1e-12;
