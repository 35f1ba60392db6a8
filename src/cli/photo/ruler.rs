//! The quick way: one known object and a ruler on a square-on picture.

use clap::{Arg, ArgMatches, value_parser};
use serde_json::json;

use crate::cli::output::{Failure, pretty};
use crate::photo::ruler::{compare, compare_ahead, depth_error};
use crate::quantity::{Notation, Prototype, PrototypeLength, Reading, parse};

/// The options of the quick way.
pub(super) fn args() -> [Arg; 5] {
    let text = |name: &'static str, value: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name(value).help(help)
    };
    [
        text("ruler", "LENGTH", "Quick way, square-on picture: the true length of a known object")
            .requires_all(["on", "reads"])
            .conflicts_with("marks"),
        text("on", "N", "What the known object measures on the picture, in any unit")
            .value_parser(value_parser!(f64)),
        text("reads", "N", "What is asked for measures on the picture, in the same unit")
            .value_parser(value_parser!(f64)),
        text("ahead", "LENGTH", "How far the known object stood in front of the wall")
            .requires("camera"),
        text("camera", "LENGTH", "How far the camera stood from the wall").requires("ahead"),
    ]
}

/// Compares, and takes the depth of the object out where it is known.
pub(super) fn run(matches: &ArgMatches) -> Result<String, Failure> {
    let known = length(matches, "ruler")?
        .ok_or_else(|| Failure::wrong_use("--ruler: give the length of the known object"))?;
    let figure = |name: &str| matches.get_one::<f64>(name).copied().unwrap_or(0.0);
    let (on, reads) = (figure("on"), figure("reads"));
    let raw = compare(known.in_inches(), on, reads).ok_or_else(|| {
        Failure::wrong_use("--ruler, --on and --reads: all three must be greater than zero")
    })?;
    let depth = match (length(matches, "ahead")?, length(matches, "camera")?) {
        (Some(ahead), Some(camera)) => Some((ahead.in_inches(), camera.in_inches())),
        _ => None,
    };
    let corrected = depth.map(|(ahead, camera)| {
        let error = depth_error(ahead, camera)?;
        Some((error, compare_ahead(known.in_inches(), on, reads, ahead, camera)?))
    });
    if corrected == Some(None) {
        return Err(Failure::wrong_use("--ahead must be less than --camera"));
    }
    let corrected = corrected.flatten();
    if matches.get_flag("json") {
        return pretty(&json!({
            "unit": "in",
            "by_comparison": raw,
            "depth_error_percent": corrected.map(|(error, _)| 100.0 * error),
            "value": corrected.map_or(raw, |(_, value)| value),
        }));
    }
    Ok(words(raw, corrected))
}

fn words(raw: f64, corrected: Option<(f64, f64)>) -> String {
    let notation = Notation::BUILDING;
    let show = |inches: f64| notation.show(&PrototypeLength::inches(inches));
    let first = format!("by comparison           {}\n", show(raw));
    let rest = match corrected {
        Some((error, value)) => format!(
            "the object shows {:+.1} percent too large for its place before the wall\n\
             on the wall             {}\n",
            100.0 * error,
            show(value)
        ),
        None => "if the object stood in front of the wall, it shows too large: \
                 give --ahead and --camera\n"
            .to_owned(),
    };
    format!(
        "{first}{rest}It holds in one plane square to the line of sight; \
         expect 3 to 5 percent, and more toward the edges of a tilted picture.\n"
    )
}

fn length(matches: &ArgMatches, name: &str) -> Result<Option<PrototypeLength>, Failure> {
    let Some(text) = matches.get_one::<String>(name) else { return Ok(None) };
    let length = parse::<Prototype>(text, &Reading::default())
        .map_err(|error| Failure::wrong_use(format!("--{name} {text}: {error}")))?;
    Ok(Some(length.length()))
}
