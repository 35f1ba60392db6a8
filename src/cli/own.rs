//! The person's own data: files of `data/` and a rack in the usual folder of
//! settings, read over what is shipped, and the rack a job names.

use std::path::{Path, PathBuf};

use etcetera::BaseStrategy as _;

use super::output::Failure;
use crate::catalog::Catalog;
use crate::catalog::rack::Rack;
use crate::job::store;

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
    for name in Catalog::FILES.into_iter().chain([Rack::NAME]) {
        let path = folder.join(name);
        if path.is_file() {
            catalog = over(catalog, name, &path)?;
        }
    }
    Ok(catalog)
}

/// The catalogue with the rack that a job names read over it; the path counts
/// from the job's own folder.
pub(super) fn with_rack_of(
    catalog: Catalog,
    job: &Path,
    rack: Option<&str>,
) -> Result<Catalog, Failure> {
    let Some(rack) = rack else { return Ok(catalog) };
    over(catalog, Rack::NAME, &job.with_file_name(rack))
}

fn over(catalog: Catalog, name: &str, path: &Path) -> Result<Catalog, Failure> {
    let text = store::open(path).map_err(Failure::failed)?;
    catalog
        .with_own(name, &text)
        .map_err(|error| Failure::failed(format!("{}: {}", path.display(), error.trouble)))
}
