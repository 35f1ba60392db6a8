//! The building against the track as tables. Cars, full-size rules and
//! published outlines stand side by side.
//!
//! JSON: `stop` where the stage could not go on, else `standards[]` (`name`,
//! `kind`, `source`, `reach_left_in`, `reach_right_in`; on the sharpest curve by
//! the formula `inside_reach_in`, `outside_reach_in`), `things[]` (`name`,
//! `what`, `offset_in` from the centre line on the plan, `ends_offset_in` of a
//! wall's two ends, `above_rail_in` and `above_rail_full_in` of its lowest point,
//! `held[]` in the order of the standards, null where one says nothing:
//! `clear_in` in space, `plan_gap_in` on the plan, whatever the height, `reach_in`
//! there, `rule_short_in` of a rule on the plan, `headroom_in` over a car,
//! `want_in`, `short_in`, `part`, `out_in`, `high_in`, `along_in`, `move_in`,
//! `raise_in`, `legs`), `further` (timbers left out, further off), `headroom[]`
//! (`body` on posts, `thing`, `standard`, `headroom_in`), `worst` (`thing`,
//! `standard`), `margin_in` (`margin`, `hand`, `paint`), `sharpest_in`, `spots`
//! (`car`, `pitch_in`, `cars`, `doors[]`), `floors[]`, `gauge_in[]` (left, right,
//! height) and `findings[]`. Lengths are model inches but those of `spots` and
//! `floors`, and `above_rail_full_in`, which are full size.

use serde_json::{Value, json};

use super::Seen;
use super::faces::stopped;
use super::table::{Mark, Row, Table, View};
use crate::clearance::{Checked, Clearance, Fix, Held, Kind, fix_words, told_short};
use crate::finding::Subject;
use crate::quantity::{Length, ModelLength, PrototypeLength, Space};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: clearance", seen.job.about.name);
    let found = match &seen.plan.clearance {
        Ok(Some(found)) => found,
        Ok(None) => return none(seen, title),
        Err(stop) => return stopped(title, stop),
    };
    let tables = vec![
        things(seen, found),
        standards(seen, found),
        doors(seen, found),
        floors(seen, found),
        on_plan(seen, found),
        headroom(seen, found),
        gauge(seen, found),
    ];
    View {
        title,
        lead: lead(seen, found),
        tables: tables.into_iter().filter(|table| !table.rows.is_empty()).collect(),
        next: "run a car along the track with the gauge before a post is glued".to_owned(),
        ..View::default()
    }
}

fn none(seen: Seen<'_>, title: String) -> View {
    // What is missing is named by the stage that misses it.
    let missing = seen.plan.compress.as_ref().err().or(seen.plan.stock.as_ref().err());
    let missing = missing.filter(|_| seen.job.track.is_some());
    let lead = match missing {
        Some(stop) => vec!["Nothing is held against the track yet.".to_owned(), stop.to_string()],
        None => vec!["No track in this job.".to_owned()],
    };
    let next = match missing {
        Some(stop) if !stop.hint.is_empty() => stop.hint.clone(),
        _ => "write [track] and [[track.piece]] into the job file".to_owned(),
    };
    View { title, lead, next, ..View::default() }
}

fn model(seen: Seen<'_>, inches: f64) -> String {
    seen.job.about.model_notation().show(&ModelLength::inches(inches))
}

fn lead(seen: Seen<'_>, found: &Clearance) -> Vec<String> {
    let [margin, hand, paint] = found.margin.map(|part| model(seen, part.in_inches()));
    let curve = match found.sharpest {
        Some(radius) => format!("sharpest curve {}", model(seen, radius.in_inches())),
        None => "straight track".to_owned(),
    };
    vec![
        verdict(seen, found, Kind::Car),
        format!("A car wants {margin} of margin, {hand} for handwork, {paint} for paint; {curve}."),
    ]
    .into_iter()
    .chain([Kind::Rule, Kind::Outline].into_iter().filter_map(|kind| {
        let any = found.standards.iter().any(|told| told.kind == kind);
        any.then(|| verdict(seen, found, kind))
    }))
    .collect()
}

