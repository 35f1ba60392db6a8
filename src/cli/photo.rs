//! `photo`: lengths from one photograph.

mod doors;
mod ruler;

use std::path::{Path, PathBuf};

use clap::{Arg, ArgAction, ArgMatches, Command, value_parser};

use super::open::open;
use super::output::{Failure, printed};
use super::views::{job_arg, json_arg};
use crate::catalog::Catalog;
use crate::finding::Stop;
use crate::job::store;
use crate::photo::doors as questions;
use crate::photo::edge::Brightness;
use crate::photo::from_job;
use crate::photo::lengths::{Effort, run as measure, solve};
use crate::photo::marked::{FLOOR, Focal, Marked, Origin, Span};
use crate::photo::marks_file::{self, Choice};
use crate::photo::pixels::RgbImage;
use crate::photo::refine::{Refined, refine};
use crate::photo::{picture, rectify};
use crate::report::photo as report;
use crate::report::table::View;
use crate::writers::save;

/// The verb and its options: one list, and so longer than other functions.
pub(super) fn command() -> Command {
    Command::new("photo")
        .about("Lengths from one photograph, with their 95 percent intervals")
        .after_help(
            "A marks file is TOML: width, height, [[point]] with id and px, [[rect]] with id and \
             corners (top left, top right, bottom right, bottom left). Pixels count from the \
             centre of the top left one. Lengths come out in the unit of the known lengths.\n\n\
             Known lengths: u1:width (the figure in the file), u1:height=2.25, \
             a..b=14.2~0.1 (mark to mark, with its standard uncertainty).",
        )
        .arg(job_arg().conflicts_with("marks"))
        .arg(
            Arg::new("marks")
                .long("marks")
                .value_name("FILE")
                .help("A marks file instead of a job; the options below are for it"),
        )
        .arg(list(
            "rects",
            "IDS",
            "Rectangles to use, or name=tl/tr/br/bl; all clear ones when absent",
        ))
        .arg(list("known", "LENGTHS", "Known lengths; see below"))
        .arg(list("ask", "SPANS", "Further lengths: mark..mark, with :level or :plumb"))
        .arg(switch(
            "refine",
            "Move the marks to where the picture's edges meet, if the gate agrees",
        ))
        .arg(
            Arg::new("picture")
                .long("picture")
                .value_name("FILE")
                .help("The picture of a marks file; the one it names, beside it, when absent"),
        )
        .arg(switch("pairs", "Print the distance of every pair of marks used"))
        .arg(switch("lines", "Use the file's straight lines as level and plumb lines"))
        .args(kinds())
        .arg(number("click", "PX", "1", "Standard uncertainty of a mark in pixels"))
        .arg(number("floor", "PX", "0.7", "Least uncertainty of a mark: walls are not planes"))
        .arg(number(
            "known-sigma",
            "PERCENT",
            "0.1",
            "Uncertainty of a known length that states none",
        ))
        .arg(
            Arg::new("focal")
                .long("focal")
                .value_name("PX")
                .value_parser(value_parser!(f64))
                .help("Focal length in pixels, good to 4 percent"),
        )
        .arg(
            Arg::new("draws")
                .long("draws")
                .value_name("N")
                .default_value("2000")
                .value_parser(value_parser!(u32).range(0..=100_000))
                .help("Monte Carlo draws for the intervals; 0 for first order alone"),
        )
        .arg(
            Arg::new("seed")
                .long("seed")
                .value_name("N")
                .default_value("1")
                .value_parser(value_parser!(u64))
                .help("Seed of the draws"),
        )
        .arg(Arg::new("rectify").long("rectify").value_name("OUT.png").help(
            "Write the wall as if seen squarely; its resolution field has the pixels to the unit",
        ))
        .arg(
            Arg::new("photograph")
                .long("photograph")
                .value_name("ID")
                .help("The job's photograph to rectify; the first when absent"),
        )
        .arg(number("pixels-per-unit", "N", "0", "Pixels to the unit; 0 for a picture 1600 wide"))
        .args(ruler::args())
        .args(doors::args())
        .arg(json_arg())
}

/// What kind of picture it is.
fn kinds() -> [Arg; 4] {
    [
        Arg::new("origin")
            .long("origin")
            .value_name("KIND")
            .value_parser(Origin::ALL.iter().map(|it| it.word()).collect::<Vec<_>>())
            .help("What the picture is; by the picture's own file when absent, else unknown"),
        switch("print", "Short for --origin print").conflicts_with("origin"),
        switch("plain", "By the plain map of one rectangle with both sides known: no lens"),
        switch("no-distortion", "Take the lens to be free of distortion"),
    ]
}

