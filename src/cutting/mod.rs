//! Parts and stock -> plans for sticks and sheets.
//!
//! | file | what it does |
//! |---|---|
//! | `wanted` | the parts sorted by stock, with a hash of it all |
//! | `sticks`, `sheets` | model lengths on a whole-number grid, solved, and back |
//! | `parts` | everything laid out: the quick answer |
//! | `long` | the same with time: better, or proven |
//! | `saw` | a stick or sheet is cut: the edit of the job |
//! | `shopping` | what to buy, what is on hand, spares |
//! | `problem`, `problem_sheets` | plain problem files |

pub mod listed;
pub mod long;
pub mod parts;
pub mod problem;
pub mod problem_sheets;
pub mod saw;
pub mod sheets;
pub mod shopping;
pub mod sticks;
pub mod wanted;
