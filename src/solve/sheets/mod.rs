//! Rectangles on sheets at the least cost.
//!
//! Free placement and edge-to-edge cuts, several sizes of sheet with prices
//! and finite supply, a gap between neighbours, margins, parts that may or may
//! not turn. Lengths are whole numbers of any one unit. The search is
//! repeatable: a fixed seed, steps instead of a clock; who calls decides when
//! to stop.
//!
//! | file | what it holds |
//! |---|---|
//! | `problem`, `plan` | the question and the answer |
//! | `check` | recomputes an answer from the question |
//! | `work` | the gap folded into every size |
//! | `scale`, `bound` | dual feasible functions and the bound from them |
//! | `free`, `split`, `fill` | placing parts one by one |
//! | `separate` | edge-to-edge cuts out of a placement |
//! | `beam` | layouts grown along columns, rows and items |
//! | `block` | items joined and laid as one |
//! | `first`, `improve`, `target` | the starts, the local moves, what they aim for |
//! | `exact` | proof that a list of sheets cannot hold everything |
//! | `onesheet`, `hull` | whether a few parts fit one sheet, free and edge to edge |
//! | `settings` | cuts in the order of the hands, with few settings of the fence |
//! | `finish` | cuts, offcuts, sheet coordinates |

mod beam;
mod block;
mod bound;
mod chance;
pub mod check;
mod exact;
mod fill;
mod finish;
mod first;
mod free;
mod hull;
mod improve;
mod onesheet;
mod plan;
mod problem;
mod run;
mod scale;
mod separate;
mod settings;
mod split;
mod target;
#[cfg(test)]
mod tests;
mod work;

pub use super::watch::Control;
pub use plan::{Axis, Cut, Placed, Rect, SheetPlan, Solution};
pub use problem::{MAX_COST, MAX_LENGTH, MAX_PARTS, Method, Part, Problem, ProblemError, Sheet};
pub use run::{Budget, Phase, Progress, least_cost, solve};
pub use settings::{runs_of_settings, setting};
