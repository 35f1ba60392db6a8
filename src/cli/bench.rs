//! `scantling bench`: one length in, everything about it out. It needs no job.

use clap::{Arg, ArgAction, ArgMatches, Command};

use super::output::{Failure, pretty};
use super::settings::Settings;
use super::views::json_arg;
use crate::bench::compare::SetBack;
use crate::bench::{Ask, Comparison, Given, answer};
use crate::catalog::Catalog;
use crate::finding::{Finding, Subject};
use crate::quantity::{
    Denominator, Prototype, Reading, Space, Stated, Unit, Written, parse_stated,
};
use crate::report::bench::{Look, json, view};
use crate::report::text;

/// The scale taken when none is given.
const USUAL: &str = "HO";

/// The verb and its options.
pub(super) fn command() -> Command {
    let option = |name: &'static str, value: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name(value).help(help).allow_hyphen_values(true)
    };
    Command::new("bench")
        .about("Convert one length: to the model and back, another scale, nearest stock and lumber")
        .after_help(EXAMPLES)
        .arg(
            Arg::new("length")
                .value_name("LENGTH")
                .allow_hyphen_values(true)
                .required_unless_present("known")
                .conflicts_with("known")
                .help(
                    "A full-size length, with or without ±: \"12' 6 1/2\\\"\", \"3.81 m ± 5 mm\"",
                ),
        )
        .arg(option(
            "scale",
            "SCALE",
            "Scale by name or ratio: HO, \"NEM H0\", 1:48, \"3.5 mm/ft\"",
        ))
        .arg(
            Arg::new("model")
                .long("model")
                .action(ArgAction::SetTrue)
                .conflicts_with("known")
                .help("The length is one on the model"),
        )
        .arg(option("to", "SCALE", "Answer for this scale as well, with the factor to redraw by"))
        .arg(
            option("known", "OBJECT", "Compare: a known size with its ±, or an object of the list")
                .requires_all(["known-print", "print"]),
        )
        .arg(option("known-print", "LENGTH", "The known object on the print").requires("known"))
        .arg(option("print", "LENGTH", "The wanted length on the print").requires("known"))
        .arg(
            option("nearer", "LENGTH", "How much nearer to the camera the known object stands")
                .requires_all(["known", "camera"]),
        )
        .arg(option("camera", "LENGTH", "From the camera to the wanted length").requires("nearer"))
        .arg(option("unit", "UNIT", "Unit of bare numbers; mm, cm and m also answer in metric"))
        .arg(option("fraction", "PART", "Finest part of an inch on the model: 1/2 to 1/64"))
        .arg(json_arg())
}

const EXAMPLES: &str = "\
Examples:
  scantling bench \"12' 6 1/2\\\"\" --scale HO
  scantling bench \"3 5/16 in\" --model --scale 1:64
  scantling bench \"12 ft\" --scale \"NEM 0\" --to \"NEM H0\"
  scantling bench --known \"80 in ± 1 in\" --known-print \"23 mm ± 0.3 mm\" \\
                  --print \"61.5 mm ± 0.3 mm\" --scale O";

/// Answers one length.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let word = |name: &str| matches.get_one::<String>(name).map(String::as_str);
    let by_name = |name: &str| catalog.scales.find(name);
    let settings = Settings::kept()?.with(matches);
    let reading = Reading { unit: unit(settings.unit.as_deref())?, surveyor: None };
    let ask = Ask {
        given: given(matches, catalog, &reading)?,
        scale: by_name(settings.scale.as_deref().unwrap_or(USUAL))?,
        to: word("to").map(by_name).transpose()?,
    };
    let mut found = answer(&ask, catalog)?;
    if settings.scale.is_none() {
        let message = format!("no scale was given: {USUAL} is taken");
        found.findings.push(Finding::look(
            Subject::Job,
            message,
            "write --scale 1:48, or set one: scantling settings --scale 1:48",
        ));
    }
    let look = look(reading.unit, word("fraction"))?;
    if matches.get_flag("json") {
        return pretty(&json(&found, look));
    }
    Ok(text::view(&view(&found, look)))
}

fn unit(word: Option<&str>) -> Result<Option<Unit>, Failure> {
    let Some(word) = word else { return Ok(None) };
    match Unit::from_word(word.trim()) {
        Some(unit) => Ok(Some(unit)),
        None => Err(Failure::wrong_use(format!(
            "--unit {word} is no unit of length\nhint: write ft, in, thou, mm, cm or m"
        ))),
    }
}

fn look(unit: Option<Unit>, fraction: Option<&str>) -> Result<Look, Failure> {
    let parts = match fraction {
        None => Denominator::SIXTY_FOURTHS,
        Some(word) => Denominator::from_text(word).ok_or_else(|| {
            Failure::wrong_use(format!(
                "--fraction {word} is no part of an inch\nhint: write 1/2, 1/4, 1/8, 1/16, 1/32 or 1/64"
            ))
        })?,
    };
    Ok(match unit {
        Some(Unit::Millimetre | Unit::Centimetre | Unit::Metre) => Look::metric(parts),
        _ => Look::inches(parts),
    })
}

fn given(matches: &ArgMatches, catalog: &Catalog, reading: &Reading) -> Result<Given, Failure> {
    let word = |name: &str| matches.get_one::<String>(name).map_or("", String::as_str);
    if matches.contains_id("known") {
        let set_back = if matches.contains_id("nearer") {
            let nearer = length("nearer", word("nearer"), reading)?;
            Some(SetBack { nearer, distance: length("camera", word("camera"), reading)? })
        } else {
            None
        };
        return Ok(Given::Compared(Box::new(Comparison {
            known: known(word("known"), catalog, reading)?,
            known_print: length("known-print", word("known-print"), reading)?,
            print: length("print", word("print"), reading)?,
            set_back,
        })));
    }
    if matches.get_flag("model") {
        return length("model", word("length"), reading).map(Given::Model);
    }
    length("length", word("length"), reading).map(Given::Full)
}

/// A size, or the key of an object of the list.
fn known(
    text: &str,
    catalog: &Catalog,
    reading: &Reading,
) -> Result<Stated<Written<Prototype>>, Failure> {
    if let Some(object) = catalog.objects.get(text.trim()) {
        return Ok(Stated { value: object.size.clone(), sigma: Some(object.spread.clone()) });
    }
    if text.trim_start().starts_with(char::is_alphabetic) {
        let keys: Vec<&str> = catalog.objects.rows.iter().map(|row| row.key.as_str()).collect();
        return Err(Failure::failed(format!(
            "no known object is called {text}\nhint: write its size, or one of {}",
            keys.join(", ")
        )));
    }
    length("known", text, reading)
}

fn length<S: Space>(
    name: &str,
    text: &str,
    reading: &Reading,
) -> Result<Stated<Written<S>>, Failure> {
    parse_stated(text, reading)
        .map_err(|error| Failure::failed(format!("reading the {name}: {error}")))
}
