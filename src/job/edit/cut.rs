//! A stick or sheet is cut: its pieces leave the cut list, what is left of it
//! goes to the rack.

use toml_edit::{DocumentMut, Item, Table, value};

use super::{rows_mut, set_or_drop, table_mut};

/// What was cut, as text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CutText {
    /// The stock.
    pub stock: String,
    /// How many sticks or sheets were cut this way.
    pub times: u32,
    /// The row of `[[offcut]]` they came from; nothing when they were new.
    pub from: Option<usize>,
    /// The pieces, all sticks together.
    pub pieces: Vec<PieceText>,
    /// Strips ripped from it, which go to the rack: their stock, length, count.
    pub ripped: Vec<(String, String, u32)>,
    /// What is left of each: length and, of a sheet, width; nothing where it
    /// is not worth keeping.
    pub left: Option<(String, Option<String>)>,
    /// Parts of which every copy is now cut.
    pub done: Vec<String>,
}

/// Pieces of one part.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PieceText {
    /// The part's label.
    pub part: String,
    /// Length with its unit.
    pub length: String,
    /// Of a sheet, the size across the grain with its unit.
    pub width: Option<String>,
    /// How many.
    pub count: u32,
}

pub(super) fn apply(file: &mut DocumentMut, cut: &CutText) -> Result<(), String> {
    if let Some(row) = cut.from {
        take_from_rack(file, row, cut.times)?;
    }
    for piece in &cut.pieces {
        let size = (&piece.length, piece.width.as_ref());
        add(file, "cut", &cut.stock, Some(&piece.part), size, piece.count)?;
    }
    if let Some((length, width)) = &cut.left {
        add(file, "offcut", &cut.stock, None, (length, width.as_ref()), cut.times)?;
    }
    for (stock, length, count) in &cut.ripped {
        add(file, "offcut", stock, None, (length, None), *count)?;
    }
    let marks = table_mut(file, "done")?;
    for label in &cut.done {
        if !marks.contains_key(label) {
            marks[label] = value("cut");
        }
    }
    if marks.is_empty() {
        file.remove("done");
    }
    Ok(())
}

fn count_of(row: &Table) -> i64 {
    row.get("count").and_then(Item::as_integer).unwrap_or(1)
}

fn take_from_rack(file: &mut DocumentMut, at: usize, times: u32) -> Result<(), String> {
    let rows = rows_mut(file, "offcut")?;
    let row = rows.get_mut(at).ok_or("the offcut is not on the rack any more")?;
    let left = count_of(row) - i64::from(times);
    match left {
        ..0 => return Err("there are not so many offcuts of that size on the rack".to_owned()),
        0 => {
            rows.remove(at);
        }
        _ => row["count"] = value(left),
    }
    Ok(())
}

/// Counts pieces into the row of their size, or gives them a row.
fn add(
    file: &mut DocumentMut,
    table: &str,
    stock: &str,
    part: Option<&String>,
    (length, width): (&String, Option<&String>),
    count: u32,
) -> Result<(), String> {
    let rows = rows_mut(file, table)?;
    let says = |row: &Table, key: &str, wanted: Option<&str>| {
        row.get(key).and_then(Item::as_str) == wanted
    };
    let same = |row: &&mut Table| {
        says(row, "stock", Some(stock))
            && says(row, "part", part.map(String::as_str))
            && says(row, "length", Some(length))
            && says(row, "width", width.map(String::as_str))
    };
    if let Some(row) = rows.iter_mut().find(same) {
        row["count"] = value(count_of(row).saturating_add(i64::from(count)));
        return Ok(());
    }
    let mut row = Table::new();
    row["stock"] = value(stock);
    set_or_drop(&mut row, "part", part.map_or("", String::as_str));
    row["length"] = value(length);
    set_or_drop(&mut row, "width", width.map_or("", String::as_str));
    row["count"] = value(i64::from(count));
    rows.push(row);
    Ok(())
}
