//! The print check, kept in the job.

use toml_edit::{DocumentMut, Item, Table, value};

use super::{set_or_drop, table_mut};
use crate::job::paper::with_kept;
use crate::job::said::Said;
use crate::quantity::{Paper as OnPage, PaperLength};

/// Keeps what the two bars of a page measured.
pub(super) fn check(
    file: &mut DocumentMut,
    (across, up): (&str, &str),
    twice: bool,
) -> Result<(), String> {
    let table = table_mut(file, "paper")?;
    let (across, up) = on_top(table, across, up);
    set_or_drop(table, "across", &across);
    set_or_drop(table, "up", &up);
    if twice {
        table["twice"] = value(true);
    } else {
        table.remove("twice");
    }
    Ok(())
}

/// Bars measured on a page that was corrected already, as what an uncorrected
/// one would measure; what cannot be read is left to the job's own check.
fn on_top(table: &Table, across: &str, up: &str) -> (String, String) {
    let read = |text: &str| text.parse::<Said<OnPage>>().ok().map(|said| said.length());
    let kept = |key: &str| table.get(key).and_then(Item::as_str).and_then(read);
    let pair = |a: Option<PaperLength>, b: Option<PaperLength>| a.zip(b);
    let before = pair(kept("across"), kept("up"));
    let Some(measured) = pair(read(across), read(up)).filter(|_| before.is_some()) else {
        return (across.to_owned(), up.to_owned());
    };
    let whole = with_kept(before, measured);
    let same = whole.0.agrees(measured.0, PaperLength::thou(1e-6))
        && whole.1.agrees(measured.1, PaperLength::thou(1e-6));
    if same {
        return (across.to_owned(), up.to_owned());
    }
    (format!("{:.4} in", whole.0.in_inches()), format!("{:.3} mm", whole.1.in_millimetres()))
}
