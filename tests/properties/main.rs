//! What must hold for whatever is put in.

mod bench;
mod clearance;
mod data;
mod mock_up;
mod notation;
mod sums;
