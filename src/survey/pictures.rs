//! Lengths of photographs as readings.
//!
//! The lengths of one picture share its marks, its known lengths and its
//! camera, so they are not independent: they enter with the covariance of the
//! picture's own adjustment. A length that follows from others of the same
//! picture says nothing new and is left out, or it would seem checked by
//! itself.

use std::borrow::Cow;
use std::sync::Arc;

use crate::finding::Stop;
use crate::job::Job;
use crate::job::model::Reading;
use crate::job::photo::Photo;
use crate::photo::from_job::{self, FIRST_ORDER, Seen, Shot};
use crate::quantity::PrototypeLength;
use crate::solve::least_squares::{Form, independent};

use super::names::Names;
use super::observed::{Observed, Shared, Unusable, no};

/// The share of its variance that a length must have to itself.
const NEW: f64 = 1e-4;

/// A picture as measured, and what it says as readings.
type Read<'a> = (Cow<'a, Result<Shot, Stop>>, Vec<Reading>);

/// What the photographs say, behind the readings of the job.
#[derive(Clone, Debug, Default)]
pub(super) struct Pictures {
    /// How many readings the job has without them.
    before: usize,
    /// The readings as if written in the job.
    pub(super) readings: Vec<Reading>,
    lengths: Vec<Length>,
}

/// A length of a photograph.
#[derive(Clone, Debug)]
pub(super) struct Length {
    /// Value and sigma in inches, or why there are none.
    read: Result<(f64, f64), (String, String)>,
    shared: Option<Shared>,
    /// Whether it follows from others of its picture.
    follows: bool,
}

impl Pictures {
    /// The photographs that have readings: as they were seen, else measured here.
    /// First order is enough: the intervals of the picture itself are drawn.
    pub(super) fn read(job: &Job, seen: &[Seen]) -> Self {
        let wanted = job.photos.iter().filter(|photo| photo.readings().next().is_some());
        let here = |photo: &&Photo| seen.iter().any(|seen| seen.photo == photo.id);
        let missing = wanted.clone().any(|photo| !here(&photo));
        // What was not seen is measured with all the walls of its picture.
        let measured = if missing { from_job::each(&job.photos, FIRST_ORDER) } else { Vec::new() };
        let seen = if missing { &measured } else { seen };
        let mut pictures = Self { before: job.readings.len(), ..Self::default() };
        let mut read: Vec<Read<'_>> = Vec::new();
        for photo in wanted {
            let known = seen.iter().find(|seen| seen.photo == photo.id);
            let shot = known.map_or_else(
                || Cow::Owned(from_job::shot(photo, FIRST_ORDER)),
                |seen| Cow::Borrowed(&seen.shot),
            );
            read.push((shot, readings(photo).collect()));
        }
        pictures.lengths = lengths(&read);
        pictures.readings = read.into_iter().flat_map(|(_, readings)| readings).collect();
        pictures
    }

    /// The job with the readings of its photographs behind its own.
    pub(super) fn added<'j>(&self, job: &'j Job) -> Cow<'j, Job> {
        if self.readings.is_empty() {
            return Cow::Borrowed(job);
        }
        let mut job = job.clone();
        job.readings.extend(self.readings.iter().cloned());
        Cow::Owned(job)
    }

    /// The length behind a reading; nothing for the job's own.
    pub(super) fn length(&self, reading: usize) -> Option<&Length> {
        self.lengths.get(reading.checked_sub(self.before)?)
    }
}

impl Length {
    /// Value and sigma, in inches, where there are any.
    pub(super) fn read(&self) -> Option<(f64, f64)> {
        self.read.as_ref().ok().copied()
    }

    pub(super) fn observe(&self, names: &Names, said: &Reading) -> Result<Observed, Unusable> {
        let (value, sigma) = self.read.clone().map_err(|(trouble, hint)| no(trouble, hint))?;
        let form = names.form(&said.of).map_err(super::method::stranger)?;
        if !matches!(form, Form::Sum(_)) {
            return Err(no("a photograph reads a length", "let it read a dimension, or a sum"));
        }
        if self.follows {
            return Err(no(
                "it follows from the other lengths of its picture and says nothing new",
                "switch one of them off",
            ));
        }
        Ok(Observed { shared: self.shared.clone(), ..Observed::new(form, value, sigma) })
    }
}

