//! Published clearances on the model, and what a track gauge stands for.

use super::by;
use crate::bench::answer::{Answer, Drawn, Figure, List, plain, read};
use crate::bench::desk::Desk;
use crate::bench::said::{Line, any, named};
use crate::catalog::clearances::{Outline, Plate, Rule};
use crate::finding::Stop;
use crate::quantity::{ModelLength, Prototype, PrototypeLength, Written};

const DOING: &str = "looking up a clearance";

/// A published outline, a full-size rule or the outline of a plate.
pub(super) fn clearance(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let data = &desk.catalog.clearances;
    if line.has(&["plate"]) {
        let plate = data
            .plates
            .iter()
            .find(|plate| line.has(&[&format!("plate {}", plate.key.to_lowercase())]));
        let known: Vec<&str> = data.plates.iter().map(|plate| plate.key.as_str()).collect();
        return plate.map(|plate| plate_of(plate, desk)).ok_or_else(|| {
            Stop::new(
                DOING,
                "there is no such plate here",
                format!("there are: {}", known.join(", ")),
            )
        });
    }
    let nem = desk.scale.name.starts_with("NEM ");
    let wants_rule = line.has(&[
        "wac", "platform", "rule", "wall", "post", "narrow", "state", "car", "bridges", "bridge",
    ]);
    match data.outline(&desk.scale.name) {
        Some(outline) if nem && !wants_rule => outline_of(line, outline, desk),
        _ => {
            let narrow = line.has(&["narrow"]);
            let bridge = line.has(&["bridge", "bridges", "tunnel"]);
            let key = match (narrow, bridge) {
                (true, _) => "WAC 480-60 narrow",
                (_, true) => "WAC 480-60 bridges",
                _ => "WAC 480-60",
            };
            let rule = data
                .rule(key)
                .ok_or_else(|| Stop::new(DOING, "the rule is not in the data", ""))?;
            rule_of(line, rule, desk)
        }
    }
}

fn plate_of(plate: &Plate, desk: &Desk<'_>) -> Answer {
    let (width, height) = (plate.width.length(), plate.height.length());
    let model = |full: PrototypeLength| read(desk.scale.reduce(full), desk.look);
    Answer::new("clearance", format!("AAR plate {} at {}", plate.key, desk.scale))
        .says(format!(
            "Plate {}: {} wide, {} high; on the model {} by {}.",
            plate.key,
            plate.width,
            plate.height,
            model(width),
            model(height)
        ))
        .figure(Figure::full("width", width, by(desk)))
        .figure(Figure::full("height", height, by(desk)))
        .figure(Figure::full("truck centres to which it holds", plate.centres.length(), by(desk)))
        .by(
            "the outline of the plate over the scale",
            plate.source.clone(),
            format!("{} / {}", plate.width, plain(desk.scale.ratio.value())),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(width)))
}

fn outline_of(line: &mut Line<'_>, outline: &Outline, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let radius = line.length(named(&["radius", "curve", "r", "on"]));
    let data = &desk.catalog.clearances;
    let rows = [
        ("main width (BL1)", &outline.main_width),
        ("upper width (BL2)", &outline.upper_width),
        ("lower width (BL3)", &outline.lower_width),
        ("step (HL1)", &outline.step),
        ("goods dock (HL2)", &outline.dock),
        ("top of full width (HL3)", &outline.shoulder),
        ("top without wire (HL4)", &outline.top),
        ("foot of the wire (BL4)", &outline.wire_width),
        ("top of the wire (BL5)", &outline.wire_top_width),
        ("lowest wire (HL5)", &outline.wire_top),
    ];
    let mut answer = Answer::new("clearance", format!("track outline {}", outline.key));
    for (name, size) in rows {
        let mut figure = Figure::model(name, size.length(), desk.look);
        let full: PrototypeLength = desk.scale.enlarge(size.length());
        figure.on_model = format!("{} full size", desk.look.full.show(&full));
        answer = answer.figure(figure);
    }
    let mm = |size: &Written<crate::quantity::Model>| plain(size.length().in_millimetres());
    answer = answer.says(format!(
        "{} straight: main width {} mm (BL1), full width to {} mm (HL3), top {} mm (HL4), lowest wire {} mm (HL5).",
        outline.key,
        mm(&outline.main_width),
        mm(&outline.shoulder),
        mm(&outline.top),
        mm(&outline.wire_top)
    ));
    let mut sources = vec![format!("{}, {}", outline.source, outline.edition)];
    if let Some(radius) = radius {
        let radius = radius.model();
        let asked = ["a", "b", "c"].into_iter().find(|key| line.has(&[&format!("group {key}")]));
        let mut list = List::new("Widening on both sides", &["group", ">E, mm", ">width, mm"]);
        for group in ["A", "B", "C"] {
            let widening = data.widening(&outline.key, radius, group);
            let Some(widening) = widening else { continue };
            let width = outline.main_width.length() + widening * 2.0;
            let (e, wide) = (widening.in_millimetres(), width.in_millimetres());
            list = list.row([group.to_owned(), plain(e), plain(wide)]);
            if asked.is_none_or(|asked| asked.eq_ignore_ascii_case(group)) {
                answer = answer
                    .says(format!(
                        "On {} mm, group {group}: {} mm more on both sides, {} mm wide.",
                        plain(radius.in_millimetres()),
                        plain(e),
                        plain(wide)
                    ))
                    .number(format!("E of group {group}"), e, "mm")
                    .number(format!("width of group {group}"), wide, "mm");
            }
        }
        if list.rows.is_empty() {
            answer = answer
                .look("the sheet prints no value for so sharp a curve", "take a wider radius");
        }
        sources.push("NEM 103 for curves, straight lines between its radii".to_owned());
        answer = answer.list(list);
    }
    Ok(answer
        .by("looked up in the sheet; E is added on both sides on a curve", sources.join("; "), "")
        .drawn(Drawn::Rule(outline.main_width.length())))
}

