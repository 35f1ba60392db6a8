//! Marks set, moved and taken off: each an edit of the job that can be undone.

use super::look;
use crate::job::edit::{Edit, End, MarkChange, MarkEdit, Way};
use crate::job::model::Units;
use crate::photo::blame::Blamed;
use crate::tui::action::Command;
use crate::tui::effect::Effect;
use crate::tui::picture::{AtEdges, Task};
use crate::tui::screen::photo::{
    self, in_order, in_sight, marks, nearest, opened, reach, sight, worst,
};
use crate::tui::state::{Form, Purpose, State};
use crate::tui::update::{edit, forms};

/// What marks have to do with; nothing for other commands.
pub(super) fn obey(state: &mut State, command: Command) -> Option<Vec<Effect>> {
    match command {
        Command::Act => return Some(main_thing(state)),
        Command::PutMark => return Some(put(state)),
        Command::Corner => return Some(corner(state)),
        Command::LevelLine => return Some(line(state, Way::Level)),
        Command::PlumbLine => return Some(line(state, Way::Plumb)),
        Command::Between => return Some(line(state, Way::Straight)),
        Command::TakeOff => return Some(take_off(state)),
        Command::SetRight => return Some(set_right(state)),
        Command::Refine => return Some(refine(state)),
        Command::NextLook => go_to_worst(state),
        Command::NextMark => go_round(state, 1),
        Command::PrevMark => go_round(state, -1),
        _ => return None,
    }
    Some(Vec::new())
}

/// Makes a change of the photograph in sight; trouble is said.
fn change_or_say(state: &mut State, change_to: MarkChange) -> Vec<Effect> {
    change(state, change_to).unwrap_or_else(|trouble| {
        state.said = trouble;
        Vec::new()
    })
}

/// Makes a change of the photograph in sight.
pub(super) fn change(state: &mut State, change: MarkChange) -> Result<Vec<Effect>, String> {
    let photo = in_sight(state).map(|photo| photo.id.clone()).ok_or("no photograph is in sight")?;
    let facts = opened(state).map(|opened| opened.facts);
    let pixels = facts.map(|facts| facts.size);
    let focal = facts.and_then(|facts| facts.focal).map(|focal| focal.pixels);
    let origin = facts.map(|facts| facts.origin);
    edit::make(state, &Edit::Mark(MarkEdit { photo, pixels, focal, origin, change }))
}

/// Enter: puts down the mark held, takes hold of the one under the cross-hair,
/// or puts a new one.
pub(super) fn main_thing(state: &mut State) -> Vec<Effect> {
    if state.photos.held.is_some() {
        return put_down(state);
    }
    if let Some((way, _, _)) = state.photos.line {
        return line(state, way);
    }
    if !state.photos.corners.is_empty() {
        return corner(state);
    }
    match under(state) {
        Some((name, at)) => {
            hold(state, name, at);
            Vec::new()
        }
        None => put(state),
    }
}

/// The mark under the cross-hair.
fn under(state: &State) -> Option<(String, [f64; 2])> {
    let sight = sight(state)?;
    nearest(in_sight(state)?, sight.cross, reach(sight))
}

/// Takes hold of a mark; the cross-hair goes to it.
pub(super) fn hold(state: &mut State, name: String, at: [f64; 2]) {
    look(state, |sight| sight.cross = at);
    state.said = format!("{name}: move it; Enter puts it down, Esc leaves it");
    state.photos.held = Some(name);
    state.photos.tried = None;
    state.photos.trying.1.clear();
}

/// Puts the mark held where the cross-hair is.
pub(super) fn put_down(state: &mut State) -> Vec<Effect> {
    let (Some(name), Some(sight)) = (state.photos.held.take(), sight(state)) else {
        return Vec::new();
    };
    state.photos.tried = None;
    change_or_say(state, MarkChange::Move(vec![(name, sight.cross)]))
}

/// A name that no mark, rectangle or pending end has yet.
fn free(state: &State, letter: char, beside: Option<&str>) -> String {
    let taken = |name: &String| {
        in_sight(state).is_some_and(|photo| {
            photo.rects.iter().any(|rect| rect.id == *name)
                || photo.marks.iter().any(|mark| mark.id == *name)
        }) || Some(name.as_str()) == beside
    };
    let mut names = (1_u32..).map(|n| format!("{letter}{n}"));
    names.find(|name| !taken(name)).unwrap_or_default()
}

