//! Scantling carries every dimension of a scale model structure from a field
//! note to a cut part, and keeps the reason beside it.
//!
//! The folders are the pipeline; each may use only what stands before it:
//!
//! | room | what it holds |
//! |---|---|
//! | [`quantity`] | spaces, lengths, scales, the notation in and out |
//! | [`estimate`] | a value with its uncertainty and its sources |
//! | [`solve`] | mathematics without trade words |
//! | [`finding`] | what a stage tells the person |
//! | [`disk`] | files read with a limit, changed under a lock, saved whole |
//! | [`catalog`] | what `data/` holds, typed |
//! | [`sums`] | sums of the trade on plain lengths |
//! | [`job`] | what the person wrote: load, save, edit |
//! | [`photo`] | marks on a picture -> lengths |
//! | [`survey`] | readings -> prototype dimensions |
//! | [`elevation`] | faces laid out, every element at its place |
//! | [`stock`] | sizes -> choices and their error |
//! | [`building`] | sizes -> the building in three dimensions |
//! | [`site`] | outline, track and cars |
//! | [`compress`] | dimensions and space -> compressed dimensions |
//! | [`scaling`] | compressed -> model sizes |
//! | [`takeoff`] | building -> parts |
//! | [`order`] | building and parts -> steps, each after what it waits for |
//! | [`cutting`] | parts and stock -> sticks and sheets |
//! | [`clearance`] | track, cars, structure -> checks |
//! | [`lamps`] | circuits |
//! | [`mockup`] | measured on the mock-up and the model against planned |
//! | [`mod@bench`] | the desk book: every sum asked in a line; needs no job |
//! | [`drawing`] | parts and plans -> a format-free drawing |
//! | [`writers`] | drawings and pages -> PDF, SVG, DXF, PNG, CSV |
//! | [`plan`] | runs the stages in order |
//! | [`report`] | the views as tables, text, JSON and files |
//! | [`cli`], [`tui`] | the two faces; neither knows the other |

pub mod bench;
pub mod building;
pub mod catalog;
pub mod clearance;
pub mod cli;
pub mod compress;
pub mod cutting;
pub mod disk;
pub mod drawing;
pub mod elevation;
pub mod estimate;
pub mod finding;
pub mod job;
pub mod lamps;
pub mod mockup;
pub mod order;
pub mod photo;
pub mod plan;
pub mod quantity;
pub mod report;
pub mod scaling;
pub mod site;
pub mod solve;
pub mod stock;
pub mod sums;
pub mod survey;
pub mod takeoff;
pub mod tui;
pub mod writers;
