//! The rule drawn in dots, with the length laid between its two edges.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::symbols::Marker;
use ratatui::widgets::Widget;
use ratatui::widgets::canvas::{Canvas, Points};

use super::palette::{Look, Role};
use super::text::set;
use crate::quantity::ModelLength;
use crate::tui::screen::rule::{Piece, Tick};

/// Rows the rule takes: figures, inch edge, the length, millimetre edge, figures.
pub const ROWS: u16 = 7;

/// Draws the piece of the rule that shows the end of `length`.
pub fn draw(length: ModelLength, area: Rect, look: Look, buf: &mut Buffer) {
    if area.height < ROWS || area.width < 10 {
        return;
    }
    let piece = Piece::showing(length, usize::from(area.width) * 2);
    figures(&piece, Rect { height: 1, ..area }, look, buf);
    let dots = Rect { y: area.y + 1, height: ROWS - 2, ..area };
    let high = f64::from(dots.height) * 4.0 - 1.0;
    let top: Vec<(f64, f64)> = piece.inches().iter().flat_map(|tick| down(*tick, high)).collect();
    let foot: Vec<(f64, f64)> = piece.millimetres().iter().flat_map(|tick| up(*tick)).collect();
    let bar = bar(&piece, length, high);
    Canvas::default()
        .marker(Marker::Braille)
        .background_color(look.ground_color())
        .x_bounds([0.0, f64::from(dots.width) * 2.0 - 1.0])
        .y_bounds([0.0, high])
        .paint(|context| {
            context.draw(&Points { coords: &top, color: look.color(Role::Text) });
            context.draw(&Points { coords: &foot, color: look.color(Role::Text) });
            context.draw(&Points { coords: &bar, color: look.color(Role::Built) });
        })
        .render(dots, buf);
    centimetres(&piece, Rect { y: area.y + ROWS - 1, height: 1, ..area }, look, buf);
}

/// Dots of a tick hanging from the upper edge.
fn down(tick: Tick, high: f64) -> impl Iterator<Item = (f64, f64)> {
    (0..=u32::from(tick.rank)).map(move |n| (tick.at as f64, high - f64::from(n)))
}

/// Dots of a tick standing on the lower edge.
fn up(tick: Tick) -> impl Iterator<Item = (f64, f64)> {
    (0..=u32::from(tick.rank)).map(move |n| (tick.at as f64, f64::from(n)))
}

/// The length: a bar two dots thick, its end drawn from edge to edge.
fn bar(piece: &Piece, length: ModelLength, high: f64) -> Vec<(f64, f64)> {
    let Some(end) = piece.dot(length.in_inches()) else { return Vec::new() };
    let middle = (high / 2.0).floor();
    let along = (0..=end).flat_map(|x| [(x as f64, middle), (x as f64, middle + 1.0)]);
    let across = (0..=high as u32).map(|y| (end as f64, f64::from(y)));
    along.chain(across).collect()
}

fn figures(piece: &Piece, area: Rect, look: Look, buf: &mut Buffer) {
    let first = piece.from.ceil() as u32;
    for inch in first..=first + 3 {
        if let Some(dot) = piece.dot(f64::from(inch)) {
            let x = area.x + (dot / 2) as u16;
            let text = if inch == first { format!("{inch} in") } else { inch.to_string() };
            set(buf, area, x, area.y, &text, look.style(Role::Faint));
        }
    }
}

fn centimetres(piece: &Piece, area: Rect, look: Look, buf: &mut Buffer) {
    let first = (piece.from * 2.54).ceil() as u32;
    for cm in first..=first + 8 {
        if let Some(dot) = piece.dot(f64::from(cm) / 2.54) {
            let x = area.x + (dot / 2) as u16;
            let mm = cm * 10;
            let text = if cm == first { format!("{mm} mm") } else { mm.to_string() };
            set(buf, area, x, area.y, &text, look.style(Role::Faint));
        }
    }
}
