//! A protractor drawn in dots, with the angle laid against it.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::symbols::Marker;
use ratatui::widgets::Widget;
use ratatui::widgets::canvas::{Canvas, Points};

use super::palette::{Look, Role};
use super::text::set;

/// Rows it takes: the quarter circle, and its figures beside it.
pub(super) const ROWS: u16 = 8;
/// Columns of the quarter circle alone.
pub(super) const WIDE: u16 = 2 * ROWS + 2;

/// Draws a quarter circle from level to plumb and a line at the angle; a cell is
/// twice as high as wide, which the dots make square again.
pub(super) fn draw(degrees: f64, area: Rect, look: Look, buf: &mut Buffer) {
    if area.height < ROWS || area.width < WIDE {
        return;
    }
    let high = f64::from(ROWS) * 4.0 - 1.0;
    let wide = WIDE;
    let dots = Rect { width: wide, height: ROWS, ..area };
    let place = |angle: f64, radius: f64| (radius * angle.cos(), radius * angle.sin());
    let radius = high - 1.0;
    let arc: Vec<(f64, f64)> =
        (0..=180).map(|n| place(f64::from(n).to_radians() / 2.0, radius)).collect();
    let ticks: Vec<(f64, f64)> = (0..=9)
        .flat_map(|ten| {
            let long = if ten % 3 == 0 { 5 } else { 3 };
            (0..=long).map(move |n| (f64::from(ten) * 10.0, radius - f64::from(n)))
        })
        .map(|(angle, at)| place(angle.to_radians(), at))
        .collect();
    let angle = degrees.clamp(0.0, 90.0).to_radians();
    let ray: Vec<(f64, f64)> = (0..=radius as u32).map(|n| place(angle, f64::from(n))).collect();
    let level: Vec<(f64, f64)> = (0..=radius as u32).map(|n| (f64::from(n), 0.0)).collect();
    Canvas::default()
        .marker(Marker::Braille)
        .background_color(look.ground_color())
        .x_bounds([0.0, f64::from(wide) * 2.0 - 1.0])
        .y_bounds([0.0, high])
        .paint(|context| {
            context.draw(&Points { coords: &arc, color: look.color(Role::Faint) });
            context.draw(&Points { coords: &ticks, color: look.color(Role::Text) });
            context.draw(&Points { coords: &level, color: look.color(Role::Text) });
            context.draw(&Points { coords: &ray, color: look.color(Role::Built) });
        })
        .render(dots, buf);
    let words = [
        format!("{degrees:.2} degrees from level"),
        format!("{:.2} degrees from plumb", 90.0 - degrees),
        format!("{:.4} in 12", degrees.to_radians().tan() * 12.0),
    ];
    if area.width < wide + 26 {
        return;
    }
    for (line, y) in words.iter().zip(area.y + 2..area.bottom()) {
        set(buf, area, area.x + wide + 2, y, line, look.style(Role::Text));
    }
}
