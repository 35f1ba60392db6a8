//! The `scantling` binary: hands the command line to [`scantling::cli`].

use std::process::ExitCode;

fn main() -> ExitCode {
    scantling::cli::main()
}
