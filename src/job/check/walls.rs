//! The walls: each of a body that has it, once, of layers that there are.

use std::collections::BTreeSet;

use super::bodies::has_wall;
use super::{Checked, Names, rows, trouble};
use crate::job::locate::{self, Place};
use crate::job::model::Job;
use crate::job::wall::one_above_the_other;

/// Checks walls, corners and layers.
pub(super) fn check(job: &Job, claddings: &Names<'_>) -> Checked {
    let layers = Names::collect("layer", rows("layer", job.layers.iter().map(|it| &it.name)))?;
    if let Some(index) = job.layers.iter().position(|it| claddings.known.contains(&*it.name)) {
        let message = format!("\"{}\" is a cladding too", job.layers[index].name);
        let hint = "give one of them another name: walls name both alike";
        return Err(trouble(locate::row("layer", index, "name"), message, hint));
    }
    let known = claddings.known.union(&layers.known).copied().collect();
    let known = Names { what: "layer or cladding", known };
    let bodies = job.bodies.iter().map(|body| body.name.as_str()).collect();
    let bodies = Names { what: "body", known: bodies };
    named(&known, &job.usual.layers, &|| locate::key("walls", "layers"))?;
    for (index, body) in job.bodies.iter().enumerate() {
        let of = body.layers.as_deref().unwrap_or_default();
        named(&known, of, &|| locate::row("body", index, "layers"))?;
    }
    let mut seen = BTreeSet::new();
    for (index, wall) in job.walls.iter().enumerate() {
        let at = |key: &'static str| locate::row("wall", index, key);
        bodies.want(&wall.of.body, || at("of"))?;
        has_wall(job, &wall.of, &|| at("of"))?;
        if !seen.insert(&wall.of) {
            let message = format!("the wall {} is described twice", wall.of);
            return Err(trouble(at("of"), message, "put both into one [[wall]]"));
        }
        named(&known, wall.layers.as_deref().unwrap_or_default(), &|| at("layers"))?;
    }
    for (index, deck) in job.decks.iter().enumerate() {
        let at = |key: &'static str| locate::row("deck", index, key);
        if let Some(of) = &deck.of {
            bodies.want(&of.body, || at("of"))?;
            has_wall(job, of, &|| at("of"))?;
        }
        named(&known, &deck.layers, &|| at("layers"))?;
    }
    corners(job, &bodies)
}

fn named(known: &Names<'_>, layers: &[String], at: &dyn Fn() -> Place) -> Checked {
    layers.iter().flat_map(|layer| one_above_the_other(layer)).try_for_each(|it| known.want(it, at))
}

fn corners(job: &Job, bodies: &Names<'_>) -> Checked {
    let mut seen = BTreeSet::new();
    for (index, corner) in job.corners.iter().enumerate() {
        let at = |key: &'static str| locate::row("corner", index, key);
        bodies.want(&corner.of.body, || at("of"))?;
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
