//! What the terminal is asked before anybody reads its keys: its ground, how
//! it takes pictures. Everything is asked at once, and last what every
//! terminal answers; what was typed meanwhile is kept and goes on as keys.

use std::time::Duration;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::ground::ground_of;
use crate::tui::pixels::{Protocol, Real};
use crate::tui::state::State;
use crate::tui::view::palette::{Depth, Ground};

/// What came of asking.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Answers {
    /// Whether letters stand on a dark or a light ground.
    pub(super) ground: Option<Ground>,
    /// How pictures are taken; nothing for one that takes none.
    pub(super) real: Option<Real>,
    /// Keys that were pressed while it was asked.
    pub(super) keys: Vec<KeyEvent>,
}

/// The questions for pictures: whether the kitty protocol is known (a dot that
/// is not kept), the terminal's name, dots of a cell and of the window, the
/// largest sixel picture and its colours.
const PICTURES: &str =
    "\x1b_Gi=7099,s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\\x1b[>q\x1b[16t\x1b[14t\x1b[?2;1;0S\x1b[?1;1;0S";
/// The question for the ground's colour.
const GROUND: &str = "\x1b]11;?\x1b\\";
/// The question that every terminal answers.
const LAST: &str = "\x1b[c";

/// Whether pictures are worth asking for: the job has photographs, the look
/// allows colours, and the terminal is not itself shown inside another, whose
/// own settings would have to be changed for more.
pub(super) fn wants_pictures(state: &State) -> bool {
    let said = |name: &str| std::env::var(name).unwrap_or_default();
    let term = said("TERM");
    let inside = term.starts_with("tmux") || term.starts_with("screen") || !said("TMUX").is_empty();
    let colored = matches!(state.look.depth, Depth::Many | Depth::Full) && !state.look.ascii;
    colored && !inside && !state.document.job().photos.is_empty()
}

/// Asks the terminal, which must be in raw mode and not yet be read by
/// anybody.
#[cfg(unix)]
pub(super) fn ask(ground: bool, pictures: bool, longest: Duration) -> Answers {
    use std::io::Write as _;
    if !ground && !pictures {
        return Answers::default();
    }
    let mut out = std::io::stdout();
    let question =
        [if ground { GROUND } else { "" }, if pictures { PICTURES } else { "" }, LAST].concat();
    if out.write_all(question.as_bytes()).and_then(|()| out.flush()).is_err() {
        return Answers::default();
    }
    let (replies, typed) = parted(&heard(longest));
    let program = std::env::var("TERM_PROGRAM").unwrap_or_default();
    let window = crossterm::terminal::window_size().ok();
    let window = window.map(|it| [it.columns, it.rows, it.width, it.height].map(u32::from));
    Answers {
        ground: replies.iter().find_map(|reply| ground_of(reply)),
        real: if pictures { real(&replies, &program, window) } else { None },
        keys: keys(&typed),
    }
}

/// Nobody to ask.
#[cfg(not(unix))]
pub(super) fn ask(_: bool, _: bool, _: Duration) -> Answers {
    let _ = (GROUND, PICTURES, LAST, is_ended, keys, real, ground_of);
    Answers::default()
}

/// What the terminal says up to the end of its last answer, or until it has
/// been silent for too long.
#[cfg(unix)]
fn heard(longest: Duration) -> Vec<u8> {
    use rustix::event::{PollFd, PollFlags, Timespec, poll};
    const MOST: usize = 8192;
    let end = std::time::Instant::now() + longest;
    let input = rustix::stdio::stdin();
    let mut bytes = Vec::new();
    while !is_ended(&bytes) && bytes.len() < MOST {
        let left = end.saturating_duration_since(std::time::Instant::now());
        let Ok(left) = Timespec::try_from(left) else { break };
        let mut watched = [PollFd::new(&input, PollFlags::IN)];
        if !matches!(poll(&mut watched, Some(&left)), Ok(1..)) {
            break;
        }
        let mut some = [0; 256];
        match rustix::io::read(input, &mut some) {
            Ok(count @ 1..) => bytes.extend_from_slice(&some[..count]),
            _ => break,
        }
    }
    bytes
}

/// Whether the answer to the last question is there: `ESC [ ? ... c`.
fn is_ended(bytes: &[u8]) -> bool {
    let (replies, _) = parted(bytes);
    replies.iter().any(|reply| reply.starts_with("\x1b[?") && reply.ends_with('c'))
}

/// What was heard, as answers of the terminal's known forms and the rest.
fn parted(bytes: &[u8]) -> (Vec<String>, Vec<u8>) {
    let (mut replies, mut typed) = (Vec::new(), Vec::new());
    let mut at = 0;
    while at < bytes.len() {
        match reply(&bytes[at..]) {
            Some(length) => {
                replies.push(String::from_utf8_lossy(&bytes[at..at + length]).into_owned());
                at += length;
            }
            None => {
                typed.push(bytes[at]);
                at += 1;
            }
        }
    }
    (replies, typed)
}

