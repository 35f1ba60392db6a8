//! Whether the terminal is dark or light: asked of the terminal itself.

use crate::tui::view::palette::Ground;

/// The answer to the question for the ground's colour, as XTerm Control
/// Sequences (OSC 11) words it: `rgb:ffff/ffff/ffff`, one to four hexadecimal
/// digits a part. Nothing when it cannot be read.
#[cfg(any(unix, test))]
fn ground_of(answer: &str) -> Option<Ground> {
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

/// Asks the terminal, which must be in raw mode and not yet be read by
/// anybody. The question for its kind follows at once: every terminal answers
/// that, so that one without colour answers is not waited for. Nothing when it
/// does not answer at all; else its ground, where it says it.
#[cfg(unix)]
pub(super) fn ask(longest: std::time::Duration) -> Option<Option<Ground>> {
    use std::io::Write as _;
    let mut out = std::io::stdout();
    out.write_all(b"\x1b]11;?\x1b\\\x1b[c").ok()?;
    out.flush().ok()?;
    let answer = answer(longest);
    (!answer.is_empty()).then(|| ground_of(&answer))
}

/// What the terminal answers, up to the end of the second answer.
#[cfg(unix)]
fn answer(longest: std::time::Duration) -> String {
    use rustix::event::{PollFd, PollFlags, Timespec, poll};
    let end = std::time::Instant::now() + longest;
    let input = rustix::stdio::stdin();
    let mut bytes = Vec::new();
    while !(bytes.contains(&b'?') && bytes.ends_with(b"c")) && bytes.len() < 256 {
        let left = end.saturating_duration_since(std::time::Instant::now());
        let Ok(left) = Timespec::try_from(left) else { break };
        let mut watched = [PollFd::new(&input, PollFlags::IN)];
        if !matches!(poll(&mut watched, Some(&left)), Ok(1..)) {
            break;
        }
        let mut some = [0; 64];
        match rustix::io::read(input, &mut some) {
            Ok(count @ 1..) => bytes.extend_from_slice(&some[..count]),
            _ => break,
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// Nobody to ask.
#[cfg(not(unix))]
pub(super) fn ask(_: std::time::Duration) -> Option<Option<Ground>> {
    None
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
