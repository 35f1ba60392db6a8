//! Parts and stock -> plans for sticks and sheets.

pub mod parts;
pub mod problem;
pub mod problem_sheets;
pub mod sheets;
pub mod sticks;
