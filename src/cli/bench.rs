//! `scantling bench`: the desk book, asked in one line. It needs no job.

use clap::{Arg, ArgAction, ArgMatches, Command};

use super::bench_table;
use super::open::open;
use super::output::{Failure, printed};
use super::settings::Settings;
use super::views::json_arg;
use crate::bench::compare::SetBack;
use crate::bench::{Ask, Comparison, Desk, Found, Given, Look, answer, ask, offered};
use crate::catalog::Catalog;
use crate::finding::{Finding, Subject};
use crate::job::model::Units;
use crate::quantity::{
    Denominator, Prototype, Reading, Space, Stated, Unit, Written, parse_stated,
};
use crate::report::bench::{contents, sum_view, view};

/// The scale taken when none is given.
const USUAL: &str = "HO";

/// The verb and its options.
pub(super) fn command() -> Command {
    let option = |name: &'static str, value: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name(value).help(help).allow_hyphen_values(true)
    };
    Command::new("bench")
        .about("The desk book: any sum of the trade in one line; without words the list of sums")
        .after_help(EXAMPLES)
        .arg(
            Arg::new("words")
                .value_name("WORDS")
                .num_args(0..)
                .allow_negative_numbers(true)
                .conflicts_with("known")
                .help(
                    "What is asked, in words and figures: a length \"12' 6 1/2\\\"\", 2x12 at O, \
                     stairs 9 ft, 12 ft 6 - 7 1/2 in; -- before a line that begins with a minus",
                ),
        )
        .arg(option(
            "scale",
            "SCALE",
            "Scale by name, ratio or foot: HO, \"NEM H0\", 1:48, \"3.5 mm/ft\", \"1/4 in\"",
        ))
        .arg(
            Arg::new("model")
                .long("model")
                .action(ArgAction::SetTrue)
                .conflicts_with("known")
                .help("Lengths are on the model where the words do not say"),
        )
        .arg(option("to", "SCALE", "Answer for this scale as well, with the factor to redraw by"))
        .arg(option("job", "JOB", "Take scale, year and notation from this job where the line says nothing"))
        .arg(option("year", "YEAR", "Year of the building, for sizes of lumber"))
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
        .arg(option(
            "unit",
            "UNIT",
            "Unit of bare numbers: ft, in, thou, mm, cm, m, yd, rod, chain, ftUS; metric ones also answer so",
        ))
        .arg(option("fraction", "PART", "Finest part of an inch on the model: 1/2 to 1/64"))
        .args(bench_table::options())
        .arg(json_arg())
}

const EXAMPLES: &str = "\
Examples:
  scantling bench 12 ft 6 at HO
  scantling bench \"3 5/16 in\" --model --scale 1:64
  scantling bench \"12 ft\" --scale \"NEM 0\" --to \"NEM H0\"
  scantling bench \"12 ft 6 - 2 * 7 1/2 in\"
  scantling bench 2x12 in O
  scantling bench 6:12 run 19 ft
  scantling bench 25 deg curve at S
  scantling bench stairs 9 ft, riser at most 7 3/4 in
  scantling bench 12 V, 3 white in series, 5 mA
  scantling bench --table lumber,courses --scales O,HO --write wall.pdf
  scantling bench --known \"80 in ± 1 in\" --known-print \"23 mm ± 0.3 mm\" \\
                  --print \"61.5 mm ± 0.3 mm\" --scale O";

/// Answers one line.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let mut settings = Settings::kept()?.with(matches);
    let word = |name: &str| matches.get_one::<String>(name).map(String::as_str);
    let unit = unit(settings.unit.as_deref())?;
    let mut look = look(unit, word("fraction"))?;
    let mut built = None;
    if let Some(job) = word("job") {
        let opened = open(Some(job), catalog)?;
        let about = &opened.document.job().about;
        if word("scale").is_none() {
            settings.scale = Some(about.scale.clone());
        }
        if about.units == Units::Metric {
            look = Look::metric(look.parts);
        }
        built = about.year;
    }
    if matches.contains_id("table") {
        return bench_table::run(matches, catalog, look);
    }
    let words: Vec<&str> =
        matches.get_many::<String>("words").unwrap_or_default().map(String::as_str).collect();
    let known = matches.contains_id("known");
    if words.is_empty() && !known {
        return printed(&contents(&offered("")), false);
    }
    let by_name = |name: &str| catalog.scales.find(name);
    let year = word("year").map(str::parse).transpose();
    let desk = Desk {
        catalog,
        scale: by_name(settings.scale.as_deref().unwrap_or(USUAL))?,
        to: word("to").map(by_name).transpose()?,
        year: year
            .map_err(|_| Failure::wrong_use("--year is no year\nhint: write 1926"))?
            .or(built),
        model: matches.get_flag("model"),
        unit,
        look,
    };
    let line = words.join(" ");
    let found = if known { compared(matches, &desk)? } else { ask(&line, &desk)? };
    let unsaid = settings.scale.is_none();
    shown(found, unsaid, matches.get_flag("json"), &desk)
}

/// An answer as text or JSON. Where nobody named a scale, that is told once a
/// size on the model is in it.
fn shown(found: Found, unsaid: bool, json: bool, desk: &Desk<'_>) -> Result<String, Failure> {
    let look = desk.look;
    match found {
        Found::Length(mut outcome, named) => {
            if unsaid && !named {
                outcome.findings.push(no_scale());
            }
            printed(&view(&outcome, look), json)
        }
        Found::Sum(mut answer) => {
            let sized = answer.figures.iter().any(|figure| !figure.on_model.is_empty());
            if sized && !answer.scale_named && unsaid {
                answer.findings.push(no_scale());
            }
            printed(&sum_view(&answer), json)
        }
    }
}

fn no_scale() -> Finding {
    Finding::look(
        Subject::Job,
        format!("no scale was given: {USUAL} is taken"),
        "write at 1:48, or set one: scantling settings --scale 1:48",
    )
}

/// A length by comparison with the options for it.
fn compared(matches: &ArgMatches, desk: &Desk<'_>) -> Result<Found, Failure> {
    let reading = Reading { unit: desk.unit, surveyor: None };
    let ask = Ask {
        given: given(matches, desk.catalog, &reading)?,
        scale: desk.scale.clone(),
        to: desk.to.clone(),
    };
    Ok(Found::Length(Box::new(answer(&ask, desk.catalog)?), false))
}

fn unit(word: Option<&str>) -> Result<Option<Unit>, Failure> {
    let Some(word) = word else { return Ok(None) };
    match Unit::from_word(word.trim()) {
        Some(unit) => Ok(Some(unit)),
        None => Err(Failure::wrong_use(format!(
            "--unit {word} is no unit of length\nhint: write ft, in, thou, mm, cm, m, yd, rod, chain or ftUS"
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
    let set_back = if matches.contains_id("nearer") {
        let nearer = length("nearer", word("nearer"), reading)?;
        Some(SetBack { nearer, distance: length("camera", word("camera"), reading)? })
    } else {
        None
    };
    Ok(Given::Compared(Box::new(Comparison {
        known: known(word("known"), catalog, reading)?,
        known_print: length("known-print", word("known-print"), reading)?,
        print: length("print", word("print"), reading)?,
        set_back,
    })))
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
