//! Checks against numbers from outside the project: published standards,
//! handbook tables, worked examples. Each check names its source.

// A test that cannot read its own case should stop there.
#![allow(clippy::unwrap_used)]

mod book;
mod building;
mod clearance;
mod cutting;
mod lamps;
mod lamps_worst;
mod lumber;
mod notation;
mod paper;
mod photo;
mod photo_faults;
mod photo_pictures;
mod scales;
mod survey;
mod takeoff;
mod takeoff_shapes;
mod verbs;
