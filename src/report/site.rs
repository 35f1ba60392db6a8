//! The site: its outline, the track and the car on it, and where the building
//! stands.
//!
//! JSON: `stop` where the stage could not go on, else `space` (`length_in`,
//! `depth_in`, `height_in`, full size; null where there is no limit) and
//! `ground`, null without a site, else all in model inches on the outline's axes:
//! `outline[]`, `turn_deg`, `area_in2`, `track` (`centre`, `radius_in`, `inside`,
//! `reach_inside_in`, `reach_outside_in`, `margin_in`), `clearance` (`car_in`,
//! `rule_in`, `kept_in`), `built`, `longest`, `largest` (each `front_in`,
//! `depth_in`, `angle_deg`, `corners[]`, `within_in`), `aspect` and `taken[]`
//! (`what`, `depth_in`, `by_car`, `by_rule`).

use serde_json::{Value, json};

use super::Seen;
use super::faces::{Sizes, stopped};
use super::table::{Mark, Row, Table, View};
use crate::compress::limits::Limits;
use crate::compress::{Compression, Standpoint};
use crate::finding::Subject;
use crate::quantity::{CompressedLength, ModelLength};
use crate::site::{Placement, Track};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: site", seen.job.about.name);
    let compression = match &seen.plan.compress {
        Ok(compression) => compression,
        Err(stop) => return stopped(title, stop),
    };
    let sizes = Sizes::of(seen);
    let mut tables = Vec::new();
    if let Some(stand) = &compression.ground {
        tables.extend([placement(stand, &sizes), taken(stand, &sizes), outline(stand, &sizes)]);
        tables.extend(stand.survey.track.map(|track| curve(stand, &track, &sizes)));
    }
    tables.push(straight(seen, compression, &sizes));
    tables.retain(|table| !table.rows.is_empty());
    View {
        title,
        lead: lead(compression, &sizes),
        tables,
        findings: Vec::new(),
        next: "compress: the ways to make the building fit".to_owned(),
    }
}

fn lead(compression: &Compression, sizes: &Sizes) -> Vec<String> {
    let Some(stand) = &compression.ground else {
        return vec![
            "The job has no [site] with an outline: only the straight space counts.".to_owned(),
        ];
    };
    let mut lead = vec![match stand.built.as_ref().zip(stand.walls.as_ref()) {
        Some((placed, walls)) => format!(
            "As built it stands {} by {}, {}, left corner of the front at {}.",
            model(placed.front, sizes),
            model(placed.depth, sizes),
            turned(placed),
            at(walls.corner, sizes),
        ),
        None => "As built it does not stand on this ground.".to_owned(),
    }];
    if let Some(largest) = &stand.largest {
        let [least, most] = stand.aspect;
        lead.push(format!(
            "The largest rectangle {least:.2} to {most:.2} times as long as deep: {} by {}, {}; \
             proven to {:.3} in.",
            sizes.at_full(ModelLength::inches(largest.front)),
            sizes.at_full(ModelLength::inches(largest.depth)),
            turned(largest),
            largest.within.max(0.001),
        ));
    }
    lead.extend(both_clearances(stand, sizes));
    lead
}

/// The car's clearance and the rule's, and which is kept.
fn both_clearances(stand: &Standpoint, sizes: &Sizes) -> Option<String> {
    let clear = stand.clearance?;
    let rule = match clear.rule {
        Some(rule) => format!("the full-size rule asks {}", sizes.at_full(rule)),
        None => "no full-size rule is given".to_owned(),
    };
    let car = sizes.at_full(clear.car);
    let kept = sizes.at_full(clear.kept);
    Some(format!("From the track centre the model car needs {car}, {rule}; kept is {kept}."))
}

fn model(inches: f64, sizes: &Sizes) -> String {
    sizes.model_alone(ModelLength::inches(inches))
}

fn at(point: [f64; 2], sizes: &Sizes) -> String {
    format!("({}, {})", model(point[0], sizes), model(point[1], sizes))
}

