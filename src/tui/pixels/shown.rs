//! What stands on the screen, and what has to be sent when that changes.

use std::fmt::Write as _;
use std::sync::Arc;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Encoded, Protocol, is_left};
use crate::tui::picture::{Ink, Which};
use crate::tui::state::State;
use crate::tui::view::photo::places;

/// Number under which the first pane's picture is kept by the terminal.
const FIRST: u32 = 7100;

/// Most letters of a picture sent at once.
const CHUNK: usize = 4096;

/// The pictures on the screen.
#[derive(Debug, Default)]
pub struct Shown {
    panes: Vec<Pane>,
}

/// A picture on the screen.
#[derive(Clone, Debug)]
struct Pane {
    which: Which,
    area: Rect,
    picture: Arc<Encoded>,
    /// What is drawn over it, as one box.
    covered: Option<Rect>,
    /// Whether the terminal shows it as it is.
    sent: bool,
}

impl Shown {
    /// Forgets what is shown: the terminal was cleared.
    pub fn forget(&mut self) {
        self.panes.clear();
    }

    /// What to send so that the pictures stand where the screen just drawn
    /// leaves room; nothing where all is as it was.
    #[must_use]
    pub fn update(&mut self, state: &State, screen: &Buffer) -> String {
        let wanted = wanted(state, screen);
        let mut out = String::new();
        for old in &self.panes {
            if !wanted.iter().any(|new| new.which == old.which) {
                gone(&mut out, old);
            }
        }
        let panes = wanted.into_iter().map(|mut new| {
            let old = self.panes.iter().find(|old| old.which == new.which);
            change(&mut out, old, &mut new);
            new
        });
        self.panes = panes.collect();
        if out.is_empty() {
            return out;
        }
        // At once for the eye, the cursor where it was.
        format!("\x1b[?2026h\x1b7{out}\x1b8\x1b[?2026l")
    }
}

/// The pictures of the view, with what is drawn over them.
fn wanted(state: &State, screen: &Buffer) -> Vec<Pane> {
    let drawn = |which| state.photos.drawn.iter().find(|one| one.which == which);
    let pane = |(which, area): (Which, Rect)| {
        let Ok(Ink::Encoded(picture)) = &drawn(which)?.ink else { return None };
        let [wide, high] = picture.cells();
        let area = Rect { width: area.width.min(wide), height: area.height.min(high), ..area };
        let area = area.intersection(screen.area);
        let left = |at: (u16, u16)| screen.cell(at).is_some_and(|cell| is_left(cell, which));
        let cells = area.positions().map(|at| (at.x, at.y));
        let taken: Vec<(u16, u16)> = cells.filter(|at| !left(*at)).collect();
        let covered = around(&taken);
        Some(Pane { which, area, picture: picture.clone(), covered, sent: false })
    };
    places(state).into_iter().filter_map(pane).collect()
}

/// The box round some cells.
fn around(cells: &[(u16, u16)]) -> Option<Rect> {
    let of = |list: &mut dyn Iterator<Item = u16>| {
        list.fold(None, |ends: Option<(u16, u16)>, at| {
            Some(ends.map_or((at, at), |(low, high)| (low.min(at), high.max(at))))
        })
    };
    let (left, right) = of(&mut cells.iter().map(|at| at.0))?;
    let (top, foot) = of(&mut cells.iter().map(|at| at.1))?;
    Some(Rect::new(left, top, right - left + 1, foot - top + 1))
}

fn id(which: Which) -> u32 {
    FIRST + which as u32
}

/// A picture that is no longer wanted. Where it stood in cells, the screen has
/// drawn over it.
fn gone(out: &mut String, old: &Pane) {
    if old.picture.real.protocol == Protocol::Kitty {
        let _ = write!(out, "\x1b_Ga=d,d=I,i={},q=2\x1b\\", id(old.which));
    }
}

