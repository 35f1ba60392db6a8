//! Scenarios: input and expected result side by side in one readable file.

mod compress;
mod survey;
mod survey_study;
mod takeoff;
