//! Lengths bound to dimensions and to each other, marks in front of the wall,
//! the kind of picture: forms, and what is made of the answers.

use super::marks::{change, plain};
use crate::job::edit::{AlikeText, Edit, FrontText, MarkChange, ReadText};
use crate::job::form::{Form as Sum, is_name};
use crate::job::photo::Origin;
use crate::photo::from_job::Shot;
use crate::quantity::{Prototype, Reading as Spoken, parse};
use crate::tui::action::Command;
use crate::tui::effect::Effect;
use crate::tui::screen::photo::{self, asked, in_sight, nearest, reach, sight};
use crate::tui::state::{Form, Over, Purpose, State};
use crate::tui::update::edit;
use crate::tui::update::forms::{form as bare, switch_off, value};

/// The form a command needs, or why there is nothing to ask.
pub(in crate::tui::update) fn form(state: &State, command: Command) -> Result<Form, String> {
    match command {
        Command::Reads => reads(state, &pointed_at(state)?),
        Command::Alike => alike(state, &pointed_at(state)?),
        Command::InFront => in_front(state),
        _ => picture(state),
    }
}

/// The length pointed at, as the job writes it.
fn pointed_at(state: &State) -> Result<String, String> {
    let shot = photo::shot(state).ok_or("there are no lengths yet: mark, and give a known one")?;
    let lengths = &shot.measured.lengths;
    // Lengths may have gone since it was pointed at.
    let found = lengths.get(state.photos.row).or(lengths.last());
    found.map(|found| plain(&found.name)).ok_or_else(|| "point at a length first".to_owned())
}

/// A length between marks, without the way it is measured along.
fn ends(of: &str) -> Option<(&str, &str)> {
    of.contains("..").then(|| of.split_once(':').unwrap_or((of, "")))
}

fn reads(state: &State, of: &str) -> Result<Form, String> {
    let job = state.document.job();
    if photo::shot(state).is_some_and(|shot| is_known(shot, of)) {
        return Err(format!("{of} is given, not found: the notes have it from elsewhere"));
    }
    let names: Vec<&str> = job.dimensions.iter().map(|one| one.name.as_str()).collect();
    let known = match names.as_slice() {
        [] => "The job has no dimension yet: a name makes one.".to_owned(),
        all => format!("Dimensions: {}; a new name makes another.", all.join(", ")),
    };
    let bound = asked(state, of).and_then(|ask| ask.reads.as_ref()).map(Sum::to_string);
    let about =
        [known.as_str(), "A name, or a sum: door_right - door_left. Empty: not in the notes."];
    let dimension = ("is a reading of", bound.as_deref().unwrap_or(""));
    let purpose = Purpose::Reads(of.to_owned());
    let title = format!("{of} into the notes");
    Ok(match ends(of) {
        Some((_, way)) => {
            bare(title, purpose, &about, &[dimension, ("along (level, plumb, or empty)", way)])
        }
        None => bare(title, purpose, &about, &[dimension]),
    })
}

fn is_known(shot: &Shot, of: &str) -> bool {
    shot.measured.lengths.iter().any(|found| found.known && plain(&found.name) == of)
}

fn alike(state: &State, of: &str) -> Result<Form, String> {
    let photo = in_sight(state).ok_or("no photograph is in sight")?;
    let said = photo.alike.iter().find(|alike| alike.of == of);
    let ratio = said.and_then(|alike| alike.ratio).map_or(String::new(), |r| r.to_string());
    let percent = said.and_then(|alike| alike.percent).map_or(String::new(), |p| p.to_string());
    let about = [
        "Equal windows are 1 to 1; 12 courses against 4 are 12/4. Empty: like no other.",
        "Name the other as the list does: win2:width, m1..m2.",
    ];
    let fields = [
        ("is like", said.map_or("", |alike| alike.to.as_str())),
        ("times", ratio.as_str()),
        ("\u{b1} percent (1 sigma)", percent.as_str()),
    ];
    Ok(bare(format!("{of} like another"), Purpose::Alike(of.to_owned()), &about, &fields))
}