/// The length of an answer that begins here; nothing for anything else. Keys
/// begin with the same letter, but none with these.
fn reply(bytes: &[u8]) -> Option<usize> {
    match bytes {
        // A string: OSC, DCS, APC, up to its end.
        [0x1b, b']' | b'P' | b'_', rest @ ..] => {
            let bell = rest.iter().position(|byte| *byte == 0x07).map(|at| at + 1);
            let end = rest.windows(2).position(|pair| pair == b"\x1b\\").map(|at| at + 2);
            [bell, end].into_iter().flatten().min().map(|end| end + 2)
        }
        [0x1b, b'[', rest @ ..] => {
            let end = rest.iter().position(|byte| (0x40..=0x7e).contains(byte))?;
            let known = match rest[end] {
                b'c' | b'S' => rest.first() == Some(&b'?'),
                b't' => rest.first().is_some_and(u8::is_ascii_digit),
                _ => false,
            };
            known.then_some(end + 3)
        }
        _ => None,
    }
}

/// The numbers of an answer.
fn numbers(reply: &str) -> Vec<u32> {
    let parts = reply.split(|c: char| !c.is_ascii_digit()).filter(|part| !part.is_empty());
    parts.filter_map(|part| part.parse().ok()).collect()
}

/// How a terminal with these answers takes pictures. `window` is columns, rows
/// and dots by the system, for those that do not say the size of a cell.
fn real(replies: &[String], program: &str, window: Option<[u32; 4]>) -> Option<Real> {
    let begins = |with: &str| replies.iter().find(|reply| reply.starts_with(with));
    let name = begins("\x1bP>|").map_or("", String::as_str);
    let named = |word: &str| name.contains(word) || program.contains(word);
    let features = replies.iter().find(|it| it.starts_with("\x1b[?") && it.ends_with('c'));
    let sixel = features.is_some_and(|reply| numbers(reply).contains(&4));
    let kitty = replies.iter().any(|it| it.starts_with("\x1b_G") && it.contains(";OK"));
    // What each does best; Konsole shows kitty's layers in another order.
    let protocol = if named("iTerm") || named("WezTerm") {
        Protocol::Iterm
    } else if kitty && !named("Konsole") {
        Protocol::Kitty
    } else if sixel && !named("Konsole") {
        Protocol::Sixel
    } else {
        return None;
    };
    let limits: Vec<Vec<u32>> =
        replies.iter().filter(|it| it.ends_with('S')).map(|it| numbers(it)).collect();
    let colours = limits.iter().find(|it| it.first() == Some(&1)).and_then(|it| it.get(2));
    if protocol == Protocol::Sixel && colours.is_some_and(|many| *many < 252) {
        return None;
    }
    let most = limits.iter().find(|it| it.first() == Some(&2));
    let most = most.and_then(|it| Some([*it.get(2)?, *it.get(3)?]));
    let most = most.filter(|_| protocol == Protocol::Sixel);
    // Panes of pictures take up to three quarters of the window.
    let room = window.map_or([0, 0], |[.., wide, high]| [wide * 3 / 4, high * 3 / 4]);
    if most.is_some_and(|most| most[0] < room[0] || most[1] < room[1]) {
        return None;
    }
    Some(Real { protocol, cell: cell(replies, window)?, most })
}

/// Dots of a cell: as the terminal says, else by its window.
fn cell(replies: &[String], window: Option<[u32; 4]>) -> Option<[u32; 2]> {
    let sized = |kind: &str| {
        let reply = replies.iter().find(|it| it.starts_with(kind) && it.ends_with('t'))?;
        let numbers = numbers(reply);
        Some([*numbers.get(2)?, *numbers.get(1)?])
    };
    let grid = window.map(|[columns, rows, ..]| [columns.max(1), rows.max(1)]);
    let over = |dots: [u32; 2]| grid.map(|grid| [dots[0] / grid[0], dots[1] / grid[1]]);
    let found = sized("\x1b[6;")
        .or_else(|| over(sized("\x1b[4;")?))
        .or_else(|| over(window.map(|[.., wide, high]| [wide, high])?));
    found.filter(|cell| cell.iter().all(|dots| (2..=200).contains(dots)))
}

/// What was typed, as keys.
fn keys(bytes: &[u8]) -> Vec<KeyEvent> {
    let mut keys = Vec::new();
    let mut rest = bytes;
    while !rest.is_empty() {
        let (key, used) = key(rest);
        keys.extend(key);
        rest = &rest[used..];
    }
    keys
}

