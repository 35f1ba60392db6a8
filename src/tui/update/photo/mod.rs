//! The picture: looking about, the cross-hair, what is asked of the worker
//! and what it says.

pub(super) mod bind;
pub(super) mod marks;

use std::sync::Arc;

use super::{forms, panes_of};
use crate::tui::action::Command;
use crate::tui::effect::Effect;
use crate::tui::picture::{News, Print, Request, Task, Which, Wish};
use crate::tui::screen::photo::{
    self, NEAREST, STEPS, Sight, in_sight, is_here, nearest, opened, part, reach, sight,
};
use crate::tui::state::State;
use crate::tui::view::panes::side;

/// Does what is asked for on the picture; nothing for commands that mean the
/// same there as everywhere.
pub(super) fn obey(state: &mut State, command: Command) -> Option<Vec<Effect>> {
    let mut effects = Vec::new();
    match command {
        Command::Up => step(state, [0.0, -1.0]),
        Command::Down => step(state, [0.0, 1.0]),
        Command::Left => step(state, [-1.0, 0.0]),
        Command::Right => step(state, [1.0, 0.0]),
        Command::Finer => state.photos.step = (state.photos.step + 1).min(STEPS.len() - 1),
        Command::Coarser => state.photos.step = state.photos.step.saturating_sub(1),
        Command::Nearer => zoom(state, 0.5),
        Command::Farther => zoom(state, 2.0),
        Command::Whole => whole(state),
        Command::PageUp => state.photos.row = state.photos.row.saturating_sub(1),
        Command::PageDown => next_row(state),
        Command::NextPhoto => next_photo(state),
        Command::Wall => state.photos.wall = !state.photos.wall,
        Command::Cancel => back(state),
        Command::Undo if is_pending(state) => drop_last(state),
        Command::KnownLength
        | Command::Reads
        | Command::Alike
        | Command::InFront
        | Command::Picture => forms::open(state, command),
        Command::Switch => effects = bind::switch(state),
        _ => effects = marks::obey(state, command)?,
    }
    Some(effects)
}

/// Opens the picture of the photograph in sight.
pub(super) fn open(state: &mut State) {
    let Some(id) = in_sight(state).map(|photo| photo.id.clone()) else { return };
    state.photos.chosen = Some(id);
    state.photos.open = true;
    // One that could not be opened is tried again.
    if matches!(&state.photos.opened, Some((_, Err(_)))) {
        state.photos.opened = None;
        state.photos.opening = None;
    }
}

fn is_pending(state: &State) -> bool {
    let photos = &state.photos;
    photos.held.is_some() || photos.line.is_some() || !photos.corners.is_empty()
}

/// Lets go of what was set last and is not yet part of anything.
fn drop_last(state: &mut State) {
    if state.photos.held.take().is_some() {
        state.photos.tried = None;
    } else if state.photos.line.take().is_none() {
        state.photos.corners.pop();
    }
}

/// One step out: what is pending, then the picture.
fn back(state: &mut State) {
    if is_pending(state) {
        if state.photos.held.is_none() && state.photos.line.is_none() {
            state.photos.corners.clear();
        }
        drop_last(state);
    } else {
        state.photos.open = false;
    }
}

fn next_photo(state: &mut State) {
    let photos = &state.document.job().photos;
    let here = in_sight(state).and_then(|now| photos.iter().position(|one| one.id == now.id));
    let next = here.map(|at| photos[(at + 1) % photos.len()].id.clone());
    state.photos.chosen = next;
    state.photos.row = 0;
    state.photos.held = None;
    state.photos.corners.clear();
    state.photos.line = None;
}

fn next_row(state: &mut State) {
    let last = photo::shot(state).map_or(0, |shot| shot.measured.lengths.len().saturating_sub(1));
    state.photos.row = (state.photos.row + 1).min(last);
}

