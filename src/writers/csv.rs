//! Lists as CSV (RFC 4180), for a spreadsheet or another program.
//!
//! A cell that a spreadsheet would take for a formula gets an apostrophe in
//! front; a plain number keeps its sign.

use crate::finding::Stop;

/// Rows as CSV, the heads first.
///
/// # Errors
/// When the rows cannot be written, which has no cause in practice.
pub fn write(heads: &[&str], rows: &[Vec<String>]) -> Result<String, Stop> {
    let fail = |error: &dyn std::fmt::Display| Stop::new("writing CSV", error.to_string(), "");
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(heads).map_err(|error| fail(&error))?;
    for row in rows {
        let cells: Vec<String> = row.iter().map(|cell| plain(cell)).collect();
        writer.write_record(&cells).map_err(|error| fail(&error))?;
    }
    let bytes = writer.into_inner().map_err(|error| fail(&error))?;
    String::from_utf8(bytes).map_err(|error| fail(&error))
}

/// A cell that begins no formula and holds no control character.
fn plain(cell: &str) -> String {
    let cell: String = cell.chars().map(|one| if one.is_control() { ' ' } else { one }).collect();
    let begins = cell.trim_start().starts_with(['=', '+', '-', '@', '|', '%']);
    if begins && cell.trim().parse::<f64>().is_err() { format!("'{cell}") } else { cell }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_begins_a_formula() {
        let cells =
            ["=1+1", " =HYPERLINK(\"x\")", "+cmd", "@SUM(A1)", "-2+3", "\t=1", "-2.5", "a,\"b\""];
        let row: Vec<String> = cells.iter().map(|cell| (*cell).to_owned()).collect();
        let text = write(&["a"; 8], &[row]).expect("written");
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let read = reader.records().next().expect("a row").expect("sound");
        for cell in &read {
            let formula = cell.trim_start().starts_with(['=', '+', '@', '-']);
            assert!(!formula || cell.parse::<f64>().is_ok(), "{cell}");
        }
        assert_eq!(&read[6], "-2.5");
        assert_eq!(&read[7], "a,\"b\"");
    }
}
