#![no_main]

#[path = "../../tests/hostile/trials.rs"]
#[allow(dead_code)]
mod trials;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| trials::bent_picture(bytes));
