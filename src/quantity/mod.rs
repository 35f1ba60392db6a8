//! Lengths that know which world they belong to.
//!
//! A *prototype* length is of the full-size building as surveyed; a
//! *compressed* length is full size after shortening; a *model* length is on
//! the bench; a *paper* length is on a printed page. Adding two of different
//! spaces does not compile, and each door between neighbours is one function:
//!
//! | from | to | door |
//! |---|---|---|
//! | prototype | compressed | [`CompressedLength::kept`] and the compression stage |
//! | full size | model | [`Scale::reduce`] |
//! | model | full size | [`Scale::enlarge`] |
//! | model | paper | [`Scale::to_paper`] and the print calibration |
//!
//! `uom` is seen only in this folder.

mod scale;
mod space;

pub use scale::{Ratio, Scale};
pub use space::{
    Angle, Area, Compressed, CompressedLength, FullSize, Length, Model, ModelLength, Paper,
    PaperLength, Prototype, PrototypeLength, Space,
};
