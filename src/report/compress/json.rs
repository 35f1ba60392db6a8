//! The alternatives as JSON.
//!
//! JSON: `stop` (`doing`, `trouble`, `hint`) where the stage could not go on,
//! else `intent`, `limits` (`length_in`, `depth_in`, `height_in`, full size),
//! `ground` (null without a site; `longest_in` full size, and in model inches
//! `corners_in`, `car_in`, `rule_in`, `kept_in`), `alternatives[]` in order of cost (what is only
//! shown behind the rest), `chosen` (a key), `is_chosen`,
//! `complete`, `proven`, `steps`, `curve[]` (`allowed_in`, `length_in`, `cost`,
//! `counts`), `scales[]` (`scale`, `own`, `length_in`, `depth_in`, `height_in` on
//! the model, `fits` (`words`, `cost`, `length_in`, `depth_in`, `kept`) or null,
//! `why_not`, `smallest`, `smallest_thou`), `built` (`body`, `faces[]` as in the view of faces) and
//! `findings[]`. An alternative has `key`, `kind`, `kind_words`, `words`,
//! `lost[]`, `standing` (`offered`, `squeezed too far`, `stretched too far`,
//! `too few or too many`, `does not fit`,
//! `shown only`, `forbidden`), `why`, `best_of_kind`, `length_in`, `depth_in`, `ridge_in`,
//! `model_in`, `cost` (null where nothing but an even reduction was done),
//! `lines[]` (`feature`, `what`, `original`, `now`, `z`, `weight`, `cost`),
//! `counts`, `widths_in`, `roof`, `needs` (`openings[]`, `across_front`,
//! `cover_in2`, `sheets_at_least`), and `exact` (`cost`, `widths_in`) where the
//! widths were put on whole inches or boards.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::super::Seen;
use super::super::faces::{Sizes, of_body, of_faces};
use super::super::json::table;
use super::super::site::space;
use crate::compress::curve::Point;
use crate::compress::scales::AtScale;
use crate::compress::{Alternative, Decision, Line};

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    let compression = match &seen.plan.compress {
        Ok(compression) => compression,
        Err(stop) => return json!({ "stop": stop }),
    };
    let built = &compression.built;
    let compared = seen.plan.compared.as_ref();
    json!({
        "intent": seen.job.about.intent,
        "limits": table(&space(&compression.limits)),
        "alternatives": compression.alternatives.iter().map(alternative).collect::<Vec<_>>(),
        "ground": compression.ground.as_ref().map(|ground| json!({
            "longest_in": ground.longest.in_inches(),
            "corners_in": ground.placement.map(|placed| placed.corners()),
            "car_in": ground.clearance.map(|clear| clear.car.in_inches()),
            "rule_in": ground.clearance.and_then(|clear| clear.rule).map(|rule| rule.in_inches()),
            "kept_in": ground.clearance.map(|clear| clear.kept.in_inches()),
        })),
        "chosen": compression.chosen().key,
        "is_chosen": compression.is_chosen,
        "complete": compression.complete,
        "proven": compression.is_proven(),
        "steps": compression.steps,
        "curve": compared.map(|it| it.curve.iter().map(point).collect::<Vec<_>>()),
        "scales": compared.map(|it| it.scales.iter().map(scale).collect::<Vec<_>>()),
        "built": {
            "body": table(&of_body(&built.body, &Sizes::of(seen))),
            "roof": built.roof,
            "faces": table(&of_faces(&built.faces, &Sizes::of(seen))),
        },
    })
}

fn alternative(it: &Alternative) -> Value {
    let widths = |decision: &Decision| {
        let widths = decision.widths.iter();
        widths.map(|(key, width)| (key.clone(), width.in_inches())).collect::<BTreeMap<_, _>>()
    };
    json!({
        "key": it.key,
        "kind": it.kind.to_string(),
        "kind_words": it.kind_words,
        "words": it.words,
        "lost": it.lost,
        "standing": it.standing.word(),
        "why": it.standing.why(),
        "best_of_kind": it.best_of_kind,
        "length_in": it.body.length.in_inches(),
        "depth_in": it.body.depth.in_inches(),
        "ridge_in": it.body.ridge.in_inches(),
        "model_in": it.model_length.in_inches(),
        "cost": it.cost(),
        "lines": it.lines.0.iter().map(line).collect::<Vec<_>>(),
        "counts": it.decision.as_ref().map(|decision| &decision.counts),
        "widths_in": it.decision.as_ref().map(widths),
        "roof": it.decision.as_ref().map(|decision| decision.roof),
        "needs": json!({
            "openings": it.needs.openings.iter().map(|opening| json!({
                "kind": opening.kind, "count": opening.count, "casting": opening.casting,
            })).collect::<Vec<_>>(),
            "across_front": it.needs.across_front.as_ref().map(|across| json!({
                "what": across.word, "count": across.count, "unit_in": across.unit.in_inches(),
            })),
            "cover_in2": it.needs.cover_in2,
            "sheets_at_least": it.needs.sheets_at_least,
        }),
        "exact": it.exact.as_ref().map(|exact| json!({
            "cost": exact.cost,
            "widths_in": widths(&exact.decision),
        })),
    })
}

fn line(line: &Line) -> Value {
    json!({
        "feature": line.feature,
        "what": line.what,
        "original": line.original,
        "now": line.now,
        "z": line.z,
        "weight": line.weight,
        "cost": line.cost,
    })
}

fn point(it: &Point) -> Value {
    json!({
        "allowed_in": it.allowed.in_inches(),
        "length_in": it.length.in_inches(),
        "cost": it.cost,
        "counts": it.counts,
    })
}

fn scale(it: &AtScale) -> Value {
    let fits = it.fits.as_ref().ok();
    json!({
        "scale": it.scale.name,
        "own": it.own,
        "length_in": it.length.in_inches(),
        "depth_in": it.depth.in_inches(),
        "height_in": it.height.in_inches(),
        "fits": fits.map(|fits| json!({
            "words": fits.words,
            "cost": fits.cost,
            "length_in": fits.length.in_inches(),
            "depth_in": fits.depth.in_inches(),
            "kept": fits.kept,
        })),
        "why_not": it.fits.as_ref().err().map(|stop| &stop.trouble),
        "smallest": it.smallest.as_ref().map(|(name, _)| name),
        "smallest_thou": it.smallest.as_ref().map(|(_, size)| size.in_thou()),
    })
}
