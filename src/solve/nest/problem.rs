//! What is asked and what is answered.

use super::shape::Shape;
use crate::solve::sheets::{MAX_COST, MAX_LENGTH};

/// A size of sheet: `x` runs along its length from the left edge, `y` up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Size along `x`.
    pub length: i64,
    /// Size along `y`.
    pub width: i64,
    /// Price of one; 0 is for sheets already on hand.
    pub cost: i64,
    /// How many there are; `None` is without limit.
    pub supply: Option<u32>,
}

/// The quarter turns a part may lie in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turns {
    /// As it is, and head to tail: the grain runs on.
    Half,
    /// Any of the four.
    Quarter,
}

impl Turns {
    /// The turns, in quarters against the clock.
    #[must_use]
    pub fn quarters(self) -> &'static [u8] {
        match self {
            Self::Half => &[0, 2],
            Self::Quarter => &[0, 1, 2, 3],
        }
    }
}

/// A flat part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its outline.
    pub shape: Shape,
    /// How many are wanted.
    pub quantity: u32,
    /// How it may be turned.
    pub turns: Turns,
}

/// Parts to be laid on sheets at the least cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Sizes of sheet to choose from.
    pub sheets: Vec<Sheet>,
    /// The parts.
    pub parts: Vec<Part>,
    /// Kept between two parts, in every direction.
    pub gap: i64,
    /// Kept free along all four edges of every sheet.
    pub margin: i64,
}

/// A part on its sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Row of the part in the problem.
    pub part: usize,
    /// Quarter turns against the clock.
    pub quarters: u8,
    /// Left edge of the rectangle round it, turned.
    pub x: i64,
    /// Lower edge of that rectangle.
    pub y: i64,
}

/// One sheet of the plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetPlan {
    /// Row of the sheet in the problem.
    pub sheet: usize,
    /// What lies on it.
    pub placed: Vec<Placed>,
}

/// A plan, what it costs and what is known about the least cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    /// The sheets.
    pub sheets: Vec<SheetPlan>,
    /// Cost of the sheets.
    pub cost: i64,
    /// No plan that lays every part costs less.
    pub bound: i64,
    /// Every part is laid and no plan costs less.
    pub proven: bool,
    /// Parts that found no place on the sheets in supply: row and count.
    pub unplaced: Vec<(usize, u64)>,
}

/// Why a problem cannot be worked.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ProblemError {
    /// A length or cost out of range.
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
    /// A line that does not close round anything.
    #[error("part {0} has no outline")]
    NoOutline(usize),
    /// More parts than the search takes.
    #[error("more than {MOST_PARTS} parts, copies counted")]
    TooManyParts,
    /// These parts, by row counted from 0, fit no sheet inside its margins.
    #[error("{} of the parts fit no sheet inside its margins", .0.len())]
    FitNoSheet(Vec<usize>),
}

/// The most parts, copies counted.
pub(super) const MOST_PARTS: u64 = 5_000;

fn range(what: String, value: i64, least: i64) -> Result<(), ProblemError> {
    let most = if what.contains("cost") { MAX_COST } else { MAX_LENGTH };
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err(ProblemError::OutOfRange { what, value, least, most })
}

impl Problem {
    /// Whether the problem can be worked.
    ///
    /// # Errors
    /// Names the first number out of range, or the parts that fit no sheet.
    pub fn validate(&self) -> Result<(), ProblemError> {
        range("the gap".into(), self.gap, 0)?;
        range("the margin".into(), self.margin, 0)?;
        for (row, sheet) in self.sheets.iter().enumerate() {
            range(format!("the length of sheet {}", row + 1), sheet.length, 1)?;
            range(format!("the width of sheet {}", row + 1), sheet.width, 1)?;
            range(format!("the cost of sheet {}", row + 1), sheet.cost, 0)?;
        }
        for (row, part) in self.parts.iter().enumerate() {
            if part.shape.outer.len() < 3 || part.shape.doubled_area() <= 0 {
                return Err(ProblemError::NoOutline(row + 1));
            }
            for value in part.shape.points().flatten() {
                range(format!("a corner of part {}", row + 1), *value, -MAX_LENGTH)?;
            }
        }
        let count: u64 = self.parts.iter().map(|part| u64::from(part.quantity)).sum();
        if count > MOST_PARTS {
            return Err(ProblemError::TooManyParts);
        }
        let wanted = self.parts.iter().enumerate().filter(|(_, part)| part.quantity > 0);
        let misfits: Vec<usize> =
            wanted.filter(|(_, part)| !self.fits_some(part)).map(|(row, _)| row).collect();
        if misfits.is_empty() { Ok(()) } else { Err(ProblemError::FitNoSheet(misfits)) }
    }

    fn fits_some(&self, part: &Part) -> bool {
        let (wide, high) = part.shape.size();
        let sizes = [(wide, high), (high, wide)];
        let sizes = if part.turns == Turns::Half { &sizes[..1] } else { &sizes[..] };
        self.sheets.iter().filter(|sheet| sheet.supply != Some(0)).any(|sheet| {
            let room = (sheet.length - 2 * self.margin, sheet.width - 2 * self.margin);
            sizes.iter().any(|size| size.0 <= room.0 && size.1 <= room.1)
        })
    }
}
