//! Parts and plans -> a format-free drawing on paper, and the pages it goes on.
//!
//! Everything here is in paper lengths at 1:1, `x` to the right and `y`
//! upwards; no file format is known. The writers take it from here. Sizes of
//! paper and the print check stand with the job, which keeps them.
//!
//! | file | what it holds |
//! |---|---|
//! | `shape` | lines, texts, layers: a [`Drawing`] |
//! | `type_face` | the one font: widths, and what may be printed |
//! | `running` | running dimensions |
//! | `outline` | shapes cut from one another |
//! | `kerf` | outlines moved out and holes moved in by half a kerf |
//! | `tile` | a drawing larger than the paper |
//! | `page`, `furniture` | pages, and what stands on every one of them |
//! | `bed` | figures side by side for a laser |
//! | `test_piece` | a piece to try a machine and a sheet with |
//! | `template` | the sheets of a job: what can be printed |
//! | `sheets/` | one file a sheet |

pub mod bed;
pub mod furniture;
pub mod kerf;
pub mod outline;
pub mod page;
pub mod running;
pub mod shape;
pub mod sheets;
pub mod template;
pub mod test_piece;
pub mod tile;
pub mod type_face;

pub use crate::job::paper::{Paper, PrintCheck};
pub use page::{Block, Page, Setup};
pub use shape::{Anchor, Area, Drawing, Item, Layer, Point, Run, Shape};
pub use template::{Figure, Template, TemplateKind};
