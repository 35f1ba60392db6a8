//! The one font, and what of a person's text can be printed with it.
//!
//! DejaVu Sans Condensed, a subset, is carried in the program and embedded in
//! every PDF, so that a page looks the same on every printer. Its licence lies
//! beside it in `data/font/`. It holds Latin, Greek and Cyrillic, fractions,
//! primes and arrows; a character it does not hold is printed as `?`.

use std::sync::OnceLock;

use ab_glyph::{Font as _, FontRef, GlyphId};

use crate::quantity::PaperLength;

/// The font file.
pub const FILE: &[u8] = include_bytes!("../../data/font/DejaVuSansCondensed-subset.ttf");
/// The name it has in files.
pub const NAME: &str = "DejaVuSansCondensed";
/// Height of a capital as a share of the size.
pub const CAPITAL: f64 = 0.729;
/// Most characters of one text on a drawing; the rest is cut off with dots.
pub const LONGEST: usize = 400;

/// The font, read once.
///
/// # Panics
/// Never: the file is part of the program, and a test reads it.
#[must_use]
pub fn font() -> &'static FontRef<'static> {
    static FONT: OnceLock<FontRef<'static>> = OnceLock::new();
    FONT.get_or_init(|| FontRef::try_from_slice(FILE).expect("the font in the program is sound"))
}

/// Units of the font to its size.
#[must_use]
pub fn units() -> f64 {
    f64::from(font().units_per_em().unwrap_or(2048.0))
}

/// The glyph of a character.
#[must_use]
pub fn glyph(character: char) -> GlyphId {
    font().glyph_id(character)
}

/// How far a glyph takes the pen, as a share of the size.
#[must_use]
pub fn advance(glyph: GlyphId) -> f64 {
    f64::from(font().h_advance_unscaled(glyph)) / units()
}

/// Width of a text.
#[must_use]
pub fn width(text: &str, size: PaperLength) -> PaperLength {
    size * text.chars().map(|character| advance(glyph(character))).sum::<f64>()
}

/// The text as it can be printed: in one line, without control and direction
/// characters, what the font does not hold as `?`, and cut at [`LONGEST`].
#[must_use]
pub fn printable(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for (count, character) in text.chars().filter(|one| !is_unseen(*one)).enumerate() {
        if count == LONGEST {
            out.push('\u{2026}');
            break;
        }
        out.push(shown(character));
    }
    out.trim_end().to_owned()
}

/// The text as a short one: a label, a heading.
#[must_use]
pub fn short(text: &str, most: usize) -> String {
    let text = printable(text);
    if text.chars().count() <= most {
        return text;
    }
    text.chars().take(most.saturating_sub(1)).chain(['\u{2026}']).collect()
}

/// Characters that turn the direction of writing, join, or take no room.
fn is_unseen(character: char) -> bool {
    matches!(character, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{61c}' | '\u{feff}' | '\u{fe00}'..='\u{fe0f}' | '\u{ad}')
}

fn shown(character: char) -> char {
    if character.is_control() || character.is_whitespace() {
        ' '
    } else if glyph(character).0 == 0 {
        '?'
    } else {
        character
    }
}

/// Breaks a text into lines no wider than `room`; a word that is wider is cut.
#[must_use]
pub fn wrap(text: &str, size: PaperLength, room: PaperLength) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace().flat_map(|word| pieces(word, size, room)) {
        let line = lines.last_mut().expect("there is a line from the start");
        let longer = if line.is_empty() { word.clone() } else { format!("{line} {word}") };
        if line.is_empty() || width(&longer, size) <= room {
            *line = longer;
        } else {
            lines.push(word);
        }
    }
    lines
}

/// A word in pieces that fit.
fn pieces(word: &str, size: PaperLength, room: PaperLength) -> Vec<String> {
    let mut pieces = vec![String::new()];
    for character in word.chars() {
        let piece = pieces.last_mut().expect("there is a piece from the start");
        piece.push(character);
        if width(piece, size) > room && piece.chars().count() > 1 {
            piece.pop();
            pieces.push(character.to_string());
        }
    }
    pieces
}

/// A text cut to a width, with dots where something is missing.
#[must_use]
pub fn clip(text: &str, size: PaperLength, room: PaperLength) -> String {
    if width(text, size) <= room {
        return text.to_owned();
    }
    let mut out = String::new();
    for character in text.chars() {
        out.push(character);
        if width(&format!("{out}\u{2026}"), size) > room {
            out.pop();
            break;
        }
    }
    out.push('\u{2026}');
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::shape::mm;

    #[test]
    fn the_font_holds_what_the_trade_writes() {
        for character in "0123456789 63/64 ' \" ′ ″ ½ ¼ ¾ ⅛ ± × ° – — … ½ µ é ü ß Ж".chars()
        {
            assert_ne!(glyph(character).0, 0, "{character} has no glyph");
        }
        assert!((units() - 2048.0).abs() < 1e-9);
    }

    #[test]
    fn what_means_harm_is_put_right() {
        assert_eq!(printable("a\nb\u{7}c\td"), "a b c d");
        assert_eq!(printable("\u{202e}gnorw\u{202c} <&>'\""), "gnorw <&>'\"");
        assert_eq!(printable("\u{5d0}\u{5d1} \u{4e00}"), "?? ?");
        assert_eq!(printable(&"x".repeat(500)).chars().count(), LONGEST + 1);
    }

    #[test]
    fn lines_are_no_wider_than_the_room() {
        let words = "the long shed on the north side and averyverylongwordwithoutanyspace";
        let lines = wrap(words, mm(3.0), mm(30.0));
        assert!(lines.len() > 2);
        for line in &lines {
            assert!(width(line, mm(3.0)) <= mm(30.0), "{line}");
        }
        let all: String = lines.concat();
        assert_eq!(all.replace(' ', ""), words.replace(' ', ""), "nothing is lost");
        assert!(width(&clip(words, mm(3.0), mm(30.0)), mm(3.0)) <= mm(30.0));
    }
}
