//! The command line: one file a verb.

use std::process::ExitCode;

/// Runs the command line and says how it ended.
#[must_use]
pub fn main() -> ExitCode {
    ExitCode::SUCCESS
}
