//! The plain problem file: a layout problem without a job.
//!
//! One TOML file per problem. `kind` is `"sticks"` or `"sheets"`; unknown keys
//! are refused with their line. [`FORM`] says it to people.

use super::rows::{Lengths, Round, rows};
use crate::finding::Stop;
use crate::quantity::ModelLength;
use crate::solve::sticks;
use serde::Deserialize;
use toml::Value;

/// The form of a problem file, for help.
pub const FORM: &str = "\
A problem file is TOML. Lengths are whole numbers of any one unit, or have their
units, as \"3 1/2 in\" or \"88 mm\". Rows are lists or tables with these names.

  name = \"battens\"               name = \"walls\"
  kind = \"sticks\"                kind = \"sheets\"
  kerf = \"15 thou\"               gap = \"15 thou\"      # lost between two parts
  # length, cost, supply         margin = \"1/8 in\"    # kept free at the edges
  stock = [                      stages = 3           # turns of a sheet with a knife
    [\"24 in\", 35],               # width across the grain, length along it, cost, supply
    [\"11 in\", 0, 2],             sheets = [[\"4 in\", \"24 in\", 450], [\"3 in\", \"9 in\", 0, 1]]
  ]                              # width, length, count, grain: \"along\" or \"any\"
  # length, count                parts = [
  parts = [[\"3 in\", 14]]           [\"2 in\", \"8 in\", 4],
                                   { width = \"1 in\", length = \"3 in\", count = 2, grain = \"any\" },
                                 ]

A supply that is absent, or -1, is without limit; a cost that is absent is 1, so
that pieces are counted. `sheet = [width, length]` is short for one size without
limit; `rotation = true` frees the grain of every part that does not say.";

/// A problem file of either kind.
#[derive(Clone, Debug, PartialEq)]
pub enum ProblemFile {
    /// Parts of one length dimension, cut from strips.
    Sticks(StickProblem),
    /// Rectangles, cut from sheets.
    Sheets(SheetProblem),
}

/// A stick problem as written.
#[derive(Clone, Debug, PartialEq, Deserialize)]
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
    #[serde(default = "nothing")]
    kerf: Value,
    /// Rows of length, cost, supply.
    stock: Vec<Value>,
    /// Rows of length, count.
    parts: Vec<Value>,
    /// Least cost known; never used by the solver.
    pub best_known: Option<i64>,
    /// A bound known; never used by the solver.
    pub lower_bound: Option<i64>,
    /// Where they come from.
    pub best_known_from: Option<String>,
}

/// A sheet problem as written.
#[derive(Clone, Debug, PartialEq, Deserialize)]
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
    pub(super) sheet: Option<Value>,
    /// Rows of width, length, cost, supply.
    #[serde(default)]
    pub(super) sheets: Vec<Value>,
    /// Lost between two neighbouring parts, in both directions.
    #[serde(default = "nothing", alias = "kerf")]
    pub(super) gap: Value,
    /// Kept free along the edges of every sheet.
    #[serde(default = "nothing")]
    pub(super) margin: Value,
    /// The most stages of a knife; without limit where it is absent.
    pub stages: Option<u32>,
    /// Whether parts that do not say may be turned by a quarter.
    #[serde(default)]
    pub(super) rotation: bool,
    /// Rows of width, length, count, grain.
    pub(super) parts: Vec<Value>,
    /// Fewest sheets known with free placement; never used by the solver.
    pub best_known_free: Option<i64>,
    /// Fewest sheets known with edge-to-edge cuts; never used by the solver.
    pub best_known_guillotine: Option<i64>,
    /// A bound known for both; never used by the solver.
    pub lower_bound: Option<i64>,
    /// Where they come from.
    pub best_known_from: Option<String>,
}

fn nothing() -> Value {
    Value::Integer(0)
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
        "keys are name, kind, unit, kerf, stock, parts for sticks; name, kind, unit, sheet or \
         sheets, gap, margin, stages, rotation, parts for sheets",
    )
}

/// A length that stands alone, such as the kerf.
pub(super) fn alone(what: &str, value: &Value, lengths: Lengths) -> Result<i64, Stop> {
    lengths.read(value, Round::Up).map_err(|trouble| {
        Stop::new(
            format!("reading the {what}"),
            trouble,
            "write a whole number, or a length with its unit as the other lengths have",
        )
    })
}

impl StickProblem {
    fn lengths(&self) -> Lengths {
        Lengths::of(self.stock.iter().chain(&self.parts).chain([&self.kerf]))
    }

    /// One count, where lengths have units.
    #[must_use]
    pub fn grid(&self) -> Option<ModelLength> {
        self.lengths().grid()
    }

    /// The problem in the solver's terms.
    ///
    /// # Errors
    /// A cell that cannot be read or is out of range, with its row.
    pub fn problem(&self) -> Result<sticks::Problem, Stop> {
        let lengths = self.lengths();
        let stock = rows("stock", &["length", "cost", "supply"], &self.stock)?
            .iter()
            .map(|row| {
                let length = row.length("length", lengths, Round::Down)?;
                let (cost, supply) = (row.number("cost", 1)?, row.supply()?);
                Ok(sticks::Stock { length, cost, supply })
            })
            .collect::<Result<_, Stop>>()?;
        let parts = rows("parts", &["length", "count"], &self.parts)?
            .iter()
            .map(|row| {
                let length = row.length("length", lengths, Round::Up)?;
                Ok(sticks::Part { length, quantity: row.count("count")? })
            })
            .collect::<Result<_, Stop>>()?;
        Ok(sticks::Problem { stock, parts, kerf: alone("kerf", &self.kerf, lengths)? })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const STICKS: &str = "name = \"a\"\nkind = \"sticks\"\nkerf = 1\n\
                          stock = [[10, 1, -1], [5, 0, 2]]\nparts = [[4, 2]]\n";

    fn sticks(text: &str) -> Result<sticks::Problem, Stop> {
        match read(text)? {
            ProblemFile::Sticks(file) => file.problem(),
            ProblemFile::Sheets(_) => panic!("sticks"),
        }
    }

    #[test]
    fn a_stick_problem_is_read() {
        let problem = sticks(STICKS).unwrap();
        assert_eq!(problem.kerf, 1);
        assert_eq!(problem.stock[0].supply, None);
        assert_eq!(problem.stock[1].supply, Some(2));
        assert_eq!(problem.parts[0], sticks::Part { length: 4, quantity: 2 });
    }

    /// 24 in are 192,000 counts of an eighth of a thou, 1/64 in 125.
    #[test]
    fn lengths_may_have_units_and_rows_names() {
        let problem = sticks(
            "name = \"a\"\nkind = \"sticks\"\nkerf = \"1/64 in\"\nstock = [{ length = \"24 in\" }]\n\
             parts = [{ length = \"3 in\", count = 2 }, [\"1 1/64 in\", 1]]\n",
        )
        .unwrap();
        assert_eq!((problem.kerf, problem.stock[0].length), (125, 192_000));
        assert_eq!((problem.stock[0].cost, problem.stock[0].supply), (1, None));
        assert_eq!((problem.parts[0].length, problem.parts[1].length), (24_000, 8_125));
        let mixed = STICKS.replace("[4, 2]", "[\"4 in\", 2]");
        let stop = sticks(&mixed).unwrap_err();
        assert!(
            stop.doing.contains("row 1 of stock") && stop.trouble.contains("no unit"),
            "{stop}"
        );
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
            ("kind = [", "line 1"),
        ];
        for (text, word) in cases {
            let stop = read(text).unwrap_err();
            assert!(stop.trouble.contains(word), "{stop}");
        }
    }

    #[test]
    fn a_cell_that_does_not_hold_names_its_row() {
        let cases = [
            ("[3, -2]", "is not a count"),
            ("[3, 2, 1]", "3 cells"),
            ("[]", "length is missing"),
            ("{ length = 3, cost = 1 }", "no key \"cost\""),
            ("7", "no row"),
            ("[3.5, 1]", "no length"),
        ];
        for (row, says) in cases {
            let stop = sticks(&STICKS.replace("[4, 2]", &format!("[4, 2], {row}"))).unwrap_err();
            assert!(stop.doing.contains("row 2 of parts"), "{stop}");
            assert!(stop.trouble.contains(says), "{stop}");
        }
    }

    #[test]
    fn the_form_that_help_shows_is_one_that_is_read() {
        let example = "name = \"walls\"\nkind = \"sheets\"\ngap = \"15 thou\"\nmargin = \"1/8 in\"\n\
            stages = 3\nsheets = [[\"4 in\", \"24 in\", 450], [\"3 in\", \"9 in\", 0, 1]]\n\
            parts = [[\"2 in\", \"8 in\", 4],\n\
            { width = \"1 in\", length = \"3 in\", count = 2, grain = \"any\" }]\n";
        for line in example.lines() {
            let line = line.trim_start_matches("parts = [").trim_end_matches("}]");
            assert!(FORM.contains(line), "{line}");
        }
        let ProblemFile::Sheets(file) = read(example).unwrap() else { panic!("sheets") };
        let problem = file.problem().unwrap();
        assert_eq!((problem.margin, problem.sheets[1].supply), (1_000, Some(1)));
        assert!(problem.parts[1].may_turn && !problem.parts[0].may_turn);
    }
}
