//! The walls: each of a body that has it, once; and how they meet.

use std::collections::BTreeSet;

use super::bodies::has_wall;
use super::{Checked, Names, trouble};
use crate::job::locate;
use crate::job::model::Job;
use crate::job::wall::one_above_the_other;

/// Checks walls, decks and corners.
pub(super) fn check(job: &Job) -> Checked {
    let mut seen = BTreeSet::new();
    for (index, wall) in job.walls.iter().enumerate() {
        let at = |key: &'static str| locate::row("wall", index, key);
        has_wall(job, &wall.of, &|| at("of"))?;
        if !seen.insert(&wall.of) {
            let message = format!("the wall {} is described twice", wall.of);
            return Err(trouble(at("of"), message, "put both into one [[wall]]"));
        }
    }
    for (index, deck) in job.decks.iter().enumerate() {
        if let Some(of) = &deck.of {
            has_wall(job, of, &|| locate::row("deck", index, "of"))?;
        }
    }
    deck_layers(job)?;
    corners(job)
}

/// The closed sides of a deck are of layers that there are.
fn deck_layers(job: &Job) -> Checked {
    let claddings = job.claddings.iter().map(|it| it.name.as_str());
    let known = claddings.chain(job.layers.iter().map(|it| it.name.as_str())).collect();
    let known = Names { what: "layer or cladding", known };
    for (index, deck) in job.decks.iter().enumerate() {
        let at = || locate::row("deck", index, "layers");
        let mut named = deck.layers.iter().flat_map(|layer| one_above_the_other(layer));
        named.try_for_each(|it| known.want(it, at))?;
    }
    Ok(())
}

fn corners(job: &Job) -> Checked {
    let mut seen = BTreeSet::new();
    for (index, corner) in job.corners.iter().enumerate() {
        let at = |key: &'static str| locate::row("corner", index, key);
        if !seen.insert(&corner.of) {
            let message = format!("the corner {} is described twice", corner.of);
            return Err(trouble(at("of"), message, "put both into one [[corner]]"));
        }
        let sides = [corner.of.along, corner.of.end];
        for (key, side) in [("core", corner.core), ("cladding", corner.cladding)] {
            if let Some(side) = side.filter(|side| !sides.contains(side)) {
                let message = format!("the {side} does not meet the corner {}", corner.of);
                let hint = format!("name the {} or the {}", sides[0], sides[1]);
                return Err(trouble(at(key), message, hint));
            }
        }
    }
    Ok(())
}
