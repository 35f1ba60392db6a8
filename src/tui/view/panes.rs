//! Where everything stands. Update and view ask the same function, so drawing
//! changes nothing.

use ratatui::layout::Rect;

/// Least size at which the program is drawn.
pub const LEAST: (u16, u16) = (40, 10);
/// Width of the story pole with its words.
pub const POLE: u16 = 13;
/// Width of the story pole with signs only.
pub const NARROW: u16 = 4;
/// Lines over the rows of a table: its tabs and its heads.
pub const HEADS: u16 = 2;

/// The parts of the screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Panes {
    /// Name of the job, scale, whether it is saved.
    pub title: Rect,
    /// The story pole.
    pub pole: Rect,
    /// The building; empty on the bench and where there is no room.
    pub drawing: Rect,
    /// The answer in a sentence or two.
    pub lead: Rect,
    /// Tabs, heads and rows.
    pub table: Rect,
    /// One line of findings and, with room, one of what to do next.
    pub finding: Rect,
    /// One line of keys.
    pub keys: Rect,
}

impl Panes {
    /// Rows of the table itself.
    #[must_use]
    pub fn rows(&self) -> usize {
        usize::from(self.table.height.saturating_sub(HEADS))
    }
}

/// The parts for a terminal of that size; nothing when it is too small.
/// `lead` is how many lines the answer wants, `bench` that the bench is shown.
#[must_use]
pub fn panes(size: (u16, u16), lead: u16, bench: bool) -> Option<Panes> {
    let (wide, high) = size;
    if wide < LEAST.0 || high < LEAST.1 {
        return None;
    }
    let pole = if wide >= 72 { POLE } else { NARROW };
    let finding = if high >= 24 { 2 } else { 1 };
    let body = high - 2 - finding;
    let drawing = if bench { 0 } else { drawing_rows(high) };
    let lead = if bench { 0 } else { lead.min((body - drawing) / 4) };
    let inside = wide - pole;
    let at = |y: u16, height: u16| Rect::new(pole, y, inside, height);
    Some(Panes {
        title: Rect::new(0, 0, wide, 1),
        pole: Rect::new(0, 1, pole, body),
        drawing: at(1, drawing),
        lead: at(1 + drawing, lead),
        table: at(1 + drawing + lead, body - drawing - lead),
        finding: Rect::new(0, high - 1 - finding, wide, finding),
        keys: Rect::new(0, high - 1, wide, 1),
    })
}

/// The parts on the picture of a photograph: the picture beside its lengths.
#[must_use]
pub fn photo(size: (u16, u16)) -> Option<Panes> {
    let panes = panes(size, 0, true)?;
    let all = panes.table;
    let side = match all.width {
        0..=49 => all.width / 2,
        50..=89 => 30,
        90..=119 => 42,
        _ => 52,
    };
    let picture = Rect { width: all.width - side, ..all };
    let beside = Rect { x: picture.right() + 1, width: side - 1, ..all };
    Some(Panes { drawing: picture, table: beside, lead: Rect { height: 0, ..all }, ..panes })
}

/// What stands beside the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Side {
    /// Name, cross-hair, what is going on.
    pub head: Rect,
    /// The lengths.
    pub list: Rect,
    /// More of the length pointed at, and the mark that fits worst.
    pub notes: Rect,
    /// The magnifier.
    pub magnifier: Rect,
    /// The wall as if seen squarely.
    pub wall: Rect,
}

/// The parts beside the picture; `wall` gives the wall the place of the list.
#[must_use]
pub fn side(area: Rect, wall: bool) -> Side {
    let head = area.height.min(3);
    let rest = area.height - head;
    let notes = if wall { 0 } else { rest.min(3) };
    let magnifier = if area.height >= 16 { 8 } else { 0 };
    let magnifier = if wall { 0 } else { magnifier.min(rest - notes) };
    let left = rest - notes - magnifier;
    let squared = match (wall, left) {
        (true, _) => left,
        (false, 20..) => left / 2,
        _ => 0,
    };
    let list = left - squared;
    let at = |y: u16, height: u16| Rect { y: area.y + y, height, ..area };
    Side {
        head: at(0, head),
        list: at(head, list),
        notes: at(head + list, notes),
        magnifier: at(head + list + notes, magnifier),
        wall: at(head + list + notes + magnifier, squared),
    }
}

/// The picture and the wall where the building stands on other views.
#[must_use]
pub fn beside(area: Rect) -> [Rect; 2] {
    let left = Rect { width: area.width / 2, ..area };
    let right =
        Rect { x: left.right() + 1, width: area.width.saturating_sub(left.width + 1), ..area };
    [left, right]
}

/// Eight rows at 24, a third of a higher screen, none where every row counts.
fn drawing_rows(high: u16) -> u16 {
    match high {
        0..=17 => 0,
        18..=23 => high - 16,
        _ => (high / 3).min(18),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn at_80_by_24_pole_drawing_and_keys_have_their_place() {
        let panes = panes((80, 24), 2, false).unwrap();
        assert_eq!(panes.pole.width, 13);
        assert_eq!(panes.drawing.height, 8);
        assert_eq!((panes.finding.height, panes.keys.height), (2, 1));
        assert_eq!(panes.rows(), 8);
    }

    #[test]
    fn the_parts_fill_the_screen_and_never_leave_it() {
        for wide in 0..=300 {
            for high in 0..=100 {
                for bench in [true, false] {
                    let Some(all) = panes((wide, high), 3, bench) else {
                        assert!(wide < 40 || high < 10);
                        continue;
                    };
                    let column = all.drawing.height + all.lead.height + all.table.height;
                    assert_eq!(column + all.finding.height + 2, high);
                    assert!(all.rows() >= 3, "{wide}x{high}");
                    assert!(all.table.right() == wide && all.keys.bottom() == high);
                }
            }
        }
    }
}
