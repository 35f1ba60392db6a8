//! Outside checks: survey. Adjustment of observations and uncertainty.
//!
//! Tags: READ, the numbers were read in the source named; MEMORY, the source
//! is named from memory; COMPUTED, worked out from the definition with other
//! software (SciPy, numpy or exact fractions).

mod adjustment;
mod distributions;
mod reference_sets;
mod uncertainty;

/// Asserts that two numbers agree within a slack.
#[track_caller]
fn near(found: f64, wanted: f64, slack: f64) {
    assert!((found - wanted).abs() <= slack, "found {found}, wanted {wanted} within {slack}");
}