fn in_front(state: &State) -> Result<Form, String> {
    let (photo, sight) = in_sight(state).zip(sight(state)).ok_or("no picture is open")?;
    let (mark, _) = nearest(photo, sight.cross, reach(sight))
        .ok_or("no mark under the cross-hair; Tab goes to the next")?;
    let plane = photo.marks.iter().find(|one| one.id == mark).map(|one| &one.plane);
    let plane = plane.or_else(|| {
        let rect = mark.rsplit_once('_')?.0;
        photo.rects.iter().find(|one| one.id == rect).map(|one| &one.plane)
    });
    let plane = plane.and_then(|plane| plane.as_ref());
    let plane = plane.and_then(|id| photo.planes.iter().find(|one| one.id == *id));
    let sigma = plane.and_then(|plane| plane.sigma.as_ref());
    let deep = photo.marks.iter().find(|one| one.id == mark).and_then(|one| one.deep.as_ref());
    let about = [
        "How far it stands in front of the wall, with its unit; behind it with a minus.",
        "A corner takes its rectangle with it. Empty: on the wall.",
        "A single mark may lie as deep as one of a side wall, or midway: end.l..end.r",
    ];
    let fields = [
        ("in front", plane.map_or("", |plane| plane.ahead.text())),
        ("\u{b1} (1 sigma)", sigma.map_or("", |said| said.text())),
        ("as deep as", deep.map_or("", String::as_str)),
    ];
    Ok(bare(format!("{mark} in front of the wall"), Purpose::InFront(mark), &about, &fields))
}

fn picture(state: &State) -> Result<Form, String> {
    let photo = in_sight(state).ok_or("no photograph is in sight")?;
    let number = |value: Option<f64>| value.map_or(String::new(), |value| value.to_string());
    let frame = photo.frame.map_or(String::new(), |frame| frame.map(|n| n.to_string()).join(", "));
    let corner = photo.corner.as_ref();
    let corner = corner.map_or(String::new(), |corner| format!("{} {}", corner.of, corner.at));
    let (focal, click) = (number(photo.focal), number(photo.click));
    let about = [
        "camera: its own file, whole; print: a scan of a print; part: cut out; unknown.",
        "The frame of a part: left, top, width and height of the whole, in pixels.",
        "Another wall of this picture that it meets, and the mark on the corner: C2 wall_br.",
    ];
    let fields = [
        ("what kind", photo.origin().word()),
        ("focal length, px", focal.as_str()),
        ("a mark is good to, px", click.as_str()),
        ("lens may bend lines", if photo.distortion == Some(false) { "no" } else { "yes" }),
        ("frame", frame.as_str()),
        ("meets at right angles", corner.as_str()),
    ];
    Ok(bare(format!("What picture is {}?", photo.id), Purpose::Picture, &about, &fields))
}

/// The kind of picture a word means; nothing for an empty one.
pub(super) fn kind(word: &str) -> Result<Option<Origin>, String> {
    if word.is_empty() {
        return Ok(None);
    }
    Origin::of(word)
        .map(Some)
        .ok_or_else(|| format!("\"{word}\" is no kind of picture: camera, print, part or unknown"))
}

/// Takes one of the forms here.
pub(in crate::tui::update) fn take(state: &mut State, form: &Form) -> Result<Vec<Effect>, String> {
    let text = |at: usize| value(form, at);
    let change_to = match &form.purpose {
        Purpose::Reads(of) => MarkChange::Read(read(state, of, &text(0), &text(1))?),
        Purpose::Alike(of) => {
            let (to, ratio, percent) = (text(0), text(1), text(2));
            MarkChange::Alike(AlikeText { of: of.clone(), to, ratio, percent })
        }
        Purpose::InFront(mark) => {
            for said in [text(0), text(1)].iter().filter(|said| !said.is_empty()) {
                parse::<Prototype>(said.trim_start_matches('-'), &Spoken::default())
                    .map_err(|error| error.to_string())?;
            }
            let (ahead, sigma, deep) = (text(0), text(1), text(2));
            MarkChange::Front(FrontText { mark: mark.clone(), ahead, sigma, deep })
        }
        _ => {
            kind(&text(0))?;
            let bends = if text(3).starts_with('n') { "no" } else { "" };
            MarkChange::About(vec![
                ("origin", text(0)),
                ("focal", text(1)),
                ("click", text(2)),
                ("distortion", bends.to_owned()),
                ("frame", text(4)),
                ("corner", text(5)),
            ])
        }
    };
    let of = match &change_to {
        MarkChange::Read(read) => Some(read.to.clone()),
        _ => None,
    };
    let effects = change(state, change_to)?;
    if let Some(of) = of {
        photo::point_at(state, &of);
    }
    Ok(effects)
}

