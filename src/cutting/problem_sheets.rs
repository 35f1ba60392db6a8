//! The sheet half of the plain problem file, in the solver's terms.

use super::problem::{SheetProblem, alone};
use super::rows::{Lengths, Round, rows};
use crate::finding::Stop;
use crate::quantity::ModelLength;
use crate::solve::sheets::{Part, Problem, Sheet};
use toml::Value;

const SHEET_KEYS: &[&str] = &["width", "length", "cost", "supply"];
const PART_KEYS: &[&str] = &["width", "length", "count", "grain"];

impl SheetProblem {
    fn all_sheets(&self) -> Vec<Value> {
        self.sheet.iter().chain(&self.sheets).cloned().collect()
    }

    fn lengths(&self) -> Lengths {
        let sizes = self.sheet.iter().chain(&self.sheets).chain(&self.parts);
        Lengths::of(sizes.chain([&self.gap, &self.margin]))
    }

    /// One count, where lengths have units.
    #[must_use]
    pub fn grid(&self) -> Option<ModelLength> {
        self.lengths().grid()
    }

    /// The problem in the solver's terms. A size that says no cost costs 1, so
    /// that the cost is the number of sheets.
    ///
    /// # Errors
    /// A cell that cannot be read or is out of range, with its row.
    pub fn problem(&self) -> Result<Problem, Stop> {
        let lengths = self.lengths();
        let sizes = self.all_sheets();
        let sheets = rows("sheets", SHEET_KEYS, &sizes)?
            .iter()
            .map(|row| {
                Ok(Sheet {
                    width: row.length("width", lengths, Round::Down)?,
                    height: row.length("length", lengths, Round::Down)?,
                    cost: row.number("cost", 1)?,
                    supply: row.supply()?.map(u64::from),
                })
            })
            .collect::<Result<_, Stop>>()?;
        let parts = rows("parts", PART_KEYS, &self.parts)?
            .iter()
            .map(|row| {
                Ok(Part {
                    width: row.length("width", lengths, Round::Up)?,
                    height: row.length("length", lengths, Round::Up)?,
                    quantity: row.count("count")?.into(),
                    may_turn: row.turns(self.rotation)?,
                })
            })
            .collect::<Result<_, Stop>>()?;
        let gap = alone("gap", &self.gap, lengths)?;
        Ok(Problem { sheets, parts, gap, margin: alone("margin", &self.margin, lengths)? })
    }
}

#[cfg(test)]
mod tests {
    use crate::cutting::problem::{ProblemFile, read};
    use crate::finding::Stop;
    use crate::solve::sheets::Problem;

    const FILE: &str = "name = \"b\"\nkind = \"sheets\"\nsheet = [25, 10]\ngap = 1\n\
                        rotation = true\nparts = [[8, 6, 2], [3, 2, 1]]\n";

    fn sheets(text: &str) -> Result<Problem, Stop> {
        match read(text)? {
            ProblemFile::Sheets(file) => file.problem(),
            ProblemFile::Sticks(_) => panic!("sheets"),
        }
    }

    #[test]
    fn width_length_and_quantity_keep_their_order() {
        let problem = sheets(FILE).unwrap();
        let part = &problem.parts[0];
        assert_eq!((part.width, part.height, part.quantity, part.may_turn), (8, 6, 2, true));
        assert_eq!((problem.sheets[0].width, problem.sheets[0].height), (25, 10));
        assert_eq!((problem.sheets[0].cost, problem.sheets[0].supply), (1, None));
        assert_eq!((problem.gap, problem.margin), (1, 0));
    }

    #[test]
    fn each_part_says_its_own_grain_and_each_sheet_its_supply() {
        let text = FILE
            .replace(
                "sheet = [25, 10]",
                "sheets = [[25, 10, 3], { width = 9, length = 9, supply = 2 }]",
            )
            .replace("[3, 2, 1]", "[3, 2, 1, \"along\"]");
        let problem = sheets(&text).unwrap();
        assert_eq!((problem.parts[0].may_turn, problem.parts[1].may_turn), (true, false));
        assert_eq!((problem.sheets[0].cost, problem.sheets[1].supply), (3, Some(2)));
    }

    #[test]
    fn a_quantity_below_zero_names_its_row() {
        let stop = sheets(&FILE.replace("[3, 2, 1]", "[3, 2, -1]")).unwrap_err();
        assert!(stop.doing.contains("row 2 of parts"), "{stop}");
        let stop = sheets(&FILE.replace("[3, 2, 1]", "[3, 2, 1, \"up\"]")).unwrap_err();
        assert!(stop.trouble.contains("neither"), "{stop}");
    }
}
