//! The tables of the file by hand: opened, made where they are not there, keys
//! put in and taken out with their comments kept.

use toml_edit::{
    Array, ArrayOfTables, DocumentMut, InlineTable, Item, Key, Table, TableLike, Value,
};

use super::list;
use crate::job::locate::Step;
use crate::job::slot::{Holds, Slot};

/// Tables that are written in a line inside another, for they are short.
const IN_LINE: &[&str] = &[
    "body.stands",
    "body.storeys",
    "body.trim-sizes",
    "body.wall-ledger",
    "body.roof.tails",
    "body.roof.ledger",
    "opening.leaf",
    "opening.casting",
    "wall.row",
    "wall.openings",
    "member.stands",
    "member.cross",
    "deck.steps",
    "terrace.stair",
    "space.stack",
    "look.weigh",
    "site.track.car",
    "car.steps",
    "photo.corner",
    "lamps.string.hangs",
];

/// What was opened for a change.
pub(super) enum Hand<'a> {
    /// A table, and whether it has a heading of its own.
    Table(&'a mut dyn TableLike, bool),
    /// `[[...]]`.
    Rows(&'a mut ArrayOfTables),
    /// A list in a line.
    List(&'a mut Array),
}

/// Opens a place; `make` makes what is not there.
pub(super) fn reach<'a>(
    file: &'a mut DocumentMut,
    slot: &Slot,
    make: bool,
) -> Result<Hand<'a>, String> {
    let steps = slot.steps().to_vec();
    let mut hand = Hand::Table(file.as_table_mut(), true);
    let mut place = Slot::root();
    for step in steps {
        hand = match step {
            Step::Key(name) => {
                place = place.key(&name);
                hand.open(&name, &place, make)?
            }
            Step::At(at) => {
                place = place.numbered(at);
                hand.open_row(at).ok_or_else(|| format!("{place} is not there any more"))?
            }
        };
    }
    Ok(hand)
}

impl<'a> Hand<'a> {
    fn open(self, name: &str, place: &Slot, make: bool) -> Result<Self, String> {
        let Hand::Table(table, headed) = self else {
            return Err(format!("{place} does not stand in a table"));
        };
        if table.get(name).is_none_or(Item::is_none) {
            if !make {
                return Err(format!("{place} is not written"));
            }
            table.insert(name, blank(place, headed));
        }
        let wrong = || format!("{place} holds no table in the file");
        match table.get_mut(name).ok_or_else(wrong)? {
            Item::Table(table) => Ok(Hand::Table(table, true)),
            Item::ArrayOfTables(rows) => Ok(Hand::Rows(rows)),
            Item::Value(Value::InlineTable(table)) => Ok(Hand::Table(table, false)),
            Item::Value(Value::Array(list)) => Ok(Hand::List(list)),
            _ => Err(wrong()),
        }
    }

    fn open_row(self, at: usize) -> Option<Self> {
        match self {
            Hand::Rows(rows) => Some(Hand::Table(rows.get_mut(at)?, true)),
            Hand::List(list) => Some(Hand::Table(list.get_mut(at)?.as_inline_table_mut()?, false)),
            Hand::Table(..) => None,
        }
    }

    /// An empty row at the end; its number.
    pub(super) fn push(self) -> Result<usize, String> {
        match self {
            Hand::Rows(rows) => {
                list::settle(rows);
                rows.push(Table::new());
                Ok(rows.len() - 1)
            }
            Hand::List(list) => {
                list::insert(list, list.len(), InlineTable::new().into());
                Ok(list.len() - 1)
            }
            Hand::Table(..) => Err("a table has no rows".to_owned()),
        }
    }

    /// A row again, behind itself.
    pub(super) fn double(self, at: usize) -> Result<(), String> {
        let gone = || "the row is not there any more".to_owned();
        match self {
            Hand::Rows(rows) => {
                list::settle(rows);
                let mut copy = rows.get(at).ok_or_else(gone)?.clone();
                copy.set_position(None);
                list::insert_row(rows, at + 1, copy);
            }
            Hand::List(list) => {
                let copy = list.get(at).ok_or_else(gone)?.clone();
                list::insert(list, at + 1, copy);
            }
            Hand::Table(..) => return Err(gone()),
        }
        Ok(())
    }

    /// Takes a row out; whether none is left.
    pub(super) fn take(&mut self, at: usize) -> Result<bool, String> {
        match self {
            Hand::Rows(rows) if at < rows.len() => {
                list::remove_row(rows, at);
                Ok(rows.is_empty())
            }
            Hand::List(list) if at < list.len() => {
                list::remove(list, at);
                Ok(list.is_empty())
            }
            _ => Err("the row is not there any more".to_owned()),
        }
    }

