//! Another name for a row, wherever it is spoken of.
//!
//! The reader knows where each name of the grammar stands; what is held by no
//! rule (labels of parts, the record of the compression, marks of a photograph)
//! is in [`LOOSE`].

use std::collections::BTreeMap;
use std::ops::Range;

use toml_edit::{Document, DocumentMut, TableLike, Value};

use super::{around, named_by};
use crate::finding::short;
use crate::job::Job;
use crate::job::grammar::{Named, Node, Reader, Rule, Shape, Shaped as _, Value as _};
use crate::job::slot::{Holds, Slot, holds, row_names};

/// How a text speaks of something.
#[derive(Clone, Copy)]
enum How {
    /// By its name alone.
    Name,
    /// The name leads the label of a part: `main/front/board-1`, `post-1`.
    Label,
    /// By words among others: `door_tl..wall_br:level`.
    Words,
}

/// A key that speaks of things without a rule: table, key, of what, how. Of a
/// list by name its keys are meant.
const LOOSE: &[(&str, &str, &[Named], How)] = &[
    ("deck", "layers", &[Named::Cladding, Named::Layer], How::Name),
    ("stock", "member", &[Named::Member, Named::Cladding, Named::Layer], How::Name),
    ("file", "materials", &[Named::Member, Named::Cladding, Named::Layer], How::Name),
    ("lamps.string.hangs", "under", &[Named::Body], How::Name),
    ("photo.corner", "of", &[Named::Photo], How::Name),
    ("photo.mark", "deep", &[Named::Photo], How::Words),
    ("body.stands", "with", &[Named::Element], How::Name),
    ("choice", "counts", &[Named::Element], How::Name),
    ("choice", "widths", &[Named::Element], How::Name),
    ("choice", "storeys", &[Named::Storey], How::Name),
    ("cut", "part", &[Named::Body, Named::Member, Named::Deck], How::Label),
    ("file", "done", &[Named::Body, Named::Member, Named::Deck], How::Label),
    ("photo", "level", &[Named::Mark], How::Words),
    ("photo", "plumb", &[Named::Mark], How::Words),
    ("photo.corner", "at", &[Named::Mark], How::Words),
    ("photo.known", "of", &[Named::Mark], How::Words),
    ("photo.ask", "of", &[Named::Mark], How::Words),
    ("photo.alike", "of", &[Named::Mark], How::Words),
    ("photo.alike", "to", &[Named::Mark], How::Words),
];

/// Texts to be put in place of others, by where they begin.
type Changes = BTreeMap<usize, (Range<usize>, String)>;

/// What is renamed.
struct Renamed<'a> {
    old: &'a str,
    new: &'a str,
    of: Option<Named>,
    slot: &'a Slot,
    /// The wall of the row, where it stands in one.
    wall: Option<&'a str>,
}

/// Gives the row at a place another name.
pub(super) fn rename(file: &mut DocumentMut, slot: &Slot, to: &str) -> Result<(), String> {
    let key = named_by(file, slot).ok_or_else(|| format!("{slot} has no name of its own"))?;
    if to.is_empty() {
        return Err("write the new name".to_owned());
    }
    if row_names(&around(slot)?, file).iter().any(|name| name == to) {
        return Err(format!("there is one called \"{}\" already", short::word(to)));
    }
    let text = file.to_string();
    let parsed = Document::parse(text.as_str()).map_err(|error| error.message().to_owned())?;
    let root = Node::from(parsed.as_item());
    let reader = Reader::new(&text);
    Job::read(root, &reader, &Rule::NONE).map_err(|wrong| wrong.message)?;
    let name = slot.key(key).node_in(root);
    let old = name.text("a name").map_err(|wrong| wrong.message.replace("{key}", key))?;
    let mut changes = Changes::new();
    put(&mut changes, name.at(), to);
    let of = reader.named_at(&name.at());
    for (named, at) in reader.uses_of(&name.at()) {
        respell(&mut changes, &text, at, |said| by_rule(named, said, old, to));
    }
    let outer = slot.steps().get(..2).map(|_| slot.outer());
    let wall = outer.as_ref().and_then(|row| row.key("of").node_in(root).text("").ok());
    let renamed = Renamed { old, new: to, of: of.or(mark_of(slot)), slot, wall };
    renamed.follow(Job::SHAPE, root, &Slot::root(), &text, &mut changes);
    *file = written(&text, changes).parse().map_err(|error: toml_edit::TomlError| {
        format!("with that name the job could not be read: {}", error.message())
    })?;
    Ok(())
}

/// Marks and rectangles of a photograph are spoken of alike.
fn mark_of(slot: &Slot) -> Option<Named> {
    let name = slot.shape()?.head.name;
    ["photo.mark", "photo.rect"].contains(&name).then_some(Named::Mark)
}

fn put(changes: &mut Changes, at: Range<usize>, text: &str) {
    changes.insert(at.start, (at, Value::from(text).to_string()));
}