fn list(name: &'static str, value: &'static str, help: &'static str) -> Arg {
    Arg::new(name)
        .long(name)
        .value_name(value)
        .value_delimiter(',')
        .action(ArgAction::Append)
        .help(help)
}

fn switch(name: &'static str, help: &'static str) -> Arg {
    Arg::new(name).long(name).action(ArgAction::SetTrue).help(help)
}

fn number(
    name: &'static str,
    value: &'static str,
    default: &'static str,
    help: &'static str,
) -> Arg {
    Arg::new(name)
        .long(name)
        .value_name(value)
        .default_value(default)
        .value_parser(value_parser!(f64))
        .help(help)
}

/// Runs the verb.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let effort = Effort {
        draws: matches.get_one::<u32>("draws").map_or(0, |&n| n as usize),
        seed: matches.get_one::<u64>("seed").copied().unwrap_or(1),
    };
    if matches.contains_id("ruler") {
        return ruler::run(matches);
    }
    if doors::asked(matches) {
        return doors::run(matches, positive(matches, "click")?.unwrap_or(1.0));
    }
    match matches.get_one::<String>("marks") {
        Some(path) => marks(path, matches, effort),
        None => job(matches, catalog, effort),
    }
}

fn marks(path: &str, matches: &ArgMatches, effort: Effort) -> Result<String, Failure> {
    let text = store::open(Path::new(path)).map_err(Failure::failed)?;
    let mut marked =
        settings(marks_file::read(&text, &choice(matches)?).map_err(failed)?, matches)?;
    let picture = match matches.get_one::<String>("picture") {
        Some(file) => PathBuf::from(file),
        None => beside(Path::new(path), &marked.id),
    };
    if !matches.contains_id("origin") && !matches.get_flag("print") {
        marked.origin = by_file(&picture);
    }
    let refined = matches.get_flag("refine").then(|| refined(&marked, &picture)).transpose()?;
    if let Some(refined) = &refined {
        marked = refined.marked.clone();
    }
    if let Some(out) = matches.get_one::<String>("rectify") {
        return rectified(&marked, opened(&marked, &picture)?, out, matches);
    }
    if matches.get_flag("plain") {
        return plain(&marked, matches.get_flag("json"));
    }
    let outcome = measure(&marked, effort).map_err(failed)?;
    let view = report::view(&marked, &outcome.value, &outcome.findings, refined.as_ref());
    printed(&view, matches.get_flag("json"))
}

fn job(matches: &ArgMatches, catalog: &Catalog, effort: Effort) -> Result<String, Failure> {
    let opened = open(matches.get_one::<String>("job").map(String::as_str), catalog)?;
    let job = opened.document.job();
    if let Some(out) = matches.get_one::<String>("rectify") {
        let id = matches.get_one::<String>("photograph");
        let photo = job.photos.iter().find(|photo| id.is_none_or(|id| photo.id == *id));
        let photo = photo.ok_or_else(|| Failure::failed("the job has no such photograph"))?;
        let marked = from_job::marked(photo).map_err(failed)?;
        let bytes = picture::bytes(opened.path.as_deref(), &photo.file).map_err(failed)?;
        return rectified(&marked, decoded(&marked, &photo.file, &bytes)?, out, matches);
    }
    let outcome = from_job::run(&job.photos, effort);
    let view = report::job_view(&outcome.value, job.about.full_notation());
    printed(&View { findings: outcome.findings, ..view }, matches.get_flag("json"))
}

/// What a picture's file says it is; a file that is not there says nothing.
fn by_file(picture: &Path) -> Origin {
    let bytes = picture::read(picture).ok();
    let facts = bytes.and_then(|bytes| picture::look("", &bytes).ok());
    facts.map_or(Origin::Unknown, |facts| facts.origin)
}

/// Lengths by the plain map, beside those of the adjustment where there is one.
fn plain(marked: &Marked, json: bool) -> Result<String, Failure> {
    let found = questions::plain(marked).map_err(failed)?;
    let adjusted = measure(marked, Effort { draws: 0, seed: 1 }).ok().map(|it| it.value.lengths);
    let beside = |span: Span| {
        let found = adjusted.as_ref()?.iter().find(|found| found.span == span)?;
        Some(found.value)
    };
    printed(&report::plain_view(marked, &found, beside), json)
}

/// A file named relative to the one that speaks of it.
fn beside(path: &Path, file: &str) -> PathBuf {
    path.parent().unwrap_or(Path::new("")).join(file)
}

/// The picture of some marks, upright.
fn opened(marked: &Marked, picture: &Path) -> Result<RgbImage, Failure> {
    let name = picture.display().to_string();
    let bytes = picture::read(picture).map_err(failed)?;
    decoded(marked, &name, &bytes)
}