/// In one sentence, the least to spare against cars, or rules, or outlines.
fn verdict(seen: Seen<'_>, found: &Clearance, kind: Kind) -> String {
    let each = found.checked.iter().flat_map(|it| {
        let held = it.held.iter().zip(&found.standards);
        held.filter(|(_, told)| told.kind == kind)
            .filter_map(move |(held, told)| Some((it, held.as_ref()?, told)))
    });
    // The first of those that are equally short.
    let mut each: Vec<_> = each.collect();
    each.reverse();
    let worst = each.into_iter().max_by(|a, b| a.1.short().total_cmp(&b.1.short()));
    let Some((thing, held, told)) = worst else {
        return "Nothing stands near the track.".to_owned();
    };
    let write = |inches: f64| model(seen, inches);
    if !held.is_short() {
        let part = if held.part.is_empty() { String::new() } else { format!(", {}", held.part) };
        return format!(
            "{} clears: {}{part} has {} to spare.",
            told.name,
            thing.name,
            write(-held.short())
        );
    }
    let short = told_short(thing, held, &write);
    format!("{} does not clear: {short}: {}.", told.name, fix_words(thing, held, &write))
}

/// Everything near the track, the tightest first.
fn things(seen: Seen<'_>, found: &Clearance) -> Table {
    let mut heads =
        vec!["thing".to_owned(), "part".to_owned(), ">out".to_owned(), ">over rail".to_owned()];
    for told in &found.standards {
        heads.push(format!(">{}", told.name));
        if told.kind == Kind::Car {
            heads.push(">spare".to_owned());
        }
    }
    heads.push("what to do".to_owned());
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    let mut table = Table::new("Near the track", &heads);
    let mut order: Vec<&Checked> = found.checked.iter().collect();
    order.sort_by(|a, b| tightest(b).total_cmp(&tightest(a)));
    for it in order {
        table.push(thing(seen, found, it));
    }
    if found.further > 0 {
        table.notes.push(format!(
            "{} timbers stand more than an inch beyond all that passes; they are not listed.",
            found.further
        ));
    }
    table.notes.push(
        "Under each name the free space from surface to surface; spare is what is over of what a car wants. Below zero it is short.".to_owned(),
    );
    table
}

/// Everything on the plan, whatever its height, the nearest first.
fn on_plan(seen: Seen<'_>, found: &Clearance) -> Table {
    let mut heads = vec!["thing".to_owned(), ">offset".to_owned(), ">lowest".to_owned()];
    heads.extend(found.standards.iter().map(|told| format!(">{}", told.name)));
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    let mut table = Table::new("On the plan", &heads);
    let mut order: Vec<&Checked> =
        found.checked.iter().filter(|it| !it.held.iter().all(Option::is_none)).collect();
    order.sort_by(|a, b| a.off.by.total_cmp(&b.off.by));
    for it in order {
        let mut cells = vec![it.name.clone(), model(seen, it.off.by), model(seen, it.heights[0])];
        cells.extend(it.held.iter().map(|held| {
            held.as_ref().map_or_else(|| "-".to_owned(), |held| model(seen, held.plan_gap))
        }));
        table.push(Row::about(it.subject.clone(), cells));
    }
    table.notes.push("From the centre line to the nearest point, whatever the height, and under each name what is left beyond its reach there, without margin and paint: below zero something hangs or stands over it. Lowest counts from the rail.".to_owned());
    table
}

/// What hangs over the cars.
fn headroom(seen: Seen<'_>, found: &Clearance) -> Table {
    let mut table = Table::new("Over the cars", &["thing", "car", ">headroom"]);
    for it in &found.checked {
        for (held, told) in it.held.iter().zip(&found.standards) {
            let Some(free) = held.as_ref().and_then(|held| held.headroom) else { continue };
            let cells = vec![it.name.clone(), told.name.clone(), model(seen, free)];
            let row = Row::about(it.subject.clone(), cells);
            table.push(if free < 0.0 { row.marked(Mark::Refused) } else { row });
        }
    }
    table.notes.push("The least from the car's roof, at its highest, to the underside, over all the car covers on the plan.".to_owned());
    table
}

fn tightest(it: &Checked) -> f64 {
    it.held.iter().flatten().map(Held::short).fold(f64::NEG_INFINITY, f64::max)
}

/// The one a row speaks of: the shortest car, else the shortest of all.
fn nearest(it: &Checked) -> Option<&Held> {
    it.held.iter().flatten().max_by(|a, b| a.short().total_cmp(&b.short()))
}

