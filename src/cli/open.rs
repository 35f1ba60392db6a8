//! Which job a verb speaks of.

use super::output::Failure;
use crate::catalog::Catalog;
use crate::job::open::{Read, Wanted, read};
use crate::job::store::Saving;

/// Opens the job named on the command line: a file, or a built-in job by its
/// name; the first built-in job when nothing is named.
pub(super) fn open(named: Option<&str>, catalog: &Catalog) -> Result<Read, Failure> {
    let wanted = named.map_or_else(Wanted::first, Wanted::named);
    read(&wanted, catalog).map_err(|stop| {
        let hint =
            if stop.hint.is_empty() { String::new() } else { format!("\nhint: {}", stop.hint) };
        Failure::failed(format!("{}{hint}", stop.trouble))
    })
}

/// Opens the job named, lets a verb change it and saves it, as one step: of two
/// that do so at once the second finds what the first saved.
pub(super) fn change<T>(
    named: Option<&str>,
    catalog: &Catalog,
    edit: impl FnOnce(&mut Read) -> Result<T, Failure>,
) -> Result<(Read, T), Failure> {
    let saving = match named.map(Wanted::named) {
        Some(Wanted::File(path)) => Some(Saving::begin(&path).map_err(Failure::failed)?),
        _ => None,
    };
    let mut opened = open(named, catalog)?;
    let before = opened.document.text().to_owned();
    let done = edit(&mut opened)?;
    if let Some(saving) = saving {
        saving.save(opened.document.text(), &before).map_err(Failure::failed)?;
    }
    Ok((opened, done))
}

/// Refuses a change of a job that has no file.
pub(super) fn no_file() -> Failure {
    Failure::failed(
        "a built-in job keeps nothing\nhint: copy it with `scantling new FILE --like JOB`, and name the file",
    )
}