/// Puts a text in place of a text, where the new one differs.
fn respell(changes: &mut Changes, text: &str, at: Range<usize>, how: impl FnOnce(&str) -> String) {
    let Some(literal) = text.get(at.clone()) else { return };
    let Ok(Value::String(said)) = literal.trim().parse::<Value>() else { return };
    let new = how(said.value());
    if new != *said.value() {
        put(changes, at, &new);
    }
}

fn written(text: &str, changes: Changes) -> String {
    let mut out = text.to_owned();
    for (at, new) in changes.into_values().rev() {
        out.replace_range(at, &new);
    }
    out
}

/// A text of the grammar with the new name in place of the old.
fn by_rule(named: Named, said: &str, old: &str, new: &str) -> String {
    match named {
        Named::Dimension => words(said, |word| (word == old).then(|| new.to_owned())),
        Named::Body | Named::Wall => match said.split_once('/') {
            Some((body, side)) if body == old => format!("{new}/{side}"),
            _ => name(said, old, new),
        },
        Named::InBay | Named::InWall => {
            let parts = said.split('+').map(|part| name(part.trim(), old, new));
            if said.contains('+') {
                parts.collect::<Vec<_>>().join(" + ")
            } else {
                name(said, old, new)
            }
        }
        _ => name(said, old, new),
    }
}

fn name(said: &str, old: &str, new: &str) -> String {
    if said == old { new.to_owned() } else { said.to_owned() }
}

/// A text with some of its words put otherwise.
fn words(said: &str, other: impl Fn(&str) -> Option<String>) -> String {
    let is_letter = |c: char| c.is_alphanumeric() || c == '_';
    let mut out = String::new();
    let mut rest = said;
    while let Some(start) = rest.find(is_letter) {
        let (before, from) = rest.split_at(start);
        let end = from.find(|c| !is_letter(c)).unwrap_or(from.len());
        let (word, after) = from.split_at(end);
        out.push_str(before);
        out.push_str(&other(word).unwrap_or_else(|| word.to_owned()));
        rest = after;
    }
    out + rest
}

impl Renamed<'_> {
    /// What speaks of it without a rule, under a table.
    fn follow(
        &self,
        shape: &'static Shape,
        node: Node<'_>,
        place: &Slot,
        text: &str,
        changes: &mut Changes,
    ) {
        for key in shape.keys {
            let (inner, place) = (node.get(key.name), place.key(key.name));
            let loose = LOOSE.iter().filter(|row| row.0 == shape.head.name && row.1 == key.name);
            for (.., of, how) in loose {
                if self.of.is_some_and(|is| of.contains(&is)) && self.is_meant(&place, node) {
                    self.texts(inner, *how, text, changes);
                }
            }
            match holds((key.kind)()) {
                Holds::Table(shape) => self.follow(shape, inner, &place, text, changes),
                Holds::Rows(shape) => (0..inner.rows()).for_each(|at| {
                    self.follow(shape, inner.at_row(at), &place.numbered(at), text, changes);
                }),
                _ => {}
            }
        }
    }

    /// Whether a text at a place can mean this row: marks count in their
    /// photograph, elements in the wall a body stands at, or in the main front.
    fn is_meant(&self, place: &Slot, around: Node<'_>) -> bool {
        match self.of {
            Some(Named::Mark) => place.steps().get(..2) == self.slot.steps().get(..2),
            Some(Named::Element) if place.path().ends_with("with") => {
                let Node::Table(table, _) = around else { return false };
                TableLike::iter(table).any(|(_, item)| item.as_str() == self.wall)
            }
            Some(Named::Element) => self.wall.is_some_and(|wall| wall.ends_with("/front")),
            Some(Named::Storey) => self.slot.outer().number() == Some(0),
            _ => true,
        }
    }

    fn texts(&self, node: Node<'_>, how: How, text: &str, changes: &mut Changes) {
        match node {
            Node::Plain(Value::Array(list)) => {
                list.iter().for_each(|value| self.texts(value.into(), how, text, changes));
            }
            Node::Plain(value) => {
                let at = value.span().unwrap_or_default();
                respell(changes, text, at, |said| self.said(how, said));
            }
            Node::Table(table, _) => {
                let keys = table.iter().filter_map(|(name, _)| table.key(name));
                for key in keys {
                    let new = self.said(how, key.get());
                    if let Some(at) = key.span().filter(|_| new != key.get()) {
                        let new = toml_edit::Key::new(new).display_repr().into_owned();
                        changes.insert(at.start, (at, new));
                    }
                }
            }
            _ => {}
        }
    }

    fn said(&self, how: How, said: &str) -> String {
        let (old, new) = (self.old, self.new);
        match how {
            How::Name => name(said, old, new),
            How::Label => match said.strip_prefix(old) {
                Some(rest) if rest.is_empty() || rest.starts_with(['/', '-']) => {
                    format!("{new}{rest}")
                }
                _ => said.to_owned(),
            },
            How::Words => words(said, |word| {
                let corner = word.strip_prefix(old)?;
                let is_corner = ["", "_tl", "_tr", "_br", "_bl"].contains(&corner);
                is_corner.then(|| format!("{new}{corner}"))
            }),
        }
    }
}