fn rule_of(line: &mut Line<'_>, rule: &Rule, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let [platform, car, wall] = line.lengths([
        named(&["platform", "dock", "high"]),
        named(&["car", "wide", "width"]),
        named(&["wall", "post", "obstacle", "building", "away", "from"]),
    ]);
    let width = car.map_or(PrototypeLength::feet(10.0), |given| given.full());
    let mut answer = Answer::new("clearance", format!("{} at {}", rule.key, desk.scale));
    let side = rule.side(width);
    if let Some(side) = side {
        answer = answer
            .says(format!("{}: {} from the centre line.", rule.name, super::both(side, desk)))
            .figure(Figure::full("side, from the centre line", side, by(desk)));
    }
    if let Some(overhead) = rule.overhead.as_ref().map(Written::<Prototype>::length) {
        answer = answer
            .says(format!("Overhead {} above the rail.", super::both(overhead, desk)))
            .figure(Figure::full("overhead, above the rail", overhead, by(desk)));
    }
    if let Some(top) = platform {
        let for_what =
            if line.has(&["refrigerator"]) { Some("refrigerator loading") } else { None };
        answer = match rule.platform(top.full(), for_what) {
            Some(out) => answer
                .says(format!(
                    "A platform {} high: its edge {} from the centre line.",
                    desk.look.full.show(&top.full()),
                    super::both(out, desk)
                ))
                .figure(Figure::full("edge of the platform", out, by(desk))),
            None => answer
                .look("a platform so high counts as a building", "it stands at the side clearance"),
        };
    }
    if let (Some(wall), Some(side)) = (wall, side) {
        answer = against(answer, wall.full(), side, desk);
    }
    Ok(answer
        .by("the full-size rule over the scale; on curves it is to give what straight track gives", format!("{}, {}", rule.source, rule.edition), "8 ft 6 in / 48 = 2 1/8 in")
        .note("full-size rules are for comparing a model with; building near rails is for the railway and the law of the place")
        .drawn(Drawn::Rule(desk.scale.reduce(side.unwrap_or_default())))
        .beside(["clearance NEM H0 radius 600 mm group B", "plate C at HO", "clearance platform 4 ft at S"]))
}

/// A wall at a distance against the side clearance.
fn against(
    answer: Answer,
    wall: PrototypeLength,
    side: PrototypeLength,
    desk: &Desk<'_>,
) -> Answer {
    let wanted = desk.scale.reduce(side);
    let near = wall.in_inches() < 0.5 * side.in_inches() || desk.model;
    let stands = if near { ModelLength::inches(wall.in_inches()) } else { desk.scale.reduce(wall) };
    let left = stands - wanted;
    let answer = answer.figure(Figure::model("room beyond the rule", left, desk.look));
    let shown = format!("{:.2} mm", left.abs().in_millimetres());
    if left < ModelLength::ZERO {
        answer
            .says(format!(
                "A wall {} from the centre line fails: short by {shown}.",
                read(stands, desk.look)
            ))
            .trouble(
                format!("the wall is short by {shown}"),
                "move it, or take the rule of its era and place",
            )
    } else {
        answer.says(format!(
            "A wall {} from the centre line holds with {shown} to spare.",
            read(stands, desk.look)
        ))
    }
}

/// What a track gauge stands for.
pub(super) fn gauge(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let [against, gauge] = line.lengths([
        named(&["against", "for", "versus", "vs", "stands", "of", "full", "instead"]),
        any(&["track", "gauge", "gage"]),
    ]);
    let usual = || {
        desk.catalog.scales.row(&desk.scale).and_then(|row| row.gauge.as_ref().map(Written::length))
    };
    let on_model = match gauge {
        Some(given) if given.full().in_inches() < 8.0 || desk.model => Some(given.model()),
        Some(given) => Some(desk.scale.reduce(given.full())),
        None => usual(),
    };
    let model = on_model.ok_or_else(|| {
        line.missing(
            "reading a track gauge",
            "the gauge of the track",
            "track 16.5 mm at HO against 56 1/2 in",
        )
    })?;
    let full: PrototypeLength = desk.scale.enlarge(model);
    let wanted = against.map_or(PrototypeLength::inches(56.5), |given| given.full());
    let percent = 100.0 * (full / wanted - 1.0);
    let true_model = desk.scale.reduce(wanted);
    Ok(Answer::new("gauge", format!("track of {:.3} mm at {}", model.in_millimetres(), desk.scale))
        .says(format!(
            "It stands for {} ({} in) full size, {percent:+.4} percent off {}; true would be {:.4} mm.",
            desk.look.full.show(&full),
            plain(full.in_inches()),
            desk.look.full.show(&wanted),
            true_model.in_millimetres()
        ))
        .figure(Figure::full("stands for", full, by(desk)))
        .number("stands for, inches", full.in_inches(), "in")
        .number("departure", percent, "%")
        .figure(Figure::model("true gauge", true_model, desk.look))
        .number("true gauge, mm", true_model.in_millimetres(), "mm")
        .by(
            "gauge x scale; departure = that over the gauge wanted, less 1",
            "NMRA S-1.2 for gauges by scale, from memory where the data say so",
            format!("{} mm x {} = {} in", plain(model.in_millimetres()), plain(desk.scale.ratio.value()), plain(full.in_inches())),
        )
        .drawn(Drawn::Rule(model)))
}