fn turned(placed: &Placement) -> String {
    let degrees = placed.angle.to_degrees();
    if degrees.abs() < 0.005 {
        "not turned".to_owned()
    } else {
        let way = if degrees > 0.0 { "against" } else { "with" };
        format!("turned {:.2} degrees {way} the clock", degrees.abs())
    }
}

/// The corners of the building as built, and how clear each wall is.
fn placement(stand: &Standpoint, sizes: &Sizes) -> Table {
    let heads = ["wall", ">from x", ">from y", ">to x", ">to y", ">to track", ">over car"];
    let heads: Vec<&str> = heads.into_iter().chain([">over rule"]).collect();
    let mut table = Table::new("Where it stands", &heads);
    let Some(built) = &stand.built else { return table };
    let corners = built.corners();
    for (side, name) in ["front", "right end", "back", "left end"].iter().enumerate() {
        let (from, to) = (corners[side], corners[(side + 1) % 4]);
        let away = stand.survey.track.map(|track| track.nearest(from, to));
        let beyond = |clear: Option<ModelLength>| {
            let over = away.zip(clear).map(|(away, clear)| away - clear);
            over.map_or("-".to_owned(), |over| sizes.model_alone(over))
        };
        let rule = stand.clearance.and_then(|clear| clear.rule);
        let short = away.zip(rule).is_some_and(|(away, rule)| away < rule);
        let cells = vec![
            (*name).to_owned(),
            model(from[0], sizes),
            model(from[1], sizes),
            model(to[0], sizes),
            model(to[1], sizes),
            away.map_or("-".to_owned(), |away| sizes.model_alone(away)),
            beyond(stand.clearance.map(|clear| clear.car)),
            beyond(rule),
        ];
        let row = Row::about(Subject::Job, cells);
        table.push(if short { row.marked(Mark::Look) } else { row });
    }
    table.notes.push("Model sizes on the axes of the outline; the front faces down.".to_owned());
    if stand.clearance.is_some() {
        table.notes.push(
            "\"over\" is what is left beyond the car with its margin, and beyond the rule; \
             below zero it stands too near by that figure."
                .to_owned(),
        );
    }
    table
}

/// What the ground takes at several depths, clear of the car and by the rule.
fn taken(stand: &Standpoint, sizes: &Sizes) -> Table {
    let heads = ["depth", ">full size", ">model", ">front by car", ">model", ">front by rule"];
    let heads: Vec<&str> = heads.into_iter().chain([">model", "turned"]).collect();
    let mut table = Table::new("The longest front", &heads);
    for row in &stand.taken {
        let front = |placed: Option<Placement>| match placed {
            Some(placed) => {
                let front = ModelLength::inches(placed.front);
                [sizes.full_alone(front), sizes.model_alone(front)]
            }
            None => ["-".to_owned(), "-".to_owned()],
        };
        let mut cells = vec![row.what.to_owned(), sizes.full(row.depth), sizes.model(row.depth)];
        cells.extend(front(row.by_car));
        cells.extend(front(row.by_rule));
        cells.push(row.by_car.as_ref().map_or(String::new(), turned));
        table.push(Row::plain(cells));
    }
    table
}

fn outline(stand: &Standpoint, sizes: &Sizes) -> Table {
    let mut table =
        Table::new("The outline", &["corner", ">x", ">y", ">to the next", ">full size"]);
    for (number, (a, b)) in stand.survey.ground.sides().enumerate() {
        let side = ModelLength::inches((b[0] - a[0]).hypot(b[1] - a[1]));
        table.push(Row::plain(vec![
            (number + 1).to_string(),
            model(a[0], sizes),
            model(a[1], sizes),
            sizes.model_alone(side),
            sizes.full_alone(side),
        ]));
    }
    let turn = stand.survey.ground.turn().to_degrees();
    table.notes.push(if turn > 0.0 {
        format!("A building may be turned up to {turn:.0} degrees either way.")
    } else {
        "A building may not be turned: give the site a `turn` to allow it.".to_owned()
    });
    table
}

