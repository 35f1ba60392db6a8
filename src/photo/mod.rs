//! Marks on one picture -> lengths with intervals.
//!
//! | file | what it does |
//! |---|---|
//! | [`marked`] | a picture with its marks, as the person made them |
//! | [`marks_file`] | the same read from a marks file |
//! | [`from_job`] | the same read from a job, and the lengths as readings |
//! | [`wiring`] | marks -> the network that is adjusted |
//! | [`walls`] | several walls of one picture at right angles, measured together |
//! | [`lengths`] | the adjustment -> lengths with intervals, findings |
//! | [`blame`] | what is wrong, as far as the marks can tell |
//! | `mixture` | a picture of unknown kind, taken both ways |
//! | [`trouble`] | each degenerate case: its name and what to do |
//! | [`picture`] | a picture file's bytes -> size, focal length, pixels |
//! | [`edge`] | one straight edge of a picture, found near where it was marked |
//! | [`refine`] | marks moved to where the edges meet, if the gate agrees |
//! | [`rectify`] | the wall as if seen squarely |
//! | [`redraw`] | a photograph redrawn through a projective map |
//! | [`window`] | a part of a picture drawn larger or smaller, to be looked at |
//! | [`doors`] | simple questions: a place on a line, heights, a plain map |
//! | [`ruler`] | the quick way: one known object and a ruler |
//!
//! The engine is [`crate::solve::camera`]. Lengths here are in the unit of the
//! known lengths, whatever it is.

pub mod blame;
mod decode;
pub mod doors;
pub mod edge;
pub mod from_job;
pub mod lengths;
pub mod marked;
pub mod marks_file;
mod mixture;
pub mod picture;
pub mod pixels;
pub mod rectify;
pub mod redraw;
pub mod refine;
pub mod ruler;
pub mod trouble;
pub mod walls;
pub mod window;
pub mod wiring;

#[cfg(test)]
mod tests;
