//! Scenarios: input and expected result side by side in one readable file.

// A test that cannot read its own case should stop there.
#![allow(clippy::unwrap_used, unreachable_pub)]

mod compress;
mod desk;
mod look;
mod mockup;
mod order;
mod survey;
mod survey_study;
mod takeoff;
mod worked;
