//! Floors, and the box under a roof that lifts off.

use super::Work;
use super::out::Out;

pub(crate) fn say(work: &Work<'_>, out: &mut Out) {
    for inside in &work.building.insides {
        if let Some(floor) = &inside.floor {
            let part = format!("{}/floor", inside.body);
            out.full(&part, "length", floor.length.length);
            out.full(&part, "width", floor.width.length);
        }
        let roof = format!("{}/roof", inside.body);
        if let Some([foot, top]) = &inside.ledger {
            let part = format!("{roof}/ledger");
            out.full(&part, "length", inside.length.length);
            out.full(&part, "height", top.length - foot.length);
            out.full(&part, "top", top.length);
            out.full(&part, "foot", foot.length);
        }
        let Some(lid) = &inside.lid else { continue };
        for (at, side) in ["front", "back"].into_iter().enumerate() {
            let part = format!("{roof}/box-side-{side}");
            out.full(&part, "length", lid.side.length);
            out.full(&part, "low_height", lid.low[at].length);
            out.full(&part, "high_height", lid.high[at].length);
        }
        let side = format!("{roof}/box-side");
        out.say(&side, "count", 2);
        out.full(&side, "length", lid.side.length);
        let end = format!("{roof}/box-end");
        out.say(&end, "count", 2);
        out.full(&end, "length", lid.end.length);
        out.full(&end, "height", lid.low[0].length.min(lid.low[1].length));
    }
}
