//! The plain problem file: a layout problem in whole numbers, without a job.
//!
//! One TOML file per problem. `kind` is `"sticks"` or `"sheets"`; unknown keys
//! are refused with their line.

use crate::finding::Stop;
use crate::solve::sticks;
use serde::Deserialize;

/// A problem file of either kind.
#[derive(Clone, Debug, PartialEq)]
pub enum ProblemFile {
    /// Parts of one length dimension, cut from strips.
    Sticks(StickProblem),
    /// Rectangles, cut from sheets.
    Sheets(SheetProblem),
}

/// A stick problem as written. All lengths are counts of `unit`.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StickProblem {
    /// Name of the problem.
    pub name: String,
    #[serde(rename = "kind")]
    _kind: String,
    /// Family it belongs to.
    #[serde(default)]
    pub class: String,
    /// Where it comes from.
    #[serde(default)]
    pub source: String,
    /// What one count stands for; not used.
    #[serde(default)]
    pub unit: String,
    /// Length lost between two neighbouring parts.
    #[serde(default)]
    pub kerf: i64,
    /// Rows of length, cost, supply; supply -1 for as many as wanted.
    pub stock: Vec<[i64; 3]>,
    /// Rows of length, quantity.
    pub parts: Vec<[i64; 2]>,
    /// Least cost known; never used by the solver.
    pub best_known: Option<i64>,
    /// A bound known; never used by the solver.
    pub lower_bound: Option<i64>,
    /// Where they come from.
    pub best_known_from: Option<String>,
}

/// A sheet problem as written. All lengths are counts of `unit`.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetProblem {
    /// Name of the problem.
    pub name: String,
    #[serde(rename = "kind")]
    _kind: String,
    /// Family it belongs to.
    #[serde(default)]
    pub class: String,
    /// Where it comes from.
    #[serde(default)]
    pub source: String,
    /// What one count stands for; not used.
    #[serde(default)]
    pub unit: String,
    /// Width across the grain and length along it; as many as wanted.
    pub sheet: [i64; 2],
    /// Lost between two neighbouring parts, in both directions.
    #[serde(default)]
    pub gap: i64,
    /// Whether parts may be turned by a quarter.
    #[serde(default)]
    pub rotation: bool,
    /// Rows of width, length, quantity.
    pub parts: Vec<[i64; 3]>,
    /// Fewest sheets known with free placement; never used by the solver.
    pub best_known_free: Option<i64>,
    /// Fewest sheets known with edge-to-edge cuts; never used by the solver.
    pub best_known_guillotine: Option<i64>,
    /// A bound known for both; never used by the solver.
    pub lower_bound: Option<i64>,
    /// Where they come from.
    pub best_known_from: Option<String>,
}

/// Only the key that tells what the rest is.
#[derive(Deserialize)]
struct Kind {
    kind: String,
}

/// Reads a problem file.
///
/// # Errors
/// What the TOML reader says, with the line; a `kind` that is neither
/// `"sticks"` nor `"sheets"`.
pub fn read(text: &str) -> Result<ProblemFile, Stop> {
    let kind: Kind = toml::from_str(text).map_err(|error| unreadable(&error))?;
    match kind.kind.as_str() {
        "sticks" => toml::from_str(text).map(ProblemFile::Sticks),
        "sheets" => toml::from_str(text).map(ProblemFile::Sheets),
        other => {
            return Err(Stop::new(
                "reading the problem file",
                format!("kind \"{other}\" is not known"),
                "write kind = \"sticks\" or kind = \"sheets\"",
            ));
        }
    }
    .map_err(|error| unreadable(&error))
}

fn unreadable(error: &toml::de::Error) -> Stop {
    Stop::new(
        "reading the problem file",
        error.to_string().trim_end(),
        "keys are name, kind, unit, kerf, stock, parts for sticks; \
         name, kind, unit, sheet, gap, rotation, parts for sheets",
    )
}

impl StickProblem {
    /// The problem in the solver's terms.
    ///
    /// # Errors
    /// A quantity or supply out of range, with its row.
    pub fn problem(&self) -> Result<sticks::Problem, Stop> {
        let stock = (self.stock.iter().enumerate())
            .map(|(row, &[length, cost, supply])| {
                let supply = if supply == -1 { None } else { Some(count(supply, "stock", row)?) };
                Ok(sticks::Stock { length, cost, supply })
            })
            .collect::<Result<_, Stop>>()?;
        let parts = (self.parts.iter().enumerate())
            .map(|(row, &[length, quantity])| {
                Ok(sticks::Part { length, quantity: count(quantity, "parts", row)? })
            })
            .collect::<Result<_, Stop>>()?;
        Ok(sticks::Problem { stock, parts, kerf: self.kerf })
    }
}

fn count(number: i64, table: &str, row: usize) -> Result<u32, Stop> {
    u32::try_from(number).map_err(|_| {
        Stop::new(
            format!("reading row {} of {table}", row + 1),
            format!("{number} is not a count"),
            "counts run from 0 to 4294967295; a supply of -1 means as many as wanted",
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const STICKS: &str = "name = \"a\"\nkind = \"sticks\"\nkerf = 1\n\
                          stock = [[10, 1, -1], [5, 0, 2]]\nparts = [[4, 2]]\n";

    #[test]
    fn a_stick_problem_is_read() {
        let ProblemFile::Sticks(file) = read(STICKS).unwrap() else { panic!("sticks") };
        let problem = file.problem().unwrap();
        assert_eq!(problem.kerf, 1);
        assert_eq!(problem.stock[0].supply, None);
        assert_eq!(problem.stock[1].supply, Some(2));
        assert_eq!(problem.parts[0], sticks::Part { length: 4, quantity: 2 });
    }

    #[test]
    fn a_sheet_problem_is_read() {
        let text = "name = \"b\"\nkind = \"sheets\"\nsheet = [25, 10]\nparts = [[8, 6, 2]]\n";
        let ProblemFile::Sheets(file) = read(text).unwrap() else { panic!("sheets") };
        assert_eq!((file.sheet, file.gap, file.rotation), ([25, 10], 0, false));
    }

    #[test]
    fn unknown_keys_are_refused_with_their_line() {
        let stop = read(&format!("{STICKS}kurf = 2\n")).unwrap_err();
        assert!(stop.trouble.contains("line 6") && stop.trouble.contains("kurf"), "{stop}");
    }

    #[test]
    fn what_cannot_be_read_is_named() {
        let cases = [
            ("kind = \"tubes\"\nname = \"a\"\n", "tubes"),
            ("name = \"a\"\n", "kind"),
            ("name = \"a\"\nkind = \"sticks\"\nparts = []\n", "stock"),
            ("name = \"a\"\nkind = \"sticks\"\nstock = [[1, 2]]\nparts = []\n", "length"),
            ("kind = [", "line 1"),
        ];
        for (text, word) in cases {
            let stop = read(text).unwrap_err();
            assert!(stop.trouble.contains(word), "{stop}");
        }
    }

    #[test]
    fn counts_out_of_range_name_their_row() {
        let text = STICKS.replace("[4, 2]", "[4, 2], [3, -2]");
        let ProblemFile::Sticks(file) = read(&text).unwrap() else { panic!("sticks") };
        assert!(file.problem().unwrap_err().doing.contains("row 2 of parts"));
    }
}
