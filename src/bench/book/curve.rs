//! Curves of a track: radius, degree, mid-ordinate, what a car sweeps.

use crate::bench::answer::{Answer, Drawn, Figure, List, plain, read};
use crate::bench::desk::Desk;
use crate::bench::said::{Line, any, named};
use crate::finding::Stop;
use crate::quantity::{Angle, ModelLength, PrototypeLength};
use crate::site::reach;
use crate::sums::curve::{
    degree_by_chord, mid_ordinate, radius_by_arc, radius_by_chord, radius_of,
};

/// A radius under this is one on the model: no full-size track turns in it.
const FULL_SIZE_FROM_FEET: f64 = 20.0;
const DOING: &str = "working out a curve";
const EXAMPLE: &str = "25 deg curve at S";

/// Chord and arc of the degree of curve.
fn hundred() -> PrototypeLength {
    PrototypeLength::feet(100.0)
}

/// A car on the curve, on the model.
struct OnCurve {
    name: String,
    length: ModelLength,
    centres: ModelLength,
    width: ModelLength,
}

/// A curve by its degree, its radius, or a chord with its mid-ordinate.
pub(super) fn curve(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let degree = line.angle();
    let by_arc = line.has(&["arc"]);
    let [chord, middle, centres, width, wall, body, radius] = line.lengths([
        named(&["chord"]),
        named(&["ordinate", "versine", "middle"]),
        named(&["trucks", "truck", "centres", "centers", "bogie", "bogies"]),
        named(&["wide", "width"]),
        named(&["wall", "post", "obstacle", "building", "platform"]),
        named(&["car", "coach", "long", "body", "over", "boxcar"]),
        any(&["radius", "curve", "r", "on"]),
    ]);
    // `ordinate of 24 in radius over 6 in`: what is spanned is the chord.
    let asks = middle.is_none() && line.has(&["ordinate", "sagitta", "versine"]);
    let (chord, body) =
        if asks && chord.is_none() && radius.is_some() { (body, None) } else { (chord, body) };
    let model_radius = |full: PrototypeLength| {
        let on_model = desk.model || full.in_feet() < FULL_SIZE_FROM_FEET;
        if on_model { ModelLength::inches(full.in_inches()) } else { desk.scale.reduce(full) }
    };
    let (radius, how) = match (degree, radius, chord, middle) {
        (Some(degree), ..) => {
            let angle = Angle::degrees(degree.number());
            let found = if by_arc {
                radius_by_arc(angle, hundred())
            } else {
                radius_by_chord(angle, hundred())
            };
            let along = if by_arc { "arcs" } else { "chords" };
            let how = format!("{} degrees by {along} of 100 ft", plain(degree.number()));
            (found.map(|full| desk.scale.reduce(full)), how)
        }
        (None, Some(radius), ..) => (Some(model_radius(radius.full())), "by its radius".to_owned()),
        (None, None, Some(chord), Some(middle)) => (
            radius_of(chord.full(), middle.full()).map(model_radius),
            "by chord and mid-ordinate".to_owned(),
        ),
        _ => return Err(line.missing(DOING, "the radius, or the degree of curve", EXAMPLE)),
    };
    let radius = radius.filter(|r| *r > ModelLength::ZERO).ok_or_else(|| {
        Stop::new(
            DOING,
            "a curve turns by more than nothing and no more than half round",
            "write 25 deg, or a radius",
        )
    })?;
    let mut answer = heading(radius, &how, desk);
    if degree.is_some() || chord.is_none() || middle.is_none() {
        answer = ordinates(answer, radius, chord.map(|given| given.full()), desk);
    }
    let wall = wall.map(|given| {
        let full = given.full();
        if full.in_inches() < 12.0 || desk.model {
            ModelLength::inches(full.in_inches())
        } else {
            desk.scale.reduce(full)
        }
    });
    let car =
        said_car(body.map(|g| g.full()), centres.map(|g| g.full()), width.map(|g| g.full()), desk);
    answer = match car {
        Some(car) => one_car(answer, radius, &car, wall, desk),
        None => every_car(answer, radius, wall, desk),
    };
    Ok(finish(answer, radius))
}

