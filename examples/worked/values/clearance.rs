//! The building against the track.

use scantling::clearance::{Checked, Clearance, Held, Kind, What};
use scantling::quantity::{CompressedLength, ModelLength};

use super::Work;
use super::out::Out;

pub(crate) fn say(work: &Work<'_>, out: &mut Out) {
    let Ok(Some(clearance)) = &work.plan.clearance else { return };
    car(clearance, out);
    for thing in &clearance.checked {
        for part in labels(thing) {
            one(clearance, thing, &part, out);
        }
    }
    for under in &clearance.headroom {
        let part = format!("{}/roof/rafter", under.body);
        out.model(&part, "headroom", ModelLength::inches(under.least));
    }
}

/// How far the first car reaches on the sharpest curve.
fn car(clearance: &Clearance, out: &mut Out) {
    let car = clearance.standards.iter().find(|it| it.kind == Kind::Car);
    if let Some([inside, outside]) = car.and_then(|car| car.on_curve) {
        out.model("track/car", "inside_reach", inside);
        out.model("track/car", "outside_reach", outside);
    }
}

/// What a thing is called: timbers by their number from the left end, planes of
/// a roof by their group and their side.
fn labels(thing: &Checked) -> Vec<String> {
    let Checked { name, body, .. } = thing;
    let numbered = |kind: &str| match name.rsplit_once(' ') {
        Some((_, number)) if number.parse::<u32>().is_ok() => format!("{body}/{kind}-{number}"),
        _ => format!("{body}/{kind}"),
    };
    match thing.what {
        What::Post => vec![numbered("post")],
        What::Rafter => vec![numbered("roof/rafter")],
        What::Beam if name.contains("ledger") => vec![format!("{body}/ledger")],
        What::Beam => vec![numbered("beam")],
        What::Roof => {
            let side = name.rsplit('/').next().unwrap_or_default();
            vec![format!("{body}/roof/plane-{side}"), format!("{body}/roof/plane")]
        }
        _ => vec![name.replace(' ', "/")],
    }
}

fn one(clearance: &Clearance, thing: &Checked, part: &str, out: &mut Out) {
    let of = |kind: Kind| -> Option<&Held> {
        let at = clearance.standards.iter().position(|it| it.kind == kind)?;
        thing.held.get(at)?.as_ref()
    };
    out.model(part, "offset", ModelLength::inches(thing.off.by));
    if let Some(held) = of(Kind::Car) {
        out.model(part, "clearance", ModelLength::inches(held.plan_gap));
        if let Some(headroom) = held.headroom {
            out.model(part, "headroom", ModelLength::inches(headroom));
        }
        if let Some(ends) = thing.ends {
            let corner = format!("{part}/corner");
            let nearest = ends[0].min(ends[1]);
            out.model(&corner, "offset", ModelLength::inches(nearest));
            out.model(&corner, "clearance", ModelLength::inches(nearest - held.reach));
        }
    }
    let short = of(Kind::Rule).and_then(|held| held.rule_short);
    if let Some(short) = short {
        out.model(part, "rule_short", ModelLength::inches(short));
    }
    let low: CompressedLength = out.scale().enlarge(ModelLength::inches(thing.heights[0]));
    out.full(part, "above_rail", low);
}
