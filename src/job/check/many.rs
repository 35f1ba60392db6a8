//! How many there may be of anything: more is a slip of the keyboard, and
//! would fill the memory before anybody could say so.

use super::{Checked, trouble};
use crate::job::Job;
use crate::job::face::{Element, ElementKind};
use crate::job::locate;

/// The most of one thing.
const MOST: u32 = 10_000;

/// The most elements along one wall, all repeats counted.
const ALONG: u64 = 20_000;

/// Refuses what nobody builds so many of.
pub(super) fn check(job: &Job) -> Checked {
    for (index, wall) in job.walls.iter().enumerate() {
        let pieces = along(&wall.row);
        if pieces > ALONG {
            return Err(trouble(
                locate::row("wall", index, "row"),
                format!("the row of {} comes to {pieces} elements", wall.of),
                format!("up to {ALONG} can be laid out: look at its counts"),
            ));
        }
    }
    for (index, member) in job.members.iter().enumerate() {
        for (key, count) in [("count", member.count), ("each", member.each)] {
            let place = || locate::row("member", index, key);
            few(count, place).map_err(|(place, message)| trouble(place, message, hint()))?;
        }
    }
    Ok(())
}

fn few<P>(count: Option<u32>, place: impl FnOnce() -> P) -> Result<(), (P, String)> {
    match count {
        Some(count) if count > MOST => Err((place(), format!("{count} are too many"))),
        _ => Ok(()),
    }
}

fn hint() -> String {
    format!("up to {MOST} can be worked out")
}

/// How many elements a row comes to at its most.
fn along(row: &[Element]) -> u64 {
    let pieces = row.iter().map(|element| match &element.kind {
        ElementKind::Bays { times, .. } => u64::from(times.count.max(times.at_most)),
        ElementKind::Repeat { row, times } => {
            u64::from(times.count.max(times.at_most)).saturating_mul(along(row))
        }
        _ => 1,
    });
    pieces.fold(0, u64::saturating_add)
}
