//! A picture as cells: half blocks in colours, or signs of different weight.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier, Style};

use crate::photo::pixels::RgbImage;
use crate::photo::window::Window;
use crate::tui::picture::{Overlay, Tone, along};
use crate::tui::view::palette::{Depth, Ground, Look, Role};

/// Signs from no ink to much.
const WEIGHTS: &[u8] = b" .:-=+*#%@";

/// Whether pictures are printed in colours.
fn is_colored(look: Look) -> bool {
    matches!(look.depth, Depth::Many | Depth::Full) && !look.ascii
}

/// Draws dots, two to the cell, from the upper left corner of the area.
pub(super) fn draw(dots: &RgbImage, area: Rect, look: Look, buf: &mut Buffer) {
    let area = area.intersection(buf.area);
    for row in 0..area.height {
        for column in 0..area.width {
            let (x, y) = (u32::from(column), 2 * u32::from(row));
            let Some(top) = dots.get_pixel_checked(x, y) else { continue };
            let low = dots.get_pixel_checked(x, y + 1).unwrap_or(top);
            let Some(cell) = buf.cell_mut((area.x + column, area.y + row)) else { continue };
            if is_colored(look) {
                cell.set_char('\u{2580}');
                cell.set_fg(color(top.0, look.depth)).set_bg(color(low.0, look.depth));
            } else {
                let light = u32::midpoint(luma(top.0), luma(low.0));
                cell.set_char(weight(light, look.ground));
            }
        }
    }
}

/// Luma of Rec. ITU-R BT.601, 0 to 255.
fn luma([r, g, b]: [u8; 3]) -> u32 {
    (299 * u32::from(r) + 587 * u32::from(g) + 114 * u32::from(b)) / 1000
}

/// The sign for a brightness; on a light ground ink is dark.
fn weight(light: u32, ground: Ground) -> char {
    let most = WEIGHTS.len() as u32 - 1;
    let at = (light * most + 127) / 255;
    let at = if ground == Ground::Dark { at } else { most - at };
    char::from(WEIGHTS[at.min(most) as usize])
}

/// The colour, or the nearest of the fixed 256: their cube or their greys.
fn color(rgb: [u8; 3], depth: Depth) -> Color {
    if depth == Depth::Full {
        return Color::Rgb(rgb[0], rgb[1], rgb[2]);
    }
    let level = |at: u8| if at == 0 { 0_u8 } else { 55 + 40 * at };
    let nearest = |value: u8| match value {
        0..48 => 0_u8,
        48..115 => 1,
        _ => (value - 35) / 40,
    };
    let cube = rgb.map(nearest);
    let grey_at = (luma(rgb).saturating_sub(3) / 10).min(23) as u8;
    let far = |other: [u8; 3]| -> u32 {
        rgb.iter().zip(other).map(|(a, b)| u32::from(a.abs_diff(b)).pow(2)).sum()
    };
    if far([8 + 10 * grey_at; 3]) < far(cube.map(level)) {
        Color::Indexed(232 + grey_at)
    } else {
        Color::Indexed(16 + 36 * cube[0] + 6 * cube[1] + cube[2])
    }
}

/// Lines, marks and cross-hair over the cells of a window.
pub(super) fn lay_over(
    overlay: &Overlay,
    window: &Window,
    area: Rect,
    look: Look,
    buf: &mut Buffer,
) {
    for [from, to] in &overlay.lines {
        line(window.dot(*from), window.dot(*to), area, look, buf);
    }
    for (at, tone) in &overlay.marks {
        let (sign, role) = match tone {
            Tone::Plain => ("+", Role::Strong),
            Tone::Held => ("X", Role::Chosen),
            Tone::Worst => ("!", Role::Refused),
            Tone::Pending => ("o", Role::Look),
        };
        sign_at(window.dot(*at), sign, look.style(role), area, buf);
    }
    let Some(cross) = overlay.cross else { return };
    let [x, y] = window.dot(cross);
    let style = look.style(Role::Strong);
    for by in [-3.0, -2.0, 2.0, 3.0] {
        sign_at([x + by, y], "\u{2500}", style, area, buf);
    }
    for by in [-2.0, -1.0, 1.0, 2.0] {
        sign_at([x, y + by], "\u{2502}", style, area, buf);
    }
    sign_at([x, y], "\u{253c}", style.add_modifier(Modifier::REVERSED), area, buf);
}

fn line(from: [f64; 2], to: [f64; 2], area: Rect, look: Look, buf: &mut Buffer) {
    let style = Style::new().fg(look.color(Role::Strong));
    for at in along(from, to) {
        sign_at(at, "\u{b7}", style, area, buf);
    }
}

fn sign_at(at: [f64; 2], sign: &str, style: Style, area: Rect, buf: &mut Buffer) {
    let [x, y] = at.map(f64::round);
    let inside = x >= 0.0 && y >= 0.0 && x < f64::from(area.width) && y < f64::from(area.height);
    if inside && let Some(cell) = buf.cell_mut((area.x + x as u16, area.y + y as u16)) {
        cell.set_symbol(sign).set_style(style);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_of_the_fixed_256() {
        assert_eq!(color([0, 0, 0], Depth::Many), Color::Indexed(16));
        assert_eq!(color([255, 255, 255], Depth::Many), Color::Indexed(231));
        assert_eq!(color([255, 0, 0], Depth::Many), Color::Indexed(196));
        assert_eq!(color([118, 118, 118], Depth::Many), Color::Indexed(243));
        assert_eq!(color([1, 2, 3], Depth::Full), Color::Rgb(1, 2, 3));
    }

    #[test]
    fn brightness_is_ink_on_dark_and_the_lack_of_it_on_light() {
        assert_eq!((weight(0, Ground::Dark), weight(255, Ground::Dark)), (' ', '@'));
        assert_eq!((weight(0, Ground::Light), weight(255, Ground::Light)), ('@', ' '));
    }
}
