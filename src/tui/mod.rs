//! The terminal program: the same views as the command line, to live in.
//!
//! | file | what it is |
//! |---|---|
//! | `run/` | the only part that touches the terminal: start, events, signals, end |
//! | `action` | what can happen |
//! | `keymap` | the keys, as one table |
//! | `state` | what is known between two keys |
//! | `update/` | state and action -> state and effects |
//! | `effect` | what a worker does, and what it answers |
//! | `picture` | work on the photograph in sight: opened, drawn, encoded |
//! | `screen/` | what each screen knows, apart from drawing |
//! | `view/` | state -> picture; nothing is changed |
//! | `trace`, `choice`, `finder` | what rests on what; a chosen alternative; looking for actions |

pub mod action;
pub mod choice;
pub mod effect;
pub mod finder;
pub mod keymap;
pub mod picture;
pub mod pixels;
pub mod run;
pub mod screen;
pub mod state;
pub mod trace;
pub mod update;
pub mod view;

pub use run::{Options, RunError, run};
