//! The person's own data: files of `data/` and a rack in the usual folder of
//! settings, read over what is shipped.

use std::path::PathBuf;

use etcetera::BaseStrategy as _;

use super::output::Failure;
use crate::catalog::Catalog;
use crate::catalog::rack::Rack;
use crate::disk::change;
use crate::job::open::own_file;

/// The folder the person's own files are in; nothing where the system names
/// no home.
pub(super) fn folder() -> Option<PathBuf> {
    let strategy = etcetera::choose_base_strategy().ok()?;
    Some(strategy.config_dir().join("scantling"))
}

/// The shipped data with the person's own read over it.
pub(super) fn catalog() -> Result<Catalog, Failure> {
    let mut catalog = Catalog::built_in().map_err(Failure::failed)?;
    let Some(folder) = folder() else { return Ok(catalog) };
    // What a killed save left is nobody's.
    change::clear(&folder);
    for name in Catalog::FILES.into_iter().chain([Rack::NAME]) {
        let path = folder.join(name);
        if path.is_file() {
            catalog = own_file(catalog, name, &path)?;
        }
    }
    Ok(catalog)
}
