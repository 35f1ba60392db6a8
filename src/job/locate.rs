//! Finds where in the text a thing of the job stands.

use std::ops::Range;

use toml_edit::{Document, Item, Value};

/// One step into the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Step {
    /// A key of a table.
    Key(String),
    /// A place in an array.
    At(usize),
}

/// A path into the file.
pub(super) type Place = Vec<Step>;

/// `[[table]]` number `index`, and a key in it.
pub(super) fn row(table: &str, index: usize, key: &str) -> Place {
    vec![Step::Key(table.to_owned()), Step::At(index), Step::Key(key.to_owned())]
}

/// A key of a plain `[table]`.
pub(super) fn key(table: &str, key: &str) -> Place {
    vec![Step::Key(table.to_owned()), Step::Key(key.to_owned())]
}

/// The bytes of the thing at `place`, or of the nearest thing around it.
pub(super) fn range(text: &str, place: &[Step]) -> Range<usize> {
    let Ok(document) = Document::parse(text) else { return 0..0 };
    let mut found = 0..0;
    let mut item = Some(document.as_item().clone());
    for step in place {
        item = item.and_then(|inner| descend(&inner, step));
        match item.as_ref().and_then(Item::span) {
            Some(span) => found = span,
            None if item.is_none() => break,
            None => {}
        }
    }
    found
}

fn descend(item: &Item, step: &Step) -> Option<Item> {
    match (item, step) {
        (_, Step::Key(key)) => item.get(key.as_str()).cloned(),
        (Item::ArrayOfTables(tables), Step::At(index)) => {
            tables.get(*index).cloned().map(Item::Table)
        }
        (Item::Value(Value::Array(array)), Step::At(index)) => {
            array.get(*index).cloned().map(Item::Value)
        }
        _ => None,
    }
}