fn thing(seen: Seen<'_>, found: &Clearance, it: &Checked) -> Row {
    let near = nearest(it);
    let of = |pick: fn(&Held) -> f64| near.map_or(String::new(), |held| model(seen, pick(held)));
    let mut cells = vec![
        it.name.clone(),
        near.map_or("", |held| held.part).to_owned(),
        of(|held| held.out),
        of(|held| held.at[2]),
    ];
    for (held, told) in it.held.iter().zip(&found.standards) {
        let write = |pick: fn(&Held) -> f64| {
            held.as_ref().map_or_else(|| "-".to_owned(), |held| model(seen, pick(held)))
        };
        cells.push(write(|held| held.clear));
        if told.kind == Kind::Car {
            cells.push(write(|held| -held.short()));
        }
    }
    let write = |inches: f64| model(seen, inches);
    cells.push(near.map_or(String::new(), |held| fix_words(it, held, &write)));
    let short = it.held.iter().flatten().any(Held::is_short);
    let meets = it.held.iter().flatten().any(|held| held.clear < 0.0 && held.want > 0.0);
    let mark = if meets {
        Mark::Refused
    } else if short {
        Mark::Look
    } else {
        Mark::Plain
    };
    Row::about(it.subject.clone(), cells).marked(mark)
}

fn standards(seen: Seen<'_>, found: &Clearance) -> Table {
    let heads = ["what", "kind", ">reach left", ">reach right", "source"];
    let mut narrow = Vec::new();
    let mut table = Table::new("Held against it", &heads);
    for told in &found.standards {
        let side = |at: usize| {
            told.reach.map_or(String::new(), |reach| model(seen, reach[at].in_inches()))
        };
        let kind = match told.kind {
            Kind::Car => "car of the model",
            Kind::Rule => "full-size rule",
            Kind::Outline => "published outline",
        };
        if !told.widened {
            narrow.push(told.name.as_str());
        }
        table.push(Row::plain(vec![
            told.name.clone(),
            kind.to_owned(),
            side(0),
            side(1),
            told.source.clone(),
        ]));
    }
    table.notes.push("Reach from the centre line, at the tightest place. A rule swings with the longest car, so that a curve leaves as much free as straight track.".to_owned());
    if !narrow.is_empty() {
        table.notes.push(format!(
            "{}: as on straight track; its sheet prints no widening for this curve.",
            narrow.join(", ")
        ));
    }
    for told in found.standards.iter().filter(|told| told.kind == Kind::Car) {
        let Some([inside, outside]) = told.on_curve else { continue };
        table.notes.push(format!(
            "{}: on the sharpest curve {} towards its centre and {} away from it.",
            told.name,
            model(seen, inside.in_inches()),
            model(seen, outside.in_inches())
        ));
    }
    table
}

fn full<S: Space>(seen: Seen<'_>, length: Length<S>) -> String {
    seen.job.about.full_notation().show(&length)
}

fn doors(seen: Seen<'_>, found: &Clearance) -> Table {
    let heads = ["door", ">middle", ">car door", ">off", ">open", ">of"];
    let mut table = Table::new("Doors and cars", &heads);
    let Some(spots) = &found.spots else { return table };
    for door in &spots.doors {
        let row = Row::about(
            Subject::Obstacle(door.door.clone()),
            vec![
                door.door.clone(),
                full(seen, door.middle),
                full(seen, door.car),
                full(seen, door.off()),
                full(seen, door.open),
                full(seen, door.full),
            ],
        );
        table.push(if door.meets() { row } else { row.marked(Mark::Look) });
    }
    let first = if spots.said { "as said" } else { "where most doors open" };
    table.notes.push(format!(
        "{}: {} cars stand before the front, every {}; the first has its middle at {}, {first}.",
        spots.car,
        spots.cars,
        full(seen, spots.pitch),
        full(seen, spots.first)
    ));
    table
}

fn floors(seen: Seen<'_>, found: &Clearance) -> Table {
    let heads = ["platform", ">top over rail", "car", ">its floor", ">platform above"];
    let mut table = Table::new("Platforms and floors", &heads);
    for floor in &found.floors {
        let row = Row::about(
            Subject::Obstacle(floor.platform.clone()),
            vec![
                floor.platform.clone(),
                full(seen, floor.top),
                floor.car.clone(),
                full(seen, floor.floor),
                full(seen, floor.above()),
            ],
        );
        table.push(if floor.rolls() { row } else { row.marked(Mark::Look) });
    }
    table
}

