//! How a run ends: what it printed, or why it failed.

use std::borrow::Cow;
use std::io::{self, Write as _};
use std::process::ExitCode;

use crate::disk::unseen::is_unseen;
use crate::finding::Stop;
use crate::report::table::View;
use crate::report::{json, text};

/// Why a run failed.
#[derive(Debug)]
pub(super) struct Failure {
    message: String,
    status: u8,
    /// What is printed all the same.
    printed: String,
}

impl Failure {
    /// The work could not be done.
    pub(super) fn failed(message: impl std::fmt::Display) -> Self {
        Self { message: message.to_string(), status: 1, printed: String::new() }
    }

    /// The command was asked wrongly.
    pub(super) fn wrong_use(message: impl std::fmt::Display) -> Self {
        Self { message: message.to_string(), status: 2, printed: String::new() }
    }

    /// The work could not be done; what there is of it is printed first.
    pub(super) fn after(printed: String, message: impl std::fmt::Display) -> Self {
        Self { message: message.to_string(), status: 1, printed }
    }
}

impl From<Stop> for Failure {
    /// What could not be done, with the hint.
    fn from(stop: Stop) -> Self {
        Self::failed(stop.told())
    }
}

/// A view as text or JSON.
pub(super) fn printed(view: &View, as_json: bool) -> Result<String, Failure> {
    if as_json { pretty(&json::view(view)) } else { Ok(text::view(view)) }
}

/// Prints the outcome and turns it into an exit status.
pub(super) fn finish(outcome: Result<String, Failure>) -> ExitCode {
    match outcome {
        Ok(text) => match io::stdout().lock().write_all(seen(&text).as_bytes()) {
            Ok(()) => ExitCode::SUCCESS,
            // Whoever read the pipe has seen enough.
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
            Err(error) => fail(&format!("writing the answer: {error}"), 1),
        },
        Err(failure) => {
            // The reason goes to standard error whoever reads this or not.
            let _ = io::stdout().lock().write_all(seen(&failure.printed).as_bytes());
            fail(&failure.message, failure.status)
        }
    }
}

fn fail(message: &str, status: u8) -> ExitCode {
    let _ = writeln!(io::stderr().lock(), "scantling: {}", seen(message));
    ExitCode::from(status)
}

/// Text without characters that would speak to the terminal; file names and
/// lines of broken files may hold them.
fn seen(text: &str) -> Cow<'_, str> {
    if !text.contains(is_unseen) {
        return text.into();
    }
    // The line ends of another system are line ends.
    text.replace("\r\n", "\n").replace(is_unseen, "\u{fffd}").into()
}

/// JSON for people and programs alike.
pub(super) fn pretty(value: &impl serde::Serialize) -> Result<String, Failure> {
    serde_json::to_string_pretty(value)
        .map(|text| text + "\n")
        .map_err(|error| Failure::failed(format!("writing JSON: {error}")))
}
