//! Mathematics without trade words.

pub mod sheets;
pub mod sticks;
