//! `scantling record JOB --format`: the build record as text, Markdown, JSON
//! or PDF.

use std::path::Path;

use clap::{Arg, ArgAction, ArgMatches, Command};

use super::open::open;
use super::output::{Failure, pretty};
use crate::catalog::Catalog;
use crate::plan::plan;
use crate::report::{Seen, ViewId, record, templates, text};
use crate::writers::{pdf, save};

/// The options beside those of every view.
pub(super) fn with_options(command: Command) -> Command {
    let formats = ["text", "markdown", "json", "pdf"];
    command
        .arg(
            Arg::new("format")
                .long("format")
                .value_name("FORMAT")
                .value_parser(formats)
                .help("How it is written; text when absent"),
        )
        .arg(Arg::new("write").long("write").value_name("FILE").help("Write it to a file"))
        .arg(
            Arg::new("over")
                .long("over")
                .action(ArgAction::SetTrue)
                .requires("write")
                .help("Write over a file that is there"),
        )
}

/// Prints the record or writes it.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let opened = open(matches.get_one::<String>("job").map(String::as_str), catalog)?;
    let (job, catalog) = (opened.document.job(), &opened.catalog);
    let plan = plan(job, catalog);
    let seen = Seen { job, catalog, plan: &plan };
    let json = if matches.get_flag("json") { "json" } else { "text" };
    let format = matches.get_one::<String>("format").map_or(json, String::as_str);
    let path = matches.get_one::<String>("write").map(Path::new);
    let bytes = match format {
        "markdown" => record::markdown(seen).into_bytes(),
        "json" => pretty(&ViewId::Record.kind().told(seen))?.into_bytes(),
        "pdf" => {
            let pages = templates::record_pages(seen)?;
            pdf::write(&pages, &job.about.name)
        }
        _ => text::view(&ViewId::Record.kind().shown(seen)).into_bytes(),
    };
    match (path, String::from_utf8(bytes)) {
        (Some(path), text) => {
            let bytes =
                text.map_or_else(std::string::FromUtf8Error::into_bytes, String::into_bytes);
            save::one(path, &bytes, matches.get_flag("over"))?;
            Ok(format!("wrote {}\n", path.display()))
        }
        (None, Ok(text)) => Ok(text),
        (None, Err(_)) => Err(Failure::wrong_use(
            "a PDF is not for the terminal\nhint: say where it goes with --write FILE.pdf",
        )),
    }
}