/// What follows for one pane.
fn change(out: &mut String, old: Option<&Pane>, new: &mut Pane) {
    let same = old.is_some_and(|old| Arc::ptr_eq(&old.picture, &new.picture));
    let moved = old.is_none_or(|old| old.area != new.area || old.covered != new.covered);
    if new.picture.real.protocol == Protocol::Kitty {
        if !same {
            send(out, new);
        } else if moved {
            let _ = write!(out, "\x1b_Ga=d,d=i,i={},q=2\x1b\\", id(new.which));
        }
        if !same || moved {
            place(out, new);
        }
        return;
    }
    let [wide, high] = new.picture.cells();
    let whole = new.area.width == wide && new.area.height == high;
    // Part of a picture cannot be sent: it waits until nothing lies over it.
    if new.covered.is_some() || !whole {
        return;
    }
    let stands = same && !moved && old.is_some_and(|old| old.sent);
    if !stands {
        inline(out, new);
    }
    new.sent = true;
}

fn go_to(out: &mut String, x: u16, y: u16) {
    let _ = write!(out, "\x1b[{};{}H", u32::from(y) + 1, u32::from(x) + 1);
}

/// Sixels, or a file in the line, at the pane's corner.
fn inline(out: &mut String, pane: &Pane) {
    go_to(out, pane.area.x, pane.area.y);
    let picture = &pane.picture;
    if picture.real.protocol == Protocol::Sixel {
        out.push_str(&picture.data);
        return;
    }
    let [wide, high] = picture.size;
    let _ = write!(
        out,
        "\x1b]1337;File=inline=1;width={wide}px;height={high}px;preserveAspectRatio=0;doNotMoveCursor=1:{}\x07",
        picture.data
    );
}

/// Sends the picture's file; the terminal keeps it under its number.
fn send(out: &mut String, pane: &Pane) {
    let data = &pane.picture.data;
    let mut rest = data.as_str();
    let mut head = format!("a=t,f=100,i={},q=2,", id(pane.which));
    loop {
        let (now, later) = rest.split_at(rest.len().min(CHUNK));
        let more = u8::from(!later.is_empty());
        let _ = write!(out, "\x1b_G{head}m={more};{now}\x1b\\");
        if later.is_empty() {
            return;
        }
        (rest, head) = (later, "q=2,".to_owned());
    }
}

/// Places the parts that nothing lies over, under the text.
fn place(out: &mut String, pane: &Pane) {
    let [across, down] = pane.picture.real.cell;
    for (number, part) in free(pane.area, pane.covered).into_iter().enumerate() {
        let (x, y) = (u32::from(part.x - pane.area.x), u32::from(part.y - pane.area.y));
        let [x, y] = [x * across, y * down];
        let [wide, high] = pane.picture.size;
        let wide = (u32::from(part.width) * across).min(wide.saturating_sub(x));
        let high = (u32::from(part.height) * down).min(high.saturating_sub(y));
        if wide == 0 || high == 0 {
            continue;
        }
        go_to(out, part.x, part.y);
        let _ = write!(
            out,
            "\x1b_Ga=p,i={},p={},x={x},y={y},w={wide},h={high},z=-1,C=1,q=2\x1b\\",
            id(pane.which),
            number + 1
        );
    }
}

/// What is left of an area round a box in it: over, under, left, right.
fn free(area: Rect, covered: Option<Rect>) -> Vec<Rect> {
    let Some(over) = covered else { return vec![area] };
    let parts = [
        Rect { height: over.y - area.y, ..area },
        Rect { y: over.bottom(), height: area.bottom() - over.bottom(), ..area },
        Rect { y: over.y, height: over.height, width: over.x - area.x, ..area },
        Rect {
            x: over.right(),
            y: over.y,
            width: area.right() - over.right(),
            height: over.height,
        },
    ];
    parts.into_iter().filter(|part| !part.is_empty()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_round_a_box_is_all_but_the_box() {
        let area = Rect::new(3, 2, 10, 8);
        for over in [Rect::new(5, 4, 3, 2), Rect::new(3, 2, 10, 3), Rect::new(12, 9, 1, 1), area] {
            let parts = free(area, Some(over));
            for at in area.positions() {
                let count = parts.iter().filter(|part| part.contains(at)).count();
                assert_eq!(count, usize::from(!over.contains(at)), "{at:?} {over:?}");
            }
        }
        assert_eq!(free(area, None), [area]);
    }
}
