//! Keys and rows of any table: set, cleared, added, removed, copied, moved and
//! renamed, as the grammar has them.

mod list;
mod rename;
mod tree;

use toml_edit::{DocumentMut, TableLike};

use crate::finding::short;
use crate::job::grammar::{Kind, Node, Shape};
use crate::job::slot::{Holds, Slot, counting, kind_of, name_key, value};
use tree::Hand;

/// A change of what stands at a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RowEdit {
    /// Writes a key; an empty text takes it out.
    Set {
        /// The key.
        slot: Slot,
        /// What is typed.
        to: String,
    },
    /// A new row at the end of a list, or a table that is not there yet.
    Add {
        /// The list or table.
        slot: Slot,
        /// Its keys, those of tables in it with a dot, and what is typed.
        keys: Vec<(String, String)>,
    },
    /// Takes a key, a row or a table out.
    Remove {
        /// Which.
        slot: Slot,
    },
    /// A row like another, behind it, under a name of its own.
    Copy {
        /// The other.
        slot: Slot,
        /// The name; nothing where its rows have none.
        name: String,
    },
    /// Changes places with the row before or behind it.
    Move {
        /// The row.
        slot: Slot,
        /// Behind it.
        down: bool,
    },
    /// Another name for a row; what speaks of it follows.
    Rename {
        /// The row.
        slot: Slot,
        /// The name.
        to: String,
    },
}

impl RowEdit {
    /// What it does, for the undo list.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::Set { slot, to } if to.trim().is_empty() => format!("clear {slot}"),
            Self::Set { slot, to } => format!("set {slot} to {}", short::word(to.trim())),
            Self::Add { slot, keys } => match keys.first().filter(|_| is_list(slot)) {
                Some((_, name)) => format!("add {} to {slot}", short::word(name)),
                None => format!("add {slot}"),
            },
            Self::Remove { slot } => format!("remove {slot}"),
            Self::Copy { slot, name } => format!("copy {slot} as {}", short::word(name)),
            Self::Move { slot, down: true } => format!("move {slot} down"),
            Self::Move { slot, down: false } => format!("move {slot} up"),
            Self::Rename { slot, to } => format!("call {slot} {}", short::word(to)),
        }
    }

    /// Makes the change in the text of the file.
    pub(super) fn apply(&self, file: &mut DocumentMut) -> Result<(), String> {
        match self {
            Self::Set { slot, to } if to.trim().is_empty() => remove(file, slot),
            Self::Set { slot, to } => set(file, slot, to),
            Self::Add { slot, keys } => add(file, slot, keys),
            Self::Remove { slot } => remove(file, slot),
            Self::Copy { slot, name } => copy(file, slot, name),
            Self::Move { slot, down } => shift(file, slot, *down),
            Self::Rename { slot, to } => rename::rename(file, slot, to.trim()),
        }
    }
}

fn is_list(slot: &Slot) -> bool {
    matches!(slot.holds(), Holds::Rows(_) | Holds::Map(_))
}

/// The table or list a place stands in.
fn around(slot: &Slot) -> Result<Slot, String> {
    slot.parent().ok_or_else(|| "the whole job is no key of it".to_owned())
}

fn set(file: &mut DocumentMut, slot: &Slot, text: &str) -> Result<(), String> {
    let new = value(slot.kind(), text)?;
    let parent = around(slot)?;
    if slot.number().is_none() && matches!(slot.holds(), Holds::Table(_) | Holds::Rows(_)) {
        return tree::reach(file, slot, true)?.fill(new);
    }
    if let Some(at) = slot.number() {
        return tree::reach(file, &parent, false)?.replace(at, new);
    }
    let kind = parent.shape().and_then(|shape| told_kind(shape, slot.word(), text));
    let mut hand = tree::reach(file, &parent, true)?;
    let Hand::Table(table, _) = &mut hand else {
        return Err(format!("{parent} is no table in the file"));
    };
    if let (Some(shape), Some(kind)) = (parent.shape(), &kind) {
        take_over(shape, *table, slot.word(), kind);
    }
    tree::put(*table, slot.word(), new);
    if let (Some(shape), Some(kind)) = (parent.shape(), &kind) {
        drop_meaningless(shape, *table, kind);
    }
    hand.tidy();
    Ok(())
}

