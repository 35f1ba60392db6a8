//! What must hold for whatever is put in.

mod bench;
mod buildings;
mod clearance;
mod data;
mod keys;
mod look;
mod made;
mod mock_up;
mod notation;
mod numbers;
mod sums;
