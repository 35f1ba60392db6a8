//! Views as plain text.

use std::fmt::Write as _;

use super::column::Column;
use super::table::{Row, Table, View};
use crate::finding::{Finding, Severity};

/// A view as text, ready to print.
#[must_use]
pub fn view(view: &View) -> String {
    let mut out = format!("{}\n{}\n", view.title, "=".repeat(width(&view.title)));
    for line in &view.lead {
        let _ = writeln!(out, "{line}");
    }
    for table in view.shown() {
        out.push('\n');
        out.push_str(&self::table(table));
    }
    if !view.findings.is_empty() {
        out.push_str("\nLook here\n");
        for finding in &view.findings {
            let _ = writeln!(out, "  {}", self::finding(finding));
        }
    }
    if !view.next.is_empty() {
        let _ = writeln!(out, "\nNext: {}", view.next);
    }
    out
}

/// A finding in one line.
#[must_use]
pub fn finding(finding: &Finding) -> String {
    let sign = match finding.severity {
        Severity::Note => "-",
        Severity::Look => "?",
        Severity::Trouble => "x",
    };
    if finding.hint.is_empty() {
        format!("{sign} {}", finding.message)
    } else {
        format!("{sign} {} ({})", finding.message, finding.hint)
    }
}

/// A table with its columns lined up.
#[must_use]
pub fn table(table: &Table) -> String {
    let mut out = String::new();
    if !table.title.is_empty() {
        let _ = writeln!(out, "{}", table.title);
    }
    let widths = widths(table);
    let heads: Vec<String> = table.heads().iter().map(|column| column.head().to_owned()).collect();
    let head = line(" ", &heads, table.heads(), &widths);
    let _ = writeln!(out, "{head}\n  {}", "-".repeat(width(&head).saturating_sub(2)));
    for Row { texts, mark, .. } in &table.rows {
        let _ = writeln!(out, "{}", line(mark.sign(), texts, table.heads(), &widths));
    }
    for note in &table.notes {
        let _ = writeln!(out, "  {note}");
    }
    out
}

/// The width each column needs, in terminal cells.
#[must_use]
pub fn widths(table: &Table) -> Vec<usize> {
    let cell_width = |row: &Row, at: usize| row.texts.get(at).map_or(0, |cell| width(cell));
    table
        .heads()
        .iter()
        .enumerate()
        .map(|(at, column)| {
            table.rows.iter().map(|row| cell_width(row, at)).fold(width(column.head()), usize::max)
        })
        .collect()
}

fn line(sign: &str, cells: &[String], columns: &[Column], widths: &[usize]) -> String {
    let mut out = format!("{sign} ");
    for ((cell, column), wide) in cells.iter().zip(columns).zip(widths) {
        let gap = " ".repeat(wide.saturating_sub(width(cell)));
        if column.is_right() {
            let _ = write!(out, "{gap}{cell}  ");
        } else {
            let _ = write!(out, "{cell}{gap}  ");
        }
    }
    out.trim_end().to_owned()
}

/// Terminal cells a text takes. The program's own texts hold no wide
/// characters; a name in the job may, and then a column is off by one.
fn width(text: &str) -> usize {
    text.chars().count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::column;
    use crate::report::draft::rows;

    #[test]
    fn columns_line_up_and_numbers_stand_right() {
        let sizes = rows("sizes", "Sizes", [("a", "1.5"), ("longer", "12.25")])
            .col(column::text("name", "name"), |(name, _)| name)
            .col(column::count("in", "in"), |(_, size)| size)
            .table();
        assert_eq!(
            table(&sizes),
            "Sizes\n  name       in\n  -------------\n  a         1.5\n  longer  12.25\n"
        );
    }
}
