#![no_main]

#[path = "../../tests/hostile/paper_trials.rs"]
#[allow(dead_code)]
mod paper_trials;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| paper_trials::rack_file(bytes));
