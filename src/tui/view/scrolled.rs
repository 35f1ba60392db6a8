//! What is longer than its room, drawn from a line on.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::palette::{Look, Role};
use super::text::set;

/// More lines than any answer has.
const MOST: u16 = 160;

/// Something that draws itself from the top of an area.
pub(super) type Paint<'p> = &'p dyn Fn(Rect, &mut Buffer);

/// The whole, drawn where it has all the room it wants, and its lines.
fn whole(width: u16, rows: u16, paint: Paint<'_>) -> (Buffer, u16) {
    let area = Rect::new(0, 0, width, rows.min(MOST));
    let mut long = Buffer::empty(area);
    paint(area, &mut long);
    let blank = |y: &u16| (0..width).all(|x| long[(x, *y)].symbol() == " ");
    let lines = (0..area.height).rev().find(|y| !blank(y)).map_or(0, |y| y + 1);
    (long, lines)
}

/// How far down it can be drawn from, in an area; none where it fits.
pub(super) fn most(area: Rect, rows: u16, paint: Paint<'_>) -> u16 {
    let (_, lines) = whole(area.width, rows, paint);
    if lines <= area.height { 0 } else { lines + 1 - area.height }
}

/// Draws it from a line on, with a line under it that says how much there is. At
/// its top, what is short of room may leave out what matters least: `short`.
pub(super) fn draw(
    (top, rows): (u16, u16),
    short: bool,
    look: Look,
    area: Rect,
    buf: &mut Buffer,
    paint: Paint<'_>,
) {
    let (long, lines) = whole(area.width, rows, paint);
    if lines <= area.height || area.height < 3 {
        paint(area, buf);
        return;
    }
    let room = area.height - 1;
    let top = top.min(lines - room);
    if top == 0 && short {
        paint(Rect { height: room, ..area }, buf);
    } else {
        for y in 0..room {
            for x in 0..area.width {
                buf[(area.x + x, area.y + y)] = long[(x, top + y)].clone();
            }
        }
    }
    let way = match (top > 0, top + room < lines) {
        (true, true) => "PgUp and PgDn",
        (true, false) => "PgUp",
        _ => "PgDn",
    };
    let text = format!("more with {way}: {} to {} of {lines} lines", top + 1, top + room);
    let x = area.right().saturating_sub(text.chars().count() as u16 + 1).max(area.x);
    set(buf, area, x, area.y + room, &text, look.style(Role::Faint));
}
