//! The site: its outline, the track and the car on it, and where the building
//! stands.

use super::Seen;
use super::cell::Cell;
use super::column::{only, text};
use super::draft::{one, rows};
use super::faces::Sizes;
use super::table::{Mark, Table, View};
use crate::compress::limits::Limits;
use crate::compress::{Compression, Standpoint};
use crate::finding::Subject;
use crate::quantity::ModelLength;
use crate::site::{Placement, Track};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: site", seen.job.about.name);
    let compression = match &seen.plan.compress {
        Ok(compression) => compression,
        Err(stop) => return View::stopped(title, stop),
    };
    let sizes = Sizes::of(seen);
    let mut tables = vec![space("space", &compression.limits), ground(compression.ground.as_ref())];
    if let Some(stand) = &compression.ground {
        tables.extend([placement(stand, &sizes), longest(stand, &sizes), outline(stand, &sizes)]);
        tables.extend(stand.survey.track.map(|track| curve(stand, &track, &sizes)));
    }
    tables.push(straight(seen, compression, &sizes));
    View {
        title,
        lead: lead(compression, &sizes),
        tables,
        next: "compress: the ways to make the building fit".to_owned(),
        ..View::default()
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
pub(super) fn both_clearances(stand: &Standpoint, sizes: &Sizes) -> Option<String> {
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
    let corners = stand.built.as_ref().map(Placement::corners);
    let sides = ["front", "right end", "back", "left end"];
    let walls = corners.iter().flat_map(|at| {
        let wall = |side: usize| (sides[side], at[side], at[(side + 1) % 4]);
        (0..4).map(wall)
    });
    type Wall = (&'static str, [f64; 2], [f64; 2]);
    let away = |(_, from, to): Wall| stand.survey.track.map(|track| track.nearest(from, to));
    let rule = stand.clearance.and_then(|clear| clear.rule);
    let car = stand.clearance.map(|clear| clear.car);
    let over = |wall: Wall, clear: Option<ModelLength>| {
        away(wall).zip(clear).map(|(away, clear)| away - clear)
    };
    let model = |id: &str, head: &str| sizes.on_model(id, head);
    rows("walls", "Where it stands", walls)
        .screen()
        .about(|_| Subject::Job)
        .marked(|wall| match over(wall, rule) {
            Some(over) if over < ModelLength::ZERO => Mark::Look,
            _ => Mark::Plain,
        })
        .col(text("wall", "wall"), |(name, ..)| name)
        .col(model("from_x", "from x"), |(_, from, _)| ModelLength::inches(from[0]))
        .col(model("from_y", "from y"), |(_, from, _)| ModelLength::inches(from[1]))
        .col(model("to_x", "to x"), |(.., to)| ModelLength::inches(to[0]))
        .col(model("to_y", "to y"), |(.., to)| ModelLength::inches(to[1]))
        .col(model("track", "to track"), away)
        .col(model("over_car", "over car"), |wall| over(wall, car))
        .col(model("over_rule", "over rule"), |wall| over(wall, rule))
        .note("Model sizes on the axes of the outline; the front faces down.")
        .notes(car.map(|_| {
            "\"over\" is what is left beyond the car with its margin, and beyond the rule; \
             below zero it stands too near by that figure."
        }))
        .table()
}

/// What the ground takes at several depths, clear of the car and by the rule.
fn longest(stand: &Standpoint, sizes: &Sizes) -> Table {
    let front = |placed: &Option<Placement>| placed.map(|it| ModelLength::inches(it.front));
    let full = |placed: &Option<Placement>| front(placed).and_then(|it| sizes.enlarge(it));
    rows("longest", "The longest front", &stand.taken)
        .screen()
        .col(text("what", "depth"), |it| it.what)
        .col(sizes.full_size("full", "full size"), |it| it.depth)
        .col(sizes.on_model("model", "model"), |it| sizes.reduce(it.depth))
        .col(sizes.full_size("by_car", "front by car").blank("-"), |it| full(&it.by_car))
        .col(sizes.on_model("by_car_model", "model"), |it| front(&it.by_car))
        .col(sizes.full_size("by_rule", "front by rule").blank("-"), |it| full(&it.by_rule))
        .col(sizes.on_model("by_rule_model", "model"), |it| front(&it.by_rule))
        .col(text("turned", "turned"), |it| it.by_car.as_ref().map(turned))
        .table()
}

fn outline(stand: &Standpoint, sizes: &Sizes) -> Table {
    let turn = stand.survey.ground.turn().to_degrees();
    let side = |a: [f64; 2], b: [f64; 2]| ModelLength::inches((b[0] - a[0]).hypot(b[1] - a[1]));
    rows("outline", "The outline", stand.survey.ground.sides().enumerate())
        .screen()
        .col(text("corner", "corner"), |(at, _)| at + 1)
        .col(sizes.on_model("x", "x"), |(_, (a, _))| ModelLength::inches(a[0]))
        .col(sizes.on_model("y", "y"), |(_, (a, _))| ModelLength::inches(a[1]))
        .col(sizes.on_model("next", "to the next"), |(_, (a, b))| side(a, b))
        .col(sizes.full_size("full", "full size").blank("-"), |(_, (a, b))| {
            sizes.enlarge(side(a, b))
        })
        .note(if turn > 0.0 {
            format!("A building may be turned up to {turn:.0} degrees either way.")
        } else {
            "A building may not be turned: give the site a `turn` to allow it.".to_owned()
        })
        .table()
}

/// Sizes by name, on the model and at full size.
fn named<N: AsRef<str>>(
    id: &str,
    title: &str,
    sizes: &Sizes,
    named: &[(N, ModelLength)],
) -> super::draft::Draft<(usize, ModelLength)> {
    let all = named.iter().enumerate().map(|(at, (_, size))| (at, *size));
    rows(id, title, all)
        .screen()
        .col(text("what", "what"), |(at, _)| named[at].0.as_ref())
        .col(sizes.on_model("model", "model"), |(_, size)| size)
        .col(sizes.full_size("full", "full size").blank("-"), |(_, size)| sizes.enlarge(size))
}

fn curve(stand: &Standpoint, track: &Track, sizes: &Sizes) -> Table {
    let mut all = vec![
        ("radius of the centre line", track.radius),
        ("car over its ends", track.car_length),
        ("car width", track.car_width),
        ("car reaches inside the curve", track.reach.inside),
        ("car reaches outside the curve", track.reach.outside),
        ("margin", track.margin),
    ];
    if let Some(clear) = stand.clearance {
        all.push(("needed by the car, with the margin", clear.car));
        all.extend(clear.rule.map(|rule| ("asked by the full-size rule", rule)));
        all.push(("kept", clear.kept));
    }
    let side = if track.inside { "inside" } else { "outside" };
    named("track", "The track", sizes, &all)
        .note(format!("The building stands {side} the curve."))
        .note(
            "The car's reach is geometry for a car that stands still: local codes and a gauge car \
             on the real track have the last word.",
        )
        .table()
}

/// The straight space: what it takes, and the stack from the track centre.
fn straight(seen: Seen<'_>, compression: &Compression, sizes: &Sizes) -> Table {
    let limits = &compression.limits;
    let left = [("length", limits.length), ("depth", limits.depth), ("height", limits.height)];
    let left = left
        .into_iter()
        .filter_map(|(what, size)| Some((format!("left for {what}"), sizes.reduce(size?)?)));
    let stack = seen.job.space.iter().flat_map(|space| &space.stack).filter_map(|item| {
        let full = item.full.as_ref().and_then(|full| sizes.reduce(full.length()));
        let size = item.model.as_ref().map(|model| model.length()).or(full)?;
        Some((format!("from the track: {}", item.what), size))
    });
    named("straight", "The straight space", sizes, &left.chain(stack).collect::<Vec<_>>()).table()
}

/// The space there is, full size.
pub(super) fn space(id: &str, limits: &Limits) -> Table {
    one(id, Some(limits))
        .col(only("length_in"), |it| it.length)
        .col(only("depth_in"), |it| it.depth)
        .col(only("height_in"), |it| it.height)
        .table()
}

/// The ground and where the building stands on it, model inches on the axes of
/// the outline.
fn ground(stand: Option<&Standpoint>) -> Table {
    one("ground", stand)
        .col(only("outline"), |it| Cell::data(it.survey.ground.outline()))
        .col(only("turn_deg"), |it| it.survey.ground.turn().to_degrees())
        .col(only("area_in2"), |it| it.survey.ground.area())
        .within(
            "track",
            |it| it.survey.track,
            |it| {
                one("track", it)
                    .col(only("centre"), |it| it.centre)
                    .col(only("radius_in"), |it| it.radius)
                    .col(only("inside"), |it| it.inside)
                    .col(only("reach_inside_in"), |it| it.reach.inside)
                    .col(only("reach_outside_in"), |it| it.reach.outside)
                    .col(only("margin_in"), |it| it.margin)
                    .table()
            },
        )
        .within(
            "clearance",
            |it| it.clearance,
            |it| {
                one("clearance", it)
                    .col(only("car_in"), |it| it.car)
                    .col(only("rule_in"), |it| it.rule)
                    .col(only("kept_in"), |it| it.kept)
                    .table()
            },
        )
        .within("built", |it| it.built.as_ref(), placed)
        .within("longest", |it| it.placement.as_ref(), placed)
        .col(only("aspect"), |it| it.aspect)
        .within("largest", |it| it.largest.as_ref(), placed)
        .within(
            "taken",
            |it| &it.taken[..],
            |taken| {
                rows("taken", "", taken)
                    .col(only("what"), |it| it.what)
                    .col(only("depth_in"), |it| it.depth)
                    .within("by_car", |it| it.by_car.as_ref(), placed)
                    .within("by_rule", |it| it.by_rule.as_ref(), placed)
                    .table()
            },
        )
        .table()
}

fn placed(it: Option<&Placement>) -> Table {
    one("placed", it)
        .col(only("front_in"), |it| it.front)
        .col(only("depth_in"), |it| it.depth)
        .col(only("angle_deg"), |it| it.angle.to_degrees())
        .col(only("corners"), |it| Cell::data(it.corners()))
        .col(only("within_in"), |it| it.within)
        .table()
}
