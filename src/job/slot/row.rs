//! The names of rows.

use toml_edit::{DocumentMut, Item, TableLike};

use super::{Holds, Slot};
use crate::job::grammar::{Node, Shape};

/// Keys that tell a row from its like where none gives it a name, in the order
/// they are asked.
const TELLING: &[&str] = &["name", "id", "key", "of", "member", "feature", "what"];

/// The key of a row that gives it its name: where the kind of a table goes by
/// which key it has, the one it has.
pub(in crate::job) fn name_key(
    shape: &'static Shape,
    table: &dyn TableLike,
) -> Option<&'static str> {
    let is_there = |name: &str| table.get(name).is_some_and(|item| !item.is_none());
    let names = shape.keys.iter().filter(|key| key.rule.declares.is_some());
    let mut names = names.map(|key| key.name).chain(TELLING.iter().copied());
    if shape.head.one_of.is_empty() {
        return names.find(|name| shape.key(name).is_some());
    }
    names.find(|name| shape.head.one_of.contains(name) && is_there(name))
}

/// What a row calls itself.
#[must_use]
pub fn name_of<'a>(shape: &'static Shape, node: Node<'a>) -> Option<&'a str> {
    let Node::Table(table, _) = node else { return None };
    let name = table.get(name_key(shape, table)?)?.as_str()?;
    (!name.trim().is_empty()).then_some(name)
}

/// The kind of a table, where keys count for some kinds only.
#[must_use]
pub fn kind_of(shape: &Shape, node: Node<'_>) -> Option<String> {
    let Node::Table(table, _) = node else { return None };
    let is_there = |name: &str| table.get(name).is_some_and(|item| !item.is_none());
    match shape.head.by {
        Some(by) => table.get(by).and_then(Item::as_str).map(str::to_owned),
        None => shape.head.one_of.iter().find(|key| is_there(key)).map(|key| (*key).to_owned()),
    }
}

/// The names of the rows of a list in their order: the number of a row that has
/// none, or one that an earlier row has too.
pub(in crate::job) fn row_names(list: &Slot, file: &DocumentMut) -> Vec<String> {
    let Holds::Rows(shape) = list.holds() else { return Vec::new() };
    let node = list.node(file);
    let mut names: Vec<String> = Vec::new();
    for at in 0..node.rows() {
        let own = name_of(shape, node.at_row(at)).filter(|own| names.iter().all(|it| it != own));
        names.push(own.map_or_else(|| (at + 1).to_string(), str::to_owned));
    }
    names
}

/// A name as it stands in a path: in quotes where it holds a dot.
pub(super) fn word(name: &str) -> String {
    if name.contains(['.', '"']) { format!("\"{name}\"") } else { name.to_owned() }
}

/// The row a path begins with, and the rest of the path. The longest name that
/// fits is meant; a number where no name fits.
pub(super) fn find<'p>(names: &[String], path: &'p str) -> Option<(usize, &'p str)> {
    let after = |rest: &'p str| match rest.strip_prefix('.') {
        Some(rest) => Some(rest),
        None => rest.is_empty().then_some(""),
    };
    if let Some(quoted) = path.strip_prefix('"')
        && let Some((name, rest)) = quoted.split_once('"')
    {
        let at = names.iter().position(|known| known == name)?;
        return Some((at, after(rest)?));
    }
    let fits = names.iter().enumerate().filter_map(|(at, name)| {
        let rest = after(path.strip_prefix(name.as_str())?)?;
        Some((name.len(), at, rest))
    });
    if let Some((_, at, rest)) = fits.max_by_key(|(long, ..)| *long) {
        return Some((at, rest));
    }
    let (number, rest) = path.split_once('.').unwrap_or((path, ""));
    let at = number.trim().parse::<usize>().ok()?.checked_sub(1)?;
    (at < names.len()).then_some((at, rest))
}
