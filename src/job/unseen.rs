//! Characters that no job needs and that could speak to a terminal or turn
//! the reading direction: refused wherever they stand in a string or a key.

use std::ops::Range;

use toml_edit::{Document, Item, Key, Table, Value};

use super::read::JobError;
use crate::disk::unseen::first_unseen;

/// Refuses the first string or key that holds such a character.
///
/// # Errors
/// Its line, and the character by its number.
pub(super) fn refuse(file: &str, text: &str) -> Result<(), JobError> {
    // TOML itself allows control characters as escapes only.
    if !text.contains('\\') && first_unseen(text).is_none() {
        return Ok(());
    }
    let Ok(document) = Document::parse(text) else { return Ok(()) };
    match in_table(document.as_table()) {
        None => Ok(()),
        Some((character, range)) => Err(JobError::at(
            file,
            text,
            range.unwrap_or(0..0),
            format!("the character U+{:04X} cannot be seen and is not taken", u32::from(character)),
            "leave it out; only line ends and tabs may stand in a text",
        )),
    }
}

/// Whether a character ends a line.
pub(super) fn breaks_a_line(character: char) -> bool {
    matches!(character, '\n' | '\r' | '\u{2028}' | '\u{2029}')
}

type Found = Option<(char, Option<Range<usize>>)>;

fn in_table(table: &Table) -> Found {
    table.iter().find_map(|(name, item)| in_key(name, table.key(name)).or_else(|| in_item(item)))
}

fn in_key(name: &str, key: Option<&Key>) -> Found {
    let character = first_unseen(name)?;
    Some((character, key.and_then(Key::span)))
}

fn in_item(item: &Item) -> Found {
    match item {
        Item::None => None,
        Item::Value(value) => in_value(value),
        Item::Table(table) => in_table(table),
        Item::ArrayOfTables(tables) => tables.iter().find_map(in_table),
    }
}

fn in_value(value: &Value) -> Found {
    match value {
        Value::String(text) => {
            let character = first_unseen(text.value())?;
            Some((character, text.span()))
        }
        Value::Array(values) => values.iter().find_map(in_value),
        Value::InlineTable(table) => table
            .iter()
            .find_map(|(name, value)| in_key(name, table.key(name)).or_else(|| in_value(value))),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_escape_in_a_name_is_refused_with_its_line() {
        let text = "[about]\nname = \"shed \\u001b[31m\"\n";
        let error = refuse("shed.toml", text).expect_err("an escape");
        assert_eq!((error.line, error.column), (2, 8));
        assert!(error.message.contains("U+001B"), "{}", error.message);
    }

    #[test]
    fn keys_and_turned_text_are_refused_too() {
        assert!(refuse("a", "\"k\\u0007\" = 1").is_err());
        assert!(refuse("a", "a = [{ b = \"\u{202e}x\" }]").is_err());
        assert!(refuse("a", "a = \"one\\rtwo\"").is_err());
        assert!(refuse("a", "a = \"\"\"one\r\ntwo\"\"\"").is_ok());
    }

    #[test]
    fn tabs_line_ends_and_other_scripts_are_taken() {
        assert!(refuse("a", "a = \"x\\ty\\nz \u{5d0}\u{5d1}\"").is_ok());
    }
}