/// What a length is to be a reading of: dimensions of the job, or one new name
/// alone.
fn read(state: &State, of: &str, reads: &str, way: &str) -> Result<ReadText, String> {
    let to = match (ends(of), way) {
        (Some((ends, _)), "level" | "plumb") => format!("{ends}:{way}"),
        (Some((ends, _)), "") => ends.to_owned(),
        (Some(_), other) => return Err(format!("\"{other}\" is no way: level, plumb, or empty")),
        (None, _) => of.to_owned(),
    };
    let mut text = ReadText { of: of.to_owned(), to, ..ReadText::default() };
    if reads.is_empty() {
        return Ok(text);
    }
    let sum: Sum = reads.parse().map_err(|error: crate::job::form::FormError| error.to_string())?;
    let Sum::Linear(linear) = &sum else {
        return Err("a photograph reads a length: a dimension, or a sum".to_owned());
    };
    let known = |name: &str| state.document.job().dimensions.iter().any(|one| one.name == name);
    if let Some(stranger) = sum.names().find(|name| !known(name)) {
        if linear.single() != Some(stranger) || !is_name(stranger) {
            return Err(format!("there is no dimension \"{stranger}\"; a new one stands alone"));
        }
        text.dimensions.push(stranger.to_owned());
    }
    reads.clone_into(&mut text.reads);
    Ok(text)
}

/// What the notes have of it already, beside what the picture says.
pub(in crate::tui::update) fn preview(state: &State, of: &str, reads: &str) -> Vec<String> {
    let notation = state.document.job().about.full_notation();
    let mut lines = Vec::new();
    let found = photo::shot(state)
        .and_then(|shot| shot.measured.lengths.iter().find(|found| plain(&found.name) == of));
    if let Some(found) = found {
        let [low, value, high] = Shot::ends(found).map(|end| notation.show(&end));
        lines.push(format!("the picture: {value}, {low} to {high}"));
    }
    let Ok(text) = read(state, of, reads, "") else { return lines };
    if let Some(new) = text.dimensions.first() {
        lines.push(format!("{new} is a new dimension"));
    } else if let Ok(Sum::Linear(linear)) = reads.parse::<Sum>() {
        let notes = state.plan.as_ref().and_then(|plan| plan.survey.estimate(&linear).ok());
        lines.push(match notes {
            Some(known) => format!("the notes: {}", notation.show(&known.value)),
            None => "the notes have nothing of it yet".to_owned(),
        });
    }
    lines
}

/// Off asks for a reason first; on again needs none.
pub(super) fn switch(state: &mut State) -> Vec<Effect> {
    let bound = pointed_at(state).ok().and_then(|of| {
        let ask = asked(state, &of).filter(|ask| ask.reads.is_some())?;
        Some((in_sight(state)?.reading_id(ask), ask.off))
    });
    match bound {
        Some((id, true)) => {
            edit::make_or_say(state, &Edit::SwitchReading { id, off: false, reason: String::new() })
        }
        Some((id, false)) => {
            state.over.push(Over::Form(switch_off(id)));
            Vec::new()
        }
        None => {
            state.said = "it is in no notes yet: t makes it a reading of a dimension".to_owned();
            Vec::new()
        }
    }
}
