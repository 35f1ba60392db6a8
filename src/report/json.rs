//! A view as JSON with stable keys, and the list of those keys.

use std::collections::{BTreeMap, HashMap};

use serde::Serialize;
use serde_json::{Map, Value};

use super::cell::Cell;
use super::column::Column;
use super::table::{Row, RowKey, Shape, Table, View};
use crate::catalog::rack::coins;
use crate::quantity::Unit;

/// A view as JSON.
#[must_use]
pub fn view(view: &View) -> Value {
    let mut out = Map::new();
    let mut lists: BTreeMap<&str, Joined<'_>> = BTreeMap::new();
    for table in &view.tables {
        match (&table.key, table.shape) {
            (None, _) => {}
            (_, Shape::Own) => out.extend(table.rows.iter().flat_map(|row| object(table, row))),
            (Some(key), Shape::List) if !table.unknown => lists.entry(key).or_default().join(table),
            (Some(key), _) => {
                out.insert(key.clone(), self::table(table));
            }
        }
    }
    let lists = lists.into_iter();
    out.extend(lists.map(|(key, list)| (key.to_owned(), Value::from_iter(list.rows))));
    match &view.stop {
        Some(stop) => out.insert("stop".to_owned(), told(stop)),
        None => out.insert("findings".to_owned(), told(&view.findings)),
    };
    Value::Object(out)
}

/// The rows of tables with one key: a row that stands there already gets more
/// keys.
#[derive(Default)]
struct Joined<'a> {
    rows: Vec<Map<String, Value>>,
    places: HashMap<&'a RowKey, usize>,
}

impl<'a> Joined<'a> {
    fn join(&mut self, table: &'a Table) {
        for row in &table.rows {
            let made = object(table, row);
            match self.places.get(&row.key) {
                Some(at) => self.rows[*at].extend(made),
                None => {
                    self.places.insert(&row.key, self.rows.len());
                    self.rows.push(made);
                }
            }
        }
    }
}

/// A table as JSON.
#[must_use]
pub fn table(table: &Table) -> Value {
    let row = |row: &Row| match row.cells.iter().all(|cell| *cell == Cell::Absent) {
        // No column speaks of it.
        true => Value::Null,
        false => Value::Object(object(table, row)),
    };
    match table.shape {
        _ if table.unknown => Value::Null,
        Shape::List => table.rows.iter().map(row).collect(),
        Shape::Words => {
            let words = table.rows.iter().filter_map(|row| row.cells.first());
            words.map(|cell| self::cell(Unit::Inch, cell)).collect()
        }
        Shape::One | Shape::Own => table.rows.first().map_or(Value::Null, row),
    }
}

fn object(table: &Table, row: &Row) -> Map<String, Value> {
    let cells = table.columns.iter().zip(&row.cells);
    let told = cells.filter(|(column, cell)| column.told && **cell != Cell::Absent);
    told.map(|(column, cell)| (column.id.clone(), self::cell(column.unit(), cell))).collect()
}

/// A cell as JSON, lengths in a unit.
#[must_use]
pub fn cell(unit: Unit, value: &Cell) -> Value {
    match value {
        Cell::None | Cell::Absent => Value::Null,
        Cell::Text(words) => Value::from(words.as_str()),
        Cell::Count(count) => Value::from(*count),
        Cell::Number(number) => Value::from(*number),
        Cell::Money(price) => Value::from(coins(*price)),
        Cell::Flag(flag) => Value::from(*flag),
        Cell::Length(measure) => Value::from(measure.amount(unit)),
        Cell::Angle(angle) => Value::from(angle.in_degrees()),
        Cell::Voltage(volts) => Value::from(volts.in_volts()),
        Cell::Current(amperes) => Value::from(amperes.in_amperes()),
        Cell::Resistance(ohms) => Value::from(ohms.in_ohms()),
        Cell::Power(watts) => Value::from(watts.in_watts()),
        Cell::Interval(ends) => ends.iter().map(|end| cell(unit, end)).collect(),
        Cell::Said(_, value) => cell(unit, value),
        Cell::List(cells) => cells.iter().map(|one| cell(unit, one)).collect(),
        Cell::Map(cells) => {
            cells.iter().map(|(name, one)| (name.clone(), cell(unit, one))).collect()
        }
        Cell::Table(inner) => table(inner),
    }
}

fn told(value: &impl Serialize) -> Value {
    serde_json::to_value(value).unwrap_or_default()
}

/// A key of a view's JSON.
#[derive(Serialize, Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Told {
    /// Where it stands: `parts[].length_in`.
    pub path: String,
    /// What it holds, with the unit of a length.
    pub holds: String,
}

/// Every key of a view's JSON, from the description of its tables.
#[must_use]
pub fn keys(view: &View) -> Vec<Told> {
    let finding = ["stage", "subject", "severity", "message", "hint"];
    let own = |path: String| Told { path, holds: "text".to_owned() };
    let mut keys: Vec<Told> = finding.map(|key| own(format!("findings[].{key}"))).into();
    keys.push(Told { path: "findings[].cost_in".to_owned(), holds: "length in in".to_owned() });
    for table in &view.tables {
        if let Some(key) = &table.key {
            match table.shape {
                Shape::Words => keys.push(own(at("", key, table.shape))),
                shape => keys_of(table, &at("", key, shape), &mut keys),
            }
        }
    }
    keys.sort();
    keys.dedup();
    keys
}

fn keys_of(table: &Table, path: &str, keys: &mut Vec<Told>) {
    for column in table.columns.iter().filter(|column| column.told) {
        match &column.inner {
            Some(inner) => keys_of(inner, &at(path, &column.id, inner.shape), keys),
            None => keys.push(Told { path: format!("{path}{}", column.id), holds: holds(column) }),
        }
    }
}

fn at(path: &str, key: &str, shape: Shape) -> String {
    match shape {
        Shape::List => format!("{path}{key}[]."),
        Shape::Words => format!("{path}{key}[]"),
        Shape::One => format!("{path}{key}."),
        Shape::Own => path.to_owned(),
    }
}

fn holds(column: &Column) -> String {
    match column.sense {
        super::column::Sense::Length => format!("length in {}", column.unit()),
        sense => sense.word().to_owned(),
    }
}