/// The key that some bytes begin with, and how many it takes.
fn key(bytes: &[u8]) -> (Option<KeyEvent>, usize) {
    let plain = |code| Some(KeyEvent::new(code, KeyModifiers::NONE));
    match bytes {
        [0x1b, b'[' | b'O', letter, ..] if letter.is_ascii_uppercase() => {
            let code = match letter {
                b'A' => KeyCode::Up,
                b'B' => KeyCode::Down,
                b'C' => KeyCode::Right,
                b'D' => KeyCode::Left,
                b'H' => KeyCode::Home,
                b'F' => KeyCode::End,
                b'Z' => KeyCode::BackTab,
                _ => return (None, 3),
            };
            (plain(code), 3)
        }
        [0x1b, b'[', digit, b'~', ..] => {
            let code = match digit {
                b'3' => KeyCode::Delete,
                b'5' => KeyCode::PageUp,
                b'6' => KeyCode::PageDown,
                _ => return (None, 4),
            };
            (plain(code), 4)
        }
        // A sequence of another kind means nothing here.
        [0x1b, b'[', rest @ ..] => {
            let end = rest.iter().position(|byte| (0x40..=0x7e).contains(byte));
            (None, end.map_or(bytes.len(), |end| end + 3))
        }
        [0x1b, ..] => (plain(KeyCode::Esc), 1),
        [b'\r' | b'\n', ..] => (plain(KeyCode::Enter), 1),
        [b'\t', ..] => (plain(KeyCode::Tab), 1),
        [0x7f | 0x08, ..] => (plain(KeyCode::Backspace), 1),
        [0, ..] => (None, 1),
        [control @ 1..=26, ..] => {
            let letter = char::from(control + b'a' - 1);
            (Some(KeyEvent::new(KeyCode::Char(letter), KeyModifiers::CONTROL)), 1)
        }
        _ => {
            let length = (1..=bytes.len().min(4))
                .find(|length| std::str::from_utf8(&bytes[..*length]).is_ok());
            let Some(length) = length else { return (None, 1) };
            let letter =
                std::str::from_utf8(&bytes[..length]).ok().and_then(|it| it.chars().next());
            (letter.and_then(|letter| plain(KeyCode::Char(letter))), length)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(replies: &[&str]) -> Vec<String> {
        replies.iter().map(|it| (*it).to_owned()).collect()
    }

    #[test]
    fn what_is_typed_among_answers_is_kept() {
        let heard = b"q\x1b]11;rgb:0000/0000/0000\x1b\\\x1b[A\x1b_Gi=7099;OK\x1b\\ja\x1b[6;18;9t\x1b[?62;4c\r";
        let (replies, typed) = parted(heard);
        assert_eq!(replies.len(), 4);
        assert_eq!(typed, b"q\x1b[Aja\r");
        assert!(is_ended(heard) && !is_ended(b"\x1b[A\x1b[6;18;9t"));
        let codes: Vec<KeyCode> = keys(&typed).into_iter().map(|key| key.code).collect();
        let [up, enter] = [KeyCode::Up, KeyCode::Enter];
        let letters = ['q', 'j', 'a'].map(KeyCode::Char);
        assert_eq!(codes, [letters[0], up, letters[1], letters[2], enter]);
        let typed = keys("\u{e9}\x03\x1b".as_bytes());
        assert_eq!(typed[0].code, KeyCode::Char('\u{e9}'));
        assert_eq!(typed[1], KeyEvent::new(KeyCode::Char('c'), KeyModifiers::CONTROL));
        assert_eq!(typed[2].code, KeyCode::Esc);
    }

    /// Answers as terminals give them (xterm 379 heard, the others by their
    /// descriptions).
    #[test]
    fn how_a_terminal_takes_pictures() {
        let xterm = said(&[
            "\x1bP>|XTerm(379)\x1b\\",
            "\x1b[4;804;1204t",
            "\x1b[?2;0;1000;900S",
            "\x1b[?1;0;256S",
            "\x1b[?64;1;4;22c",
        ]);
        let real_one = real(&xterm, "", Some([200, 50, 0, 0])).expect("sixels");
        assert_eq!(
            real_one,
            Real { protocol: Protocol::Sixel, cell: [6, 16], most: Some([1000, 900]) }
        );
        let few = said(&["\x1b[6;20;10t", "\x1b[?1;0;16S", "\x1b[?62;4c"]);
        assert_eq!(real(&few, "", None), None);
        let kitty = said(&["\x1b_Gi=7099;OK\x1b\\", "\x1b[6;18;9t", "\x1b[?62;c"]);
        let expected = Real { protocol: Protocol::Kitty, cell: [9, 18], most: None };
        assert_eq!(real(&kitty, "", None), Some(expected));
        let konsole = said(&[
            "\x1bP>|Konsole 24\x1b\\",
            "\x1b_Gi=7099;OK\x1b\\",
            "\x1b[6;18;9t",
            "\x1b[?62;4c",
        ]);
        assert_eq!(real(&konsole, "", None), None);
        let iterm = said(&["\x1b[6;18;9t", "\x1b[?62;4c"]);
        assert_eq!(real(&iterm, "iTerm.app", None).map(|it| it.protocol), Some(Protocol::Iterm));
        // No size of a cell from anybody: no pixels.
        assert_eq!(real(&said(&["\x1b[?62;4c"]), "", Some([80, 24, 0, 0])), None);
        assert_eq!(real(&said(&["\x1b[?62;c"]), "", None), None);
    }
}
