//! The jobs that can be opened, under their headings.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::over::{frame, width};
use super::palette::Role;
use super::text::{cells, clip, set};
use crate::tui::screen::jobs::{Offer, offers};
use crate::tui::state::State;

/// A line of the picture: an offer with its number, a heading, or nothing.
enum Line {
    Heading(&'static str),
    Offer(usize, Offer),
}

/// Draws the offers, the one marked in sight.
pub fn draw(state: &State, at: usize, buf: &mut Buffer) {
    let look = state.look;
    let lines = lines(state);
    let title = "Scantling: which building?";
    let area = frame(title, width(state), lines.len() as u16 + 2, false, state, buf);
    let here = lines.iter().position(|line| matches!(line, Line::Offer(n, _) if *n == at));
    let top = (here.unwrap_or(0) + 2).saturating_sub(usize::from(area.height));
    let names = lines.iter().map(|line| match line {
        Line::Offer(_, offer) => cells(&offer.words().0),
        Line::Heading(_) => 0,
    });
    let first = names.max().unwrap_or(0).min(usize::from(area.width) / 2);
    for (line, y) in lines.iter().skip(top).zip(area.top()..area.bottom()) {
        match line {
            Line::Heading(words) => {
                set(buf, area, area.x, y, words, look.style(Role::Faint));
            }
            Line::Offer(n, offer) => {
                let style = if *n == at { look.marked() } else { look.style(Role::Text) };
                let row = Rect { y, height: 1, ..area };
                set(buf, row, row.x, y, &" ".repeat(usize::from(row.width)), style);
                let (name, about) = offer.words();
                set(buf, row, row.x + 2, y, &clip(&name, first), style);
                let x = row.x + 4 + first as u16;
                let room = usize::from(row.right().saturating_sub(x));
                set(buf, row, x, y, &tail(&about, room, offer), style);
            }
        }
    }
}

/// What is said of an offer; of a folder the end matters.
fn tail(about: &str, room: usize, offer: &Offer) -> String {
    let count = about.chars().count();
    match offer {
        Offer::Last(_) if count > room => {
            let from = count + 1 - room.max(1);
            format!("\u{2026}{}", about.chars().skip(from).collect::<String>())
        }
        _ => clip(about, room),
    }
}

fn lines(state: &State) -> Vec<Line> {
    let mut out = Vec::new();
    let mut under = "";
    for (n, offer) in offers(&state.last).into_iter().enumerate() {
        if offer.heading() != under {
            under = offer.heading();
            out.push(Line::Heading(under));
        }
        out.push(Line::Offer(n, offer));
    }
    out
}
