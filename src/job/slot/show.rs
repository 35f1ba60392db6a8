//! What is written, as a person would type it.

use toml_edit::Value;

use super::row::name_key;
use crate::job::grammar::{Node, Shape};

/// What stands there, in the form a person types it: texts without quotes, lists
/// with commas, lists of lists with semicolons between.
#[must_use]
pub fn text(node: Node<'_>) -> String {
    match node {
        Node::Plain(value) => plain(value),
        Node::Table(table, _) => {
            let pairs = table.iter().map(|(key, item)| format!("{key} = {}", inner(item.into())));
            format!("{{ {} }}", pairs.collect::<Vec<_>>().join(", "))
        }
        Node::Rows(rows) => {
            let rows = rows.iter().map(|row| text(Node::row(row)));
            rows.collect::<Vec<_>>().join(", ")
        }
        Node::Nothing => String::new(),
    }
}

/// A value inside another: in quotes where its letters would read as more than
/// one.
fn inner(node: Node<'_>) -> String {
    let shown = text(node);
    let strange = [',', ';', '=', '{', '[', '"'];
    match node {
        Node::Plain(Value::String(text)) if shown.is_empty() || shown.contains(strange) => {
            Value::from(text.value().as_str()).to_string()
        }
        Node::Plain(Value::Array(_)) => format!("[{shown}]"),
        _ => shown,
    }
}

fn plain(value: &Value) -> String {
    match value {
        Value::String(text) if text.value().starts_with(['"', '\'']) => {
            Value::from(text.value().as_str()).to_string()
        }
        Value::String(text) => text.value().clone(),
        Value::Array(list) if list.is_empty() => "[]".to_owned(),
        Value::Array(list) => {
            let nested = list.iter().all(Value::is_array);
            let sign = if nested { "; " } else { ", " };
            let one = |value: &Value| match value {
                Value::Array(_) => plain(value),
                _ => inner(value.into()),
            };
            list.iter().map(one).collect::<Vec<_>>().join(sign)
        }
        other => other.clone().decorated("", "").to_string(),
    }
}

/// A table in one line: its keys with what is written, without its own name
/// where that stands before it.
pub(super) fn brief(shape: &'static Shape, node: Node<'_>, named: bool) -> String {
    let Node::Table(table, _) = node else { return text(node) };
    let own = name_key(shape, table).filter(|_| named);
    let is_empty = |item: &toml_edit::Item| item.as_str().is_some_and(str::is_empty);
    let rest = table.iter().filter(|(key, item)| Some(*key) != own && !is_empty(item));
    let said = rest.map(|(key, item)| match Node::from(item) {
        Node::Rows(rows) => format!("{key} {}", rows.len()),
        node if node.rows() > 0 => format!("{key} {}", node.rows()),
        Node::Table(..) => key.to_owned(),
        node => format!("{key} {}", text(node)),
    });
    let own_kind = own.filter(|key| shape.head.one_of.contains(key)).map(str::to_owned);
    own_kind.into_iter().chain(said).collect::<Vec<_>>().join(", ")
}
