//! `scantling rack`: what is on hand, printed, taken in and given out.

use std::path::Path;

use clap::{Arg, ArgAction, ArgMatches, Command};

use super::output::{Failure, printed};
use super::own;
use crate::catalog::Catalog;
use crate::catalog::rack::Rack;
use crate::disk::Change;
use crate::job::store;
use crate::report::rack;

/// The subcommand.
pub(super) fn command() -> Command {
    let switch = |name: &'static str, help: &'static str| {
        Arg::new(name).long(name).action(ArgAction::SetTrue).help(help)
    };
    Command::new("rack")
        .about("Show your own rack: what is on hand, as measured")
        .arg(
            Arg::new("import")
                .long("import")
                .value_name("FILE")
                .help("Read a table of commas into your rack; rows of one name are replaced"),
        )
        .arg(switch("export", "Print the rack as a table of commas").conflicts_with("import"))
        .arg(switch("json", "Print JSON with stable keys").conflicts_with("export"))
}

/// Prints the rack, or takes a file in.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    if let Some(file) = matches.get_one::<String>("import") {
        return import(Path::new(file));
    }
    if matches.get_flag("export") {
        return catalog.rack.write().map_err(Failure::failed);
    }
    printed(&rack::view(&catalog.rack), matches.get_flag("json"))
}

/// Reads a file into the rack of the settings folder, whole or not at all.
fn import(file: &Path) -> Result<String, Failure> {
    let folder = own::folder()
        .ok_or_else(|| Failure::failed("keeping the rack: this system names no home folder"))?;
    let named = |error: crate::catalog::CatalogError| {
        Failure::failed(format!("{}: {}", file.display(), error.trouble))
    };
    let taken = Rack::read(&store::open(file).map_err(Failure::failed)?).map_err(named)?;
    std::fs::create_dir_all(&folder)
        .map_err(|error| Failure::failed(format!("making {}: {error}", folder.display())))?;
    let path = folder.join(Rack::NAME);
    let change = Change::begin(&path).map_err(Failure::failed)?;
    let before = change.text().map_err(Failure::failed)?.unwrap_or_default();
    let old = if before.is_empty() {
        Rack::default()
    } else {
        Rack::read(&before).map_err(Failure::failed)?
    };
    let merged = old.merged(&taken);
    let text = merged.write().map_err(Failure::failed)?;
    if !before.is_empty() && before != text {
        change.write_beside(".before", before.as_bytes()).map_err(Failure::failed)?;
    }
    change.replace(text.as_bytes()).map_err(Failure::failed)?;
    Ok(format!(
        "took in {} rows; {} now holds {}\n",
        taken.rows.len(),
        path.display(),
        merged.rows.len()
    ))
}
