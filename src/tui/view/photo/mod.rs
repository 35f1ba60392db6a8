//! The photograph: its picture with marks and cross-hair, beside it the
//! lengths, the magnifier and the wall as if seen squarely.

mod cells;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use super::palette::Role;
use super::panes::{self, Panes};
use super::text::{clip, set, wrap};
use crate::photo::from_job::Shot;
use crate::photo::lengths::Found;
use crate::quantity::{Notation, PrototypeLength};
use crate::tui::picture::{Drawn, Ink, Overlay, Which};
use crate::tui::pixels::leave;
use crate::tui::screen::photo::{
    STEPS, asked, in_sight, is_here, overlay, shot, sight, suspect, worst,
};
use crate::tui::state::State;
use crate::tui::update::panes_of;

/// The picture to work on.
pub fn draw(state: &State, panes: Panes, buf: &mut Buffer) {
    let over = overlay(state);
    picture(state, Which::Picture, &over, panes.drawing, buf);
    let side = panes::side(panes.table, state.photos.wall);
    head(state, side.head, buf);
    list(state, side.list, buf);
    notes(state, side.notes, buf);
    picture(state, Which::Magnifier, &over, side.magnifier, buf);
    wall(state, side.wall, buf);
}

/// The whole picture and the wall, over the table.
pub fn beside(state: &State, area: Rect, buf: &mut Buffer) {
    if area.height < 3 {
        return;
    }
    let [left, right] = panes::beside(area);
    picture(state, Which::Picture, &overlay(state), left, buf);
    wall(state, right, buf);
}

/// Where pictures stand on the screen, however much of them is to be seen.
#[must_use]
pub fn places(state: &State) -> Vec<(Which, Rect)> {
    let Some(panes) = panes_of(state).filter(|_| is_here(state)) else { return Vec::new() };
    if state.photos.open {
        let side = panes::side(panes.table, state.photos.wall);
        return vec![
            (Which::Picture, panes.drawing),
            (Which::Magnifier, side.magnifier),
            (Which::Wall, over_bar(side.wall)),
        ];
    }
    let [left, right] = panes::beside(panes.drawing);
    vec![(Which::Picture, left), (Which::Wall, over_bar(right))]
}

/// The room of the wall over its bar.
fn over_bar(area: Rect) -> Rect {
    Rect { height: area.height.saturating_sub(1), ..area }
}

fn drawn(state: &State, which: Which) -> Option<&Drawn> {
    state.photos.drawn.iter().find(|one| one.which == which)
}

/// What was drawn for a pane, with what lies over it.
fn picture(state: &State, which: Which, over: &Overlay, area: Rect, buf: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    let look = state.look;
    let Some(drawn) = drawn(state, which) else {
        let words = match &state.photos.opened {
            Some((_, Err(trouble))) => trouble.clone(),
            _ => "opening the picture".to_owned(),
        };
        return said(&words, area, state, buf);
    };
    match (&drawn.ink, drawn.part) {
        (Ok(Ink::Dots(dots)), Some(window)) => {
            cells::draw(dots, area, look, buf);
            cells::lay_over(over, &window, area, look, buf);
        }
        (Ok(Ink::Dots(dots)), None) => cells::draw(dots, area, look, buf),
        (Ok(Ink::Encoded(picture)), _) => {
            let [wide, high] = picture.cells();
            let area = Rect { width: area.width.min(wide), height: area.height.min(high), ..area };
            for at in area.intersection(buf.area).positions() {
                if let Some(cell) = buf.cell_mut(at) {
                    leave(cell, which);
                }
            }
        }
        (Err(trouble), _) => said(trouble, area, state, buf),
    }
}

fn said(words: &str, area: Rect, state: &State, buf: &mut Buffer) {
    let lines = wrap(words, usize::from(area.width.saturating_sub(2)));
    for (line, y) in lines.iter().zip(area.top()..area.bottom()) {
        set(buf, area, area.x + 1, y, line, state.look.style(Role::Faint));
    }
}

/// The wall with a bar of a round length under it.
fn wall(state: &State, area: Rect, buf: &mut Buffer) {
    if area.height < 3 {
        return;
    }
    picture(state, Which::Wall, &Overlay::default(), over_bar(area), buf);
    let Some(drawn) = drawn(state, Which::Wall).filter(|one| one.per_cell > 0.0) else { return };
    let notation = state.document.job().about.full_notation();
    let Some((length, words)) = bar(notation, drawn.per_cell * f64::from(area.width) * 0.6) else {
        return;
    };
    let wide = (length / drawn.per_cell).round().max(2.0) as usize;
    let line = format!("\u{251c}{}\u{2524} {words}", "\u{2500}".repeat(wide.saturating_sub(2)));
    set(buf, area, area.x, area.bottom() - 1, &line, state.look.style(Role::Text));
}

/// The longest round length of at most `most` metres, with its words.
fn bar(notation: Notation, most: f64) -> Option<(f64, String)> {
    let (unit, metric) = match notation {
        Notation::Decimal(..) => (1.0, true),
        _ => (0.3048, false),
    };
    let round = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0];
    let fits = round.iter().rev().find(|count| **count * unit <= most)?;
    let name = if metric { "m" } else { "ft" };
    Some((fits * unit, format!("{fits} {name}")))
}

