//! What each screen knows, apart from how it is drawn: the bench has fields,
//! every other view is a sheet of tables.

pub mod bench;
pub mod beside;
pub mod cuts;
pub mod jobs;
pub mod photo;
pub mod rule;
pub mod sheet;
pub mod tables;
