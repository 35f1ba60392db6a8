//! The stick or sheet of the row marked, drawn to scale with what is cut from
//! it.

mod sheet;
mod stick;

use std::collections::BTreeMap;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::palette::{Look, Role};
use super::text::{clip, set};
use crate::job::model::Done;
use crate::report::layout::shown::Shown;

/// Draws it under a caption; `done` says which parts are cut.
pub fn draw(
    shown: &Shown<'_>,
    done: &BTreeMap<String, Done>,
    area: Rect,
    look: Look,
    buf: &mut Buffer,
) {
    if area.height < 2 || area.width < 16 {
        return;
    }
    let below = Rect { y: area.y + 1, height: area.height - 1, ..area };
    let caption = match shown {
        Shown::Sticks(group, at) => {
            stick::draw(group, *at, done, below, look, buf);
            stick::caption(group)
        }
        Shown::Sheet(group, at, on) => {
            sheet::draw(group, *at, *on, done, below, look, buf);
            sheet::caption(group, *at)
        }
    };
    let caption = clip(&caption, usize::from(area.width.saturating_sub(1)));
    set(buf, area, area.x, area.y, &caption, look.style(Role::Built));
}

/// What a part is called where there is little room: its whole label, its own
/// name without the face, or nothing.
fn short(label: &str, wide: usize) -> &str {
    let own = label.rsplit('/').next().unwrap_or(label);
    [label, own].into_iter().find(|name| super::text::cells(name) <= wide).unwrap_or("")
}
