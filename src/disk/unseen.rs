//! Characters that no file of a person needs and that could speak to a
//! terminal.

/// Whether a character is a control character, breaks a line unseen or turns
/// the reading direction. A carriage return lets what follows write over what
/// stands before it.
pub(crate) fn is_unseen(character: char) -> bool {
    let turns = matches!(
        character,
        '\u{200e}' | '\u{200f}' | '\u{61c}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
    );
    turns || (character.is_control() && !matches!(character, '\n' | '\t'))
}

/// The first such character of a text; the line ends of another system are
/// none.
pub(crate) fn first_unseen(text: &str) -> Option<char> {
    let mut rest = text.chars().peekable();
    while let Some(character) = rest.next() {
        let ends_line = character == '\r' && rest.peek() == Some(&'\n');
        if is_unseen(character) && !ends_line {
            return Some(character);
        }
    }
    None
}
