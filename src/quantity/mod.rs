//! Lengths that know which world they belong to.
//!
//! A *prototype* length is of the full-size building as surveyed; a
//! *compressed* length is full size after shortening; a *model* length is on
//! the bench; a *paper* length is on a printed page. Adding two of different
//! spaces does not compile, and each door between neighbours is one function:
//!
//! | from | to | door |
//! |---|---|---|
//! | prototype | compressed | `CompressedLength::kept` and the compression stage |
//! | full size | model | [`Scale::reduce`] |
//! | model | full size | [`Scale::enlarge`] |
//! | model | paper | [`Scale::to_paper`] and the print calibration |
//!
//! A length as a person wrote it is a [`Written`]: exact, with its text. It is
//! read by [`parse`] and [`parse_stated`] and written by a [`Notation`].
//!
//! Volts, amperes, ohms and watts belong to no space.
//!
//! `uom` is seen only in this folder.

mod electric;
mod error;
mod parse;
mod plain;
mod rational;
mod scale;
mod scan;
mod sentence;
mod show;
pub mod slack;
mod space;
mod unit;
mod written;

#[cfg(test)]
mod tests;

pub use electric::{Current, Power, Resistance, Voltage};
pub use error::NotationError;
pub use parse::{Reading, parse, parse_stated};
pub use plain::{parse_angle, parse_number, parse_pitch};
pub use rational::Rational;
pub use scale::{Ratio, Scale};
pub use sentence::{Kind as SizeKind, Piece, Sign, Token, cut};
pub use show::{Denominator, Notation, SNAP, Stepped, Steps, scale_feet, significant, spread};
pub use space::{
    Angle, Area, Compressed, CompressedLength, FullSize, Length, Model, ModelLength, Paper,
    PaperLength, Prototype, PrototypeLength, Space,
};
pub use unit::Unit;
pub use written::{Exact, Remainder, Stated, Written};
