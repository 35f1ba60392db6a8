//! Keys in, picture out: the real update and view over a test terminal.
//!
//! Stored pictures are in `snapshots/`. After a change that is meant, look at
//! the new pictures and store them: `INSTA_UPDATE=always cargo test --test screens`.

// A test that cannot read its own case should stop there.
#![allow(clippy::unwrap_used)]

mod bytes;
mod desk;
mod forms;
mod guide;
mod jobs;
mod journeys;
mod long;
mod looks;
mod nonsense;
mod photographs;
mod pictures;
mod rack;
mod sizes;
mod speed;
mod tables;
mod typist;
