//! Whether the terminal is dark or light: asked of the terminal itself.

use crate::tui::view::palette::Ground;

/// The answer to the question for the ground's colour, as XTerm Control
/// Sequences (OSC 11) words it: `rgb:ffff/ffff/ffff`, one to four hexadecimal
/// digits a part. Nothing when it cannot be read.
pub(super) fn ground_of(answer: &str) -> Option<Ground> {
    let parts = answer.split_once("rgb:")?.1;
    let mut light = [0.0; 3];
    for (value, part) in light.iter_mut().zip(parts.split('/')) {
        let digits: String = part.chars().take_while(char::is_ascii_hexdigit).take(4).collect();
        let most = 16_u32.checked_pow(u32::try_from(digits.len()).ok()?)?.checked_sub(1)?;
        *value = f64::from(u32::from_str_radix(&digits, 16).ok()?) / f64::from(most);
    }
    // Luma of Rec. ITU-R BT.601: enough to tell dark from light.
    let luma = 0.299 * light[0] + 0.587 * light[1] + 0.114 * light[2];
    Some(if luma > 0.5 { Ground::Light } else { Ground::Dark })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_of_terminals() {
        assert_eq!(ground_of("\u{1b}]11;rgb:ffff/ffff/ffff\u{1b}\\"), Some(Ground::Light));
        assert_eq!(ground_of("\u{1b}]11;rgb:0000/2b2b/3636\u{7}\u{1b}[?62c"), Some(Ground::Dark));
        assert_eq!(ground_of("rgb:fd/f6/e3"), Some(Ground::Light));
        assert_eq!(ground_of("\u{1b}[?1;2c"), None);
        assert_eq!(ground_of("rgb:zz/00/00"), None);
    }
}
