//! The tables of the job: lines of a place, what the line marked is, and what
//! can be picked.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use super::over::{field, framed};
use super::palette::{Look, Role};
use super::text::{cells, clip, set, wrap};
use crate::job::slot::{Holds, Line};
use crate::report::keys::{described, plain};
use crate::tui::screen::tables::{Asked, Entry, Tables};
use crate::tui::state::State;

/// Cells of the signs before a name.
const SIGNS: u16 = 2;
/// Lines under the list: what the line marked is, and what there is to pick.
const UNDER: u16 = 6;
/// Widest that it is drawn.
const WIDE: u16 = 110;

/// Where the tables stand: under the drawing where there is room for both.
fn place(state: &State) -> Rect {
    let (wide, high) = state.size;
    let width = wide.saturating_sub(4).min(WIDE);
    let top = if high >= 32 { 1 + high / 3 } else { 1 };
    let foot = if high >= 24 { 3 } else { 2 };
    Rect { x: (wide - width) / 2, y: top, width, height: high.saturating_sub(top + foot) }
}

/// Draws them and says where the cursor stands.
pub fn draw(tables: &Tables, state: &State, buf: &mut Buffer) -> Option<Position> {
    let look = state.look;
    let area = framed(&title(tables), place(state), look, buf);
    let under = UNDER.min(area.height / 3);
    let list = Rect { height: area.height.saturating_sub(under + 1), ..area };
    let foot = Rect { y: list.bottom() + 1, height: under, ..area };
    let rule = "\u{2500}".repeat(usize::from(area.width));
    set(buf, area, area.x, list.bottom(), &rule, look.style(Role::Line));
    let inside = lines(tables, list, look, buf);
    let asked = below(tables, foot, look, buf);
    inside.or(asked)
}

fn title(tables: &Tables) -> String {
    let here = tables.here().path();
    let made = tables.draft.as_ref().map(|draft| match draft.target.holds() {
        Holds::Rows(_) => format!("a new row of {here}: * must be there"),
        _ => format!("a new {here}: * must be there"),
    });
    let is_root = here.is_empty();
    made.unwrap_or(if is_root { "The job's tables".to_owned() } else { here })
}

/// What is shown of a line: its signs and name, and its text in lines.
struct Shown<'a> {
    line: &'a Line,
    texts: Vec<String>,
    role: Role,
}

fn shown(line: &Line, wide: usize) -> Shown<'_> {
    let (text, role) = said(line);
    let texts = match line.holds {
        Holds::Value => wrap(&text, wide.max(1)),
        _ => vec![whole_pieces(&text, wide)],
    };
    Shown { line, texts, role }
}

/// What is written, or what holds without it.
fn said(line: &Line) -> (String, Role) {
    match (&line.text, line.key) {
        (Some(text), _) if line.rows > 0 => (format!("{}: {text}", line.rows), Role::Text),
        (Some(text), _) => (text.clone(), Role::Text),
        (None, _) if line.needed => ("must be there".to_owned(), Role::Look),
        (None, Some(key)) => match key.rule.unless {
            Some(unless) => (format!("{} ({})", unless.value, unless.source), Role::Faint),
            None => ("-".to_owned(), Role::Faint),
        },
        (None, None) => ("-".to_owned(), Role::Faint),
    }
}

/// As many pieces between commas as fit whole.
fn whole_pieces(text: &str, wide: usize) -> String {
    if cells(text) <= wide {
        return text.to_owned();
    }
    let ends = text.match_indices(", ").map(|(at, _)| at);
    let fits = ends.filter(|at| cells(&text[..*at]) + 3 <= wide).last();
    fits.map_or_else(|| clip(text, wide), |at| format!("{}, \u{2026}", &text[..at]))
}

/// The lines that fit, the one marked in sight; its field where one is open.
fn lines(tables: &Tables, area: Rect, look: Look, buf: &mut Buffer) -> Option<Position> {
    let names = tables.lines.iter().map(|line| cells(line.slot.word()));
    let most = usize::from(area.width / 3).max(8);
    let label = names.max().unwrap_or(0).min(most) as u16;
    let room = area.width.saturating_sub(SIGNS + label + 2);
    let all: Vec<Shown> = tables.lines.iter().map(|line| shown(line, room.into())).collect();
    let mark = tables.mark();
    let start = |at: usize| all.iter().take(at).map(|one| one.texts.len()).sum::<usize>();
    let high = usize::from(area.height);
    let top = (start(mark + 1) + high / 3).saturating_sub(high);
    let top = top.min(start(mark)).min(start(all.len()).saturating_sub(high));
    let mut cursor = None;
    if all.is_empty() && tables.entry.is_none() {
        set(buf, area, area.x + SIGNS, area.y, "nothing yet: a adds", look.style(Role::Faint));
    }
    for (at, one) in all.iter().enumerate() {
        let from = start(at);
        for (n, text) in one.texts.iter().enumerate() {
            let Some(row) = (from + n).checked_sub(top).filter(|row| *row < high) else { continue };
            let line = Rect { y: area.y + row as u16, height: 1, ..area };
            let is_first = n == 0;
            one_line(one, (text, is_first), (at == mark, label), line, look, buf);
            if at == mark && is_first {
                let value = Rect { x: line.x + SIGNS + label + 2, width: room, ..line };
                cursor = open_field(tables, value, look, buf);
            }
        }
    }
    if top + high < start(all.len()) {
        let x = area.right().saturating_sub(1);
        set(buf, area, x, area.bottom() - 1, "\u{25bc}", look.style(Role::Line));
    }
    cursor
}

