//! Mathematics without trade words.

pub mod beside;
pub mod camera;
pub mod choose;
pub mod least_squares;
pub mod nest;
pub mod sheets;
pub mod special;
pub mod sticks;
pub mod stretch;
pub mod watch;
