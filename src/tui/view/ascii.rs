//! The last touch for terminals that print plain ASCII only.

use ratatui::buffer::Buffer;

/// Replaces every sign that is not ASCII by one that is.
pub fn flatten(buf: &mut Buffer) {
    for cell in &mut buf.content {
        let symbol = cell.symbol();
        if !symbol.is_ascii() {
            let plain = symbol.chars().next().map_or(' ', plain);
            cell.set_char(plain);
        }
    }
}

/// The nearest ASCII sign.
#[must_use]
pub fn plain(sign: char) -> char {
    match sign {
        '\u{2800}'..='\u{28ff}' => dots(sign),
        '─' | '━' | '–' | '—' | '╌' | '┄' => '-',
        '│' | '┃' | '╎' => '|',
        '┌'..='╋' | '╭'..='╰' => '+',
        '░'..='▓' => ':',
        '▀'..='▟' | '■' => '#',
        '▲' | '↑' => '^',
        '▼' | '↓' => 'v',
        '▶' | '→' | '›' => '>',
        '◀' | '←' | '‹' => '<',
        '·' | '…' | '•' => '.',
        '±' => '~',
        '×' => 'x',
        '′' | '’' => '\'',
        '″' | '“' | '”' => '"',
        '½' | '¼' | '¾' => '/',
        _ => '?',
    }
}

/// Eight dots as one sign: where the ink lies decides.
fn dots(sign: char) -> char {
    let bits = u32::from(sign) - 0x2800;
    let (top, middle, bottom) = (bits & 0x09, bits & 0x36, bits & 0xc0);
    let (left, right) = (bits & 0x47, bits & 0xb8);
    match bits.count_ones() {
        0 => ' ',
        6.. => '#',
        _ if top == 0 && middle == 0 => '_',
        _ if bottom == 0 && middle == 0 => '"',
        _ if bits & 0x09 == 0 && bits & 0xc0 == 0 => '-',
        _ if left == 0 || right == 0 => '|',
        _ if bits.count_ones() <= 2 => '.',
        _ => '+',
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_becomes_ascii() {
        for sign in ('\u{80}'..='\u{2fff}').filter(|sign| !sign.is_control()) {
            assert!(plain(sign).is_ascii(), "{sign}");
        }
    }

    #[test]
    fn strokes_keep_their_direction() {
        assert_eq!(plain('\u{2847}'), '|');
        assert_eq!(plain('\u{28c0}'), '_');
        assert_eq!(plain('\u{2800}'), ' ');
        assert_eq!(plain('\u{28ff}'), '#');
    }
}
