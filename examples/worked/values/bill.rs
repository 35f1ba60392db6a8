//! What is bought: castings and sashes by their size, panes, and parts that
//! stand on the building.

use std::collections::BTreeMap;

use scantling::job::building::OpeningWhat;

use super::Work;
use super::out::Out;

pub(crate) fn say(work: &Work<'_>, out: &mut Out) {
    let mut counts: BTreeMap<String, u32> = BTreeMap::new();
    let mut panes = 0;
    for hole in work.building.walls.iter().flat_map(|wall| &wall.holes) {
        let said = work.job.openings.iter().find(|opening| opening.name == hole.kind);
        let Some(opening) = said else { continue };
        if opening.what != OpeningWhat::Sash && opening.casting.is_none() {
            continue;
        }
        let word = word(opening.what);
        if matches!(opening.what, OpeningWhat::Window | OpeningWhat::Sash) {
            panes += 1;
        }
        let size = [hole.width, hole.height].map(|length| out.in_label(length));
        *counts.entry(format!("{word}-{}x{}", size[0], size[1])).or_default() += 1;
    }
    for bought in &work.building.bought {
        *counts.entry(bought.name.clone()).or_default() += bought.count;
    }
    for (name, count) in &counts {
        out.say(&format!("bill/{name}"), "count", count);
    }
    if panes > 0 {
        out.say("bill/pane", "count", panes);
    }
}

/// What an opening is, in labels.
pub(crate) fn word(what: OpeningWhat) -> &'static str {
    match what {
        OpeningWhat::Sash => "sash",
        OpeningWhat::Window => "window",
        OpeningWhat::Door => "door",
        OpeningWhat::Hole => "hole",
    }
}
