//! `scantling set`, `add` and `remove`: any key and row of a job changed, saved
//! at once.

use clap::{Arg, ArgMatches, Command};

use super::open::{change, no_file, open};
use super::output::Failure;
use crate::catalog::Catalog;
use crate::job::edit::{Edit, RowEdit};
use crate::job::slot::Slot;
use crate::report::place;

fn job() -> Arg {
    Arg::new("job").value_name("JOB").required(true).help("A job file")
}

fn words(name: &'static str, value: &'static str, help: &'static str) -> Arg {
    Arg::new(name).value_name(value).num_args(0..).allow_hyphen_values(true).help(help)
}

/// The three subcommands.
pub(super) fn commands() -> [Command; 3] {
    let place = Arg::new("place").value_name("PLACE");
    [
        Command::new("set")
            .about("Set a key of a job, or show what stands at a place and what may")
            .arg(job())
            .arg(place.clone().help("Such as body.main.eave, opening.door.width, space.depth"))
            .arg(words("value", "VALUE", "What to write, such as 18 ft; shown when absent"))
            .after_help(
                "A row is named as it names itself, or by its number: \
                 wall.main/front.row.2.width. Lists take commas.",
            ),
        Command::new("add")
            .about("Add a row to a list of a job, or a table it has not")
            .arg(job())
            .arg(place.clone().required(true).help("Such as opening, wall.main/front.row, track"))
            .arg(words("keys", "KEY=VALUE", "Its keys, such as width=\"3 ft\" roof.pitch=6:12")),
        Command::new("remove")
            .about("Remove a key, a row or a table of a job")
            .arg(job())
            .arg(place.required(true).help("Such as opening.door, body.main.roof.rake")),
    ]
}

/// Runs one of the three.
pub(super) fn run(verb: &str, matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let named = matches.get_one::<String>("job").map(String::as_str);
    let path = matches.get_one::<String>("place").map_or("", String::as_str);
    let given = |name: &str| -> Vec<String> {
        matches.get_many::<String>(name).into_iter().flatten().cloned().collect()
    };
    match verb {
        "set" => match given("value") {
            value if value.is_empty() => show(named, path, catalog),
            value => {
                let to = value.join(" ");
                make(named, path, catalog, |slot| Ok(RowEdit::Set { slot, to }))
            }
        },
        "add" => {
            let keys = given("keys");
            make(named, path, catalog, |slot| Ok(RowEdit::Add { slot, keys: pairs(&keys)? }))
        }
        _ => make(named, path, catalog, |slot| Ok(RowEdit::Remove { slot })),
    }
}

fn pairs(keys: &[String]) -> Result<Vec<(String, String)>, Failure> {
    let pair = |said: &String| {
        let (key, value) = said.split_once('=').ok_or_else(|| {
            Failure::wrong_use(format!("{said}: write a key, `=` and its value: width=\"3 ft\""))
        })?;
        Ok((key.trim().to_owned(), value.trim().to_owned()))
    };
    keys.iter().map(pair).collect()
}

fn show(named: Option<&str>, path: &str, catalog: &Catalog) -> Result<String, Failure> {
    let file = open(named, catalog)?.document.file();
    let slot = Slot::find(&file, path)?;
    Ok(place::shown(&file, &slot))
}

/// Makes an edit of a place and saves the job; says what was done in one line.
fn make(
    named: Option<&str>,
    path: &str,
    catalog: &Catalog,
    edit: impl FnOnce(Slot) -> Result<RowEdit, Failure>,
) -> Result<String, Failure> {
    let (_, said) = change(named, catalog, |opened| {
        if opened.path.is_none() {
            return Err(no_file());
        }
        let slot = Slot::find(&opened.document.file(), path)?;
        let edit = Edit::Row(edit(slot)?);
        let before = opened.document.text().to_owned();
        let catalog = opened.catalog.clone();
        opened.document.apply(&edit, &catalog).map_err(Failure::failed)?;
        let same = opened.document.text() == before;
        let said = if same { "it says so already" } else { "saved" };
        Ok(format!("{}: {said}\n", edit.name()))
    })?;
    Ok(said)
}
