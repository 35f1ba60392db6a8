//! Figures for arm's length: five rows high, built of blocks.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// Rows of a figure.
const HIGH: u16 = 5;

/// A figure as five rows; nothing for what has none.
fn rows(c: char) -> Option<[&'static str; 5]> {
    Some(match c {
        '0' => ["###", "# #", "# #", "# #", "###"],
        '1' => [" # ", "## ", " # ", " # ", "###"],
        '2' => ["###", "  #", "###", "#  ", "###"],
        '3' => ["###", "  #", "###", "  #", "###"],
        '4' => ["# #", "# #", "###", "  #", "  #"],
        '5' => ["###", "#  ", "###", "  #", "###"],
        '6' => ["###", "#  ", "###", "# #", "###"],
        '7' => ["###", "  #", " # ", " # ", " # "],
        '8' => ["###", "# #", "###", "# #", "###"],
        '9' => ["###", "# #", "###", "  #", "###"],
        '/' => ["  #", "  #", " # ", "#  ", "#  "],
        '\'' => ["#", "#", " ", " ", " "],
        '"' => ["# #", "# #", "   ", "   ", "   "],
        '-' => ["  ", "  ", "##", "  ", "  "],
        '+' => ["   ", " # ", "###", " # ", "   "],
        '.' => [" ", " ", " ", " ", "#"],
        'm' => ["     ", "     ", "## ##", "# # #", "# # #"],
        't' => [" # ", "###", " # ", " # ", " ##"],
        'h' => ["#  ", "#  ", "###", "# #", "# #"],
        'o' => ["   ", "   ", "###", "# #", "###"],
        'u' => ["   ", "   ", "# #", "# #", "###"],
        'i' => ["#", " ", "#", "#", "#"],
        'n' => ["   ", "   ", "###", "# #", "# #"],
        'f' => [" ##", "#  ", "###", "#  ", "#  "],
        ' ' => ["  ", "  ", "  ", "  ", "  "],
        _ => return None,
    })
}

/// Draws a text in large figures; says whether it fitted.
pub fn draw(text: &str, area: Rect, style: Style, buf: &mut Buffer) -> bool {
    let figures: Option<Vec<_>> = text.chars().map(rows).collect();
    let Some(figures) = figures else { return false };
    let one = |wide: u16| -> u16 {
        figures.iter().map(|rows| (rows[0].len() as u16 + 1) * wide).sum::<u16>()
    };
    let wide = if one(2) <= area.width { 2 } else { 1 };
    if one(wide) > area.width || area.height < HIGH {
        return false;
    }
    let mut x = area.x;
    for figure in figures {
        for (row, y) in figure.iter().zip(area.y..) {
            for (n, dot) in row.chars().enumerate() {
                if dot == '#' {
                    let at = x + n as u16 * wide;
                    buf.set_string(at, y, "\u{2588}".repeat(wide as usize), style);
                }
            }
        }
        x += (figure[0].len() as u16 + 1) * wide;
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_rectangles() {
        for c in (' '..='~').filter_map(rows) {
            assert!(c.iter().all(|row| row.len() == c[0].len()));
        }
    }

    #[test]
    fn a_length_fits_eighty_columns() {
        let area = Rect::new(0, 0, 69, 6);
        let mut buf = Buffer::empty(area);
        assert!(draw("3 9/64\"-", area, Style::new(), &mut buf));
        assert!(!draw("12'-6 1/2\"", Rect { height: 2, ..area }, Style::new(), &mut buf));
    }
}
