//! True outlines on sheets at the least cost.
//!
//! Outlines are closed lines with openings, in whole numbers of any one unit;
//! parts stand at least a gap apart, may lie in each other's openings, and are
//! turned by quarters as far as each allows. The search works on bit masks, a
//! column of the sheet to a number; what it finds is judged on the outlines
//! themselves.
//!
//! | file | what it holds |
//! |---|---|
//! | `problem` | the question and the answer |
//! | `shape` | outlines: turned, measured, how far apart |
//! | `mask` | outlines rounded outwards to cells, and where one is free to lie |
//! | `lay` | parts laid one after the other, the farthest left first |
//! | `run` | orders tried one after the other, the bound, the budget |
//! | `check` | recomputes an answer from the question |

pub mod check;
mod lay;
mod mask;
mod problem;
mod run;
mod shape;
#[cfg(test)]
mod tests;

pub use problem::{Part, Placed, Problem, ProblemError, Sheet, SheetPlan, Solution, Turns};
pub use run::{Budget, least_cost, solve};
pub use shape::Shape;
