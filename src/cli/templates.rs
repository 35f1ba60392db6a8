//! `scantling templates JOB`: pages to print, files for a laser, the print
//! check.

use std::path::Path;

use clap::{Arg, ArgAction, ArgMatches, Command};

use super::open::{change, no_file, open};
use super::output::Failure;
use super::views;
use crate::catalog::Catalog;
use crate::drawing::{Paper, TemplateKind};
use crate::finding::Stop;
use crate::job::document::Document;
use crate::job::edit::Edit;
use crate::job::open::Read;
use crate::job::paper::kerf_allowed;
use crate::job::said::Said;
use crate::plan::plan;
use crate::quantity::{Model, ModelLength};
use crate::report::templates::files::{Format, cautioned, files};
use crate::report::templates::{Wish, view_of};
use crate::report::{Seen, ViewId};
use crate::writers::save;

/// The options beside those of every view.
pub(super) fn with_options(command: Command) -> Command {
    let option = |name: &'static str, what: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name(what).help(help)
    };
    command
        .arg(option("write", "PATH", "Write the files: a folder, or a name ending in .pdf or .csv"))
        .arg(option("format", "FORMAT", "pdf, svg, dxf, dxf-2000, png or csv; pdf when absent"))
        .arg(option("paper", "SIZE", "letter, a4, or a larger size; the job's when absent"))
        .arg(option("sheets", "SHEETS", "Only these sheets, such as core,roof"))
        .arg(option("kerf", "LENGTH", "What the laser's beam eats, such as 7thou"))
        .arg(
            option("laser-safe", "MATERIAL", "A material whose maker allows a laser, though it is refused here")
                .action(ArgAction::Append),
        )
        .arg(option("card", "LENGTH", "Thickness of the card of the mock-up"))
        .arg(
            option("bars", "LENGTH", "What the two bars of a printed page measure, such as 3.98in 99.6mm; kept in the job")
                .num_args(2)
                .value_names(["ACROSS", "UP"]),
        )
        .arg(
            Arg::new("twice")
                .long("twice")
                .action(ArgAction::SetTrue)
                .requires("bars")
                .help("Both bars were measured twice"),
        )
        .arg(
            Arg::new("over")
                .long("over")
                .action(ArgAction::SetTrue)
                .requires("write")
                .help("Write over files that are there"),
        )
}

/// Prints the pages there are, or writes them.
pub(super) fn run(matches: &ArgMatches, catalog: &Catalog) -> Result<String, Failure> {
    let named = matches.get_one::<String>("job").map(String::as_str);
    let (opened, said) = match matches.get_many::<String>("bars") {
        Some(bars) => {
            let bars: Vec<&str> = bars.map(String::as_str).collect();
            change(named, catalog, |opened| check_print(opened, &bars, matches))?
        }
        None => (open(named, catalog)?, String::new()),
    };
    let (job, catalog) = (opened.document.job(), &opened.catalog);
    let plan = plan(job, catalog);
    let seen = Seen { job, catalog, plan: &plan };
    let wish = wish(seen, matches)?;
    if let Some(path) = matches.get_one::<String>("write") {
        return Ok(said + &write(seen, &wish, Path::new(path), matches)?);
    }
    let view = ViewId::Templates.kind().with_findings(view_of(seen, &wish), seen);
    if said.is_empty() || matches.get_flag("json") {
        return views::printed(&view, matches);
    }
    Ok(said)
}

/// Keeps what the bars measured in the job.
fn check_print(opened: &mut Read, bars: &[&str], matches: &ArgMatches) -> Result<String, Failure> {
    let [across, up] = bars else { return Err(Failure::wrong_use("measure both bars")) };
    let edit = Edit::CheckPrint {
        across: (*across).to_owned(),
        up: (*up).to_owned(),
        twice: matches.get_flag("twice"),
    };
    let before = opened.document.text().to_owned();
    opened.document.apply(&edit, &opened.catalog).map_err(Failure::failed)?;
    if opened.path.is_none() && matches.contains_id("write") {
        let said = "a built-in job keeps nothing: the print check holds for these files\n";
        return Ok(said.to_owned());
    }
    let corrected = |text: &str| {
        let job = Document::read("", text, &opened.catalog).ok()?;
        job.job().paper.check().ok().filter(|check| !check.is_plain())
    };
    let check = corrected(&before).zip(corrected(opened.document.text()));
    let path = opened.path.as_ref().ok_or_else(no_file)?.display();
    let kept =
        format!("kept in {path}: the 4.000 in bar measures {across}, the 100.0 mm bar {up}\n");
    Ok(match check {
        // The page measured was printed with the check kept before.
        Some((_, now)) => format!(
            "{kept}pages of this job were corrected already: in all the printer makes {:.2} percent across, {:.2} up\n",
            now.across * 100.0,
            now.up * 100.0
        ),
        None => kept,
    })
}

fn wish(seen: Seen<'_>, matches: &ArgMatches) -> Result<Wish, Stop> {
    let mut wish = Wish::of(seen)?;
    let said = |name: &str| matches.get_one::<String>(name).map(String::as_str);
    if let Some(paper) = said("paper") {
        wish.paper = Paper::find(paper)?;
    }
    if let Some(kerf) = said("kerf") {
        wish.kerf = kerf_allowed(length("kerf", kerf)?)?;
    }
    if let Some(safe) = matches.get_many::<String>("laser-safe") {
        wish.laser_safe.extend(safe.cloned());
    }
    if let Some(card) = said("card") {
        wish.card = length("card", card)?;
    }
    if let Some(sheets) = said("sheets") {
        wish.kinds = sheets.split(',').map(TemplateKind::find).collect::<Result<_, Stop>>()?;
    }
    Ok(wish)
}

fn length(what: &str, text: &str) -> Result<ModelLength, Stop> {
    text.parse::<Said<Model>>().map(|said| said.length()).map_err(|trouble| {
        Stop::new(format!("reading the {what}"), format!("\"{text}\": {trouble}"), "")
    })
}

fn write(
    seen: Seen<'_>,
    wish: &Wish,
    path: &Path,
    matches: &ArgMatches,
) -> Result<String, Failure> {
    let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or_default();
    let named = matches.get_one::<String>("format").map(String::as_str);
    let otherwise = if ending == "csv" { "csv" } else { "pdf" };
    let format = Format::find(named.unwrap_or(otherwise))?;
    let made = files(seen, wish, format)?;
    if made.is_empty() {
        let what = format.key();
        return Ok(format!(
            "no file was written: none of the sheets asked for makes a {what} file\n"
        ));
    }
    let over = matches.get_flag("over");
    if format.is_one_file() && ending == format.key() {
        let bytes = made.first().map(|file| file.bytes.as_slice()).unwrap_or_default();
        save::one(path, bytes, over)?;
        return Ok(format!("wrote {}\n{}", path.display(), told(seen, wish, format)));
    }
    let paths = save::into_folder(path, &made, over)?;
    let wrote: String = paths.iter().map(|path| format!("wrote {}\n", path.display())).collect();
    Ok(wrote + &told(seen, wish, format))
}

/// What to bear in mind with what was written.
fn told(seen: Seen<'_>, wish: &Wish, format: Format) -> String {
    cautioned(seen, wish, format).iter().map(|says| format!("caution: {says}\n")).collect()
}
