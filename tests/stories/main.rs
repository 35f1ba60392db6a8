//! Stories: the real binary in a pseudo-terminal, as a person meets it.
//!
//! Nothing here sleeps and hopes: each step waits for what it wants to see,
//! with a limit that `SCANTLING_STORY_SECONDS` sets (60 by default).
#![cfg(unix)]

mod alone;
mod build;
mod desk;
mod ends;
mod problem;
mod work;