fn one_line(
    one: &Shown<'_>,
    (text, is_first): (&str, bool),
    (marked, label): (bool, u16),
    area: Rect,
    look: Look,
    buf: &mut Buffer,
) {
    let style = if marked { look.marked() } else { look.style(Role::Text) };
    if marked {
        set(buf, area, area.x, area.y, &" ".repeat(usize::from(area.width)), style);
    }
    let value = area.x + SIGNS + label + 2;
    if is_first {
        let leads = !matches!(one.line.holds, Holds::Value);
        let sign = match (one.line.needed, leads) {
            (true, _) => "*",
            (_, true) => "\u{2192}",
            _ => " ",
        };
        set(buf, area, area.x, area.y, sign, if marked { style } else { look.style(Role::Strong) });
        let name = clip(one.line.slot.word().trim_matches('"'), usize::from(label));
        set(buf, area, area.x + SIGNS, area.y, &name, style);
    }
    let role = if marked { style } else { look.style(one.role) };
    set(buf, area, value, area.y, text, role);
}

/// The field over the value of the line marked.
fn open_field(tables: &Tables, room: Rect, look: Look, buf: &mut Buffer) -> Option<Position> {
    let entry = tables.entry.as_ref()?;
    let Asked::Value(slot) = &entry.asked else { return None };
    if tables.line().is_none_or(|line| line.slot != *slot) {
        return None;
    }
    buf.set_style(room, look.style(Role::Text));
    set(buf, room, room.x, room.y, &" ".repeat(usize::from(room.width)), look.style(Role::Text));
    field(&entry.input, room, look, buf)
}

/// What is asked, what the line marked is, what is wrong, what can be picked.
fn below(tables: &Tables, area: Rect, look: Look, buf: &mut Buffer) -> Option<Position> {
    let wide = usize::from(area.width);
    let mut y = area.y;
    let mut cursor = None;
    if let Some(question) = tables.entry.as_ref().and_then(question) {
        let x = set(buf, area, area.x, y, &question, look.style(Role::Strong)) + 1;
        let room = Rect { x, y, width: area.right().saturating_sub(x), height: 1 };
        cursor = tables.entry.as_ref().and_then(|entry| field(&entry.input, room, look, buf));
        y += 1;
    }
    for line in wrap(&tables.trouble, wide).iter().filter(|line| !line.is_empty()) {
        set(buf, area, area.x, y, line, look.style(Role::Refused));
        y += 1;
    }
    let picks = tables.entry.as_ref().filter(|entry| entry.offers());
    if let Some(entry) = picks {
        let left = Rect { y, height: area.bottom().saturating_sub(y), ..area };
        if matches!(entry.asked, Asked::Value(_)) && left.height > 3 {
            let says = about(tables).swap_remove(0);
            set(buf, area, area.x, y, &clip(&says, wide), look.style(Role::Faint));
            y += 1;
        }
        let left = Rect { y, height: area.bottom().saturating_sub(y), ..area };
        to_pick(entry, left, look, buf);
        return cursor;
    }
    let about = about(tables).into_iter().flat_map(|text| wrap(&text, wide));
    for (line, y) in about.zip(y..area.bottom()) {
        set(buf, area, area.x, y, &line, look.style(Role::Faint));
    }
    cursor
}

/// What a field asks that stands on no line.
fn question(entry: &Entry) -> Option<String> {
    Some(match &entry.asked {
        Asked::Value(_) => return None,
        Asked::Name(slot) => format!("another name for {slot}:"),
        Asked::Copy(slot) => format!("the copy of {slot} is called:"),
        Asked::Entry(map) => format!("a new entry of {map}, for:"),
        Asked::Kind => "which kind:".to_owned(),
        Asked::Go => "go to:".to_owned(),
    })
}

/// What the line marked is: its sentence; its kind, range and default; an
/// example. Of an empty list the sentence of its table.
fn about(tables: &Tables) -> Vec<String> {
    let Some(line) = tables.line() else {
        let shape = tables.here().shape();
        return vec![shape.map_or(String::new(), |shape| plain(shape.says()))];
    };
    let table = match line.holds {
        Holds::Table(shape) | Holds::Rows(shape) => Some(shape),
        _ => None,
    };
    if let (Some(shape), true) = (table, line.slot.number().is_some()) {
        return vec![plain(shape.says())];
    }
    let Some(key) = line.key else { return vec![String::new()] };
    let mut out = vec![plain(key.says())];
    if matches!(line.holds, Holds::Value) {
        let example = key.rule.example;
        let example = if example.is_empty() { String::new() } else { format!("; e.g. {example}") };
        out.push(format!("{}{example}", described(key)));
    }
    out
}

/// The picks that fit, that taken by Enter marked.
fn to_pick(entry: &Entry, area: Rect, look: Look, buf: &mut Buffer) {
    let fitting = entry.fitting();
    let mark = entry.picked().map(|(at, _)| at);
    let high = usize::from(area.height).max(1);
    let top = mark.map_or(0, |at| (at + 1).saturating_sub(high));
    let widest = fitting.iter().map(|pick| cells(&pick.word)).max().unwrap_or(0) as u16;
    for ((at, pick), y) in fitting.iter().enumerate().skip(top).zip(area.top()..area.bottom()) {
        let style = if mark == Some(at) { look.marked() } else { look.style(Role::Text) };
        let sign = if mark == Some(at) { "\u{25b6} " } else { "  " };
        let x = set(buf, area, area.x, y, sign, look.style(Role::Strong));
        set(buf, area, x, y, &pick.word, style);
        let x = x + widest + 2;
        let room = usize::from(area.right().saturating_sub(x));
        set(buf, area, x, y, &clip(&pick.says, room), look.style(Role::Faint));
    }
    if top + high < fitting.len() {
        let x = area.right().saturating_sub(1);
        set(buf, area, x, area.bottom() - 1, "\u{25bc}", look.style(Role::Line));
    }
}
