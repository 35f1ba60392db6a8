//! One camera, one plane: a pinhole with one radial term, adjusted to marks on
//! a picture by least squares.
//!
//! | file | what it does |
//! |---|---|
//! | [`homography`] | plane-to-plane maps (normalised DLT) |
//! | [`single_view`] | closed forms: focal length, aspect, heights, cross-ratio |
//! | [`quad`] | whether four marks can be a rectangle |
//! | [`network`] | what is observed |
//! | [`solution`] | the adjustment, covariance and the chi-square gate |
//! | [`causes`] | what a network that does not fit would best be rid of |
//! | [`monte_carlo`] | intervals by drawing |
//! | [`random`] | repeatable normal numbers |
//!
//! Pixels: the centre of the top left pixel is (0, 0), x right, y down. The
//! wall: x right, y up, and in front of it toward the viewer. Wall units are
//! whatever the known lengths are given in.

mod adjust;
pub mod causes;
mod envelope;
pub mod homography;
pub mod monte_carlo;
pub mod network;
pub mod quad;
pub mod random;
mod rows;
#[cfg(test)]
mod samples;
pub mod single_view;
pub mod solution;
mod start;
mod state;
#[cfg(test)]
mod tests;

pub use start::Glance;
pub use state::{State, View};