fn put(state: &mut State) -> Vec<Effect> {
    let Some(sight) = sight(state) else { return Vec::new() };
    let id = free(state, 'm', None);
    change_or_say(state, MarkChange::Put { id, at: sight.cross })
}

/// One more corner of a rectangle; the fourth makes it.
fn corner(state: &mut State) -> Vec<Effect> {
    let Some(sight) = sight(state) else { return Vec::new() };
    state.photos.corners.push(sight.cross);
    let Ok(four) = <[[f64; 2]; 4]>::try_from(state.photos.corners.as_slice()) else {
        state.said = format!("corner {} of 4, in any order", state.photos.corners.len());
        return Vec::new();
    };
    state.photos.corners.clear();
    let id = free(state, 'r', None);
    change_or_say(state, MarkChange::Rect { id, corners: in_order(four) })
}

/// An end of a line: a mark that is there, or a new one. The second makes it.
fn line(state: &mut State, way: Way) -> Vec<Effect> {
    let Some(sight) = sight(state) else { return Vec::new() };
    let first = state.photos.line.take().filter(|(begun, _, _)| *begun == way);
    let beside = first.as_ref().map(|(_, end, _)| end.id.clone());
    let (end, at) = match under(state) {
        Some((id, at)) => (End { id, at: None }, at),
        None => {
            let id = free(state, 'm', beside.as_deref());
            (End { id, at: Some(sight.cross) }, sight.cross)
        }
    };
    match first {
        Some((_, start, _)) => {
            let of = format!("{}..{}", start.id, end.id);
            let effects = change_or_say(state, MarkChange::Line { way, ends: [start, end] });
            if way == Way::Straight {
                photo::point_at(state, &of);
                state.said.push_str("; t takes it into the notes");
            }
            effects
        }
        None => {
            state.said = format!("from {}: go to the other end and press again", end.id);
            state.photos.line = Some((way, end, at));
            Vec::new()
        }
    }
}

fn take_off(state: &mut State) -> Vec<Effect> {
    match under(state) {
        Some((name, _)) => {
            state.photos.held = None;
            change_or_say(state, MarkChange::Remove(name))
        }
        None => {
            state.said = "no mark under the cross-hair; Tab goes to the next".to_owned();
            Vec::new()
        }
    }
}

/// Corners out of order, set in order by one edit.
fn set_right(state: &mut State) -> Vec<Effect> {
    let moves = in_sight(state).map(photo::set_right).unwrap_or_default();
    if moves.is_empty() {
        state.said = "every rectangle has its corners in order".to_owned();
        return Vec::new();
    }
    change_or_say(state, MarkChange::Move(moves))
}

/// To the likeliest culprit: a length is pointed at, a mark taken hold of; else
/// the mark that fits worst.
fn go_to_worst(state: &mut State) {
    if let Some(suspect) = photo::suspect(state).cloned() {
        let place = photo::place_of(state, &suspect.blamed);
        match (&suspect.blamed, place) {
            (Blamed::Mark(_), Some((name, at))) => hold(state, name, at),
            (_, Some((_, at))) => look(state, |sight| sight.cross = at),
            (_, None) => {}
        }
        photo::point_at(state, &suspect.name);
        state.said = format!("{}: {}", suspect.message, suspect.hint);
        return;
    }
    let found = worst(state).and_then(|(name, _)| {
        let all = marks(in_sight(state)?);
        all.into_iter().find(|(known, _)| *known == name)
    });
    match found {
        Some((name, at)) => hold(state, name, at),
        None => state.said = "no mark stands out; all agree within their uncertainty".to_owned(),
    }
}

/// The cross-hair to the next mark, or the one before.
fn go_round(state: &mut State, step: isize) {
    let Some(all) = in_sight(state).map(marks).filter(|all| !all.is_empty()) else {
        state.said = "there is no mark yet: c at each corner of a rectangle".to_owned();
        return;
    };
    let here = under(state).and_then(|(name, _)| all.iter().position(|(known, _)| *known == name));
    let count = all.len() as isize;
    let next = match here {
        Some(at) => (at as isize + step).rem_euclid(count),
        None if step > 0 => 0,
        None => count - 1,
    };
    let (name, at) = all[next as usize].clone();
    state.photos.held = None;
    look(state, |sight| sight.cross = at);
    photo::point_at_length_of(state, &name);
    state.said = name;
}

