//! What the photograph's screen knows: where one looks, where the cross-hair
//! stands, which mark is held, what is set but not yet part of anything.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::finding::Subject;
use crate::job::edit::{End, Way};
use crate::job::photo::{Photo, PhotoAsk};
use crate::photo::blame::{Blamed, Suspect};
use crate::photo::from_job::{self, Shot};
use crate::photo::window::Window;
use crate::photo::wiring::out_of_order;
use crate::report::ViewId;
use crate::tui::picture::{Drawn, Opened, Overlay, Print, Tone};
use crate::tui::state::State;

/// Steps of the cross-hair in pixels of the picture.
pub const STEPS: [f64; 5] = [20.0, 5.0, 1.0, 0.5, 0.25];

/// The largest magnification: pixels of the picture to a cell.
pub const NEAREST: f64 = 0.125;

/// Where one looks on a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sight {
    /// The place in the middle of the pane.
    pub centre: [f64; 2],
    /// Pixels of the picture to the width of a cell.
    pub zoom: f64,
    /// The cross-hair.
    pub cross: [f64; 2],
}

/// The screen.
#[derive(Clone, Debug, Default)]
pub struct Photos {
    /// Whether keys work on the picture; else on the table.
    pub open: bool,
    /// The photograph looked at, by id.
    pub chosen: Option<String>,
    /// Where one looks on each.
    pub sights: BTreeMap<String, Sight>,
    /// The step of the cross-hair, in [`STEPS`].
    pub step: usize,
    /// Corners of the rectangle being marked.
    pub corners: Vec<[f64; 2]>,
    /// The line being marked: how it lies, and its first end.
    pub line: Option<(Way, End, [f64; 2])>,
    /// The mark being moved.
    pub held: Option<String>,
    /// The length pointed at.
    pub row: usize,
    /// Whether the wall takes the place of the list.
    pub wall: bool,
    /// How pictures come to the terminal.
    pub print: Print,
    /// The picture in memory, or why there is none, by its file.
    pub opened: Option<(String, Result<Arc<Opened>, String>)>,
    /// The picture being opened.
    pub opening: Option<String>,
    /// The number of the last thing asked for.
    pub number: u64,
    /// What was asked for last, so that it is not asked for twice.
    pub asked: String,
    /// The panes drawn last.
    pub drawn: Arc<Vec<Drawn>>,
    /// The number of the mark tried last, and what it was tried with.
    pub trying: (u64, String),
    /// The photograph as measured with the mark held where it is now.
    pub tried: Option<Result<Arc<Shot>, String>>,
}

/// Whether the view of photographs is shown.
#[must_use]
pub fn is_here(state: &State) -> bool {
    state.screen() == Some(ViewId::Photo)
}

/// What the picture that is open still wants.
#[must_use]
pub fn next_step(state: &State) -> Option<&'static str> {
    let photo = in_sight(state)?;
    Some(match (photo.rects.len(), photo.known.len()) {
        (0, _) if !photo.has_marks() => {
            "c at each corner of a window or door that you can see whole"
        }
        (_, 0) => "k on a length that you know: a door, a course, a taped width",
        _ if photo.asks.iter().any(|ask| ask.reads.is_some()) => {
            "i switches the length pointed at off or on in the notes; Esc, then notes"
        }
        (_, 1) => "k on a second known length: one level and one plumb are worth far more",
        _ => "t on a length that you trust: it becomes a reading of a dimension in the notes",
    })
}

/// The photograph looked at: on the picture the one chosen; else that of the
/// row marked, the one chosen, or the first.
#[must_use]
pub fn in_sight(state: &State) -> Option<&Photo> {
    let photos = &state.document.job().photos;
    let find = |id: &String| photos.iter().find(|photo| photo.id == *id);
    let chosen = state.photos.chosen.as_ref().and_then(find);
    let marked = match state.subject() {
        Some(Subject::Photo(id)) if is_here(state) => find(id),
        _ => None,
    };
    if state.photos.open { chosen.or(marked) } else { marked.or(chosen) }.or_else(|| photos.first())
}

/// The picture of the photograph looked at, once it is in memory.
#[must_use]
pub fn opened(state: &State) -> Option<&Arc<Opened>> {
    let file = &in_sight(state)?.file;
    match &state.photos.opened {
        Some((known, Ok(opened))) if known == file => Some(opened),
        _ => None,
    }
}

/// What the lengths of the photograph in sight are called, in their order.
fn names(state: &State) -> Vec<(String, Vec<String>)> {
    let marked = in_sight(state).and_then(|photo| from_job::marked(photo).ok());
    let Some(marked) = marked else { return Vec::new() };
    let ends = |span| marked.rests_on(span).iter().map(|&m| marked.marks[m].id.clone()).collect();
    marked.spans().into_iter().map(|span| (marked.name(span), ends(span))).collect()
}