/// Changes where one looks; the cross-hair stays in sight and on the picture.
pub(super) fn look(state: &mut State, change: impl FnOnce(&mut Sight)) {
    let Some(mut sight) = sight(state) else { return };
    change(&mut sight);
    // A job's file may say a mark is nowhere.
    if sight.cross.iter().any(|place| place.is_nan()) {
        return;
    }
    if let Some([wide, high]) = size(state) {
        let most = [wide, high].map(|side| f64::from(side) - 0.5);
        sight.cross = [0, 1].map(|i| sight.cross[i].clamp(-0.5, most[i]));
        let shape = state.photos.print.shape();
        if let Some(panes) = panes_of(state) {
            let cells = [panes.drawing.width, panes.drawing.height].map(f64::from);
            let room = [0.4 * cells[0] * sight.zoom, 0.4 * cells[1] * sight.zoom * shape];
            sight.centre = [0, 1]
                .map(|i| sight.centre[i].clamp(sight.cross[i] - room[i], sight.cross[i] + room[i]));
        }
    }
    if let Some(id) = in_sight(state).map(|photo| photo.id.clone()) {
        state.photos.sights.insert(id, sight);
    }
}

fn step(state: &mut State, way: [f64; 2]) {
    let by = STEPS[state.photos.step.min(STEPS.len() - 1)];
    look(state, |sight| {
        for (place, way) in sight.cross.iter_mut().zip(way).filter(|(_, way)| way.abs() > 0.5) {
            *place = ((*place + by * way) * 4.0).round() / 4.0;
        }
    });
}

/// Zooms about the cross-hair.
pub(super) fn zoom(state: &mut State, by: f64) {
    let Some(fit) = whole_sight(state) else { return };
    look(state, |sight| {
        // One pixel to the cell and its halves are stopped at exactly.
        let zoom = (sight.zoom * by).clamp(NEAREST, fit.zoom.max(NEAREST));
        let zoom = if (0.7..1.4).contains(&zoom) { 1.0 } else { zoom };
        let ratio = zoom / sight.zoom;
        sight.centre = [0, 1].map(|i| sight.cross[i] + (sight.centre[i] - sight.cross[i]) * ratio);
        sight.zoom = zoom;
    });
}

fn whole(state: &mut State) {
    if let Some(fit) = whole_sight(state) {
        look(state, |sight| (sight.centre, sight.zoom) = (fit.centre, fit.zoom));
    }
}

/// Width and height of the picture in sight.
fn size(state: &State) -> Option<[u32; 2]> {
    let known = in_sight(state)?.pixels;
    opened(state).map(|opened| opened.facts.size).or(known)
}

fn whole_sight(state: &State) -> Option<Sight> {
    let size = size(state)?;
    let panes = panes_of(state)?;
    let cells = [panes.drawing.width, panes.drawing.height].map(u32::from);
    let window = crate::photo::window::Window::whole(size, cells, state.photos.print.shape());
    Some(Sight {
        centre: window.centre,
        zoom: window.step[0],
        cross: window.centre.map(f64::round),
    })
}

/// A click on the picture: takes hold of a mark, puts the one held down, or
/// moves the cross-hair; where it stands already, it is Enter.
pub(super) fn click(state: &mut State, x: u16, y: u16) -> Vec<Effect> {
    let (Some(panes), Some(now)) = (panes_of(state), sight(state)) else { return Vec::new() };
    let area = panes.drawing;
    let window = part(state, now, [area.width, area.height]);
    let cell = [f64::from(x - area.x), f64::from(y - area.y)];
    let place = window.place(cell).map(|c| (c * 4.0).round() / 4.0);
    if state.photos.held.is_some() {
        look(state, |sight| sight.cross = place);
        return marks::put_down(state);
    }
    let again = window.inside(now.cross) == window.inside(place);
    let near = in_sight(state).and_then(|photo| nearest(photo, place, reach(now)));
    match near.filter(|_| !is_pending(state)) {
        Some((name, at)) => marks::hold(state, name, at),
        None if again => return marks::main_thing(state),
        None => look(state, |sight| sight.cross = place),
    }
    Vec::new()
}

/// After every action: asks the worker for what is not there yet.
pub(super) fn settle(state: &mut State) -> Vec<Effect> {
    if !is_here(state) {
        return Vec::new();
    }
    let Some(file) = in_sight(state).map(|photo| photo.file.clone()) else {
        state.photos.open = false;
        return Vec::new();
    };
    let known = state.photos.opened.as_ref().is_some_and(|(known, _)| *known == file);
    let mut tasks = Vec::new();
    if !known && state.photos.opening.as_ref() != Some(&file) {
        state.photos.opening = Some(file.clone());
        state.photos.drawn = Arc::default();
        state.photos.asked.clear();
        tasks.push(Task::Open { job: state.place.path.clone(), file });
    }
    if state.photos.open
        && sight(state).is_none()
        && let (Some(fit), Some(id)) =
            (whole_sight(state), in_sight(state).map(|photo| photo.id.clone()))
    {
        state.photos.sights.insert(id, fit);
    }
    tasks.extend(trying(state));
    tasks.extend(drawing(state));
    tasks.into_iter().map(Effect::Picture).collect()
}

