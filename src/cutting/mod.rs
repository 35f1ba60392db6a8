//! Parts and stock -> plans for sticks and sheets.
//!
//! | file | what it does |
//! |---|---|
//! | `wanted` | the parts sorted by stock, with a hash of it all |
//! | `sold` | the sizes that can be bought, with their prices |
//! | `sticks`, `sheets` | model lengths on a whole-number grid, solved, and back |
//! | `rip` | strips ripped from sheets, beside the flat parts of those sheets |
//! | `laser` | the flat parts in their true outlines |
//! | `amount` | costs and bounds in the unit that is shown |
//! | `parts` | everything laid out: the quick answer |
//! | `long` | the same with time: better, or proven |
//! | `saw` | a stick or sheet is cut: the edit of the job |
//! | `shopping` | what to buy, what is on hand, spares |
//! | `problem`, `problem_sheets`, `rows` | plain problem files |

pub mod amount;
mod laser;
pub mod listed;
pub mod long;
pub mod parts;
pub mod problem;
pub mod problem_sheets;
mod rip;
mod rows;
pub mod saw;
pub mod sheets;
pub mod shopping;
mod sold;
pub mod sticks;
pub mod wanted;
