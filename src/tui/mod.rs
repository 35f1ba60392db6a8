//! The terminal program.
