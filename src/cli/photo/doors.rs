//! Simple questions: a fourth place on a line, a height by the horizon, by a
//! post or by a shadow.

use clap::{Arg, ArgMatches};
use serde_json::json;

use crate::cli::output::{Failure, pretty};
use crate::photo::doors::{Worth, by_horizon, by_post, by_shadow, fourth};
use crate::quantity::{Notation, Prototype, PrototypeLength, Reading, parse_stated};

/// The options of the simple questions.
pub(super) fn args() -> [Arg; 9] {
    let text = |name: &'static str, value: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name(value).help(help).conflicts_with("marks")
    };
    [
        text("along", "PX=PLACE,...", "Three places of a straight wall line: pixel=length each")
            .value_delimiter(',')
            .num_args(1..)
            .requires("at"),
        text("at", "PX", "Where on that line the place is asked for").requires("along"),
        text("rows", "FOOT,HORIZON,TOP", "Level camera: rows of foot, horizon and top, in pixels"),
        text("eye", "LENGTH", "How high the camera stood over the foot").requires("rows"),
        text("post", "LENGTH", "A post of known height on the same level ground")
            .requires_all(["post-rows", "rows"]),
        text("post-rows", "FOOT,TOP", "Rows of the post's foot and top").requires("post"),
        text("stick", "LENGTH", "A stick beside the building")
            .requires_all(["stick-shadow", "shadow"]),
        text("stick-shadow", "LENGTH", "The stick's shadow at the same minute").requires("stick"),
        text("shadow", "LENGTH", "The building's shadow on level ground").requires("stick"),
    ]
}

/// Whether one of the questions is asked.
pub(super) fn asked(matches: &ArgMatches) -> bool {
    ["along", "rows", "stick"].iter().any(|name| matches.contains_id(name))
}

/// Answers the question asked.
pub(super) fn run(matches: &ArgMatches, click: f64) -> Result<String, Failure> {
    let (what, worth) = if matches.contains_id("along") {
        ("the place on the line", on_line(matches, click)?)
    } else if matches.contains_id("stick") {
        ("the height by its shadow", shadow(matches)?)
    } else {
        ("the height by the horizon", horizon(matches, click)?)
    };
    let [low, high] = worth.ends();
    if matches.get_flag("json") {
        let figures = json!({
            "unit": "in", "value": worth.value, "sigma": worth.sigma, "low": low, "high": high,
        });
        return pretty(&figures);
    }
    let show = |inches: f64| Notation::BUILDING.show(&PrototypeLength::inches(inches));
    Ok(format!(
        "{what}: {}, {} to {} (95 percent)\n{}",
        show(worth.value),
        show(low),
        show(high),
        "Mark a rectangle and give a known length for an answer that is checked.\n"
    ))
}

fn on_line(matches: &ArgMatches, click: f64) -> Result<Worth, Failure> {
    let pairs: Vec<&String> = matches.get_many("along").unwrap_or_default().collect();
    let read = |text: &String| {
        let (pixel, place) = text.split_once('=').ok_or_else(|| {
            Failure::wrong_use(format!("--along {text}: write pixel=length, such as 366.7=10 ft"))
        })?;
        Ok((figure("along", pixel, click)?, length("along", place)?))
    };
    let known: Vec<(Worth, Worth)> = pairs.into_iter().map(read).collect::<Result<_, Failure>>()?;
    let known = <[(Worth, Worth); 3]>::try_from(known)
        .map_err(|_| Failure::wrong_use("--along: give three places of the line"))?;
    let at = figure("at", said(matches, "at"), click)?;
    fourth(known, at).ok_or_else(|| Failure::wrong_use("--along: two of the places coincide"))
}

fn horizon(matches: &ArgMatches, click: f64) -> Result<Worth, Failure> {
    let rows = rows::<3>(matches, "rows", click)?;
    let answer = match (matches.contains_id("eye"), matches.contains_id("post")) {
        (true, _) => by_horizon(length("eye", said(matches, "eye"))?, rows),
        (false, true) => {
            let post = length("post", said(matches, "post"))?;
            by_post(post, self::rows::<2>(matches, "post-rows", click)?, rows)
        }
        (false, false) => {
            return Err(Failure::wrong_use("--rows: give --eye, or --post with --post-rows"));
        }
    };
    answer.ok_or_else(|| {
        Failure::wrong_use("--rows: feet lie under the horizon, rows count from the top downward")
    })
}

fn shadow(matches: &ArgMatches) -> Result<Worth, Failure> {
    let read = |name: &str| length(name, said(matches, name));
    by_shadow(read("stick")?, read("stick-shadow")?, read("shadow")?)
        .ok_or_else(|| Failure::wrong_use("--stick: all three lengths must be greater than zero"))
}

fn said<'m>(matches: &'m ArgMatches, name: &str) -> &'m str {
    matches.get_one::<String>(name).map_or("", String::as_str)
}

fn rows<const N: usize>(
    matches: &ArgMatches,
    name: &str,
    click: f64,
) -> Result<[Worth; N], Failure> {
    let texts = said(matches, name).split(',');
    let rows: Vec<Worth> = texts.map(|text| figure(name, text, click)).collect::<Result<_, _>>()?;
    <[Worth; N]>::try_from(rows)
        .map_err(|_| Failure::wrong_use(format!("--{name}: give {N} rows with commas between")))
}

fn figure(name: &str, text: &str, sigma: f64) -> Result<Worth, Failure> {
    let number = text.trim().parse::<f64>().ok().filter(|number| number.is_finite());
    number
        .map(|number| Worth::new(number, sigma))
        .ok_or_else(|| Failure::wrong_use(format!("--{name}: \"{text}\" is no number of pixels")))
}

/// A length with its unit, `5 ft \u{b1} 1/2 in`; exact where no uncertainty is said.
fn length(name: &str, text: &str) -> Result<Worth, Failure> {
    let stated = parse_stated::<Prototype>(text, &Reading::default())
        .map_err(|error| Failure::wrong_use(format!("--{name} {text}: {error}")))?;
    let sigma = stated.sigma.map_or(0.0, |sigma| sigma.length().in_inches().abs());
    Ok(Worth::new(stated.value.length().in_inches(), sigma))
}
