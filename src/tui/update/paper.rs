//! Forms about paper: files to write, the print check.

use std::path::PathBuf;

use super::edit;
use super::forms::form;
use crate::job::edit::Edit;
use crate::job::paper::Paper;
use crate::report::templates::files::Format;
use crate::tui::effect::Effect;
use crate::tui::state::{Form, Purpose, State};
use crate::writers::save::file_stem;

/// Where templates go, and in which form.
pub(super) fn files(state: &State) -> Form {
    let stem = file_stem(&state.document.job().about.name);
    let folder = state.place.path.as_ref().and_then(|path| path.parent());
    let file = folder.unwrap_or(std::path::Path::new("")).join(format!("{stem}-templates.pdf"));
    let formats: Vec<&str> = Format::ALL.iter().map(|format| format.key()).collect();
    let about = [
        "A laser is refused vinyl, styrene, ABS, polycarbonate, foam board, coated and unknown sheet.".to_owned(),
        "Never leave a laser: lid shut, air on, something to put out a fire at hand.".to_owned(),
        format!("A file for pdf and csv, a folder for the others ({})", formats.join(", ")),
        "The kerf of a laser stands under [paper] in the job: laser-kerf = \"7 thou\"".to_owned(),
    ];
    let about: Vec<&str> = about.iter().map(String::as_str).collect();
    let file = file.display().to_string();
    let safe = state.document.job().paper.laser_safe.join(", ");
    let fields = [
        ("to", file.as_str()),
        ("format", "pdf"),
        ("write over what is there", "no"),
        ("a laser may cut, its maker says", safe.as_str()),
    ];
    form("Write templates", Purpose::Files, &about, &fields)
}

/// Asks for the files to be written; materials that the person says are safe
/// in a laser go into the job.
pub(super) fn write(
    state: &mut State,
    [to, format, over, safe]: [&str; 4],
) -> Result<Vec<Effect>, String> {
    if to.is_empty() {
        return Err("write the name of a file or folder".to_owned());
    }
    let format = Format::find(format).map_err(|stop| stop.told())?;
    let (path, over) = (PathBuf::from(to), yes(over)?);
    if !over && format.is_one_file() && path.exists() {
        return Err("it is already there: write yes to write over it".to_owned());
    }
    let mut effects = Vec::new();
    if safe != state.document.job().paper.laser_safe.join(", ") {
        let (key, to) = ("laser-safe".to_owned(), safe.to_owned());
        effects = edit::make(state, &Edit::SetPaper { key, to })?;
    }
    let job = Box::new(state.document.job().clone());
    effects.push(Effect::Files { path, format, over, job, known: state.known.clone() });
    Ok(effects)
}

/// What the bars measure.
pub(super) fn bars(state: &State) -> Form {
    let said = &state.document.job().paper;
    let text = |said: Option<String>| said.unwrap_or_default();
    let across = text(said.across.as_ref().map(|said| said.text().to_owned()));
    let up = text(said.up.as_ref().map(|said| said.text().to_owned()));
    let twice = if said.twice { "yes" } else { "no" };
    let paper = text(said.size().ok().flatten().map(|paper| paper.key.to_owned()));
    let about = [
        "Print an upright page, measure both bars with a steel rule; empty forgets it.",
        "Bars more than half a percent apart are measured twice.",
    ];
    let fields = [
        ("the 4.000 in bar across measures", across.as_str()),
        ("the 100.0 mm bar up measures", up.as_str()),
        ("both measured twice", twice),
        ("paper", paper.as_str()),
    ];
    form("Print check", Purpose::Bars, &about, &fields)
}

/// Takes the print check into the job, and the paper where it is another.
pub(super) fn check(
    state: &mut State,
    [across, up, twice, paper]: [String; 4],
) -> Result<Vec<Effect>, String> {
    let now = state.document.job().paper.size().ok().flatten().map(|paper| paper.key);
    let wanted = match paper.as_str() {
        "" => None,
        name => Some(Paper::find(name).map_err(|stop| stop.told())?.key),
    };
    let check = Edit::CheckPrint { across, up, twice: yes(&twice)? };
    let mut effects = edit::make(state, &check)?;
    if wanted != now {
        let to = wanted.unwrap_or_default().to_owned();
        effects = edit::make(state, &Edit::SetPaper { key: "size".to_owned(), to })?;
    }
    Ok(effects)
}

pub(super) fn yes(text: &str) -> Result<bool, String> {
    match text.to_lowercase().as_str() {
        "yes" | "y" => Ok(true),
        "no" | "n" | "" => Ok(false),
        other => Err(format!("\"{other}\": write yes or no")),
    }
}
