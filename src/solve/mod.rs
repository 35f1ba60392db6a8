//! Mathematics without trade words.

pub mod sticks;
