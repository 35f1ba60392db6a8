//! The choice as text: the compression record.

use std::collections::BTreeMap;

use toml_edit::{InlineTable, Table, Value, value};

use super::{set_if, set_or_drop};

/// A choice, as text: the compression record.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChoiceText {
    /// The alternative's kind.
    pub kind: String,
    /// Repeats kept, by element.
    pub counts: BTreeMap<String, u32>,
    /// Widths used, by element or group, with their unit.
    pub widths: BTreeMap<String, String>,
    /// Storeys kept, by name, where some are left out.
    pub storeys: BTreeMap<String, u32>,
    /// Depth used, with its unit.
    pub depth: Option<String>,
    /// How the roof follows: `keep-pitch`, `keep-ridge`, `half-relief`, `flat`.
    pub roof: Option<String>,
    /// Height of the eave with its unit, where it is set by hand.
    pub eave: Option<String>,
    /// Height of the ridge with its unit, where it is set by hand.
    pub ridge: Option<String>,
    /// Why, in the person's words.
    pub reason: String,
    /// When, as written.
    pub date: String,
}

impl ChoiceText {
    /// The table it makes in the file.
    pub(super) fn table(&self) -> Table {
        let mut table = Table::new();
        table["kind"] = value(&self.kind);
        let numbers = |of: &BTreeMap<String, u32>| -> InlineTable {
            of.iter().map(|(name, n)| (name.as_str(), Value::from(i64::from(*n)))).collect()
        };
        let (counts, storeys) = (numbers(&self.counts), numbers(&self.storeys));
        let widths: InlineTable =
            self.widths.iter().map(|(name, text)| (name.as_str(), Value::from(text))).collect();
        if !counts.is_empty() {
            table["counts"] = value(counts);
        }
        if !widths.is_empty() {
            table["widths"] = value(widths);
        }
        if !storeys.is_empty() {
            table["storeys"] = value(storeys);
        }
        for (key, text) in [
            ("depth", &self.depth),
            ("roof", &self.roof),
            ("eave", &self.eave),
            ("ridge", &self.ridge),
        ] {
            set_if(&mut table, key, text.as_deref());
        }
        set_or_drop(&mut table, "reason", &self.reason);
        set_or_drop(&mut table, "date", &self.date);
        table
    }
}
