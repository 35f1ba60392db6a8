//! What is asked: sheets, parts, the gap between neighbours, the margin.

use serde::Serialize;

/// The largest length the solver takes.
pub const MAX_LENGTH: i64 = 1 << 30;
/// The largest cost of one sheet.
pub const MAX_COST: i64 = 1 << 40;
/// The most parts, copies counted, in one problem.
pub const MAX_PARTS: u64 = 20_000;

/// A size of sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Sheet {
    /// Size across the grain.
    pub width: i64,
    /// Size along the grain.
    pub height: i64,
    /// Price of one; 1 makes the cost a count of sheets, 0 is for sheets already on hand.
    pub cost: i64,
    /// How many there are; `None` is without limit.
    pub supply: Option<u64>,
}

/// A rectangular part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Part {
    /// Size across the grain.
    pub width: i64,
    /// Size along the grain.
    pub height: i64,
    /// How many are wanted.
    pub quantity: u64,
    /// Whether the part may lie with its grain the other way.
    pub may_turn: bool,
}

/// Parts to be laid on sheets at the least cost. One unit of length throughout.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// Sizes of sheet to choose from.
    pub sheets: Vec<Sheet>,
    /// The parts.
    pub parts: Vec<Part>,
    /// Kept between neighbouring parts; none is needed at the edge of the usable area.
    pub gap: i64,
    /// Kept free along all four edges of every sheet.
    pub margin: i64,
}

/// How parts are separated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Method {
    /// Each part is cut round on its own: any placement without overlap.
    Laser,
    /// Every cut runs from edge to edge of the piece in hand.
    Knife {
        /// The most changes of direction plus one on the way to any part,
        /// trimming counted, margins not; `None` is without limit. At least 2.
        stages: Option<u32>,
    },
}

/// Why a problem cannot be worked.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ProblemError {
    /// Not one sheet is offered.
    #[error("no sheet to cut from")]
    NoSheet,
    /// Every sheet has a supply of zero.
    #[error("the supply of every sheet is zero")]
    NoSupply,
    /// A length, quantity, cost or setting out of range.
    #[error("{what} is {value}: it must lie between {least} and {most}")]
    OutOfRange {
        /// What is out of range, with its row counted from 1.
        what: String,
        /// The value given.
        value: i64,
        /// The least allowed.
        least: i64,
        /// The most allowed.
        most: i64,
    },
    /// More parts than the solver takes.
    #[error("more than {MAX_PARTS} parts, copies counted")]
    TooManyParts,
    /// These parts, by row counted from 0, fit no sheet inside its margins.
    #[error("{} of the parts fit no sheet inside its margins (first: part {})", .0.len(), .0.first().map_or(0, |row| row + 1))]
    FitNoSheet(Vec<usize>),
    /// Edge-to-edge cutting in fewer than two stages.
    #[error("edge-to-edge cutting needs at least two stages")]
    TooFewStages,
}

fn range(what: String, value: i64, least: i64, most: i64) -> Result<(), ProblemError> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err(ProblemError::OutOfRange { what, value, least, most })
}

impl Problem {
    /// Whether the problem can be worked with `method`.
    ///
    /// # Errors
    /// Names the first number out of range, or the parts that fit no sheet.
    pub fn validate(&self, method: Method) -> Result<(), ProblemError> {
        range("the gap".into(), self.gap, 0, MAX_LENGTH)?;
        range("the margin".into(), self.margin, 0, MAX_LENGTH)?;
        if matches!(method, Method::Knife { stages: Some(0 | 1) }) {
            return Err(ProblemError::TooFewStages);
        }
        self.validate_sheets()?;
        self.validate_parts()?;
        let misfits = self.misfits();
        if misfits.is_empty() { Ok(()) } else { Err(ProblemError::FitNoSheet(misfits)) }
    }

    fn validate_sheets(&self) -> Result<(), ProblemError> {
        for (row, sheet) in self.sheets.iter().enumerate() {
            let row = row + 1;
            range(format!("the width of sheet {row}"), sheet.width, 1, MAX_LENGTH)?;
            range(format!("the height of sheet {row}"), sheet.height, 1, MAX_LENGTH)?;
            range(format!("the cost of sheet {row}"), sheet.cost, 0, MAX_COST)?;
        }
        if self.parts.iter().all(|part| part.quantity == 0) {
            return Ok(());
        }
        if self.sheets.is_empty() {
            return Err(ProblemError::NoSheet);
        }
        if self.sheets.iter().all(|sheet| sheet.supply == Some(0)) {
            return Err(ProblemError::NoSupply);
        }
        Ok(())
    }

    fn validate_parts(&self) -> Result<(), ProblemError> {
        let mut total = 0_u64;
        for (row, part) in self.parts.iter().enumerate() {
            let row = row + 1;
            range(format!("the width of part {row}"), part.width, 1, MAX_LENGTH)?;
            range(format!("the height of part {row}"), part.height, 1, MAX_LENGTH)?;
            total = total.saturating_add(part.quantity);
        }
        if total > MAX_PARTS { Err(ProblemError::TooManyParts) } else { Ok(()) }
    }

    /// Rows of the wanted parts that fit no sheet in supply.
    #[must_use]
    pub fn misfits(&self) -> Vec<usize> {
        let wanted = self.parts.iter().enumerate().filter(|(_, part)| part.quantity > 0);
        wanted.filter(|(_, part)| !self.fits_some_sheet(part)).map(|(row, _)| row).collect()
    }

    fn fits_some_sheet(&self, part: &Part) -> bool {
        self.sheets.iter().filter(|sheet| sheet.supply != Some(0)).any(|sheet| {
            let (wide, high) = (
                sheet.width.saturating_sub(self.margin.saturating_mul(2)),
                sheet.height.saturating_sub(self.margin.saturating_mul(2)),
            );
            (part.width <= wide && part.height <= high)
                || (part.may_turn && part.height <= wide && part.width <= high)
        })
    }
}