fn heading(radius: ModelLength, how: &str, desk: &Desk<'_>) -> Answer {
    let full: PrototypeLength = desk.scale.enlarge(radius);
    let degree = degree_by_chord(full, hundred()).map(Angle::in_degrees);
    let by_arc = hundred().in_feet() / full.in_feet();
    let turned = degree.map_or("sharper than a chord of 100 ft can be".to_owned(), |d| {
        format!("{d:.2} degrees by the chord")
    });
    let mut answer = Answer::new("curve", format!("a curve {how}, at {}", desk.scale))
        .says(format!(
            "Radius {:.2} ft ({}) full size, {:.2} in ({:.1} mm) on the model at {}; {turned}.",
            full.in_feet(),
            desk.look.full.show(&full),
            radius.in_inches(),
            radius.in_millimetres(),
            desk.scale
        ))
        .number("radius, full size", full.in_feet(), "ft")
        .figure(Figure::model("radius on the model", radius, desk.look))
        .number("radius on the model, inches", radius.in_inches(), "in")
        .number("degree by arcs of 100 ft", by_arc.to_degrees(), "degrees");
    if let Some(degree) = degree {
        answer = answer.number("degree by chords of 100 ft", degree, "degrees");
    }
    answer
}

/// Mid-ordinates of some chords, and of the one asked for.
fn ordinates(
    mut answer: Answer,
    radius: ModelLength,
    asked: Option<PrototypeLength>,
    desk: &Desk<'_>,
) -> Answer {
    let full: PrototypeLength = desk.scale.enlarge(radius);
    if let Some(chord) = asked {
        // A chord shorter than a foot is laid on the model.
        let chord = if chord.in_inches() < 12.0 || desk.model {
            desk.scale.enlarge(ModelLength::inches(chord.in_inches()))
        } else {
            chord
        };
        if let Some(middle) = mid_ordinate(full, chord) {
            let short = chord.in_inches() * chord.in_inches() / (8.0 * full.in_inches());
            answer = answer
                .says(format!(
                    "Mid-ordinate of a chord of {}: {} in full size, {} on the model.",
                    desk.look.full.show(&chord),
                    plain(middle.in_inches()),
                    read(desk.scale.reduce(middle), desk.look)
                ))
                .figure(Figure::full("mid-ordinate", middle, (&desk.scale, desk.look)))
                .number("mid-ordinate, full size", middle.in_inches(), "in")
                .number("mid-ordinate by c^2 / 8R", short, "in");
        }
    }
    let mut list = List::new("Mid-ordinates on the model", &[">chord, in", ">in", ">mm"]);
    for inches in [3.0, 6.0, 9.0, 12.0, 18.0, 24.0] {
        if let Some(middle) = mid_ordinate(radius, ModelLength::inches(inches)) {
            list = list.row([
                plain(inches),
                format!("{:.4}", middle.in_inches()),
                format!("{:.2}", middle.in_millimetres()),
            ]);
        }
    }
    answer.list(list)
}

/// The car a line describes; what it leaves out is that of the car of the
/// catalogue nearest in length.
fn said_car(
    body: Option<PrototypeLength>,
    centres: Option<PrototypeLength>,
    width: Option<PrototypeLength>,
    desk: &Desk<'_>,
) -> Option<OnCurve> {
    let length = body.or(centres.map(|centres| centres * 1.4))?;
    let off = |car: &&crate::catalog::cars::Car| (car.length.length() - length).abs().in_inches();
    let like = desk.catalog.cars.rows.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    let share = like.map_or(0.7, |car| car.centres.length() / car.length.length());
    let wide = like.and_then(|car| {
        car.profile.iter().map(|[width, _]| width.length()).reduce(PrototypeLength::max)
    });
    let close = like.filter(|car| (car.length.length() - length).abs().in_inches() < 24.0);
    let usual = close.map_or(length * share, |car| car.centres.length());
    let reduce = |full: PrototypeLength| desk.scale.reduce(full);
    let given = centres.is_some() && width.is_some();
    Some(OnCurve {
        name: if given {
            "the car".to_owned()
        } else {
            like.map_or_else(|| "a car".to_owned(), |car| format!("a car like the {}", car.key))
        },
        length: reduce(length),
        centres: reduce(centres.unwrap_or(usual)),
        width: reduce(width.or(wide).unwrap_or(PrototypeLength::feet(10.0))),
    })
}

