//! Level joints of sheets, the strips behind them, and uprights inside.

use scantling::building::{Role, Wall};
use scantling::quantity::CompressedLength;
use scantling::takeoff::{Kind, Place, Runs, Takeoff};

use super::out::Out;
use super::parts::{centres, places};
use super::{Work, labels};

pub(crate) fn say(work: &Work<'_>, takeoff: &Takeoff, out: &mut Out) {
    for wall in &work.building.walls {
        joints(work, takeoff, wall, out);
        uprights(work, takeoff, wall, out);
    }
}

fn joints(work: &Work<'_>, takeoff: &Takeoff, wall: &Wall, out: &mut Out) {
    for layer in &wall.layers {
        let Some((kind, _)) = labels::kinds(work.job, layer).into_iter().next() else { continue };
        let part = format!("{}/{kind}", wall.name);
        let of = takeoff.joints.iter();
        let joints: Vec<_> =
            of.filter(|it| it.wall == wall.name && it.layer == layer.id.layer).collect();
        if layer.role == Role::Core {
            out.say(&part, "strips", joints.first().map_or(1, |joint| joint.strips));
        }
        for (number, joint) in joints.iter().enumerate() {
            out.full(&part, "joint", joint.at);
            out.full(&part, &format!("joint_{}", number + 1), joint.at);
        }
    }
}

/// The uprights of a wall: their places from the left corner, the gap between
/// them, and whether one still reaches into an opening.
fn uprights(work: &Work<'_>, takeoff: &Takeoff, wall: &Wall, out: &mut Out) {
    let stand = takeoff.of(&wall.name, Kind::Bracing).all(|part| part.runs == Runs::Up);
    let places = places(takeoff, &wall.name, Kind::Bracing);
    if places.is_empty() || !stand {
        return;
    }
    let part = format!("{}/bracing", wall.name);
    let centres = centres(&places);
    for (number, centre) in centres.iter().enumerate() {
        out.full(&part, &format!("place_{}", number + 1), *centre);
    }
    let wide = places[0].wide;
    let gap = match centres.as_slice() {
        [a, b, ..] => *b - *a - wide,
        _ => centres[0] - wide / 2.0 - beside_block(work, wall, out),
    };
    out.full(&part, "gap", gap);
    let holes = wall.layers.last().map_or(&[][..], |layer| &layer.holes);
    let crossed = holes.iter().filter(|it| places.iter().any(|place| crosses(&it.hole, place)));
    out.say(&part, "crosses_openings", crossed.count());
}

fn crosses(
    hole: &scantling::elevation::Hole<scantling::quantity::Compressed>,
    place: &Place,
) -> bool {
    let hair = CompressedLength::inches(0.01);
    hole.left + hair < place.left + place.wide
        && hole.right() > place.left + hair
        && hole.foot + hair < place.foot + place.high
        && hole.head() > place.foot + hair
}

/// Along a wall to the inner side of the block in its left corner.
fn beside_block(work: &Work<'_>, wall: &Wall, out: &Out) -> CompressedLength {
    let neighbour = wall.id.side.at_left();
    let thick: f64 = work
        .building
        .walls_of(&wall.id.body)
        .filter(|it| it.id.side == neighbour)
        .flat_map(|it| &it.layers)
        .map(|layer| layer.full)
        .sum();
    let block = work
        .job
        .usual
        .block
        .as_ref()
        .map_or_else(|| scantling::quantity::ModelLength::inches(0.25), |said| said.length());
    let block: CompressedLength = out.scale().enlarge(block);
    CompressedLength::inches(thick) + block
}
