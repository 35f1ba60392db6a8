//! What the person wrote: load, save, edit.
//!
//! The job file is TOML that a person can read, diff and edit by hand; the
//! types in [`model`] and beside it are its [`grammar`], one table of keys.

pub mod beside;
pub mod body;
mod bounds;
pub mod building;
pub mod carpentry;
mod check;
pub mod demo;
pub mod document;
pub mod edit;
pub mod entry;
pub mod face;
pub mod form;
pub mod grammar;
pub mod hold;
pub mod lamps;
pub mod last;
mod locate;
pub mod mock_up;
pub mod model;
pub mod new;
pub mod open;
pub mod paper;
pub mod photo;
pub mod place;
pub mod rack;
pub mod read;
pub mod said;
mod sections;
pub mod site;
pub mod slot;
pub mod store;
pub mod track;
mod unseen;
pub mod wall;

pub use model::Job;

#[cfg(test)]
mod tests;
