//! Mathematics without trade words.

pub mod camera;
pub mod sheets;
pub mod sticks;
