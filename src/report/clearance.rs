//! The building against the track as tables. Cars, full-size rules and
//! published outlines stand side by side.

use super::Seen;
use super::cell::Cell;
use super::column::{only, text};
use super::draft::{one, own, rows};
use super::sizes::Sizes;
use super::table::{Mark, Table, View};
use crate::clearance::{Checked, Clearance, Fix, Held, Kind, Spots, Told, fix_words, told_short};
use crate::finding::Subject;
use crate::quantity::ModelLength;

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: clearance", seen.job.about.name);
    let found = match &seen.plan.clearance {
        Ok(Some(found)) => found,
        Ok(None) => return none(seen, title),
        Err(stop) => return View::stopped(title, stop),
    };
    let sizes = Sizes::of(seen);
    View {
        title,
        lead: lead(&sizes, found),
        tables: vec![
            things(&sizes, found),
            standards(&sizes, found),
            one("spots", found.spots.as_ref())
                .col(only("car"), |it| &it.car)
                .col(only("pitch_in"), |it| it.pitch)
                .col(only("cars"), |it| it.cars)
                .within("doors", Some, |spots| doors(&sizes, spots))
                .table(),
            floors(&sizes, found),
            on_plan(&sizes, found),
            over_cars(&sizes, found),
            gauge(&sizes, found),
            headroom(found),
            worst(found),
            one("margin_in", Some(found.margin))
                .col(only("margin"), |it| it[0])
                .col(only("hand"), |it| it[1])
                .col(only("paint"), |it| it[2])
                .table(),
            own(found)
                .col(only("further"), |it| it.further)
                .col(only("sharpest_in"), |it| it.sharpest)
                .col(only("gauge_in"), |it| Cell::list(it.gauge.iter().copied()))
                .table(),
        ],
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
    let nothing = |key| rows(key, "", [(); 0]).table();
    let tables = vec![nothing("standards"), nothing("things")];
    View { title, lead, tables, next, ..View::default() }
}

fn model(inches: f64) -> ModelLength {
    ModelLength::inches(inches)
}

fn lead(sizes: &Sizes, found: &Clearance) -> Vec<String> {
    let [margin, hand, paint] = found.margin.map(|part| sizes.model_alone(part));
    let curve = match found.sharpest {
        Some(radius) => format!("sharpest curve {}", sizes.model_alone(radius)),
        None => "straight track".to_owned(),
    };
    vec![
        verdict(sizes, found, Kind::Car),
        format!("A car wants {margin} of margin, {hand} for handwork, {paint} for paint; {curve}."),
    ]
    .into_iter()
    .chain([Kind::Rule, Kind::Outline].into_iter().filter_map(|kind| {
        let any = found.standards.iter().any(|told| told.kind == kind);
        any.then(|| verdict(sizes, found, kind))
    }))
    .collect()
}

