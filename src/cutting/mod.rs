//! Parts and stock -> plans for sticks and sheets.

pub mod problem;
pub mod sticks;
