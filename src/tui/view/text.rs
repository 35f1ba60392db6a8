//! Text set into cells: cut to its room, wrapped, never outside its pane.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// Cells a text takes.
#[must_use]
pub fn cells(text: &str) -> usize {
    text.width()
}

/// Sets a text inside `pane` and says where the next may begin.
pub fn set(buf: &mut Buffer, pane: Rect, x: u16, y: u16, text: &str, style: Style) -> u16 {
    let pane = pane.intersection(buf.area);
    if !(pane.left()..pane.right()).contains(&x) || !(pane.top()..pane.bottom()).contains(&y) {
        return x;
    }
    let room = usize::from(pane.right() - x);
    buf.set_stringn(x, y, text, room, style).0
}

/// A text cut to so many cells, with a sign that it was.
#[must_use]
pub fn clip(text: &str, wide: usize) -> String {
    if cells(text) <= wide {
        return text.to_owned();
    }
    let mut used = 0;
    let mut out = String::new();
    for c in text.chars() {
        used += c.width().unwrap_or(0);
        if used + 1 > wide {
            break;
        }
        out.push(c);
    }
    if wide > 0 {
        out.push('\u{2026}');
    }
    out
}

/// A text broken at spaces into lines of so many cells.
#[must_use]
pub fn wrap(text: &str, wide: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let full = lines
            .last()
            .is_some_and(|line| !line.is_empty() && cells(line) + 1 + cells(word) > wide);
        if full {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
    }
    lines.into_iter().map(|line| clip(&line, wide)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cut_text_says_so() {
        assert_eq!(clip("grain store", 11), "grain store");
        assert_eq!(clip("grain store", 6), "grain\u{2026}");
        assert_eq!(clip("grain", 0), "");
    }

    #[test]
    fn lines_break_at_spaces() {
        assert_eq!(wrap("one two three", 7), ["one two", "three"]);
        assert_eq!(wrap("", 7), [""]);
    }
}