    /// Another value in place of a row.
    pub(super) fn replace(self, at: usize, new: Value) -> Result<(), String> {
        let Value::InlineTable(new) = new else {
            return Err("a row is a table: { key = value, ... }".to_owned());
        };
        match self {
            Hand::Rows(rows) if at < rows.len() => {
                if let Some(row) = rows.get_mut(at) {
                    refill(row, new);
                }
            }
            Hand::List(list) if at < list.len() => {
                list.replace(at, Value::InlineTable(new));
            }
            _ => return Err("the row is not there any more".to_owned()),
        }
        Ok(())
    }

    /// A whole table or list in place of what is written.
    pub(super) fn fill(self, new: Value) -> Result<(), String> {
        match (self, new) {
            (Hand::Table(table, headed), Value::InlineTable(new)) => {
                refill(table, new);
                Hand::Table(table, headed).tidy();
            }
            (Hand::Rows(rows), Value::Array(new)) => {
                list::settle(rows);
                rows.clear();
                for row in new {
                    let Value::InlineTable(row) = row else {
                        return Err("a row is a table: { key = value, ... }".to_owned());
                    };
                    rows.push(row.into_table());
                }
            }
            (Hand::List(list), Value::Array(new)) => {
                list.clear();
                new.into_iter().for_each(|row| list::insert(list, list.len(), row));
            }
            _ => return Err("a table is written { key = value, ... }".to_owned()),
        }
        Ok(())
    }

    /// Two rows change places.
    pub(super) fn swap(self, one: usize, other: usize) -> Result<(), String> {
        match self {
            Hand::Rows(rows) => list::swap_rows(rows, one, other),
            Hand::List(list) => list::swap(list, one, other),
            Hand::Table(..) => return Err("a table has no rows".to_owned()),
        }
        Ok(())
    }

    pub(super) fn drop_key(&mut self, name: &str) -> Result<(), String> {
        let Hand::Table(table, _) = self else {
            return Err(format!("{name} does not stand in a table"));
        };
        table.remove(name);
        Ok(())
    }

    /// A table that was made on the way shows its heading.
    pub(super) fn show(self) {
        if let Hand::Table(table, true) = self
            && table.is_empty()
        {
            table.set_dotted(false);
        }
    }

    /// A table in a line is written anew with single spaces, where it holds no
    /// comment.
    pub(super) fn tidy(self) {
        if let Hand::Table(table, false) = self {
            table.fmt();
        }
    }
}

/// What is written for a place that is not there yet.
fn blank(place: &Slot, headed: bool) -> Item {
    let name = place.shape().map_or("", |shape| shape.head.name);
    // The trim of one body is a table in a line; that of all has a heading.
    let in_line = IN_LINE.contains(&name) || place.path().ends_with(".trim-sizes");
    let headed = headed && !in_line;
    match place.holds() {
        Holds::Rows(_) if headed => Item::ArrayOfTables(ArrayOfTables::new()),
        Holds::Rows(_) => Item::Value(Array::new().into()),
        _ if headed => {
            let mut table = Table::new();
            // Its heading shows once a key stands in it.
            table.set_implicit(true);
            Item::Table(table)
        }
        _ => Item::Value(InlineTable::new().into()),
    }
}

/// Puts a value under a key, with the comment behind the old one; a table with a
/// heading keeps it.
pub(super) fn put(table: &mut dyn TableLike, key: &str, mut new: Value) {
    match (table.get_mut(key), new) {
        (Some(Item::Table(old)), Value::InlineTable(new)) => return refill(old, new),
        (_, value) => new = value,
    }
    let old = table.get(key).and_then(Item::as_value);
    if let Some(decor) = old.map(|old| old.decor().clone()) {
        *new.decor_mut() = decor;
    }
    match table.get_mut(key) {
        Some(item) => *item = Item::Value(new),
        None => drop(table.insert(key, Item::Value(new))),
    }
}

/// Other keys in a table that keeps its heading and comments.
fn refill(table: &mut dyn TableLike, new: InlineTable) {
    let names: Vec<String> = table.iter().map(|(name, _)| name.to_owned()).collect();
    for name in names.iter().filter(|name| !new.contains_key(name)) {
        table.remove(name);
    }
    for (name, value) in new {
        put(table, &name, value);
    }
}

/// Gives a key another name, at its place.
pub(super) fn rekey(table: &mut dyn TableLike, old: &str, new: &str) {
    let names: Vec<String> = table.iter().map(|(name, _)| name.to_owned()).collect();
    for name in names {
        let Some(item) = table.remove(&name) else { continue };
        let key = if name == old { new } else { &name };
        table.insert(&Key::new(key), item);
    }
}