/// The lengths of a photograph that are readings, as a job would write them.
fn readings(photo: &Photo) -> impl Iterator<Item = Reading> {
    photo.readings().filter_map(|(id, ask)| {
        Some(Reading {
            id,
            of: ask.reads.clone()?,
            method: "photo".to_owned(),
            value: None,
            sigma: None,
            given: std::collections::BTreeMap::new(),
            pull: None,
            source: photo.source.clone(),
            date: String::new(),
            note: String::new(),
            off: ask.off,
            off_reason: ask.off_reason.clone(),
        })
    })
}

/// A reading of a photograph on its way: its shot, its row there.
struct Row<'s> {
    shot: &'s Shot,
    row: usize,
    off: bool,
}

/// The lengths behind all readings, in their order.
fn lengths(read: &[Read<'_>]) -> Vec<Length> {
    let (mut lengths, mut rows) = (Vec::new(), Vec::new());
    for (shot, readings) in read {
        match shot.as_ref() {
            Ok(shot) => {
                for (seen, said) in shot.readings.iter().zip(readings) {
                    lengths.push(alone(shot, seen));
                    rows.push(Some(Row { shot, row: seen.row, off: said.off }));
                }
            }
            Err(Stop { doing, trouble, hint, .. }) => {
                for _ in readings {
                    let read = Err((format!("{doing}: {trouble}"), hint.to_string()));
                    lengths.push(Length { read, shared: None, follows: false });
                    rows.push(None);
                }
            }
        }
    }
    share(&mut lengths, &rows);
    lengths
}

/// Those that are used share the correlations of their picture, all its walls
/// together; the rest is only shown.
fn share(lengths: &mut [Length], rows: &[Option<Row<'_>>]) {
    let usable = |at: usize| rows[at].as_ref().is_some_and(|row| !row.off);
    let mut left: Vec<usize> =
        (0..lengths.len()).filter(|&at| usable(at) && lengths[at].read.is_ok()).collect();
    while let Some(&first) = left.first() {
        let of = |at: &usize| rows[*at].as_ref().map(|row| picture(row.shot));
        let (used, rest): (Vec<usize>, Vec<usize>) =
            left.iter().partition(|at| of(at) == of(&first));
        left = rest;
        let used_rows: Vec<&Row<'_>> = used.iter().filter_map(|at| rows[*at].as_ref()).collect();
        let all = correlations(&used_rows);
        let new = independent(&all, NEW);
        for (row, at) in used.iter().enumerate() {
            lengths[*at].follows = !new.contains(&row);
        }
        let kept: Vec<Vec<f64>> =
            new.iter().map(|i| new.iter().map(|j| all[*i][*j]).collect()).collect();
        let correlations = Arc::new(kept);
        for (row, place) in new.into_iter().enumerate() {
            let correlations = Arc::clone(&correlations);
            lengths[used[place]].shared = Some(Shared { correlations, row });
        }
    }
}

/// What ties the lengths of a shot to others: the first wall of its picture.
fn picture(shot: &Shot) -> &str {
    shot.joint.as_ref().map_or(shot.marked.id.as_str(), |joint| joint.first.as_str())
}

fn alone(shot: &Shot, seen: &from_job::Reading) -> Length {
    let [value, sigma] = [seen.value, seen.sigma].map(PrototypeLength::in_inches);
    let withheld = shot.measured.lengths[seen.row].withheld;
    let read = match withheld {
        Some(why) => Err((why.to_owned(), "mark nearer to the middle".to_owned())),
        None if sigma > 0.0 => Ok((value, sigma)),
        None => Err(("the picture takes it for exact".to_owned(), String::new())),
    };
    Length { read, shared: None, follows: false }
}

fn correlations(rows: &[&Row<'_>]) -> Vec<Vec<f64>> {
    let covariance = |a: &Row<'_>, b: &Row<'_>| match (&a.shot.joint, &b.shot.joint) {
        (Some(one), Some(other)) => one.covariance[(one.rows[a.row], other.rows[b.row])],
        _ => a.shot.measured.covariance[(a.row, b.row)],
    };
    let correlation = |i: usize, j: usize| {
        let (a, b) = (rows[i], rows[j]);
        if i == j { 1.0 } else { covariance(a, b) / (covariance(a, a) * covariance(b, b)).sqrt() }
    };
    let count = rows.len();
    (0..count).map(|i| (0..count).map(|j| correlation(i, j)).collect()).collect()
}

#[cfg(test)]
mod tests;
