//! Which job a verb speaks of.

use std::path::{Path, PathBuf};

use super::output::Failure;
use super::own;
use crate::catalog::Catalog;
use crate::job::demo::{self, DEMOS};
use crate::job::document::Document;
use crate::job::store;

/// A job with the place it was read from; built-in jobs have none.
#[derive(Debug)]
pub(super) struct Opened {
    pub(super) document: Document,
    pub(super) path: Option<PathBuf>,
    /// The data it is read with: that of its own rack too, where it names one.
    pub(super) catalog: Catalog,
}

/// Opens the job named on the command line: a file, or a built-in job by its
/// name; the first built-in job when nothing is named.
pub(super) fn open(named: Option<&str>, catalog: &Catalog) -> Result<Opened, Failure> {
    let named = named.unwrap_or(DEMOS[0].name);
    let path = Path::new(named);
    if !path.exists()
        && let Some(demo) = demo::find(named)
    {
        let document = Document::read(demo.name, demo.text, catalog).map_err(Failure::failed)?;
        return Ok(Opened { document, path: None, catalog: catalog.clone() });
    }
    let text = store::open(path).map_err(|error| Failure::failed(with_demos(&error)))?;
    let catalog = own::with_rack_of(catalog.clone(), path, rack_named(&text).as_deref())?;
    let document = Document::read(named, &text, &catalog).map_err(Failure::failed)?;
    Ok(Opened { document, path: Some(path.to_owned()), catalog })
}

/// The rack a job names, before the job is checked against what is on it. A
/// text that does not read is told by the job's own reader.
fn rack_named(text: &str) -> Option<String> {
    let file: toml::Table = text.parse().ok()?;
    Some(file.get("job")?.get("rack")?.as_str()?.to_owned())
}

fn with_demos(error: &store::StoreError) -> String {
    let names: Vec<&str> = DEMOS.iter().map(|demo| demo.name).collect();
    format!("{error}\nhint: the jobs built in are {}", names.join(", "))
}