fn one_car(
    answer: Answer,
    radius: ModelLength,
    car: &OnCurve,
    wall: Option<ModelLength>,
    desk: &Desk<'_>,
) -> Answer {
    let Some(swept) = reach(radius, car.length, car.centres, car.width) else {
        return answer.trouble(
            "the trucks of the car are no chord of this curve",
            "take a wider curve or a shorter car",
        );
    };
    let middle = mid_ordinate(radius, car.centres).unwrap_or_default();
    let short = car.centres.in_inches() * car.centres.in_inches() / (8.0 * radius.in_inches());
    let half = car.width / 2.0;
    let mut answer = answer
        .says(format!(
            "{} reaches {} inside and {} outside the centre line; {} and {} more than on straight track.",
            sentence_case(&car.name),
            read(swept.inside, desk.look),
            read(swept.outside, desk.look),
            plain_mm(swept.inside - half),
            plain_mm(swept.outside - half)
        ))
        .figure(Figure::model("reach inside", swept.inside, desk.look))
        .figure(Figure::model("reach outside", swept.outside, desk.look))
        .figure(Figure::model("mid-ordinate of the trucks", middle, desk.look))
        .figure(Figure::model("mid-ordinate by b^2 / 8R", ModelLength::inches(short), desk.look))
        .figure(Figure::model("overhang inside", swept.inside - half, desk.look))
        .figure(Figure::model("overhang outside", swept.outside - half, desk.look));
    if let Some(wall) = wall {
        for (side, reach) in [("inside", swept.inside), ("outside", swept.outside)] {
            let left = wall - reach;
            answer =
                answer.figure(Figure::model(format!("room to the wall, {side}"), left, desk.look));
            if left < ModelLength::ZERO {
                answer = answer.trouble(
                    format!(
                        "{side} the curve the car strikes a wall {} from the centre line",
                        plain_mm(wall)
                    ),
                    format!("it is short by {}", plain_mm(-left)),
                );
            }
        }
    }
    answer
}

fn plain_mm(length: ModelLength) -> String {
    format!("{:.2} mm", length.in_millimetres())
}

fn sentence_case(text: &str) -> String {
    let mut characters = text.chars();
    characters.next().map_or(String::new(), |first| {
        first.to_uppercase().collect::<String>() + characters.as_str()
    })
}

/// What every car of the catalogue sweeps.
fn every_car(
    mut answer: Answer,
    radius: ModelLength,
    wall: Option<ModelLength>,
    desk: &Desk<'_>,
) -> Answer {
    let (unit, places) = if desk.look.is_metric() { ("mm", 2) } else { ("in", 3) };
    let amount = |length: ModelLength| {
        let value = if unit == "mm" { length.in_millimetres() } else { length.in_inches() };
        format!("{value:.places$}")
    };
    let heads =
        ["car", &format!(">inside, {unit}"), &format!(">outside, {unit}"), ">room to the wall"];
    let mut list = List::new("What cars reach from the centre line", &heads);
    for car in &desk.catalog.cars.rows {
        let wide = car.profile.iter().map(|[width, _]| width.length()).reduce(PrototypeLength::max);
        let model = |full: PrototypeLength| desk.scale.reduce(full);
        let swept = reach(
            radius,
            model(car.length.length()),
            model(car.centres.length()),
            model(wide.unwrap_or_default()),
        );
        if let Some(swept) = swept {
            let left =
                wall.map_or(String::new(), |wall| amount(wall - swept.inside.max(swept.outside)));
            list = list.row([car.key.clone(), amount(swept.inside), amount(swept.outside), left]);
        }
    }
    answer = answer.list(list);
    answer
}

fn finish(answer: Answer, radius: ModelLength) -> Answer {
    answer
        .by(
            "R = 50 ft / sin(D / 2) by chords of 100 ft; mid-ordinate R - sqrt(R^2 - (c/2)^2); inside w/2 and mid-ordinate, outside sqrt((R - m + w/2)^2 + (l/2)^2) - R",
            "NMRA S-8 prints radii by the chord, read; the reach of a car is Pythagoras",
            "25 degrees: 50 / sin(12.5) = 231.01 ft; at 1:64 43.31 in",
        )
        .drawn(Drawn::Rule(radius))
        .beside(["curve 24 in HO, car 85 ft, trucks 59 ft 6 in, 10 ft wide", "1 deg curve chord 62 ft", "chord 12 in, mid-ordinate 1/2 in model"])
}
