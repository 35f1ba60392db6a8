//! Sizes of the mock-up -> decisions of the job.

use super::{MockUp, Planned, Way};
use crate::catalog::Catalog;
use crate::compress::Compression;
use crate::compress::measured::{Settable, with_sizes};
use crate::elevation::Faces;
use crate::finding::Stop;
use crate::job::Job;
use crate::job::edit::{Edit, TakenText};
use crate::job::mock_up::{Measured, On};
use crate::quantity::{CompressedLength, ModelLength, Notation, Scale, Unit};

/// The reason that is offered.
pub const TAKEN: &str = "measured on the mock-up";

/// The edit that takes sizes of the mock-up back: one edit, so that one undo
/// brings all of it back.
///
/// # Errors
///
/// Where a size is not known, was not measured or cannot be taken back, or as
/// [`with_sizes`].
pub fn take_back(
    job: &Job,
    catalog: &Catalog,
    (faces, scale): (&Faces, &Scale),
    (compression, mock_up): (&Compression, &MockUp),
    (names, reason): (&[String], &str),
) -> Result<Edit, Stop> {
    let mut taken = TakenText { reason: reason.to_owned(), ..TakenText::default() };
    let mut given: Vec<(Settable, CompressedLength)> = Vec::new();
    for name in names {
        let size = mock_up.get(name).ok_or_else(|| stop(name, "there is no such size"))?;
        let found = size.mock_up.as_ref().ok_or_else(|| stop(name, "it was not measured"))?;
        match size.way.clone().map_err(|why| stop(name, why))? {
            Way::Choice(what) => given.push((what, scale.enlarge(found.reads))),
            Way::Space(key) => taken.space.push((key.to_owned(), text_of(job, size)?)),
        }
        taken.rows.push((name.clone(), written(size.planned)));
    }
    if taken.rows.is_empty() {
        return Err(stop("nothing", "no size that can be taken back is over its tolerance"));
    }
    if !given.is_empty() {
        let mut choice = with_sizes(job, catalog, (faces, scale), compression, &given)?;
        if choice.reason.is_empty() {
            reason.clone_into(&mut choice.reason);
        }
        taken.choice = Some(choice);
    }
    Ok(Edit::TakeBack(taken))
}

fn stop(name: &str, trouble: &str) -> Stop {
    Stop::new(
        format!("taking {name} back from the mock-up"),
        trouble,
        "the mock-up view lists the sizes, and which of them are over",
    )
}

/// What was measured, as it was written.
fn text_of(job: &Job, size: &Planned) -> Result<String, Stop> {
    let said = |row: &&Measured| row.of == size.name && row.on == On::MockUp;
    let row = job.measured.iter().rfind(said);
    row.map(|row| row.reads.text().to_owned())
        .ok_or_else(|| stop(&size.name, "it was not measured"))
}

/// A planned size as the job file keeps it: to a tenth of a thou.
fn written(size: ModelLength) -> String {
    Notation::Decimal(Unit::Inch, 4).show(&size)
}
