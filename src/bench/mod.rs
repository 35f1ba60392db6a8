//! The desk book: every sum of the trade that is wanted at the bench, asked in
//! one line of words and figures. It needs no job; a job fills in what it knows.
//!
//! | file | what it holds |
//! |---|---|
//! | `desk` | what is known before anything is asked; which sum a line asks for |
//! | `said`, `settle` | a line cut up: which quantity belongs to which word |
//! | `spelt`, `heard` | numbers in words; which words made no difference |
//! | `scale_said` | the scales a line names |
//! | `answer` | what a sum comes to: figures, rule, source, a worked line |
//! | `arithmetic` | sums in sentences, exact and with their spaces kept apart |
//! | `length` | one length and everything about it |
//! | `compare`, `near`, `size` | parts of that |
//! | `look` | how lengths are written |
//! | `book/` | one file a subject: lumber, roofs, curves, lamps, ... |
//!
//! | given | answered by `length` |
//! |---|---|
//! | a full-size length | its size on the model |
//! | a model length | its full size |
//! | a known object and two readings on a print | the full size of the other, with its uncertainty |

mod answer;
mod arithmetic;
mod book;
pub mod compare;
mod desk;
mod heard;
mod length;
mod look;
mod near;
mod said;
mod scale_said;
mod settle;
mod size;
mod spelt;

#[cfg(test)]
mod tests;

pub use answer::{Answer, Drawn, Figure, List};
pub use book::{SUMS, Sum, offered};
pub use compare::{Compared, Comparison};
pub use desk::{Desk, Found, ask};
pub use length::{Ask, Bench, Given, Other, answer};
pub use look::Look;
pub use near::{LumberNear, NEAR, StockNear};
pub use size::Size;
