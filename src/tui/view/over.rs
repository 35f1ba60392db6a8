//! What lies over the view: forms, lists, the finder, questions.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::widgets::{Block, Clear, Widget};

use super::palette::{Look, Role};
use super::text::{cells, clip, set, wrap};
use crate::tui::finder::{self, Hit};
use crate::tui::keymap;
use crate::tui::state::{Form, Line, List, Over, Purpose, State};

/// Draws what lies on top and says where the cursor stands.
pub fn draw(state: &State, over: &Over, buf: &mut Buffer) -> Option<Position> {
    match over {
        Over::Form(form) => self::form(form, state, buf),
        Over::List(list) => {
            self::list(list, state, buf);
            None
        }
        Over::Finder { input, at } => self::finder(state, input, *at, buf),
        Over::Jobs(at) => {
            super::jobs::draw(state, *at, buf);
            None
        }
        Over::Beside(beside) => {
            super::beside::draw(beside, state, buf);
            None
        }
        Over::Tables(tables) => super::tables::draw(tables, state, buf),
        Over::Leave => {
            let what = state.document.undo_name().unwrap_or("the job");
            let last = format!("Last edit: {what}");
            let lines = [
                "The job is not saved.",
                &last,
                "",
                "s    save and leave",
                "d    leave without saving",
                "Esc  stay",
            ];
            question("Leave?", &lines, state, buf);
            None
        }
        Over::Left(_) => {
            let lines = [
                "Work that was not saved was found beside this job.",
                "",
                "t    take it up again",
                "d    forget it",
                "Esc  decide later",
            ];
            question("Unsaved work", &lines, state, buf);
            None
        }
    }
}

/// A frame in the middle of the screen, or up under the title, cleared; gives
/// the room inside.
pub(super) fn frame(
    title: &str,
    wide: u16,
    high: u16,
    up: bool,
    state: &State,
    buf: &mut Buffer,
) -> Rect {
    let whole = Rect::new(0, 0, state.size.0, state.size.1).intersection(buf.area);
    let (wide, high) = (wide.min(whole.width), high.min(whole.height.saturating_sub(2)));
    let area = Rect {
        x: (whole.width - wide) / 2,
        y: if up { 1.min(whole.height - high) } else { (whole.height - high) / 2 },
        width: wide,
        height: high,
    };
    framed(title, area, state.look, buf)
}

/// A frame at a place, cleared; gives the room inside.
pub(super) fn framed(title: &str, area: Rect, look: Look, buf: &mut Buffer) -> Rect {
    let (area, wide) = (area.intersection(buf.area), area.width);
    Clear.render(area, buf);
    buf.set_style(area, look.style(Role::Text));
    let block = Block::bordered()
        .border_style(look.style(Role::Line))
        .title_style(look.style(Role::Strong))
        .title(format!(" {} ", clip(title, wide.saturating_sub(6) as usize)));
    let inside = block.inner(area);
    block.render(area, buf);
    let margin = u16::from(inside.width > 4);
    Rect { x: inside.x + margin, width: inside.width - 2 * margin, ..inside }
}

/// Width of what lies over the view.
pub(super) fn width(state: &State) -> u16 {
    state.size.0.saturating_sub(4).min(76)
}

fn question(title: &str, lines: &[&str], state: &State, buf: &mut Buffer) {
    let area = frame(title, width(state).min(60), lines.len() as u16 + 2, false, state, buf);
    for (line, y) in lines.iter().zip(area.top()..area.bottom()) {
        set(buf, area, area.x, y, line, state.look.style(Role::Text));
    }
}

fn form(form: &Form, state: &State, buf: &mut Buffer) -> Option<Position> {
    let look = state.look;
    let wide = width(state);
    let room = wide.saturating_sub(4) as usize;
    let lines = |texts: &[String]| -> Vec<String> {
        texts.iter().filter(|text| !text.is_empty()).flat_map(|text| wrap(text, room)).collect()
    };
    let about = lines(&form.about);
    let preview = lines(&form.preview);
    let trouble = lines(std::slice::from_ref(&form.trouble));
    let count = about.len() + form.fields.len() + preview.len() + trouble.len();
    // New readings are entered over the drawing: the table stays in sight.
    let up = form.purpose == Purpose::Enter;
    let area = frame(&form.title, wide, count as u16 + 3, up, state, buf);
    let mut y = area.y;
    for line in &about {
        set(buf, area, area.x, y, line, look.style(Role::Faint));
        y += 1;
    }
    let cursor = fields(form, Rect { y, ..area }, look, buf);
    y += form.fields.len() as u16;
    for line in &preview {
        set(buf, area, area.x, y, line, look.style(Role::Built));
        y += 1;
    }
    for line in &trouble {
        set(buf, area, area.x, y, line, look.style(Role::Refused));
        y += 1;
    }
    cursor
}

