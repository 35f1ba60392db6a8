//! Which job a verb speaks of.

use super::output::Failure;
use crate::catalog::Catalog;
use crate::job::open::{Read, Wanted, read};

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
