//! Input that means harm, on the stable toolchain: arbitrary bytes into every
//! reader and solver, a few hundred times each. `fuzz/` runs the same trials
//! for as long as one likes.
//!
//! `SCANTLING_TRIALS` sets the number of runs of each (256 by default).

mod escapes;
mod grammar;
mod paper_trials;
mod regressions;
mod trials;

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};

fn runs() -> u32 {
    std::env::var("SCANTLING_TRIALS").ok().and_then(|text| text.parse().ok()).unwrap_or(256)
}

fn hold(trial: fn(&[u8]), longest: usize) {
    let mut runner = TestRunner::new(Config { cases: runs(), ..Config::default() });
    let bytes = prop::collection::vec(any::<u8>(), 0..longest);
    let outcome = runner.run(&bytes, |bytes| {
        trial(&bytes);
        Ok(())
    });
    if let Err(error) = outcome {
        panic!("{error}");
    }
}

#[test]
fn no_bytes_break_the_notation() {
    hold(trials::notation, 40);
}

#[test]
fn no_bytes_break_the_desk_book() {
    hold(trials::desk_line, 60);
}

#[test]
fn no_bytes_break_a_job() {
    hold(trials::job, 400);
}

#[test]
fn no_slip_of_the_keyboard_breaks_a_job() {
    hold(trials::bent_job, 24);
}

#[test]
fn no_wrong_value_breaks_a_job() {
    hold(trials::mutated_job, 16);
}

#[test]
fn no_bytes_break_a_problem_file() {
    hold(trials::problem_file, 400);
}

#[test]
fn no_bytes_break_a_picture() {
    hold(trials::picture_file, 400);
}

#[test]
fn no_slip_in_a_picture_breaks_its_reader() {
    hold(trials::bent_picture, 24);
}

#[test]
fn every_plan_of_sticks_passes_the_checker() {
    hold(trials::cut_sticks, 120);
}

#[test]
fn every_plan_of_sheets_passes_the_checker() {
    hold(trials::cut_sheets, 120);
}

#[test]
fn no_marks_break_the_adjustment() {
    hold(trials::measure_marks, 90);
}

#[test]
fn every_drawing_is_read_back_at_its_size() {
    hold(paper_trials::drawing_files, 200);
}

#[test]
fn every_rack_is_read_back_as_it_was() {
    hold(paper_trials::rack_file, 120);
}
