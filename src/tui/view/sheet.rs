//! A view drawn: its answer, the tabs of its tables, and the rows that fit.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use super::palette::{Look, Role};
use super::text::{clip, set, wrap};
use crate::report::column::Column;
use crate::report::table::{Row, Table, View};
use crate::tui::screen::sheet::{Fitted, GAP, fit, order};
use crate::tui::state::{Spot, State};

/// Lines the answer of a view wants at a width.
#[must_use]
pub fn lead_lines(view: &View, wide: usize) -> Vec<String> {
    view.lead.iter().flat_map(|line| wrap(line, wide)).collect()
}

/// Draws the answer.
pub fn lead(view: &View, area: Rect, look: Look, buf: &mut Buffer) {
    let wide = area.width.saturating_sub(1) as usize;
    let lines = lead_lines(view, wide);
    for (line, y) in lines.iter().zip(area.top()..area.bottom()) {
        set(buf, area, area.x, y, line, look.style(Role::Text));
    }
}

/// Draws tabs, heads and rows.
pub fn draw(state: &State, view: &View, spot: &Spot, area: Rect, buf: &mut Buffer) {
    let look = state.look;
    let Some(table) = view.table(spot.table) else {
        let words = if state.waiting { "working it out ..." } else { "nothing here yet" };
        set(buf, area, area.x, area.y, words, look.style(Role::Faint));
        if !view.next.is_empty() {
            let next = format!("Next: {}", view.next);
            set(buf, area, area.x, area.y + 2, &next, look.style(Role::Text));
        }
        return;
    };
    tabs(view, spot, area, look, buf);
    let columns = fit(table, spot.shift, area.width.saturating_sub(3) as usize);
    heads(table, spot, &columns, area, look, buf);
    rows(table, spot, &columns, area, look, buf);
}

/// The tables by name, the one shown between brackets.
fn tabs(view: &View, spot: &Spot, area: Rect, look: Look, buf: &mut Buffer) {
    let name = |at: usize, table: &Table| match (table.title.is_empty(), view.title.is_empty()) {
        (false, _) => table.title.clone(),
        (true, false) => view.title.clone(),
        (true, true) => format!("table {}", at + 1),
    };
    let names: Vec<String> =
        view.shown().into_iter().enumerate().map(|(at, table)| name(at, table)).collect();
    let mut x = area.x;
    // Start far enough left that the table shown has room.
    let room = area.width as usize;
    let width_of = |at: usize| names[at].chars().count().min(room) + 3;
    let mut from = spot.table;
    let mut used = width_of(spot.table);
    while from > 0 && used + width_of(from - 1) <= room {
        from -= 1;
        used += width_of(from);
    }
    if from > 0 {
        x = set(buf, area, x, area.y, "\u{2026} ", look.style(Role::Faint));
    }
    for (at, name) in names.iter().enumerate().skip(from) {
        let (text, style) = if at == spot.table {
            (format!("[{name}]"), look.style(Role::Strong))
        } else {
            (format!(" {name} "), look.style(Role::Faint))
        };
        x = set(buf, area, x, area.y, &text, style);
        x = set(buf, area, x, area.y, " ", look.style(Role::Faint));
    }
    if !spot.filter.is_empty() {
        let text = format!("/{}", spot.filter);
        let at = area.right().saturating_sub(text.chars().count() as u16 + 1).max(area.x);
        set(buf, area, at, area.y, &text, look.style(Role::Look));
    }
}

fn heads(table: &Table, spot: &Spot, columns: &[Fitted], area: Rect, look: Look, buf: &mut Buffer) {
    let mut x = area.x + 2;
    for fitted in columns {
        let Some(column) = table.heads().get(fitted.column) else { continue };
        let sorted = match (spot.sort == Some(fitted.column), spot.reverse) {
            (true, false) => "\u{2193}",
            (true, true) => "\u{2191}",
            _ => "",
        };
        let head = format!("{}{sorted}", column.head());
        let text = pad(&head, fitted.width + usize::from(!sorted.is_empty()), column.is_right());
        set(buf, area, x, area.y + 1, &text, look.style(Role::Faint));
        x += (fitted.width + GAP) as u16;
    }
    let last = columns.last().map_or(0, |fitted| fitted.column + 1);
    if last < table.heads().len() {
        set(buf, area, area.right() - 1, area.y + 1, "\u{25b6}", look.style(Role::Strong));
    }
    if spot.shift > 0 {
        set(buf, area, area.x, area.y + 1, "\u{25c0}", look.style(Role::Strong));
    }
}

fn rows(table: &Table, spot: &Spot, columns: &[Fitted], area: Rect, look: Look, buf: &mut Buffer) {
    let order = order(table, spot);
    let top = area.y + super::panes::HEADS;
    let high = area.bottom().saturating_sub(top) as usize;
    let shown = order.iter().enumerate().skip(spot.top).take(high);
    for ((at, row), y) in shown.filter_map(|(at, n)| Some((at, table.rows.get(*n)?))).zip(top..) {
        let style = if at == spot.row { look.marked() } else { look.row(row.mark) };
        let line = Rect { y, height: 1, ..area };
        one(row, &table.columns, columns, line, style, buf);
    }
    scroll_marks(spot, order.len(), high, area, look, buf);
    let left = top + order.len().min(high) as u16;
    let notes =
        table.notes.iter().flat_map(|note| wrap(note, area.width.saturating_sub(3) as usize));
    for (note, y) in notes.zip(left..area.bottom()) {
        set(buf, area, area.x + 2, y, &note, look.style(Role::Faint));
    }
    if order.is_empty() && !spot.filter.is_empty() {
        let words = "no row holds that; Esc shows all";
        set(buf, area, area.x + 2, top, words, look.style(Role::Text));
    }
}

fn one(
    row: &Row,
    heads: &[Column],
    columns: &[Fitted],
    area: Rect,
    style: Style,
    buf: &mut Buffer,
) {
    let blank = " ".repeat(area.width.saturating_sub(1) as usize);
    set(buf, area, area.x, area.y, &blank, style);
    set(buf, area, area.x, area.y, row.mark.sign(), style);
    let mut x = area.x + 2;
    for fitted in columns {
        let cell = row.texts.get(fitted.column).map_or("", String::as_str);
        let right = heads.get(fitted.column).is_some_and(|column| column.is_right());
        set(buf, area, x, area.y, &pad(&clip(cell, fitted.width), fitted.width, right), style);
        x += (fitted.width + GAP) as u16;
    }
}

/// Signs at the right edge where there are rows above or below.
fn scroll_marks(spot: &Spot, count: usize, high: usize, area: Rect, look: Look, buf: &mut Buffer) {
    let x = area.right().saturating_sub(1);
    let top = area.y + super::panes::HEADS;
    if spot.top > 0 {
        set(buf, area, x, top, "\u{25b2}", look.style(Role::Line));
    }
    if spot.top + high < count {
        set(buf, area, x, area.bottom() - 1, "\u{25bc}", look.style(Role::Line));
    }
}

fn pad(text: &str, wide: usize, right: bool) -> String {
    let gap = " ".repeat(wide.saturating_sub(super::text::cells(text)));
    if right { format!("{gap}{text}") } else { format!("{text}{gap}") }
}
