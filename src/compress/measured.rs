//! Sizes given by hand, as they were found right on the mock-up -> the choice
//! that builds them.

use super::case::Case;
use super::tally::{Item, Tally, length};
use super::{Compression, Decision, build, choice};
use crate::catalog::Catalog;
use crate::elevation::Faces;
use crate::finding::Stop;
use crate::job::Job;
use crate::job::edit::Chosen;
use crate::quantity::{CompressedLength, Scale};
use crate::solve::stretch::one_factor;

pub use super::tally::key;

/// A size of the building as built that can be given another value.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Settable {
    /// Width of an element that may stretch, by its [`key`].
    Width(String),
    /// Depth of the body.
    Depth,
    /// Length of the front: shared out over the walls that were not given.
    Length,
    /// Foot of the wall to eave.
    Eave,
    /// Foot of the wall to ridge.
    Ridge,
}

/// Lengths that differ by less do not differ: a tenth of a sixteenth, inches.
const SLACK: f64 = 1.0 / 160.0;

/// The choice that is built now, with some sizes given. Reason and date are
/// those of the choice the job has.
///
/// # Errors
///
/// Where a size is not above zero, or the front cannot come to the length given
/// without a wall going under its bound.
pub fn with_sizes(
    job: &Job,
    catalog: &Catalog,
    (faces, scale): (&Faces, &Scale),
    now: &Compression,
    given: &[(Settable, CompressedLength)],
) -> Result<Chosen, Stop> {
    // The space does not count here: what was measured stands.
    let nowhere = crate::building::Scheme::default();
    let case = Case::new(job, &catalog.look, (faces, &nowhere), scale, 0)?;
    let chosen = now.chosen();
    let mut decision = chosen.decision.clone().ok_or_else(|| stop("nothing is built", ""))?;
    if given.iter().any(|(_, size)| !size.is_finite() || *size <= CompressedLength::ZERO) {
        return Err(stop("a size is not above zero", "measure it again"));
    }
    // The depth first: the end walls follow it, unless one of theirs was given.
    let mut given = given.to_vec();
    given.sort_by_key(|(what, _)| *what != Settable::Depth);
    for (what, size) in &given {
        match what {
            Settable::Depth => {
                decision.depth = *size;
                build::ends(&case, &mut decision);
            }
            Settable::Width(key) => {
                decision.widths.insert(key.clone(), *size);
            }
            Settable::Eave => decision.set.eave = Some(*size),
            Settable::Ridge => decision.set.ridge = Some(*size),
            Settable::Length => {}
        }
    }
    let widths: Vec<&str> = given.iter().filter_map(|(what, _)| width(what)).collect();
    let length = given.iter().find(|(what, _)| *what == Settable::Length);
    match length {
        Some((_, length)) => stretch(&case, &mut decision, *length, &widths)?,
        None if !widths.is_empty() => follow(&case, &mut decision, &widths),
        None => {}
    }
    let said = job.choice.as_ref();
    Ok(Chosen {
        reason: said.map(|said| said.reason.clone()).unwrap_or_default(),
        date: said.map(|said| said.date.clone()).unwrap_or_default(),
        ..choice::chosen(&chosen.kind, &decision)
    })
}

fn stop(trouble: impl Into<String>, hint: &str) -> Stop {
    Stop::new("taking a size back from the mock-up", trouble, hint)
}

fn width(what: &Settable) -> Option<&str> {
    match what {
        Settable::Width(key) => Some(key),
        _ => None,
    }
}

/// Gives the front a length: the walls not given share what is left, all by one
/// factor, within their bounds. The back follows as far as it can.
fn stretch(
    case: &Case<'_>,
    decision: &mut Decision,
    length: CompressedLength,
    given: &[&str],
) -> Result<(), Stop> {
    let front = case.tally(0, &decision.counts, false);
    if front.segments.len() > 1 {
        return Err(stop(
            "an opening of the front is pinned to its place",
            "measure the walls left and right of it and take those back",
        ));
    }
    let reached = share(&front, decision, length.in_inches(), given);
    if (reached - length.in_inches()).abs() > SLACK {
        let show =
            |inches: f64| case.job.about.full_notation().show(&CompressedLength::inches(inches));
        return Err(stop(
            format!(
                "the front would have to be {}, its walls come to {} within their bounds",
                show(length.in_inches()),
                show(reached)
            ),
            "change `least` or `most` of a wall, or choose other counts",
        ));
    }
    behind(case, decision, given);
    Ok(())
}

/// After widths were given the walls behind come to the length of the front.
fn follow(case: &Case<'_>, decision: &mut Decision, given: &[&str]) {
    let front = case.tally(0, &decision.counts, false);
    let on_front =
        |key: &&str| front.groups.iter().flat_map(|it| &it.items).any(|it| it.key == *key);
    if given.iter().any(on_front) {
        behind(case, decision, given);
    }
}

/// Brings the walls behind to the length of the front, as far as they can be;
/// whether they come to it. Those that are as long already stay.
pub(super) fn behind(case: &Case<'_>, decision: &mut Decision, given: &[&str]) -> bool {
    let front = case.length(decision).in_inches();
    let mut met = true;
    for at in 1..case.originals.len() {
        let tally = case.tally(at, &decision.counts, false);
        let own = length(&tally, |item| decision.width(item));
        if (own - front).abs() > SLACK {
            met &= (share(&tally, decision, front, given) - front).abs() <= SLACK;
        }
    }
    met
}

/// Shares a length out over the items of a row that were not given, and says
/// what the row comes to, inches.
fn share(tally: &Tally, decision: &mut Decision, length: f64, given: &[&str]) -> f64 {
    let items = tally.groups.iter().flat_map(|group| &group.items);
    let (kept, free): (Vec<&Item>, Vec<&Item>) =
        items.partition(|item| given.contains(&item.key.as_str()));
    let kept: f64 = kept.iter().map(|item| item.times * decision.width(item)).sum();
    let pieces: Vec<_> = free
        .iter()
        .map(|item| {
            let now = decision.width(item);
            (item.times, now, item.least.min(now), item.most.max(now))
        })
        .collect();
    let sizes = one_factor(&pieces, length - tally.fixed - kept);
    let mut reached = tally.fixed + kept;
    for (item, size) in free.iter().zip(sizes) {
        reached += item.times * size;
        decision.widths.insert(item.key.clone(), CompressedLength::inches(size));
    }
    reached
}
