//! The job here and the job on disk, side by side.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::over::frame;
use super::palette::Role;
use super::text::set;
use crate::tui::screen::beside::{Beside, Pair};
use crate::tui::state::State;

/// Draws what differs, from the line scrolled to.
pub fn draw(beside: &Beside, state: &State, buf: &mut Buffer) {
    let look = state.look;
    let (wide, high) = state.size;
    let title = "Changed on disk by another program: nothing is written yet";
    let area = frame(title, wide.saturating_sub(2), high.saturating_sub(4), true, state, buf);
    let half = Beside::half(wide);
    let right = area.x + half as u16 + 3;
    let line = |x: u16, y: u16, wide: usize, text: &str, role: Role, buf: &mut Buffer| {
        let room = Rect { x, width: (wide as u16).min(area.right().saturating_sub(x)), ..area };
        set(buf, room, x, y, text, look.style(role));
    };
    line(area.x, area.y, half, "what is here", Role::Strong, buf);
    line(right, area.y, half, "what is on disk", Role::Strong, buf);
    let pairs = beside.pairs(half);
    let shown = pairs.iter().skip(beside.top);
    for (pair, y) in shown.zip(area.y + 1..area.bottom()) {
        match pair {
            Pair::Place(place) => line(area.x, y, 2 * half, place, Role::Faint, buf),
            Pair::Lines(mine, theirs) => {
                line(area.x, y, half, mine, Role::Text, buf);
                line(right - 2, y, 1, "\u{2502}", Role::Line, buf);
                line(right, y, half, theirs, Role::Look, buf);
            }
        }
    }
    if pairs.is_empty() {
        line(area.x, area.y + 1, 2 * half, "the same lines", Role::Text, buf);
    }
    let x = area.right();
    if beside.top > 0 {
        set(buf, buf.area, x, area.y + 1, "\u{25b2}", look.style(Role::Line));
    }
    if beside.top + Beside::rows(high) < pairs.len() {
        set(buf, buf.area, x, area.bottom().saturating_sub(1), "\u{25bc}", look.style(Role::Line));
    }
}
