//! What was measured on the mock-up, written down and taken back.

use toml_edit::{DocumentMut, Item, Table, value};

use super::{Chosen, is_called, rows_mut, set_or_drop, table_mut};
use crate::job::mock_up::On;

/// A size measured on the mock-up or the model, as text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MeasuredText {
    /// Which size.
    pub of: String,
    /// What it was measured on.
    pub on: On,
    /// What it reads, with its unit; empty forgets the last reading.
    pub reads: String,
    /// What was seen.
    pub note: String,
}

/// Sizes taken back from the mock-up, as text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TakenText {
    /// The choice that builds them, where the building is to change.
    pub choice: Option<Chosen>,
    /// Keys of `[space]` with their new text.
    pub space: Vec<(String, String)>,
    /// The sizes, each with what was planned before.
    pub rows: Vec<(String, String)>,
    /// Why, in the person's words.
    pub reason: String,
}

impl MeasuredText {
    pub(super) fn name(&self) -> String {
        let (of, on) = (&self.of, self.on.word());
        match self.reads.as_str() {
            "" => format!("forget the {of} of the {on}"),
            reads => format!("{of} of the {on} measures {reads}"),
        }
    }
}

impl TakenText {
    pub(super) fn name(&self) -> String {
        match self.rows.as_slice() {
            [(only, _)] => format!("take {only} back from the mock-up"),
            all => format!("take {} sizes back from the mock-up", all.len()),
        }
    }
}

/// The place of the last reading of a size on a thing.
fn last(file: &mut DocumentMut, of: &str, on: On) -> Result<Option<usize>, String> {
    let said = |row: &Table| match row.get("on").and_then(Item::as_str) {
        Some(word) => On::from_word(word) == Some(on),
        None => on == On::default(),
    };
    let rows: Vec<bool> = rows_mut(file, "measured")?
        .iter()
        .map(|row| is_called(row, "of", of) && said(row))
        .collect();
    Ok(rows.iter().rposition(|same| *same))
}

/// Writes a reading down. One that was taken back stays as it is, for the
/// record: the new one goes behind it.
pub(super) fn measure(file: &mut DocumentMut, measured: &MeasuredText) -> Result<(), String> {
    let MeasuredText { of, on, reads, note } = measured;
    let at = last(file, of, *on)?;
    let rows = rows_mut(file, "measured")?;
    if reads.is_empty() {
        if let Some(at) = at {
            rows.remove(at);
        }
        if rows.is_empty() {
            file.remove("measured");
        }
        return Ok(());
    }
    let open = at.and_then(|at| rows.get_mut(at)).filter(|row| {
        row.get("was").is_none() || row.get("reads").and_then(Item::as_str) == Some(reads)
    });
    if let Some(row) = open {
        set_or_drop(row, "reads", reads);
        set_or_drop(row, "note", note);
        return Ok(());
    }
    let mut row = Table::new();
    row["of"] = value(of);
    if *on != On::default() {
        row["on"] = value(on.word());
    }
    row["reads"] = value(reads);
    set_or_drop(&mut row, "note", note);
    rows.push(row);
    Ok(())
}

/// Writes the decisions, and at each reading what was planned and why it was
/// taken back.
pub(super) fn take_back(file: &mut DocumentMut, taken: &TakenText) -> Result<(), String> {
    for (of, was) in &taken.rows {
        let at = last(file, of, On::MockUp)?;
        let row = at.and_then(|at| rows_mut(file, "measured").ok()?.get_mut(at));
        let row = row.ok_or_else(|| format!("\"{of}\" was not measured on the mock-up"))?;
        set_or_drop(row, "was", was);
        set_or_drop(row, "reason", &taken.reason);
    }
    if let Some(choice) = &taken.choice {
        file["choice"] = Item::Table(choice.table());
    }
    for (key, to) in &taken.space {
        set_or_drop(table_mut(file, "space")?, key, to);
    }
    Ok(())
}