/// Draws the fields from the top of `area`; the cursor stands in the one that
/// takes letters.
fn fields(form: &Form, area: Rect, look: Look, buf: &mut Buffer) -> Option<Position> {
    let label = form.fields.iter().map(|field| cells(&field.label)).max().unwrap_or(0) as u16 + 2;
    let mut cursor = None;
    for (at, field) in form.fields.iter().enumerate() {
        let y = area.y + at as u16;
        let here = at == form.at;
        let sign = if here { "\u{25b6}" } else { " " };
        set(buf, area, area.x, y, &format!("{sign}{}", field.label), look.style(Role::Text));
        let room =
            Rect { x: area.x + label, y, width: area.width.saturating_sub(label), height: 1 };
        let at = self::field(&field.input, room, look, buf);
        if here {
            cursor = at;
        }
    }
    cursor
}

/// One field: its text underlined, and where its cursor stands.
pub(super) fn field(
    input: &tui_input::Input,
    room: Rect,
    look: Look,
    buf: &mut Buffer,
) -> Option<Position> {
    let wide = room.width as usize;
    if wide == 0 || room.y >= buf.area.bottom() {
        return None;
    }
    let scroll = input.visual_scroll(wide.saturating_sub(1));
    let style = look.style(Role::Text).add_modifier(ratatui::style::Modifier::UNDERLINED);
    set(buf, room, room.x, room.y, &" ".repeat(wide), style);
    let mut skipped = 0;
    let shown: String = input
        .value()
        .chars()
        .skip_while(|c| {
            let skip = skipped < scroll;
            skipped += unicode_width::UnicodeWidthChar::width(*c).unwrap_or(0);
            skip
        })
        .collect();
    set(buf, room, room.x, room.y, &shown, style);
    let at = input.visual_cursor().saturating_sub(scroll).min(wide - 1);
    Some(Position { x: room.x + at as u16, y: room.y })
}

/// The part of a line before its second column, where it has two: the rest is
/// wrapped under itself.
fn hanging(text: &str) -> Option<(&str, &str)> {
    let start = text.len() - text.trim_start().len();
    let gap = start + text[start..].find("  ")?;
    let rest = text[gap..].trim_start();
    (!rest.is_empty()).then(|| text.split_at(text.len() - rest.len()))
}

/// Lines of a list broken to the room, each with the line it belongs to.
fn broken(lines: &[Line], wide: usize) -> Vec<(usize, String)> {
    let mut out = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let indent = line.text.len() - line.text.trim_start().len();
        if let Some((head, rest)) = hanging(&line.text) {
            let lead = cells(head);
            for (n, part) in wrap(rest, wide.saturating_sub(lead).max(1)).into_iter().enumerate() {
                let lead = if n == 0 { head.to_owned() } else { " ".repeat(lead) };
                out.push((at, format!("{lead}{part}")));
            }
            continue;
        }
        if cells(&line.text) <= wide {
            out.push((at, line.text.clone()));
            continue;
        }
        let room = wide.saturating_sub(indent + 2).max(1);
        for (n, part) in wrap(&line.text, room).into_iter().enumerate() {
            let lead = " ".repeat(if n == 0 { indent } else { indent + 2 });
            out.push((at, format!("{lead}{part}")));
        }
    }
    out
}

fn list(list: &List, state: &State, buf: &mut Buffer) {
    let look = state.look;
    let room = width(state).saturating_sub(6) as usize;
    let lines = broken(&list.lines, room);
    let area = frame(&list.title, width(state), lines.len() as u16 + 2, false, state, buf);
    let high = area.height as usize;
    let at = lines.iter().position(|(line, _)| *line == list.at).unwrap_or(0);
    let top = (at + high / 2).saturating_sub(high).min(lines.len().saturating_sub(high));
    let top = if at >= top + high { at + 1 - high } else { top };
    for ((line, text), y) in lines.iter().skip(top).zip(area.top()..area.bottom()) {
        let here = *line == list.at;
        let leads = list.lines.get(*line).is_some_and(|line| line.target.is_some());
        let style = if here { look.marked() } else { look.style(Role::Text) };
        let sign = if leads { "\u{2192}" } else { " " };
        set(buf, area, area.x, y, sign, look.style(Role::Strong));
        set(buf, area, area.x + 2, y, text, style);
    }
    if top + high < lines.len() {
        let x = area.right().saturating_sub(1);
        set(buf, area, x, area.bottom() - 1, "\u{25bc}", look.style(Role::Line));
    }
}

fn finder(
    state: &State,
    input: &tui_input::Input,
    at: usize,
    buf: &mut Buffer,
) -> Option<Position> {
    let look = state.look;
    let hits = finder::hits(state, input.value());
    let area = frame("Find an action or a view", width(state), 16, false, state, buf);
    let cursor = field(input, Rect { height: 1, ..area }, look, buf);
    let rows = area.height.saturating_sub(2) as usize;
    let top = (at + 1).saturating_sub(rows);
    for ((n, hit), y) in hits.iter().enumerate().skip(top).zip(area.y + 2..area.bottom()) {
        let style = if n == at { look.marked() } else { look.style(Role::Text) };
        let key = match hit {
            Hit::Command(command) => keymap::names(*command),
            Hit::Stage(_) => "Tab".to_owned(),
        };
        set(buf, area, area.x, y, &format!("{key:<10}"), look.style(Role::Strong));
        set(buf, area, area.x + 11, y, &clip(&hit.words(), area.width as usize - 11), style);
    }
    cursor
}
