//! What stands at a place, line by line: keys with what is written, rows,
//! entries.

use toml_edit::DocumentMut;

use super::{Slot, kind_of, row_names, show, table_of};
use crate::job::grammar::{Key, Kind, Node, Shape};

/// What stands at a place, as a form shows it.
#[derive(Clone, Copy, Debug)]
pub enum Holds {
    /// One value, typed in one line.
    Value,
    /// A table with its keys.
    Table(&'static Shape),
    /// Rows, each a table.
    Rows(&'static Shape),
    /// Values by a name of their own.
    Map(Kind),
}

/// How a kind is shown.
#[must_use]
pub fn holds(kind: Kind) -> Holds {
    match kind {
        Kind::Table(shape) => Holds::Table(shape()),
        Kind::Map(inner) => Holds::Map(inner()),
        Kind::List(inner) => match inner() {
            Kind::Table(shape) => Holds::Rows(shape()),
            _ => Holds::Value,
        },
        _ => Holds::Value,
    }
}

/// How what stands at a place is shown: what may be a word or a table goes by
/// what is written.
fn stands(file: &DocumentMut, slot: &Slot) -> Holds {
    let kind = slot.kind();
    match (kind, slot.node(file)) {
        (Kind::Either(..), Node::Table(..)) => table_of(kind).map_or(Holds::Value, Holds::Table),
        _ => holds(kind),
    }
}

/// One line of a place.
#[derive(Clone, Debug)]
pub struct Line {
    /// The place it is.
    pub slot: Slot,
    /// Its key of the grammar; of rows and entries that of the list.
    pub key: Option<&'static Key>,
    /// What stands there.
    pub holds: Holds,
    /// What is written, as a person types it; nothing where nothing is.
    pub text: Option<String>,
    /// How many rows stand under it.
    pub rows: usize,
    /// Whether it must be there.
    pub needed: bool,
}

/// Whether a key must be there in a table of that kind.
#[must_use]
pub fn is_needed(key: &Key, kind: Option<&str>) -> bool {
    key.rule.required || kind.is_some_and(|kind| key.rule.needed.contains(&kind))
}

/// The keys that count for a table of that kind: of those that tell its kind,
/// only the one it has.
pub fn counting<'a>(
    shape: &'static Shape,
    kind: Option<&'a str>,
) -> impl Iterator<Item = &'static Key> + use<'a> {
    shape.keys.iter().filter(move |key| {
        let of_kind = |kind: &str| {
            let other = shape.head.one_of.contains(&key.name) && key.name != kind;
            !other && (key.rule.only.is_empty() || key.rule.only.contains(&kind))
        };
        kind.is_none_or(of_kind)
    })
}

/// Every line of a table, a list of rows or a list by name; nothing under a
/// value.
#[must_use]
pub fn lines(file: &DocumentMut, slot: &Slot) -> Vec<Line> {
    let node = slot.node(file);
    match stands(file, slot) {
        Holds::Table(shape) => {
            let kind = kind_of(shape, node);
            let kind = kind.as_deref();
            counting(shape, kind)
                .map(|key| line(file, slot.key(key.name), Some(key), is_needed(key, kind)))
                .collect()
        }
        Holds::Rows(_) => (0..row_names(slot, file).len())
            .map(|at| line(file, slot.row(file, at), slot.grammar(), false))
            .collect(),
        Holds::Map(_) => {
            let Node::Table(table, _) = node else { return Vec::new() };
            table
                .iter()
                .map(|(name, _)| line(file, slot.key(name), slot.grammar(), false))
                .collect()
        }
        Holds::Value => Vec::new(),
    }
}

fn line(file: &DocumentMut, slot: Slot, key: Option<&'static Key>, needed: bool) -> Line {
    let node = slot.node(file);
    let holds = stands(file, &slot);
    let rows = if let Holds::Rows(_) = holds { node.rows() } else { 0 };
    let text = (!matches!(node, Node::Nothing)).then(|| match holds {
        Holds::Value | Holds::Map(_) => show::text(node),
        Holds::Rows(_) => row_names(&slot, file).join(", "),
        Holds::Table(shape) => show::brief(shape, node, slot.number().is_some()),
    });
    Line { holds, slot, key, text, rows, needed }
}
