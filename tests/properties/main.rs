//! What must hold for whatever is put in.

mod bench;
mod data;
mod notation;
