//! What must hold for whatever is put in.

mod bench;
mod clearance;
mod data;
mod keys;
mod mock_up;
mod notation;
