//! Sticks as bars: a bar for each way to cut one; `o` marks an offcut from the
//! rack.
//!
//! ```text
//!  3 x │ wall/post 3.125 │ wall/post 3.125 │ brace │░░ 1.94 ░░│
//! ```

use std::collections::BTreeMap;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::super::palette::{Look, Role};
use super::super::text::{cells, set};
use super::short;
use crate::cutting::parts::StickGroup;
use crate::cutting::sticks::StickCut;
use crate::job::model::Done;

/// Cells in front of a bar: how often it is cut.
const COUNT: u16 = 7;

pub(super) fn caption(group: &StickGroup) -> String {
    let [cost, bound] = group.amounts();
    let best = if group.layout.proven {
        format!("proven the {}", cost.best_word())
    } else {
        format!("at most {} more than needed", cost.less(bound))
    };
    format!(
        "{}: {} of {:.1} in, {best}; {:.1} % waste",
        group.stock,
        group.count(),
        group.bought.in_inches(),
        100.0 * group.waste()
    )
}

/// As many bars as there is room for, the one marked among them.
pub(super) fn draw(
    group: &StickGroup,
    marked: usize,
    done: &BTreeMap<String, Done>,
    area: Rect,
    look: Look,
    buf: &mut Buffer,
) {
    let room = usize::from(area.height);
    let count = group.layout.cuts.len();
    let from = marked.saturating_sub(room / 2).min(count.saturating_sub(room));
    let shown = group.layout.cuts.iter().enumerate().skip(from).take(room);
    for ((at, cut), y) in shown.zip(area.top()..area.bottom()) {
        let role = if at == marked { Role::Strong } else { Role::Faint };
        let sign = if at == marked { '\u{25b6}' } else { ' ' };
        let kind = if group.is_new(cut) { 'x' } else { 'o' };
        let head = format!("{sign}{:>3} {kind}", cut.times);
        set(buf, area, area.x, y, &head, look.style(role));
        let line = Rect { x: area.x + COUNT, y, width: area.width - COUNT - 1, height: 1 };
        bar(group, cut, done, line, look, buf);
    }
}

fn bar(
    group: &StickGroup,
    cut: &StickCut,
    done: &BTreeMap<String, Done>,
    line: Rect,
    look: Look,
    buf: &mut Buffer,
) {
    let last = f64::from(line.width.saturating_sub(1));
    // Offcuts are drawn at the scale of a new stick.
    let whole = group.bought.max(group.usable).in_inches().max(1e-9);
    let cell = |inches: f64| line.x + (inches / whole * last).round().clamp(0.0, last) as u16;
    let mut end = line.x;
    for (&part, start) in cut.pieces.iter().zip(group.starts(cut)) {
        let part = &group.parts[part];
        let from = cell(start.in_inches());
        end = cell((start + part.length).in_inches());
        let wide = usize::from((end - from).saturating_sub(1));
        let role = if done.contains_key(&part.label) { Role::Chosen } else { Role::Text };
        set(buf, line, from, line.y, "\u{2502}", look.style(Role::Built));
        let name = name(&part.label, part.length.in_inches(), wide);
        let x = from + 1 + (wide.saturating_sub(cells(&name)) / 2) as u16;
        set(buf, line, x, line.y, &name, look.style(role));
    }
    let there = if group.is_new(cut) { group.bought } else { group.usable_of(cut) };
    let stop = cell(there.in_inches());
    set(buf, line, end, line.y, "\u{2502}", look.style(Role::Built));
    let free = usize::from(stop.saturating_sub(end + 1));
    set(buf, line, end + 1, line.y, &"\u{2591}".repeat(free), look.style(Role::Line));
    let left = format!(" {:.2} ", cut.left.in_inches());
    if cells(&left) <= free {
        let x = end + 1 + ((free - cells(&left)) / 2) as u16;
        set(buf, line, x, line.y, &left, look.style(Role::Faint));
    }
    if stop > end {
        set(buf, line, stop, line.y, "\u{2502}", look.style(Role::Line));
    }
}

/// Label and length, or what of them fits.
fn name(label: &str, inches: f64, wide: usize) -> String {
    let length = format!("{inches:.3}");
    let named = short(label, wide.saturating_sub(length.len() + 1));
    if named.is_empty() {
        let only = short(label, wide);
        return if only.is_empty() && length.len() <= wide { length } else { only.to_owned() };
    }
    format!("{named} {length}")
}

#[cfg(test)]
mod tests {
    use super::name;

    #[test]
    fn a_name_is_cut_to_its_piece() {
        assert_eq!(name("deck/batten-1", 2.204, 30), "deck/batten-1 2.204");
        assert_eq!(name("deck/batten-1", 2.204, 15), "batten-1 2.204");
        assert_eq!(name("deck/batten-1", 2.204, 13), "deck/batten-1");
        assert_eq!(name("deck/batten-1", 2.204, 9), "batten-1");
        assert_eq!(name("deck/batten-1", 2.204, 6), "2.204");
        assert_eq!(name("deck/batten-1", 2.204, 4), "");
    }
}
