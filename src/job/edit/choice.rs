//! The choice as it is made: the compression record.

use std::collections::BTreeMap;

use toml_edit::{InlineTable, Table, Value, value};

use super::{set_if, set_or_drop};
use crate::job::place::RoofFollows;
use crate::quantity::CompressedLength;

/// A choice: the compression record. Its lengths become text only in the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chosen {
    /// The alternative's kind.
    pub kind: String,
    /// Repeats kept, by element.
    pub counts: BTreeMap<String, u32>,
    /// Widths used, by element or group.
    pub widths: BTreeMap<String, CompressedLength>,
    /// Storeys kept, by name, where some are left out.
    pub storeys: BTreeMap<String, u32>,
    /// Depth used.
    pub depth: Option<CompressedLength>,
    /// How the roof follows.
    pub roof: Option<RoofFollows>,
    /// Height of the eave, where it is set by hand.
    pub eave: Option<CompressedLength>,
    /// Height of the ridge, where it is set by hand.
    pub ridge: Option<CompressedLength>,
    /// Why, in the person's words.
    pub reason: String,
    /// When, as written.
    pub date: String,
}

impl Chosen {
    /// The table it makes in the file.
    pub(super) fn table(&self) -> Table {
        let mut table = Table::new();
        table["kind"] = value(&self.kind);
        let numbers = |of: &BTreeMap<String, u32>| -> InlineTable {
            of.iter().map(|(name, n)| (name.as_str(), Value::from(i64::from(*n)))).collect()
        };
        let (counts, storeys) = (numbers(&self.counts), numbers(&self.storeys));
        let widths: InlineTable = (self.widths.iter())
            .map(|(name, width)| (name.as_str(), Value::from(written(*width))))
            .collect();
        if !counts.is_empty() {
            table["counts"] = value(counts);
        }
        if !widths.is_empty() {
            table["widths"] = value(widths);
        }
        if !storeys.is_empty() {
            table["storeys"] = value(storeys);
        }
        let roof = self.roof.map(|roof| roof.word().to_owned());
        let [depth, eave, ridge] = [self.depth, self.eave, self.ridge].map(|it| it.map(written));
        for (key, text) in [("depth", depth), ("roof", roof), ("eave", eave), ("ridge", ridge)] {
            set_if(&mut table, key, text.as_deref());
        }
        set_or_drop(&mut table, "reason", &self.reason);
        set_or_drop(&mut table, "date", &self.date);
        table
    }
}

/// A length as the job file has it: `12 ft 6 in`, to a hundred-millionth of an
/// inch, so that a row of them still adds up to a whole length.
fn written(length: CompressedLength) -> String {
    let inches = (length.in_inches() * 1e8).round() / 1e8;
    let feet = (inches / 12.0).floor();
    let rest = format!("{:.8}", inches - feet * 12.0);
    let rest = rest.trim_end_matches('0').trim_end_matches('.');
    match (feet as u64, rest) {
        (0, rest) => format!("{rest} in"),
        (feet, "0" | "") => format!("{feet} ft"),
        (feet, rest) => format!("{feet} ft {rest} in"),
    }
}