fn gauge(seen: Seen<'_>, found: &Clearance) -> Table {
    let mut table = Table::new("Gauge", &[">over rail", ">left", ">right"]);
    for [left, right, high] in &found.gauge {
        let cells = [high, left, right].map(|it| model(seen, it.in_inches()));
        table.push(Row::plain(cells.to_vec()));
    }
    table.notes.push("The outline that must pass at the tightest place, margins included: cut it in card, stand it on the rails, run it along. Left and right as one looks along the track.".to_owned());
    table
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    let found = match &seen.plan.clearance {
        Ok(Some(found)) => found,
        Ok(None) => return json!({ "standards": [], "things": [] }),
        Err(stop) => return json!({ "stop": stop }),
    };
    let name = |at: usize| found.checked.get(at).map(|it| it.name.clone());
    json!({
        "standards": found.standards.iter().map(|told| json!({
            "name": told.name,
            "kind": told.kind,
            "source": told.source,
            "reach_left_in": told.reach.map(|reach| reach[0].in_inches()),
            "reach_right_in": told.reach.map(|reach| reach[1].in_inches()),
            "inside_reach_in": told.on_curve.map(|reach| reach[0].in_inches()),
            "outside_reach_in": told.on_curve.map(|reach| reach[1].in_inches()),
        })).collect::<Vec<_>>(),
        "things": found.checked.iter().map(|it| json!({
            "name": it.name,
            "what": it.what,
            "offset_in": it.off.by,
            "ends_offset_in": it.ends,
            "above_rail_in": it.heights[0],
            "above_rail_full_in": full_inches(seen, it.heights[0]),
            "held": it.held.iter().map(|held| held.as_ref().map(held_json)).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "further": found.further,
        "headroom": found.headroom.iter().map(|it| json!({
            "body": it.body,
            "thing": name(it.thing),
            "standard": found.standards.get(it.standard).map(|told| &told.name),
            "headroom_in": it.least,
        })).collect::<Vec<_>>(),
        "worst": found.worst.map(|(thing, of)| json!({
            "thing": name(thing),
            "standard": found.standards.get(of).map(|told| &told.name),
        })),
        "margin_in": {
            "margin": found.margin[0].in_inches(),
            "hand": found.margin[1].in_inches(),
            "paint": found.margin[2].in_inches(),
        },
        "sharpest_in": found.sharpest.map(ModelLength::in_inches),
        "spots": found.spots.as_ref().map(|spots| json!({
            "car": spots.car,
            "pitch_in": spots.pitch.in_inches(),
            "cars": spots.cars,
            "doors": spots.doors.iter().map(|door| json!({
                "door": door.door,
                "middle_in": door.middle.in_inches(),
                "car_in": door.car.in_inches(),
                "open_in": door.open.in_inches(),
                "of_in": door.full.in_inches(),
            })).collect::<Vec<_>>(),
        })),
        "floors": found.floors.iter().map(|floor| json!({
            "platform": floor.platform,
            "top_in": floor.top.in_inches(),
            "car": floor.car,
            "floor_in": floor.floor.in_inches(),
        })).collect::<Vec<_>>(),
        "gauge_in": found.gauge.iter().map(|point| point.map(ModelLength::in_inches)).collect::<Vec<_>>(),
    })
}

/// Model inches at full size.
fn full_inches(seen: Seen<'_>, inches: f64) -> Option<f64> {
    let scale = seen.plan.scale.as_ref().ok()?;
    let full: PrototypeLength = scale.enlarge(ModelLength::inches(inches));
    Some(full.in_inches())
}

fn held_json(held: &Held) -> Value {
    let (by, legs, raise) = match held.fix {
        Some(Fix::Move { by, legs }) => (Some(by), legs, None),
        Some(Fix::Raise(by)) => (None, None, Some(by)),
        None => (None, None, None),
    };
    json!({
        "clear_in": held.clear,
        "plan_gap_in": held.plan_gap,
        "reach_in": held.reach,
        "rule_short_in": held.rule_short,
        "headroom_in": held.headroom,
        "want_in": held.want,
        "short_in": held.short(),
        "part": held.part,
        "out_in": held.out,
        "high_in": held.at[2],
        "along_in": held.along,
        "move_in": by,
        "raise_in": raise,
        "legs": legs,
    })
}