/// The lengths with the mark held at another place.
fn trying(state: &mut State) -> Option<Task> {
    state.photos.held.as_ref()?;
    let photo = photo::as_held(state)?;
    let photos = photo::with_its_walls(state, &photo);
    let key = format!("{:x}", crate::photo::from_job::input(&photos));
    if state.photos.trying.1 == key || !photo.has_marks() {
        return None;
    }
    state.photos.trying = (state.photos.trying.0 + 1, key);
    Some(Task::Try { number: state.photos.trying.0, id: photo.id, photos: Arc::new(photos) })
}

fn drawing(state: &mut State) -> Option<Task> {
    let opened = opened(state)?.clone();
    let photo = Arc::new(in_sight(state)?.clone());
    let wishes = wishes(state)?;
    let overlay = match state.photos.print {
        Print::Cells => crate::tui::picture::Overlay::default(),
        Print::Pixels(_) => photo::overlay(state),
    };
    let key = format!("{} {wishes:?} {overlay:?} {:x}", photo.file, photo::hash(&photo));
    if state.photos.asked == key {
        return None;
    }
    state.photos.asked = key;
    state.photos.number += 1;
    let (number, print) = (state.photos.number, state.photos.print);
    Some(Task::Draw(Box::new(Request { number, opened, print, wishes, overlay, photo })))
}

/// The panes there are, and what each shows.
fn wishes(state: &State) -> Option<Vec<Wish>> {
    let panes = panes_of(state)?;
    let cells = |area: ratatui::layout::Rect| [area.width, area.height];
    // The last line of the wall's pane is its bar: pixels that are too high for
    // what is left are not shown at all.
    let over_bar = |area: ratatui::layout::Rect| [area.width, area.height.saturating_sub(1)];
    let shape = state.photos.print.shape();
    let mut wishes = Vec::new();
    let mut add = |which, cells: [u16; 2], part| {
        if cells[0] > 1 && cells[1] > 0 {
            wishes.push(Wish { which, cells, part });
        }
    };
    if state.photos.open {
        let sight = sight(state)?;
        let area = cells(panes.drawing);
        add(Which::Picture, area, Some(part(state, sight, area)));
        let side = side(panes.table, state.photos.wall);
        let area = cells(side.magnifier);
        let near =
            Sight { centre: sight.cross, zoom: (sight.zoom / 4.0).clamp(0.25, 1.0), ..sight };
        add(Which::Magnifier, area, Some(part(state, near, area)));
        add(Which::Wall, over_bar(side.wall), None);
    } else {
        let [left, right] = crate::tui::view::panes::beside(panes.drawing);
        let size = opened(state)?.facts.size;
        let area = cells(left);
        let whole = crate::photo::window::Window::whole(size, area.map(u32::from), shape);
        add(Which::Picture, area, Some(whole));
        add(Which::Wall, over_bar(right), None);
    }
    Some(wishes)
}

/// What the worker says; what was asked for before the last is dropped.
pub(super) fn news(state: &mut State, news: News) -> Vec<Effect> {
    match news {
        News::Opened(file, opened) if state.photos.opening.as_ref() == Some(&file) => {
            state.photos.opening = None;
            if let Err(trouble) = &opened {
                state.said.clone_from(trouble);
            }
            state.photos.opened = Some((file, opened));
        }
        // Another was looked at meanwhile.
        News::Opened(..) => {}
        News::Drawn(number, drawn) => {
            if number == state.photos.number {
                state.photos.drawn = drawn;
            }
        }
        News::Tried(number, shot) => {
            if number == state.photos.trying.0 && state.photos.held.is_some() {
                state.photos.tried = Some(shot);
            }
        }
        News::Refined(id, refined) => return marks::refined(state, &id, refined),
    }
    Vec::new()
}
