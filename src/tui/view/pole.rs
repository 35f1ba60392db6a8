//! The story pole: the stages in the order of the work, each with a mark.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::palette::{Look, Role};
use super::text::clip;
use crate::finding::Severity;
use crate::report::table::{Mark, View};
use crate::tui::state::State;

/// How a stage stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Always there.
    Ready,
    /// Nothing yet.
    Nothing,
    /// There is something, nothing is settled.
    Open,
    /// Something was chosen, nothing asks for a look.
    Settled,
    /// So many findings ask for a look.
    Look(usize),
}

impl Standing {
    /// How a view stands.
    #[must_use]
    pub fn of(view: &View) -> Self {
        let looks = view.findings.iter().filter(|one| one.severity != Severity::Note).count();
        let mut rows = view.shown().into_iter().flat_map(|table| &table.rows).peekable();
        if looks > 0 {
            Self::Look(looks)
        } else if rows.peek().is_none() {
            Self::Nothing
        } else if rows.any(|row| row.mark == Mark::Chosen) {
            Self::Settled
        } else {
            Self::Open
        }
    }

    /// Sign and word.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Ready => "= ready".to_owned(),
            Self::Nothing => "- nothing".to_owned(),
            Self::Open => "o open".to_owned(),
            Self::Settled => "* settled".to_owned(),
            Self::Look(count) => format!("? look {count}"),
        }
    }

    fn sign(self) -> char {
        match self {
            Self::Ready => '=',
            Self::Nothing => '-',
            Self::Open => 'o',
            Self::Settled => '*',
            Self::Look(_) => '?',
        }
    }

    fn role(self) -> Role {
        match self {
            Self::Ready | Self::Nothing => Role::Faint,
            Self::Open => Role::Text,
            Self::Settled => Role::Chosen,
            Self::Look(_) => Role::Look,
        }
    }
}

/// How a stage of the pole stands.
#[must_use]
pub fn standing(state: &State, stage: usize) -> Standing {
    match stage.checked_sub(1).and_then(|at| state.views.get(at)) {
        Some(view) => Standing::of(view),
        None => Standing::Ready,
    }
}

/// Lines each stage takes: two with room, else one.
fn lines(area: Rect, stages: usize) -> u16 {
    if usize::from(area.height) >= 2 * stages { 2 } else { 1 }
}

/// The first stage shown, so that the one chosen is.
fn first(area: Rect, state: &State) -> usize {
    let shown = usize::from(area.height / lines(area, state.stages())).max(1);
    (state.stage + 1).saturating_sub(shown)
}

/// The stage at a row of the screen.
#[must_use]
pub fn stage_at(area: Rect, state: &State, y: u16) -> Option<usize> {
    let down = y.checked_sub(area.y)?;
    let stage = first(area, state) + usize::from(down / lines(area, state.stages()));
    (stage < state.stages()).then_some(stage)
}

/// Draws the pole.
pub fn draw(state: &State, area: Rect, buf: &mut Buffer) {
    let look = state.look;
    for y in area.top()..area.bottom() {
        buf.set_string(area.x, y, "\u{2503}", look.style(Role::Line));
    }
    let high = lines(area, state.stages());
    for (n, stage) in (first(area, state)..state.stages()).enumerate() {
        let y = area.y + n as u16 * high;
        if y + high > area.bottom() {
            break;
        }
        mark(state, stage, Rect { y, height: high, ..area }, look, buf);
    }
}

/// One mark on the pole: a notch, the stage's name, its sign and word.
fn mark(state: &State, stage: usize, area: Rect, look: Look, buf: &mut Buffer) {
    let here = stage == state.stage;
    let notch = if here { "\u{25b6}" } else { "\u{2523}" };
    let notch_role = if here { Role::Strong } else { Role::Line };
    buf.set_string(area.x, area.y, notch, look.style(notch_role));
    let standing = standing(state, stage);
    let room = area.width.saturating_sub(3) as usize;
    let name = State::stage_name(stage);
    let style = if here { look.marked() } else { look.style(Role::Text) };
    if area.width < super::panes::POLE {
        let short: String = name.chars().take(2).collect();
        buf.set_stringn(area.x + 1, area.y, short, 2, style);
        let sign = standing.sign().to_string();
        buf.set_string(area.x + 3, area.y, sign, look.style(standing.role()));
        return;
    }
    buf.set_string(area.x + 1, area.y, clip(name, room.saturating_sub(1)), style);
    let role = look.style(standing.role());
    if area.height > 1 {
        buf.set_stringn(area.x + 1, area.y + 1, standing.words(), room, role);
    } else {
        buf.set_string(area.x + 11, area.y, standing.sign().to_string(), role);
    }
}