/// The kind a table gets with that key, where it is the one that tells it.
fn told_kind(shape: &Shape, key: &str, text: &str) -> Option<String> {
    if shape.head.by == Some(key) {
        return Some(text.trim().to_owned());
    }
    shape.head.one_of.contains(&key).then(|| key.to_owned())
}

/// Of keys of which just one stands in a table, the new one takes the place of
/// the old.
fn take_over(shape: &'static Shape, table: &mut dyn TableLike, key: &str, kind: &str) {
    let old = kind_of(shape, Node::Table(table, (0, 0)));
    if shape.head.by.is_none()
        && let Some(old) = old.filter(|old| old != kind)
    {
        tree::rekey(table, &old, key);
    }
}

/// Takes out the keys that mean nothing for a kind of table.
fn drop_meaningless(shape: &'static Shape, table: &mut dyn TableLike, kind: &str) {
    let counts = |name: &str| counting(shape, Some(kind)).any(|key| key.name == name);
    let idle: Vec<String> = table
        .iter()
        .map(|(name, _)| name)
        .filter(|name| shape.key(name).is_some() && !counts(name))
        .map(str::to_owned)
        .collect();
    idle.iter().for_each(|name| drop(table.remove(name)));
}

fn add(file: &mut DocumentMut, slot: &Slot, keys: &[(String, String)]) -> Result<(), String> {
    let here = match slot.holds() {
        Holds::Rows(_) => {
            let at = tree::reach(file, slot, true)?.push()?;
            slot.row(file, at)
        }
        Holds::Table(_) if slot.is_written(file) && keys.is_empty() => {
            return Err(format!("{slot} is there already: set its keys"));
        }
        Holds::Table(_) | Holds::Map(_) => {
            tree::reach(file, slot, true)?.show();
            slot.clone()
        }
        Holds::Value => return Err(format!("{slot} is a key: set it")),
    };
    for (key, text) in keys {
        let place = here.under(file, key).map_err(|stop| match stop.hint.as_str() {
            "" => stop.trouble,
            hint => format!("{} ({hint})", stop.trouble),
        })?;
        set(file, &place, text).map_err(|trouble| format!("{key}: {trouble}"))?;
    }
    Ok(())
}

fn remove(file: &mut DocumentMut, slot: &Slot) -> Result<(), String> {
    if !slot.is_written(file) {
        return Err(format!("{slot} is not written"));
    }
    let parent = around(slot)?;
    let mut hand = tree::reach(file, &parent, false)?;
    let is_empty = match slot.number() {
        Some(at) => hand.take(at)?,
        None => {
            hand.drop_key(slot.word())?;
            hand.tidy();
            false
        }
    };
    // A list without rows says nothing.
    if is_empty && parent.parent().is_some() { remove(file, &parent) } else { Ok(()) }
}

fn copy(file: &mut DocumentMut, slot: &Slot, name: &str) -> Result<(), String> {
    let at = slot.number().ok_or_else(|| format!("{slot} is no row: only rows are copied"))?;
    let list = around(slot)?;
    tree::reach(file, &list, false)?.double(at)?;
    let copy = list.row(file, at + 1);
    let Some(key) = named_by(file, &copy) else { return Ok(()) };
    if name.trim().is_empty() {
        return Err("the copy wants a name of its own".to_owned());
    }
    let new = value(Kind::Text, name)?;
    let mut hand = tree::reach(file, &copy, false)?;
    if let Hand::Table(table, _) = &mut hand {
        tree::put(*table, key, new);
    }
    hand.tidy();
    Ok(())
}

/// The key of a row that holds its name.
fn named_by(file: &DocumentMut, row: &Slot) -> Option<&'static str> {
    match row.node(file) {
        Node::Table(table, _) => name_key(row.shape()?, table),
        _ => None,
    }
}

fn shift(file: &mut DocumentMut, slot: &Slot, down: bool) -> Result<(), String> {
    let at = slot.number().ok_or_else(|| format!("{slot} is no row: only rows are moved"))?;
    let to = if down { Some(at + 1) } else { at.checked_sub(1) };
    let list = around(slot)?;
    let many = list.node(file).rows();
    let to = to.filter(|to| *to < many).ok_or_else(|| {
        format!("{slot} is the {} of its list", if down { "last" } else { "first" })
    })?;
    tree::reach(file, &list, false)?.swap(at, to)
}

#[cfg(test)]
mod tests;