fn refine(state: &mut State) -> Vec<Effect> {
    let (Some(photo), Some(opened)) = (in_sight(state), opened(state)) else { return Vec::new() };
    let task = Task::Refine { photo: photo.clone().into(), opened: opened.clone() };
    state.said = "looking for the edges".to_owned();
    vec![Effect::Picture(task)]
}

/// Marks found at the edges become one edit.
pub(super) fn refined(
    state: &mut State,
    id: &str,
    refined: Result<AtEdges, String>,
) -> Vec<Effect> {
    let here = in_sight(state).is_some_and(|photo| photo.id == id);
    match refined {
        Err(trouble) => state.said = trouble,
        Ok(AtEdges { moved, stayed }) if moved.is_empty() => {
            state.said = format!("no edge is clearer than the hand: {stayed} marks stay");
        }
        Ok(AtEdges { moved, stayed }) if here => {
            let count = moved.len();
            let effects = change_or_say(state, MarkChange::Move(moved));
            state.said =
                format!("{count} marks moved to the edges, {stayed} stay; u takes it back");
            return effects;
        }
        Ok(_) => {}
    }
    Vec::new()
}

/// The form for a known length: that of the row pointed at.
pub(in crate::tui::update) fn known_form(state: &State) -> Option<Form> {
    let photo = in_sight(state)?;
    let lengths = photo::shot(state).map(|shot| &shot.measured.lengths);
    // Without an adjustment yet, the sides of the first rectangle.
    let of = match lengths.and_then(|all| all.get(state.photos.row)) {
        Some(found) => plain(&found.name),
        None => {
            let first = photo.rects.first()?;
            let side = if photo.known.is_empty() { "width" } else { "height" };
            format!("{}:{side}", first.id)
        }
    };
    let known = photo.known.iter().find(|known| known.of == of);
    let value = known.map_or("", |known| known.value.text());
    let usual = match state.document.job().about.units {
        Units::FeetInches => "1/2 in",
        Units::Metric => "1 cm",
    };
    let sigma = known.map_or(usual, |known| known.sigma.text());
    let about = ["With its unit: 3 ft, 6'-8\", 0.91 m. Empty: not known any more."];
    let fields = [("length", value), ("\u{b1} (1 sigma)", sigma)];
    Some(forms::form(format!("Known length: {of}"), Purpose::Know(of), &about, &fields))
}

/// The name of a length as the job writes it: straight lines say no way.
pub(super) fn plain(name: &str) -> String {
    name.strip_suffix(":straight").unwrap_or(name).to_owned()
}

/// Takes the form for a known length.
pub(in crate::tui::update) fn know(
    state: &mut State,
    of: &str,
    value: String,
    sigma: String,
) -> Result<Vec<Effect>, String> {
    change(state, MarkChange::Know { of: of.to_owned(), value, sigma })
}

/// The form for a new photograph.
pub(in crate::tui::update) fn add_form() -> Form {
    let about = [
        "JPEG or PNG, beside the job: its path from there. One wall, one photograph.",
        "What kind: camera (its own file, whole), print (a scan), part (cut out), unknown;",
        "empty goes by what the file says of itself.",
    ];
    let fields = [("file", ""), ("short name", ""), ("what kind", "")];
    forms::form("A new photograph", Purpose::AddPhoto, &about, &fields)
}

/// Takes the form for a new photograph.
pub(in crate::tui::update) fn add(
    state: &mut State,
    file: &str,
    name: &str,
    origin: &str,
) -> Result<Vec<Effect>, String> {
    super::bind::kind(origin)?;
    if file.is_empty() {
        return Err("write the name of a file".to_owned());
    }
    let taken = |id: &str| state.document.job().photos.iter().any(|photo| photo.id == id);
    let id = if name.is_empty() {
        (1_u32..).map(|n| format!("P{n}")).find(|id| !taken(id)).unwrap_or_default()
    } else {
        name.to_owned()
    };
    let (file, origin) = (file.to_owned(), origin.to_owned());
    let add = Edit::AddPhoto { id: id.clone(), file, origin };
    let effects = edit::make(state, &add)?;
    state.photos.chosen = Some(id);
    state.photos.open = true;
    Ok(effects)
}