/// Points at the length of that name.
pub fn point_at(state: &mut State, of: &str) {
    if let Some(row) = names(state).iter().position(|(name, _)| name == of) {
        state.photos.row = row;
    }
}

/// Points at a length that rests on a mark, unless the one pointed at does.
pub fn point_at_length_of(state: &mut State, mark: &str) {
    let names = names(state);
    let rests = |row: &(String, Vec<String>)| row.1.iter().any(|end| end == mark);
    if !names.get(state.photos.row).is_some_and(rests)
        && let Some(row) = names.iter().position(rests)
    {
        state.photos.row = row;
    }
}

/// The length of the photograph in sight that is asked for under that name.
#[must_use]
pub fn asked<'s>(state: &'s State, of: &str) -> Option<&'s PhotoAsk> {
    in_sight(state)?.asks.iter().find(|ask| ask.of == of)
}

/// Where one looks on it.
#[must_use]
pub fn sight(state: &State) -> Option<Sight> {
    state.photos.sights.get(&in_sight(state)?.id).copied()
}

/// The part of the picture that a pane of so many cells shows.
#[must_use]
pub fn part(state: &State, sight: Sight, cells: [u16; 2]) -> Window {
    let step = [sight.zoom, sight.zoom * state.photos.print.shape()];
    Window { centre: sight.centre, step, size: cells.map(u32::from) }
}

/// The photograph with the mark held where the cross-hair is.
#[must_use]
pub fn as_held(state: &State) -> Option<Photo> {
    let mut photo = in_sight(state)?.clone();
    if let (Some(held), Some(sight)) = (&state.photos.held, sight(state)) {
        place(&mut photo, held, sight.cross);
    }
    Some(photo)
}

/// The photographs of the same file, one of them as it is given.
#[must_use]
pub fn with_its_walls(state: &State, photo: &Photo) -> Vec<Photo> {
    let all = state.document.job().photos.iter().filter(|one| one.file == photo.file);
    all.map(|one| if one.id == photo.id { photo.clone() } else { one.clone() }).collect()
}

fn place(photo: &mut Photo, name: &str, at: [f64; 2]) {
    if let Some(mark) = photo.marks.iter_mut().find(|mark| mark.id == name) {
        mark.at = at;
        return;
    }
    for rect in &mut photo.rects {
        for (corner, old) in ["tl", "tr", "br", "bl"].iter().zip(&mut rect.corners) {
            if format!("{}_{corner}", rect.id) == name {
                *old = at;
            }
        }
    }
}

/// Every mark with its name: corners of rectangles first.
#[must_use]
pub fn marks(photo: &Photo) -> Vec<(String, [f64; 2])> {
    let corners = photo.rects.iter().flat_map(|rect| {
        let names = ["tl", "tr", "br", "bl"].iter().zip(rect.corners);
        names.map(|(corner, at)| (format!("{}_{corner}", rect.id), at))
    });
    corners.chain(photo.marks.iter().map(|mark| (mark.id.clone(), mark.at))).collect()
}

/// The mark nearest to a place, no farther than `most` pixels.
#[must_use]
pub fn nearest(photo: &Photo, place: [f64; 2], most: f64) -> Option<(String, [f64; 2])> {
    let far = |at: &[f64; 2]| (at[0] - place[0]).hypot(at[1] - place[1]);
    marks(photo)
        .into_iter()
        .filter(|(_, at)| far(at) <= most)
        .min_by(|(_, a), (_, b)| far(a).total_cmp(&far(b)))
}

/// How near the cross-hair must be to a mark to mean it: a cell and a half, at
/// least three pixels.
#[must_use]
pub fn reach(sight: Sight) -> f64 {
    (1.5 * sight.zoom).max(3.0)
}

/// The photograph as measured: with the mark held where it is, or as planned.
#[must_use]
pub fn shot(state: &State) -> Option<&Shot> {
    if state.photos.held.is_some()
        && let Some(tried) = &state.photos.tried
    {
        return tried.as_deref().ok();
    }
    let id = &in_sight(state)?.id;
    state.plan.as_ref()?.photos.value.iter().find(|shot| shot.marked.id == *id)
}

/// The likeliest culprit, where something is wrong.
#[must_use]
pub fn suspect(state: &State) -> Option<&Suspect> {
    shot(state)?.measured.verdict.suspects.first()
}

/// The mark to look at for a suspect: itself, a corner, an end of the length.
#[must_use]
pub fn place_of(state: &State, blamed: &Blamed) -> Option<(String, [f64; 2])> {
    let marked = &shot(state)?.marked;
    let mark = match blamed {
        Blamed::Mark(mark) => *mark,
        Blamed::Known(known) => marked.ends(marked.known.get(*known)?.span)[0],
        Blamed::Alike(alike) => marked.ends(marked.alike.get(*alike)?.a)[0],
        Blamed::InFront(marks) => *marks.first()?,
        Blamed::Rect(rect) => marked.rects.get(*rect)?.corners[0],
        Blamed::Axis | Blamed::Stretch | Blamed::Focal => return None,
    };
    let mark = marked.marks.get(mark)?;
    Some((mark.id.clone(), mark.at))
}

