//! `scantling new FILE`: a job typed from nothing, or begun from a built-in one.

use std::path::Path;

use clap::{Arg, ArgMatches, Command};

use super::output::Failure;
use super::settings::Settings;
use crate::catalog::Catalog;
use crate::job::document::Document;
use crate::job::new::{Answers, text};
use crate::job::{demo, store};

/// The subcommand.
pub(super) fn command() -> Command {
    let answer = |name: &'static str, what: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name(what).help(help)
    };
    Command::new("new")
        .about("Begin a job: an empty one with a guide in it, or a copy of a built-in one")
        .arg(Arg::new("file").value_name("FILE").required(true).help("The file to write"))
        .arg(answer("name", "NAME", "The building's name"))
        .arg(answer("intent", "WORDS", "What must survive when it is shortened"))
        .arg(answer("scale", "SCALE", "Scale by name or ratio, such as 1:48"))
        .arg(answer(
            "front",
            "LENGTH",
            "Full-size length of the front: \"48 ft\", \"48 ft ± 6 in\"",
        ))
        .arg(answer("deep", "LENGTH", "Full-size depth, front to back"))
        .arg(answer("eaves", "LENGTH", "Full-size height from the ground to the eaves"))
        .arg(answer("length", "LENGTH", "Straight length of the place, on the model"))
        .arg(answer("depth", "LENGTH", "Depth of the place, on the model"))
        .arg(answer("like", "JOB", "Copy this built-in job instead").conflicts_with("name"))
}

/// Writes the file; one that is there is left alone.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let given = |key: &str| matches.get_one::<String>(key).cloned().unwrap_or_default();
    let file = given("file");
    let scale = Settings::kept()?.with(matches).scale;
    let text = match matches.get_one::<String>("like") {
        Some(like) => demo::find(like)
            .ok_or_else(|| Failure::wrong_use(format!("there is no built-in job called {like}")))?
            .text
            .to_owned(),
        None => text(&Answers {
            name: or(given("name"), "A building"),
            intent: given("intent"),
            scale: or(scale.unwrap_or_default(), "1:48"),
            front: given("front"),
            deep: given("deep"),
            eaves: given("eaves"),
            space: given("length"),
            depth: given("depth"),
        })?,
    };
    Document::read(&file, &text, catalog).map_err(Failure::failed)?;
    store::save_new(Path::new(&file), &text).map_err(Failure::failed)?;
    Ok(format!("wrote {file}\nopen it with: scantling {file}\n"))
}

fn or(text: String, otherwise: &str) -> String {
    if text.trim().is_empty() { otherwise.to_owned() } else { text }
}
