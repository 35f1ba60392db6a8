//! What the person wrote: load, save, edit.
//!
//! The job file is TOML that a person can read, diff and edit by hand; the
//! types in [`model`] and beside it are its grammar.

pub mod building;
pub mod face;
pub mod form;
pub mod model;
mod notation;
pub mod photo;
pub mod place;
pub mod said;

pub use model::Job;

#[cfg(test)]
mod tests {
    use super::Job;

    #[test]
    fn the_demo_jobs_read() {
        for text in [
            include_str!("../../data/demo/grain-store.toml"),
            include_str!("../../data/demo/river-cannery.toml"),
            include_str!("../../data/demo/creamery.toml"),
        ] {
            let job: Job = toml::from_str(text).unwrap_or_else(|error| panic!("{error}"));
            assert!(!job.readings.is_empty());
        }
    }
}