/// In one sentence, the least to spare against cars, or rules, or outlines.
fn verdict(sizes: &Sizes, found: &Clearance, kind: Kind) -> String {
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
    let write = |inches: f64| sizes.model_alone(model(inches));
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
fn things(sizes: &Sizes, found: &Clearance) -> Table {
    let mut order: Vec<&Checked> = found.checked.iter().collect();
    order.sort_by(|a, b| tightest(b).total_cmp(&tightest(a)));
    let near = |it: &Checked, pick: fn(&Held) -> f64| nearest(it).map(|held| model(pick(held)));
    let write = |inches: f64| sizes.model_alone(model(inches));
    let mut draft = rows("things", "Near the track", order)
        .about(|it| it.subject.clone())
        .marked(mark)
        .col(text("name", "thing"), |it| &it.name)
        .col(text("part", "part").screen(), |it| nearest(it).map(|held| held.part))
        .col(sizes.on_model("out", "out").blank("").screen(), |it| near(it, |held| held.out))
        .col(sizes.on_model("high", "over rail").blank("").screen(), |it| {
            near(it, |held| held.at[2])
        });
    for (at, told) in found.standards.iter().enumerate() {
        let of = |it: &Checked, pick: fn(&Held) -> f64| Some(model(pick(it.held[at].as_ref()?)));
        draft = draft
            .col(sizes.on_model(&told.name, &told.name).screen(), |it| of(it, |held| held.clear));
        if told.kind == Kind::Car {
            let column = sizes.on_model(&format!("{}: spare", told.name), "spare");
            draft = draft.col(column.screen(), |it| of(it, |held| -held.short()));
        }
    }
    draft
        .col(text("fix", "what to do").screen(), |it| {
            nearest(it).map(|held| fix_words(it, held, &write))
        })
        .col(only("what"), |it| Cell::data(it.what))
        .col(only("offset_in"), |it| model(it.off.by))
        .col(only("ends_offset_in"), |it| it.ends.map(|ends| ends.map(model)))
        .col(only("above_rail_in"), |it| model(it.heights[0]))
        .col(only("above_rail_full_in"), |it| sizes.enlarge(model(it.heights[0])))
        .within("held", |it| &it.held[..], held)
        .notes((found.further > 0).then(|| format!(
            "{} timbers stand more than an inch beyond all that passes; they are not listed.",
            found.further
        )))
        .note("Under each name the free space from surface to surface; spare is what is over of what a car wants. Below zero it is short.")
        .table()
}

fn tightest(it: &Checked) -> f64 {
    it.held.iter().flatten().map(Held::short).fold(f64::NEG_INFINITY, f64::max)
}

/// The one a row speaks of: the shortest car, else the shortest of all.
fn nearest(it: &Checked) -> Option<&Held> {
    it.held.iter().flatten().max_by(|a, b| a.short().total_cmp(&b.short()))
}

fn mark(it: &Checked) -> Mark {
    let mut held = it.held.iter().flatten();
    if held.clone().any(|held| held.clear < 0.0 && held.want > 0.0) {
        Mark::Refused
    } else if held.any(Held::is_short) {
        Mark::Look
    } else {
        Mark::Plain
    }
}

/// A thing against each standard, in the order of the standards; null where one
/// says nothing.
fn held(held: &[Option<Held>]) -> Table {
    fn of<C: Into<Cell>>(held: &Option<Held>, pick: impl Fn(&Held) -> C) -> Cell {
        held.as_ref().map_or(Cell::Absent, |held| pick(held).into())
    }
    let size = |pick: fn(&Held) -> f64| move |it: &Option<Held>| of(it, |it| model(pick(it)));
    let maybe =
        |pick: fn(&Held) -> Option<f64>| move |it: &Option<Held>| of(it, |it| pick(it).map(model));
    rows("held", "", held)
        .col(only("clear_in"), size(|it| it.clear))
        .col(only("plan_gap_in"), size(|it| it.plan_gap))
        .col(only("reach_in"), size(|it| it.reach))
        .col(only("rule_short_in"), maybe(|it| it.rule_short))
        .col(only("headroom_in"), maybe(|it| it.headroom))
        .col(only("want_in"), size(|it| it.want))
        .col(only("short_in"), size(Held::short))
        .col(only("part"), |it| of(it, |it| it.part))
        .col(only("out_in"), size(|it| it.out))
        .col(only("high_in"), size(|it| it.at[2]))
        .col(only("along_in"), size(|it| it.along))
        .col(
            only("move_in"),
            maybe(|it| match it.fix? {
                Fix::Move { by, .. } => Some(by),
                Fix::Raise(_) => None,
            }),
        )
        .col(
            only("raise_in"),
            maybe(|it| match it.fix? {
                Fix::Raise(by) => Some(by),
                Fix::Move { .. } => None,
            }),
        )
        .col(only("legs"), |it| {
            of(it, |it| match it.fix? {
                Fix::Move { legs, .. } => legs,
                Fix::Raise(_) => None,
            })
        })
        .table()
}

/// Everything on the plan, whatever its height, the nearest first.
fn on_plan(sizes: &Sizes, found: &Clearance) -> Table {
    let mut order: Vec<&Checked> =
        found.checked.iter().filter(|it| !it.held.iter().all(Option::is_none)).collect();
    order.sort_by(|a, b| a.off.by.total_cmp(&b.off.by));
    let mut draft = rows("on_plan", "On the plan", order)
        .screen()
        .about(|it| it.subject.clone())
        .col(text("name", "thing"), |it| &it.name)
        .col(sizes.on_model("offset", "offset"), |it| model(it.off.by))
        .col(sizes.on_model("lowest", "lowest"), |it| model(it.heights[0]));
    for (at, told) in found.standards.iter().enumerate() {
        draft = draft.col(sizes.on_model(&told.name, &told.name), |it| {
            it.held[at].as_ref().map(|held| model(held.plan_gap))
        });
    }
    draft.note("From the centre line to the nearest point, whatever the height, and under each name what is left beyond its reach there, without margin and paint: below zero something hangs or stands over it. Lowest counts from the rail.").table()
}

/// What hangs over the cars.
fn over_cars(sizes: &Sizes, found: &Clearance) -> Table {
    let over = found.checked.iter().flat_map(|it| {
        let held = it.held.iter().zip(&found.standards);
        held.filter_map(move |(held, told)| Some((it, told, held.as_ref()?.headroom?)))
    });
    rows("over_cars", "Over the cars", over)
        .screen()
        .about(|(it, ..)| it.subject.clone())
        .marked(|(.., free)| if free < 0.0 { Mark::Refused } else { Mark::Plain })
        .col(text("name", "thing"), |(it, ..)| &it.name)
        .col(text("car", "car"), |(_, told, _)| &told.name)
        .col(sizes.on_model("headroom", "headroom"), |(.., free)| model(free))
        .note("The least from the car's roof, at its highest, to the underside, over all the car covers on the plan.")
        .table()
}

fn standard(found: &Clearance, at: usize) -> Option<&String> {
    found.standards.get(at).map(|told| &told.name)
}

fn thing(found: &Clearance, at: usize) -> Option<&String> {
    found.checked.get(at).map(|it| &it.name)
}

/// Under each body on posts, the least over the cars.
fn headroom(found: &Clearance) -> Table {
    rows("headroom", "", &found.headroom)
        .col(only("body"), |it| &it.body)
        .col(only("thing"), |it| thing(found, it.thing))
        .col(only("standard"), |it| standard(found, it.standard))
        .col(only("headroom_in"), |it| model(it.least))
        .table()
}

fn worst(found: &Clearance) -> Table {
    one("worst", found.worst)
        .col(only("thing"), |(at, _)| thing(found, at))
        .col(only("standard"), |(_, of)| standard(found, of))
        .table()
}

fn standards(sizes: &Sizes, found: &Clearance) -> Table {
    let kind = |it: &Told| match it.kind {
        Kind::Car => "car of the model",
        Kind::Rule => "full-size rule",
        Kind::Outline => "published outline",
    };
    let narrow = found.standards.iter().filter(|told| !told.widened);
    let narrow: Vec<&str> = narrow.map(|told| told.name.as_str()).collect();
    let cars = found.standards.iter().filter(|told| told.kind == Kind::Car);
    rows("standards", "Held against it", &found.standards)
        .col(text("name", "what"), |it| &it.name)
        .col(text("kind", "kind"), |it| Cell::said(kind(it), Cell::data(it.kind)))
        .col(sizes.on_model("reach_left_in", "reach left").blank(""), |it| Some(it.reach?[0]))
        .col(sizes.on_model("reach_right_in", "reach right").blank(""), |it| Some(it.reach?[1]))
        .col(only("inside_reach_in"), |it| Some(it.on_curve?[0]))
        .col(only("outside_reach_in"), |it| Some(it.on_curve?[1]))
        .col(text("source", "source"), |it| &it.source)
        .note("Reach from the centre line, at the tightest place. A rule swings with the longest car, so that a curve leaves as much free as straight track.")
        .notes((!narrow.is_empty()).then(|| format!(
            "{}: as on straight track; its sheet prints no widening for this curve.",
            narrow.join(", ")
        )))
        .notes(cars.filter_map(|told| {
            let [inside, outside] = told.on_curve?.map(|reach| sizes.model_alone(reach));
            Some(format!(
                "{}: on the sharpest curve {inside} towards its centre and {outside} away from it.",
                told.name,
            ))
        }))
        .table()
}

fn doors(sizes: &Sizes, spots: Option<&Spots>) -> Table {
    rows("doors", "Doors and cars", spots.iter().flat_map(|spots| &spots.doors))
        .about(|it| Subject::Obstacle(it.door.clone()))
        .marked(|it| if it.meets() { Mark::Plain } else { Mark::Look })
        .col(text("door", "door"), |it| &it.door)
        .col(sizes.full_size("middle_in", "middle"), |it| it.middle)
        .col(sizes.full_size("car_in", "car door"), |it| it.car)
        .col(sizes.full_size("off", "off").screen(), |it| it.off())
        .col(sizes.full_size("open_in", "open"), |it| it.open)
        .col(sizes.full_size("of_in", "of"), |it| it.full)
        .notes(spots.map(|spots| {
            format!(
                "{}: {} cars stand before the front, every {}; the first has its middle at {}, {}.",
                spots.car,
                spots.cars,
                sizes.full(spots.pitch),
                sizes.full(spots.first),
                if spots.said { "as said" } else { "where most doors open" }
            )
        }))
        .table()
}

fn floors(sizes: &Sizes, found: &Clearance) -> Table {
    rows("floors", "Platforms and floors", &found.floors)
        .about(|it| Subject::Obstacle(it.platform.clone()))
        .marked(|it| if it.rolls() { Mark::Plain } else { Mark::Look })
        .col(text("platform", "platform"), |it| &it.platform)
        .col(sizes.full_size("top_in", "top over rail"), |it| it.top)
        .col(text("car", "car"), |it| &it.car)
        .col(sizes.full_size("floor_in", "its floor"), |it| it.floor)
        .col(sizes.full_size("above", "platform above").screen(), |it| it.above())
        .table()
}

fn gauge(sizes: &Sizes, found: &Clearance) -> Table {
    rows("gauge", "Gauge", &found.gauge)
        .screen()
        .col(sizes.on_model("high", "over rail"), |it| it[2])
        .col(sizes.on_model("left", "left"), |it| it[0])
        .col(sizes.on_model("right", "right"), |it| it[1])
        .note("The outline that must pass at the tightest place, margins included: cut it in card, stand it on the rails, run it along. Left and right as one looks along the track.")
        .table()
}