fn curve(stand: &Standpoint, track: &Track, sizes: &Sizes) -> Table {
    let mut table = Table::new("The track", &["what", ">model", ">full size"]);
    let mut push = |what: &str, size: ModelLength| {
        let cells = vec![what.to_owned(), sizes.model_alone(size), sizes.full_alone(size)];
        table.push(Row::plain(cells));
    };
    push("radius of the centre line", track.radius);
    push("car over its ends", track.car_length);
    push("car width", track.car_width);
    push("car reaches inside the curve", track.reach.inside);
    push("car reaches outside the curve", track.reach.outside);
    push("margin", track.margin);
    if let Some(clear) = stand.clearance {
        push("needed by the car, with the margin", clear.car);
        if let Some(rule) = clear.rule {
            push("asked by the full-size rule", rule);
        }
        push("kept", clear.kept);
    }
    let side = if track.inside { "inside" } else { "outside" };
    table.notes.push(format!("The building stands {side} the curve."));
    table.notes.push(
        "The car's reach is geometry for a car that stands still: local codes and a gauge car \
         on the real track have the last word."
            .to_owned(),
    );
    table
}

/// The straight space: what it takes, and the stack from the track centre.
fn straight(seen: Seen<'_>, compression: &Compression, sizes: &Sizes) -> Table {
    let mut table = Table::new("The straight space", &["what", ">model", ">full size"]);
    let limits = &compression.limits;
    let named = [("length", limits.length), ("depth", limits.depth), ("height", limits.height)];
    for (what, size) in named {
        if let Some(size) = size {
            let what = format!("left for {what}");
            table.push(Row::plain(vec![what, sizes.model(size), sizes.full(size)]));
        }
    }
    let space = seen.job.space.as_ref();
    for item in space.into_iter().flat_map(|space| &space.stack) {
        let size = item.model.as_ref().map_or_else(
            || {
                item.full
                    .as_ref()
                    .map(|full| [sizes.model(full.length()), sizes.full(full.length())])
            },
            |model| Some([sizes.model_alone(model.length()), sizes.full_alone(model.length())]),
        );
        if let Some([model, full]) = size {
            table.push(Row::plain(vec![format!("from the track: {}", item.what), model, full]));
        }
    }
    table
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    let compression = match &seen.plan.compress {
        Ok(compression) => compression,
        Err(stop) => return json!({ "stop": stop }),
    };
    json!({
        "space": space(&compression.limits),
        "ground": compression.ground.as_ref().map(ground),
    })
}

/// The space there is, full size.
pub(super) fn space(limits: &Limits) -> Value {
    let inches = |size: Option<CompressedLength>| size.map(CompressedLength::in_inches);
    json!({
        "length_in": inches(limits.length),
        "depth_in": inches(limits.depth),
        "height_in": inches(limits.height),
    })
}

fn ground(stand: &Standpoint) -> Value {
    let survey = &stand.survey;
    json!({
        "outline": survey.ground.outline(),
        "turn_deg": survey.ground.turn().to_degrees(),
        "area_in2": survey.ground.area(),
        "track": survey.track.map(|track| json!({
            "centre": track.centre,
            "radius_in": track.radius.in_inches(),
            "inside": track.inside,
            "reach_inside_in": track.reach.inside.in_inches(),
            "reach_outside_in": track.reach.outside.in_inches(),
            "margin_in": track.margin.in_inches(),
        })),
        "clearance": stand.clearance.map(|clear| json!({
            "car_in": clear.car.in_inches(),
            "rule_in": clear.rule.map(ModelLength::in_inches),
            "kept_in": clear.kept.in_inches(),
        })),
        "built": stand.built.as_ref().map(placed),
        "longest": stand.placement.as_ref().map(placed),
        "aspect": stand.aspect,
        "largest": stand.largest.as_ref().map(placed),
        "taken": stand.taken.iter().map(|row| json!({
            "what": row.what,
            "depth_in": row.depth.in_inches(),
            "by_car": row.by_car.as_ref().map(placed),
            "by_rule": row.by_rule.as_ref().map(placed),
        })).collect::<Vec<_>>(),
    })
}

fn placed(it: &Placement) -> Value {
    json!({
        "front_in": it.front,
        "depth_in": it.depth,
        "angle_deg": it.angle.to_degrees(),
        "corners": it.corners(),
        "within_in": it.within,
    })
}
