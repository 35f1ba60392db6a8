//! How the state is drawn. Nothing here changes anything.
//!
//! ```text
//! title      job, scale, intent                             saved or not
//! pole       | the building: prototype and what will be built, to scale
//! in the     | the answer in a sentence or two
//! order of   | [table] other tables
//! the work   | heads
//!            | rows
//! finding    what the row, or the stage, asks to be looked at
//! next       the next useful step
//! keys       the keys that matter now
//! ```

pub mod ascii;
pub mod bench;
pub mod beside;
mod book;
pub mod building;
pub mod cuts;
pub mod jobs;
pub mod keys;
pub mod large;
pub mod over;
pub mod page;
pub mod palette;
pub mod panes;
pub mod photo;
pub mod plan;
pub mod pole;
mod protractor;
pub mod rule;
pub mod scene;
mod scrolled;
pub mod sheet;
pub mod tables;
pub mod text;
pub mod track;

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use self::palette::Role;
use self::panes::{LEAST, Panes};
use self::text::{cells, clip, set};
use super::screen;
use super::screen::tables::lack;
use super::state::{Running, State};
use super::update::panes_of;
use crate::report::text as plain;
use crate::solve::watch::Standing;

/// Draws everything and says where the cursor stands, if it is shown.
pub fn draw(state: &State, area: Rect, buf: &mut Buffer) -> Option<Position> {
    buf.set_style(area, state.look.style(Role::Text));
    let cursor = match panes_of(state) {
        Some(panes) if area.width >= state.size.0 && area.height >= state.size.1 => {
            all(state, panes, buf)
        }
        _ => {
            small(state, area, buf);
            None
        }
    };
    if state.look.ascii {
        ascii::flatten(buf);
    }
    cursor.filter(|at| area.contains(*at))
}

fn small(state: &State, area: Rect, buf: &mut Buffer) {
    let words = format!("scantling needs {} by {}", LEAST.0, LEAST.1);
    for (line, y) in text::wrap(&words, area.width as usize).iter().zip(area.top()..area.bottom()) {
        set(buf, area, area.x, y, line, Style::new().fg(state.look.color(Role::Text)));
    }
}

fn all(state: &State, panes: Panes, buf: &mut Buffer) -> Option<Position> {
    title(state, panes.title, buf);
    pole::draw(state, panes.pole, buf);
    let mut cursor = None;
    match (state.view(), state.spot()) {
        _ if state.photos.open && super::screen::photo::is_here(state) => {
            photo::draw(state, panes, buf);
        }
        (Some(view), Some(spot)) => {
            drawing(state, panes.drawing, buf);
            sheet::lead(view, panes.lead, state.look, buf);
            sheet::draw(state, view, spot, panes.table, buf);
        }
        _ => cursor = bench::draw(state, panes.table, buf),
    }
    finding(state, panes.finding, buf);
    keys::bottom(state, panes.keys, buf);
    match state.over.last() {
        Some(over) => over::draw(state, over, buf),
        None => cursor,
    }
}

/// The track where the building is held against it, the ground from above on the
/// view of the site, the page marked, the stick or sheet in sight on the cut list,
/// else the building.
fn drawing(state: &State, area: Rect, buf: &mut Buffer) {
    if super::screen::photo::is_here(state) && super::screen::photo::in_sight(state).is_some() {
        return photo::beside(state, area, buf);
    }
    if let Some(found) = scene::track(state) {
        return track::draw(found, state.subject(), area, state.look, buf);
    }
    if let Some((stand, caption)) = scene::ground(state) {
        return plan::draw(stand, &caption, area, state.look, buf);
    }
    if let Some(page) = state.page() {
        return page::draw(page, state.pages.len(), area, state.look, buf);
    }
    match super::screen::cuts::in_sight(state) {
        Some(shown) => cuts::draw(&shown, &state.document.job().done, area, state.look, buf),
        None => building::draw(&scene::faces(state), area, state.look, buf),
    }
}

