//! What every row of `data/` has: a key and a source.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

/// How a row is known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tag {
    /// Read in the source named.
    Read,
    /// From memory of the source named.
    Memory,
    /// Worked out from a definition or a formula.
    Computed,
    /// A habit of the trade with no single authority.
    CommonPractice,
    /// A proposal of this program.
    Judgement,
    /// Entered by the person.
    #[default]
    Own,
}

/// The source of a row that names none: the person's own file.
pub(super) fn own() -> String {
    "own entry".to_owned()
}

/// A row of a data file.
pub trait Row {
    /// What tells it from the others of its table.
    fn key(&self) -> String;
    /// Where it comes from.
    fn source(&self) -> &str;
    /// How it is known.
    fn tag(&self) -> Tag;
}

macro_rules! rows {
    ($($row:ty, $self:ident => $key:expr;)*) => {$(
        impl $crate::catalog::row::Row for $row {
            fn key(&$self) -> String {
                $key
            }
            fn source(&self) -> &str {
                &self.source
            }
            fn tag(&self) -> $crate::catalog::row::Tag {
                self.tag
            }
        }
    )*};
}
pub(super) use rows;

/// The first key that two rows share.
pub(super) fn double<R: Row>(rows: &[R]) -> Option<String> {
    let mut seen = BTreeSet::new();
    rows.iter().map(|row| row.key().to_lowercase()).find(|key| !seen.insert(key.clone()))
}

/// The row of that key, however it is capitalised.
pub(super) fn keyed<'a, R: Row>(rows: &'a [R], key: &str) -> Option<&'a R> {
    rows.iter().find(|row| row.key().eq_ignore_ascii_case(key))
}

/// The rows of `over` in the place of those with the same key, the new ones behind.
pub(super) fn merge<R: Row + Clone>(base: &[R], over: &[R]) -> Vec<R> {
    let kept = base.iter().map(|row| keyed(over, &row.key()).unwrap_or(row));
    let new = over.iter().filter(|own| keyed(base, &own.key()).is_none());
    kept.chain(new).cloned().collect()
}