fn head(state: &State, area: Rect, buf: &mut Buffer) {
    let (Some(photo), Some(sight)) = (in_sight(state), sight(state)) else { return };
    let look = state.look;
    let title = if photo.title.is_empty() { &photo.file } else { &photo.title };
    let step = STEPS[state.photos.step.min(STEPS.len() - 1)];
    let [x, y] = sight.cross;
    let place = format!("{x:.2}, {y:.2}  step {step} px");
    let (doing, role) = match (&state.photos.held, &state.photos.line) {
        (Some(held), _) => (format!("holding {held}"), Role::Chosen),
        (None, Some((_, end, _))) => (format!("line from {}", end.id), Role::Look),
        (None, None) if !state.photos.corners.is_empty() => {
            (format!("corner {} of 4", state.photos.corners.len()), Role::Look)
        }
        (None, None) => (format!("{:.3} px to a cell", sight.zoom), Role::Faint),
    };
    let lines =
        [(format!("{} {title}", photo.id), Role::Strong), (place, Role::Text), (doing, role)];
    for ((line, role), y) in lines.iter().zip(area.top()..area.bottom()) {
        set(buf, area, area.x, y, &clip(line, area.width.into()), look.style(*role));
    }
}

/// The first row of the list that is shown, so that the one pointed at is.
#[must_use]
pub fn first_row(state: &State, area: Rect) -> usize {
    (state.photos.row + 1).saturating_sub(usize::from(area.height).max(1))
}

fn list(state: &State, area: Rect, buf: &mut Buffer) {
    let Some(shot) = shot(state) else {
        let words = match &state.photos.tried {
            Some(Err(trouble)) => trouble.clone(),
            _ => trouble(state),
        };
        return said(&words, area, state, buf);
    };
    let notation = state.document.job().about.full_notation();
    let first = first_row(state, area);
    let all = shot.measured.lengths.iter().enumerate().skip(first);
    for ((at, found), y) in all.zip(area.top()..area.bottom()) {
        let style = match (at == state.photos.row, found.known) {
            (true, _) => state.look.marked(),
            (false, true) => state.look.style(Role::Chosen),
            (false, false) => state.look.style(Role::Text),
        };
        let name = found.name.strip_suffix(":straight").unwrap_or(&found.name);
        let bound = asked(state, name).and_then(|ask| Some((ask.reads.as_ref()?, ask.off)));
        let name = match bound {
            Some((of, false)) => format!("{of} = {name}"),
            Some((of, true)) => format!("off: {of} = {name}"),
            None => name.to_owned(),
        };
        row(found, &name, &notation, area, y, style, buf);
    }
}

/// Why there are no lengths yet.
fn trouble(state: &State) -> String {
    let Some(photo) = in_sight(state) else { return String::new() };
    if !photo.has_marks() {
        return "no lengths yet: c at each corner of a window or door, then k for a known length; \
                or l and p along level and plumb edges"
            .to_owned();
    }
    let plan = state.plan.as_ref();
    let finding = plan.and_then(|plan| {
        let subject = crate::finding::Subject::Photo(photo.id.clone());
        plan.photos.findings.iter().find(|one| one.subject == subject)
    });
    finding.map_or("working it out".to_owned(), super::plain::finding)
}

fn row(
    found: &Found,
    name: &str,
    notation: &Notation,
    area: Rect,
    y: u16,
    style: Style,
    buf: &mut Buffer,
) {
    let wide = usize::from(area.width);
    let [low, value, high] = Shot::ends(found).map(|end| notation.show(&end));
    let value = match found.withheld {
        Some(_) => "withheld".to_owned(),
        None => value,
    };
    let known = if found.known { " known" } else { "" };
    let right = match wide {
        _ if found.known || found.withheld.is_some() => format!("{value}{known}"),
        46.. => format!("{value}  {low} to {high}"),
        _ => value,
    };
    let left = wide.saturating_sub(right.chars().count() + 1);
    let line = format!("{:<left$} {right}", clip(name, left));
    set(buf, area, area.x, y, &line, style);
}

/// Both ends of the length pointed at, how they were found, the worst mark.
fn notes(state: &State, area: Rect, buf: &mut Buffer) {
    let Some(shot) = shot(state) else { return };
    let notation = state.document.job().about.full_notation();
    let mut lines = Vec::new();
    if let Some(found) = shot.measured.lengths.get(state.photos.row) {
        let [low, _, high] = Shot::ends(found).map(|end: PrototypeLength| notation.show(&end));
        let how = match (found.known, found.by_draws, found.checked) {
            (true, _, _) => "given",
            (false, true, _) => "95 %, drawn",
            (false, false, true) => "95 %",
            (false, false, false) => "95 %, unchecked",
        };
        lines.push((format!("{low} to {high}"), Role::Text));
        let trial = if state.photos.held.is_some() { ", as held" } else { "" };
        lines.push((format!("{how}{trial}"), Role::Faint));
    }
    let suspect = suspect(state).map(|suspect| format!("n: {}", suspect.message));
    lines.push(match (suspect, worst(state)) {
        (Some(words), _) => (words, Role::Look),
        (None, Some((name, score))) => {
            (format!("{name} fits worst, {score:.1} sigma: n"), Role::Look)
        }
        (None, None) if shot.measured.checks < 1 => {
            ("nothing checks the marks".to_owned(), Role::Look)
        }
        (None, None) => (format!("{} checks, all marks agree", shot.measured.checks), Role::Faint),
    });
    for ((line, role), y) in lines.iter().zip(area.top()..area.bottom()) {
        set(buf, area, area.x, y, &clip(line, area.width.into()), state.look.style(*role));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bar_is_a_round_length_in_the_persons_unit() {
        assert_eq!(bar(Notation::BUILDING, 8.0).map(|(_, words)| words).unwrap(), "20 ft");
        let metres = Notation::Decimal(crate::quantity::Unit::Metre, 3);
        let (length, words) = bar(metres, 0.7).unwrap();
        assert_eq!(words, "0.5 m");
        assert!((length - 0.5).abs() < 1e-12);
        assert!(bar(metres, 0.01).is_none());
    }
}
