//! Decks with their steps, retaining walls, the base.

use scantling::building::Flight;

use super::Work;
use super::out::Out;

pub(crate) fn say(work: &Work<'_>, out: &mut Out) {
    for deck in &work.building.decks {
        let part = format!("{}/deck", deck.name);
        out.full(&part, "length", deck.length.length);
        out.full(&part, "width", deck.width.length);
        out.full(&part, "height", deck.height.length);
        if let Some(steps) = &deck.steps {
            flight(steps, &format!("{}/steps", deck.name), out);
        }
    }
    for wall in &work.building.terraces {
        let part = format!("{}/face", wall.name);
        out.full(&part, "length", wall.length.length);
        out.full(&part, "slope", wall.slope.length);
        if wall.courses > 0 {
            out.say(&part, "courses", wall.courses);
        }
        if let Some(stair) = &wall.stair {
            flight(stair, &format!("{}/stair", wall.name), out);
        }
    }
    if let Some(base) = &work.building.base {
        out.full("base", "length", base.length.length);
        out.full("base", "width", base.width.length);
    }
}

fn flight(flight: &Flight, part: &str, out: &mut Out) {
    out.say(part, "risers", flight.risers);
    out.full(part, "riser", flight.riser.length);
    let stringer = format!("{part}/stringer");
    out.full(&stringer, "length", flight.stringer.length);
    let tread = format!("{part}/tread");
    out.say(&tread, "count", flight.treads);
}
