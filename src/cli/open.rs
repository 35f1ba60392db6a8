//! Which job a verb speaks of.

use std::path::Path;

use super::output::Failure;
use crate::catalog::Catalog;
use crate::job::open::{Read, Wanted, read};
use crate::job::store;

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

/// Saves a job that a verb changed; `before` is what its file held.
pub(super) fn keep<'a>(opened: &'a Read, before: &str) -> Result<&'a Path, Failure> {
    let Some(path) = &opened.path else {
        return Err(Failure::failed(
            "a built-in job keeps nothing\nhint: copy it with `scantling new FILE --like JOB`, and name the file",
        ));
    };
    store::save(path, opened.document.text(), before).map_err(Failure::failed)?;
    Ok(path)
}