/// Rectangles of the photograph in sight whose corners are out of order, set
/// right: each corner that moves, with its place.
#[must_use]
pub fn set_right(photo: &Photo) -> Vec<(String, [f64; 2])> {
    let Ok(marked) = from_job::marked(photo) else { return Vec::new() };
    let rects = out_of_order(&marked).into_iter().map(|rect| &photo.rects[rect]);
    rects
        .flat_map(|rect| {
            let names = ["tl", "tr", "br", "bl"].map(|corner| format!("{}_{corner}", rect.id));
            names.into_iter().zip(in_order(rect.corners))
        })
        .collect()
}

/// The mark that fits worst, with how badly, where the gate is not passed or
/// it stands out.
#[must_use]
pub fn worst(state: &State) -> Option<(String, f64)> {
    let shot = shot(state)?;
    let worst = shot.measured.worst?;
    let says = !shot.measured.passes || worst.score.abs() > OUT;
    says.then(|| (shot.marked.marks[worst.mark].id.clone(), worst.score.abs()))
}

/// A mark that stands out: one in a thousand does by chance.
const OUT: f64 = 3.29;

/// What lies over the picture.
#[must_use]
pub fn overlay(state: &State) -> Overlay {
    let Some(photo) = as_held(state) else { return Overlay::default() };
    let blamed = suspect(state).and_then(|suspect| place_of(state, &suspect.blamed));
    let worst = blamed.map(|(name, _)| name).or_else(|| worst(state).map(|(name, _)| name));
    let held = state.photos.held.as_ref();
    let all = marks(&photo);
    let tone = |name: &String| match () {
        () if Some(name) == held => Tone::Held,
        () if Some(name) == worst.as_ref() => Tone::Worst,
        () => Tone::Plain,
    };
    let mut drawn: Vec<_> = all.iter().map(|(name, at)| (*at, tone(name))).collect();
    drawn.extend(state.photos.corners.iter().map(|at| (*at, Tone::Pending)));
    drawn.extend(state.photos.line.iter().map(|(_, _, at)| (*at, Tone::Pending)));
    let mut lines: Vec<[[f64; 2]; 2]> =
        photo.rects.iter().flat_map(|rect| round(&rect.corners)).collect();
    let find = |name: &String| all.iter().find(|(known, _)| known == name).map(|(_, at)| *at);
    for group in photo.level.iter().chain(&photo.plumb) {
        let places: Vec<[f64; 2]> = group.iter().filter_map(find).collect();
        lines.extend(places.windows(2).map(|pair| [pair[0], pair[1]]));
    }
    lines.extend(state.photos.corners.windows(2).map(|pair| [pair[0], pair[1]]));
    let cross = sight(state).filter(|_| state.photos.open).map(|sight| sight.cross);
    Overlay { lines, marks: drawn, cross }
}

fn round(corners: &[[f64; 2]; 4]) -> [[[f64; 2]; 2]; 4] {
    std::array::from_fn(|i| [corners[i], corners[(i + 1) % 4]])
}

/// Four corners in order: top left, top right, bottom right, bottom left.
#[must_use]
pub fn in_order(mut corners: [[f64; 2]; 4]) -> [[f64; 2]; 4] {
    let middle = [0, 1].map(|i| corners.iter().map(|at| at[i]).sum::<f64>() / 4.0);
    // Clockwise on the screen, from the left round by the top.
    let turn = |at: &[f64; 2]| (at[1] - middle[1]).atan2(at[0] - middle[0]);
    corners.sort_by(|a, b| turn(a).total_cmp(&turn(b)));
    let first = (0..4).min_by(|a, b| {
        let sum = |at: [f64; 2]| at[0] + at[1];
        sum(corners[*a]).total_cmp(&sum(corners[*b]))
    });
    corners.rotate_left(first.unwrap_or(0));
    corners
}

/// A hash of the marks on a photograph and their picture's place.
#[must_use]
pub fn hash(photo: &Photo) -> u64 {
    from_job::input(std::slice::from_ref(photo))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_marked_in_any_order_are_set_in_order() {
        let [tl, tr, br, bl] = [[10.0, 12.0], [50.0, 8.0], [52.0, 70.0], [9.0, 66.0]];
        for corners in [[tl, tr, br, bl], [br, tl, bl, tr], [bl, br, tr, tl], [tr, bl, tl, br]] {
            assert_eq!(in_order(corners).map(|at| at[0] as i32), [10, 50, 52, 9]);
        }
    }
}
