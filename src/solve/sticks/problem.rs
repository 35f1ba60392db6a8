//! What is asked, what is answered, and how long one may think.

use thiserror::Error;

/// The longest length and the highest cost taken: sums of two stay well
/// inside 64 bits, sums of all are kept in 128.
pub const LARGEST: i64 = i64::MAX / 4;

/// A kind of stock: strips of one length at one cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Length of one strip, in counts of the grid; more than 0.
    pub length: i64,
    /// Cost of one strip; 0 or more.
    pub cost: i64,
    /// How many strips there are; `None` for as many as wanted.
    pub supply: Option<u32>,
}

/// A length that is wanted a number of times.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Length, in counts of the grid; more than 0.
    pub length: i64,
    /// How many are wanted; 0 is allowed and asks for nothing.
    pub quantity: u32,
}

/// One-dimensional cutting: the least total cost of strips that give all parts.
///
/// `k` parts on one strip need the sum of their lengths plus `k - 1` kerfs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The kinds of stock.
    pub stock: Vec<Stock>,
    /// The parts.
    pub parts: Vec<Part>,
    /// Length lost between two neighbouring parts; 0 or more.
    pub kerf: i64,
}

/// One way to cut a strip, and how many strips are cut that way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// Index into [`Problem::stock`].
    pub stock: usize,
    /// Indexes into [`Problem::parts`], longest part first, repeated as cut.
    pub pieces: Vec<usize>,
    /// Number of strips.
    pub times: u32,
}

/// A plan with what is known about the best one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    /// The strips to cut.
    pub plan: Vec<Pattern>,
    /// Total cost of the plan.
    pub cost: i64,
    /// No plan costs less than this.
    pub bound: i64,
    /// Whether `cost` equals `bound`.
    pub proven: bool,
}

/// How long the search may go on.
///
/// Steps are counted inside and give the same answer on every machine; the
/// closure lets the edge of the program bring in a clock or a cancel.
#[derive(Clone, Copy)]
pub struct Budget<'a> {
    /// Most steps to take; a step is about one simple operation on a number.
    pub steps: u64,
    /// Asked now and then; `true` ends the search with the best plan so far.
    pub stop: Option<&'a dyn Fn() -> bool>,
}

impl Budget<'_> {
    /// A budget of steps only.
    #[must_use]
    pub fn steps(steps: u64) -> Self {
        Self { steps, stop: None }
    }
}

/// What the search is busy with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// Quick plans by rules of thumb.
    Greedy,
    /// Column generation.
    Relaxing,
    /// Rounding the relaxation in dives.
    Diving,
    /// Closing the gap by exhaustion.
    Proving,
}

/// Where the search stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Cost of the best plan so far; `i64::MAX` before there is one.
    pub best: i64,
    /// No plan costs less.
    pub bound: i64,
    /// What is being done.
    pub phase: Phase,
}

/// Why a problem has no answer.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ProblemError {
    /// A stock length is not more than zero.
    #[error("the length of stock {} is {length}: it must be more than 0", index + 1)]
    StockLength {
        /// Index of the stock.
        index: usize,
        /// The length found.
        length: i64,
    },
    /// A cost is negative.
    #[error("the cost of stock {} is {cost}: it must be 0 or more", index + 1)]
    StockCost {
        /// Index of the stock.
        index: usize,
        /// The cost found.
        cost: i64,
    },
    /// A part length is not more than zero.
    #[error("the length of part {} is {length}: it must be more than 0", index + 1)]
    PartLength {
        /// Index of the part.
        index: usize,
        /// The length found.
        length: i64,
    },
    /// The kerf is negative.
    #[error("the kerf is {kerf}: it must be 0 or more")]
    Kerf {
        /// The kerf found.
        kerf: i64,
    },
    /// A number, or the total cost, passes what can be computed without overflow.
    #[error("{what} is too large; use a coarser grid")]
    TooLarge {
        /// Which number.
        what: String,
    },
    /// Parts longer than every strip that can be had.
    #[error("{} of the parts are longer than every stock (first: part {})", parts.len(), parts[0] + 1)]
    FitsNoStock {
        /// Indexes of the parts; never empty.
        parts: Vec<usize>,
    },
    /// The strips that can be had do not hold the parts, or no way was found
    /// within the budget.
    #[error("{}", if *proven {
        "the stock at hand cannot hold all parts"
    } else {
        "no plan was found for the stock at hand"
    })]
    SupplyShort {
        /// Whether it is certain that no plan exists.
        proven: bool,
    },
}