fn title(state: &State, area: Rect, buf: &mut Buffer) {
    let look = state.look;
    let about = &state.document.job().about;
    let saved = match (state.document.is_changed(), &state.place.path) {
        (true, _) => "not saved".to_owned(),
        (false, None) => "built-in job".to_owned(),
        (false, Some(path)) => {
            path.file_name().map_or(String::new(), |name| name.to_string_lossy().into_owned())
        }
    };
    let saved = match (state.place.differs, state.place.hold.is_shared()) {
        (true, _) => format!("changed on disk, {saved}"),
        (false, true) => format!("open twice, {saved}"),
        (false, false) => saved,
    };
    let saved = match (&state.long, state.waiting) {
        (_, true) => format!("working ... {saved}"),
        (Some(running), false) => format!("{}  {saved}", long(running, area.width / 2)),
        (None, false) => saved,
    };
    let right = area.right().saturating_sub(cells(&saved) as u16 + 1);
    let room = Rect { width: right.saturating_sub(area.x + 1), ..area };
    let x = set(buf, room, area.x, area.y, &about.name, look.style(Role::Strong));
    let x = set(buf, room, x, area.y, &format!("  {}", about.scale), look.style(Role::Text));
    let left = room.right().saturating_sub(x + 2) as usize;
    let intent = clip(&about.intent, left);
    set(buf, room, x + 2, area.y, &intent, look.style(Role::Faint));
    let role = if state.document.is_changed() { Role::Look } else { Role::Faint };
    set(buf, area, right, area.y, &saved, look.style(role));
}

/// Where long work stands, in a few words.
fn long(running: &Running, wide: u16) -> String {
    let Standing { phase, best, bound } = &running.standing;
    let words = match (phase.is_empty(), bound.is_empty()) {
        (true, _) => "looking further".to_owned(),
        (_, true) => format!("{phase}: {best}"),
        _ => format!("{phase}: {best}, bound {bound}"),
    };
    format!("{} (Esc stops)", clip(&words, usize::from(wide.saturating_sub(13))))
}

/// What was said last; else what is known of the row marked; else the first
/// finding of the stage. The next useful step stands under it, or in its place
/// where there is no room or nothing to say.
fn finding(state: &State, area: Rect, buf: &mut Buffer) {
    let next = match lack(state) {
        Some(table) => format!("Next: Enter describes the {table}"),
        None => format!("Next: {}", next(state)),
    };
    let said = (!state.said.is_empty()).then(|| (state.said.clone(), Role::Strong));
    let mut lines: Vec<(String, Role)> = said.or_else(|| noticed(state)).into_iter().collect();
    if lines.is_empty() || area.height > 1 {
        lines.push((next, Role::Faint));
    }
    for ((text, role), y) in lines.iter().zip(area.top()..area.bottom()) {
        let line = clip(&text.replace('\n', " "), area.width as usize);
        set(buf, area, area.x, y, &line, state.look.style(*role));
    }
}

/// The next useful step.
fn next(state: &State) -> &str {
    if state.photos.open
        && let Some(step) = screen::photo::next_step(state)
    {
        return step;
    }
    match state.view() {
        None => "Tab goes down the story pole into the job",
        // The record, after which nothing comes.
        Some(view) if view.next.is_empty() => "W writes it to a file: keep it with the model",
        Some(view) => &view.next,
    }
}

fn noticed(state: &State) -> Option<(String, Role)> {
    let view = state.view()?;
    let subject = state.subject();
    let mine = view.findings.iter().find(|one| Some(&one.subject) == subject);
    if mine.is_none()
        && let Some(name) = cut_short(state)
    {
        return Some((name, Role::Text));
    }
    let found = mine.or(view.findings.first())?;
    let more = view.findings.len().saturating_sub(1);
    let tail =
        if more > 0 && mine.is_none() { format!("  (l: {more} more)") } else { String::new() };
    Some((format!("{}{tail}", plain::finding(found)), Role::Look))
}

/// The first cell of the row marked, where the table had to cut it short.
fn cut_short(state: &State) -> Option<String> {
    let (table, spot, row) = (state.table()?, state.spot()?, state.row()?);
    let room = panes_of(state)?.table.width.saturating_sub(3) as usize;
    let first = super::screen::sheet::fit(table, spot.shift, room).first()?.width;
    row.texts.first().filter(|cell| cells(cell) > first).cloned()
}
