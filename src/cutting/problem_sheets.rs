//! The sheet half of the plain problem file, in the solver's terms.

use super::problem::SheetProblem;
use crate::finding::Stop;
use crate::solve::sheets::{Part, Problem, Sheet};

impl SheetProblem {
    /// The problem in the solver's terms: one size of sheet, as many as
    /// wanted, each costing 1, so that the cost is the number of sheets.
    ///
    /// # Errors
    /// A quantity below zero, with its row.
    pub fn problem(&self) -> Result<Problem, Stop> {
        let [width, height] = self.sheet;
        let parts = (self.parts.iter().enumerate())
            .map(|(row, &[width, height, quantity])| {
                let quantity = count(quantity, row)?;
                Ok(Part { width, height, quantity, may_turn: self.rotation })
            })
            .collect::<Result<_, Stop>>()?;
        let sheets = vec![Sheet { width, height, cost: 1, supply: None }];
        Ok(Problem { sheets, parts, gap: self.gap, margin: 0 })
    }
}

fn count(number: i64, row: usize) -> Result<u64, Stop> {
    u64::try_from(number).map_err(|_| {
        Stop::new(
            format!("reading row {} of parts", row + 1),
            format!("{number} is not a count"),
            "a quantity is 0 or more",
        )
    })
}

#[cfg(test)]
mod tests {
    use crate::cutting::problem::{ProblemFile, read};

    const FILE: &str = "name = \"b\"\nkind = \"sheets\"\nsheet = [25, 10]\ngap = 1\n\
                        rotation = true\nparts = [[8, 6, 2], [3, 2, 1]]\n";

    #[test]
    fn width_length_and_quantity_keep_their_order() {
        let ProblemFile::Sheets(file) = read(FILE).unwrap() else { panic!("sheets") };
        let problem = file.problem().unwrap();
        let part = &problem.parts[0];
        assert_eq!((part.width, part.height, part.quantity, part.may_turn), (8, 6, 2, true));
        assert_eq!((problem.sheets[0].width, problem.sheets[0].height), (25, 10));
        assert_eq!((problem.gap, problem.margin), (1, 0));
    }

    #[test]
    fn a_quantity_below_zero_names_its_row() {
        let text = FILE.replace("[3, 2, 1]", "[3, 2, -1]");
        let ProblemFile::Sheets(file) = read(&text).unwrap() else { panic!("sheets") };
        assert!(file.problem().unwrap_err().doing.contains("row 2"));
    }
}