fn decoded(marked: &Marked, name: &str, bytes: &[u8]) -> Result<RgbImage, Failure> {
    let facts = picture::look(name, bytes).map_err(failed)?;
    if facts.size != marked.size {
        let [[a, b], [c, d]] = [facts.size, marked.size];
        return Err(Failure::failed(format!(
            "{name} is {a} by {b} pixels, but its marks were made on {c} by {d}"
        )));
    }
    Ok(picture::open(name, bytes).map_err(failed)?.0)
}

/// The marks moved to the edges of their picture.
fn refined(marked: &Marked, picture: &Path) -> Result<Refined, Failure> {
    Ok(refine(marked, &Brightness::of(&opened(marked, picture)?)))
}

/// Writes the rectified wall and says so.
fn rectified(
    marked: &Marked,
    photograph: RgbImage,
    out: &str,
    matches: &ArgMatches,
) -> Result<String, Failure> {
    let solution = solve(marked).map_err(failed)?;
    let region = rectify::Region::round_the_marks(&solution);
    let asked = positive(matches, "pixels-per-unit")?.filter(|&n| n > 0.0);
    let per_unit = asked.unwrap_or_else(|| rectify::usual_fineness(region));
    let wall = rectify::run(&solution, &photograph, region, per_unit).map_err(failed)?;
    drop(photograph);
    let mut bytes = Vec::new();
    rectify::write_png(&wall, &mut bytes).map_err(failed)?;
    save::one(Path::new(out), &bytes, false)?;
    let (w, h) = wall.picture.dimensions();
    Ok(format!("{out}: {w} by {h} pixels, {per_unit} to the unit\n"))
}

fn failed(stop: Stop) -> Failure {
    let Stop { doing, trouble, hint, .. } = stop;
    Failure::failed(format!("{doing}: {trouble}\nhint: {hint}"))
}

fn choice(matches: &ArgMatches) -> Result<Choice, Failure> {
    let all = |name: &str| {
        matches.get_many::<String>(name).unwrap_or_default().cloned().collect::<Vec<_>>()
    };
    Ok(Choice {
        rects: all("rects"),
        known: no_commas(all("known"))?,
        asked: all("ask"),
        pairs: matches.get_flag("pairs"),
        lines: matches.get_flag("lines"),
        known_sigma: 0.01 * positive(matches, "known-sigma")?.unwrap_or(0.1),
    })
}

/// Known lengths, refused where a comma stood in a figure: it parts one length
/// from the next.
fn no_commas(known: Vec<String>) -> Result<Vec<String>, Failure> {
    for pair in known.windows(2) {
        let [before, figure] = pair else { continue };
        if figure.parse::<f64>().is_ok() && before.contains('=') {
            return Err(Failure::wrong_use(format!(
                "--known {before},{figure}: a comma parts one length from the next; write {before}.{figure}"
            )));
        }
    }
    Ok(known)
}

fn settings(mut marked: Marked, matches: &ArgMatches) -> Result<Marked, Failure> {
    marked.click = positive(matches, "click")?.unwrap_or(1.0);
    marked.floor = positive(matches, "floor")?.unwrap_or(FLOOR);
    if marked.sigma() <= 0.0 {
        return Err(Failure::wrong_use("--click and --floor cannot both be 0"));
    }
    marked.distortion = !matches.get_flag("no-distortion");
    let said = matches.get_one::<String>("origin").and_then(|word| Origin::of(word));
    let print = matches.get_flag("print").then_some(Origin::Print);
    marked.origin = said.or(print).unwrap_or(Origin::Unknown);
    marked.focal = positive(matches, "focal")?
        .filter(|&pixels| pixels > 0.0)
        .map(|pixels| Focal { pixels, relative: 0.04 });
    Ok(marked)
}

/// A number that must not be negative.
fn positive(matches: &ArgMatches, name: &str) -> Result<Option<f64>, Failure> {
    match matches.get_one::<f64>(name) {
        Some(value) if !value.is_finite() || *value < 0.0 => {
            Err(Failure::wrong_use(format!("--{name} {value}: give a number of 0 or more")))
        }
        value => Ok(value.copied()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_comma_in_a_figure_is_no_second_length() {
        let list = |all: &[&str]| no_commas(all.iter().map(|one| (*one).to_owned()).collect());
        assert!(list(&["wall:width=7", "wall:height=3"]).is_ok());
        let failure = list(&["wall:width=7", "315"]).expect_err("a decimal comma");
        assert!(format!("{failure:?}").contains("write wall:width=7.315"), "{failure:?}");
    }
}
