//! Lamps and their resistors, ratings in heat, wire. Low voltage only.

use super::above_zero;
use crate::bench::answer::{Answer, List, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line};
use crate::catalog::lamps::{Lamp, Series};
use crate::finding::Stop;
use crate::lamps::INSIDE;
use crate::lamps::resistor::{derated, nearest, next_up, rating};
use crate::lamps::string::through;
use crate::quantity::{Current, Piece, Power, Resistance, SizeKind, Voltage};

const DOING: &str = "working out a lamp circuit";
const EXAMPLE: &str = "12 V, 3 white in series, 5 mA";

fn count(line: &Line<'_>, kind: SizeKind) -> usize {
    line.count(|piece| matches!(piece, Piece::Size(found, _) if *found == kind))
}

/// Volts and a current.
pub(super) fn is_circuit(line: &Line<'_>) -> u32 {
    let both = count(line, SizeKind::Volts) > 0 && count(line, SizeKind::Amperes) > 0;
    u32::from(both) * 6
}

/// Watts and a temperature.
pub(super) fn is_warm(line: &Line<'_>) -> u32 {
    let both = count(line, SizeKind::Watts) > 0 && count(line, SizeKind::Celsius) > 0;
    u32::from(both) * 8
}

pub(super) fn is_resistance(line: &Line<'_>) -> u32 {
    u32::from(count(line, SizeKind::Ohms) > 0) * 5
}

/// What a circuit is worked out from.
struct Asked {
    supply: Voltage,
    forward: Voltage,
    lamp: String,
    lamps: f64,
    branches: f64,
    current: Current,
    degrees: f64,
}

fn asked(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Asked, Stop> {
    let data = &desk.catalog.lamps;
    let colour =
        data.lamps.iter().rev().find(|lamp: &&Lamp| line.has(&[&lamp.key.replace('-', " ")]));
    let words: Vec<&str> = [
        "lamp", "lamps", "led", "leds", "forward", "vf", "each", "white", "red", "yellow", "green",
        "blue",
    ]
    .into();
    let several = count(line, SizeKind::Volts) > 1;
    // The supply is the first, unless the words say that one is a lamp's.
    let forward = if several && colour.is_none() && !line.has(&["forward", "vf"]) {
        None
    } else if several {
        line.size_by(SizeKind::Volts, &words)
    } else {
        None
    };
    let supply = line.size(SizeKind::Volts);
    let forward = forward.or_else(|| line.size(SizeKind::Volts));
    let (supply, forward) = in_order(supply, forward);
    let supply = supply.ok_or_else(|| line.missing(DOING, "the voltage of the supply", EXAMPLE))?;
    let branches = line.number(&["branches", "branch", "strings", "parallel", "side"]);
    let lamps = line
        .number(&[
            "series", "lamp", "lamps", "led", "leds", "white", "red", "yellow", "green", "blue",
            "warm", "bulbs",
        ])
        .map(Given::number);
    let current = line.size(SizeKind::Amperes);
    let degrees = line.size(SizeKind::Celsius).map_or(INSIDE, Given::number);
    let known = colour.or_else(|| data.lamps.iter().find(|lamp| lamp.key == "white"));
    let each = forward.map(Given::number).or(known.map(|lamp| lamp.take.in_volts()));
    let name = match (colour, forward) {
        (Some(lamp), _) => lamp.name.clone(),
        (None, Some(_)) => "lamp".to_owned(),
        (None, None) => {
            line.notes.push("no lamp was named: white is taken".to_owned());
            "white".to_owned()
        }
    };
    if current.is_none() {
        line.notes
            .push("no current was given: 5 mA is taken, bright enough inside a room".to_owned());
    }
    Ok(Asked {
        supply: Voltage::volts(supply.number()),
        forward: Voltage::volts(each.unwrap_or(3.2)),
        lamp: name,
        lamps: lamps.unwrap_or(1.0),
        branches: branches.map_or(1.0, Given::number),
        current: Current::amperes(current.map_or(0.005, Given::number)),
        degrees,
    })
}

/// A lamp never needs more than its supply where two voltages stand alone.
fn in_order(one: Option<Given>, other: Option<Given>) -> (Option<Given>, Option<Given>) {
    match (one, other) {
        (Some(a), Some(b)) if b.value > a.value => (Some(b), Some(a)),
        pair => pair,
    }
}

/// Lamps in series on a supply.
pub(super) fn circuit(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    if line.has(&["awg", "wire"]) && count(line, SizeKind::Volts) == 0 {
        return super::wire::wire(line, desk);
    }
    let given = line.size(SizeKind::Ohms);
    let mut asked = asked(line, desk)?;
    if let Some(given) = given {
        let resistor = Resistance::ohms(given.number());
        above_zero("resistor", resistor.in_ohms())?;
        let current = through(asked.supply, asked.forward * asked.lamps, resistor);
        if current.in_amperes() > 0.0 {
            asked.current = current;
            line.notes.retain(|note| !note.starts_with("no current"));
            return Ok(by_resistor(&asked, resistor));
        }
    }
    above_zero("current", asked.current.in_amperes())?;
    above_zero("number of lamps", asked.lamps)?;
    let data = &desk.catalog.lamps;
    let most = data.rule("most-volts");
    if asked.supply.in_volts() > most {
        return Err(Stop::new(
            DOING,
            format!("{} is no low voltage", asked.supply),
            format!("up to {most} V are worked out here; never mains"),
        ));
    }
    let needs = asked.forward * asked.lamps;
    let title = format!(
        "{} {} in series on {} at {}",
        plain(asked.lamps),
        asked.lamp,
        asked.supply,
        asked.current
    );
    let answer = Answer::new("circuit", title).number("the lamps need", needs.in_volts(), "V");
    let left = asked.supply - needs;
    let answer = answer.number("across the resistor", left.in_volts(), "V");
    let answer = if left.in_volts() <= 1e-9 {
        answer
            .says(format!(
                "They will not light: {} in series need {}, the supply gives {}.",
                plain(asked.lamps),
                needs,
                asked.supply
            ))
            .trouble(
                format!("{needs} are needed and {} given", asked.supply),
                "fewer lamps in series, or a higher supply",
            )
    } else {
        resisted(answer, &asked, needs, desk)
    };
    let [r, n] = [
        "R = (V - n Vf) / I; heat I^2 R, rated for twice that; the next standard value up is the safe one",
        "formula; standard values IEC 60063, read; twice the heat is common practice, no source",
    ];
    let worked = format!(
        "({} - {} x {}) / {} = {} ohm",
        plain(asked.supply.in_volts()),
        plain(asked.lamps),
        plain(asked.forward.in_volts()),
        plain(asked.current.in_amperes()),
        plain(left.in_volts() / asked.current.in_amperes())
    );
    Ok(answer
        .by(r, n, worked)
        .note("low voltage inside a model, never mains; a resistor for each branch; a fuse or a supply that limits; local codes decide")
        .beside(["1/4 W resistor at 100 C", "wire 12 ft awg 30, 60 mA", "1120 ohm nearest E12"]))
}

/// What a resistor at hand lets through.
fn by_resistor(asked: &Asked, resistor: Resistance) -> Answer {
    let (current, left) = (asked.current, asked.supply - asked.forward * asked.lamps);
    let heat = left.in_volts() * current.in_amperes();
    Answer::new(
        "circuit",
        format!("{resistor} before {} {} on {}", plain(asked.lamps), asked.lamp, asked.supply),
    )
    .says(format!(
        "{} mA, {} mW of heat in the resistor.",
        plain(current.in_amperes() * 1e3),
        plain(heat * 1e3)
    ))
    .number("current", current.in_amperes() * 1e3, "mA")
    .number("heat", heat, "W")
    .by(
        "I = (V - n Vf) / R; heat (V - n Vf) x I",
        "formula",
        format!("{} V / {resistor}", plain(left.in_volts())),
    )
    .note("hold it against what the lamp may take; a supply without load gives more than it says")
}

fn series<'d>(desk: &'d Desk<'_>, key: &str) -> Option<&'d Series> {
    desk.catalog.lamps.series(key)
}

/// The resistor, what it makes of the supply, and its heat.
fn resisted(mut answer: Answer, asked: &Asked, needs: Voltage, desk: &Desk<'_>) -> Answer {
    let exact = (asked.supply - needs) / asked.current;
    answer = answer.number("resistor, worked out", exact.in_ohms(), "ohm");
    let mut taken = None;
    for key in ["E12", "E24"] {
        let Some(series) = series(desk, key) else { continue };
        if let (Some(up), Some(near)) = (next_up(series, exact), nearest(series, exact)) {
            answer = answer.number(format!("{key} next up"), up.in_ohms(), "ohm").number(
                format!("{key} nearest"),
                near.in_ohms(),
                "ohm",
            );
            taken = Some(up);
        }
    }
    let Some(resistor) = taken else { return answer };
    let at = |volts: Voltage| through(volts, needs, resistor);
    let now = at(asked.supply);
    let heat = |current: Current| current * resistor * current;
    let high = asked.supply * desk.catalog.lamps.rule("supply-high");
    let twice = heat(now) * desk.catalog.lamps.rule("times-heat");
    let stands = rating(&desk.catalog.lamps.ratings, twice, asked.degrees);
    let rated = stands.map_or("none listed is enough".to_owned(), |watts| {
        let row = desk.catalog.lamps.ratings.iter().find(|row| row.watts == watts);
        let left =
            row.map_or(watts, |row| derated(row.watts, row.full_to, row.none_at, asked.degrees));
        format!(
            "a {watts} part, which stands {} mW at {} C",
            plain(left.in_watts() * 1000.0),
            plain(asked.degrees)
        )
    });
    answer = answer
        .says(format!(
            "{} ohm worked out; take {} ohm (next up): {:.4} mA, {:.2} mW of heat, {rated}.",
            plain(exact.in_ohms()),
            plain(resistor.in_ohms()),
            now.in_milliamperes(),
            heat(now).in_watts() * 1000.0
        ))
        .number("current then", now.in_milliamperes(), "mA")
        .number("heat of the resistor", heat(now).in_watts() * 1000.0, "mW")
        .number("heat at the current wanted", heat_of(asked, exact), "mW")
        .number(
            format!("current if the supply stands at {high}"),
            at(high).in_milliamperes(),
            "mA",
        );
    if asked.branches > 1.0 {
        answer = answer.number("all branches draw", now.in_milliamperes() * asked.branches, "mA");
    }
    if let Some(watts) = stands {
        answer = answer.number("rated for", watts.in_watts() * 1000.0, "mW");
        if let Some(row) = desk.catalog.lamps.ratings.iter().find(|row| row.watts == watts) {
            let left = derated(row.watts, row.full_to, row.none_at, asked.degrees);
            answer = answer.number(
                format!("derated at {} C", plain(asked.degrees)),
                left.in_watts() * 1000.0,
                "mW",
            );
        }
    }
    let share = (asked.supply - needs) / asked.supply;
    if share < desk.catalog.lamps.rule("share") {
        answer = answer.look(
            format!("only {:.0} percent of the supply stands across the resistor", 100.0 * share),
            "a small change of the supply is a large change of the current: one lamp less in series",
        );
    }
    answer
}

fn heat_of(asked: &Asked, exact: Resistance) -> f64 {
    (asked.current * exact * asked.current).in_watts() * 1000.0
}

/// The standard values round a resistance.
pub(super) fn values(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    if count(line, SizeKind::Volts) > 0 {
        return circuit(line, desk);
    }
    let said = line.size(SizeKind::Ohms).or_else(|| line.first_number());
    let said = said.ok_or_else(|| {
        line.missing("finding a resistor", "the resistance", "1120 ohm nearest E12")
    })?;
    let wanted = Resistance::ohms(said.number());
    above_zero("resistance", wanted.in_ohms())?;
    let mut answer =
        Answer::new("resistor", format!("standard values round {} ohm", plain(wanted.in_ohms())));
    let mut list =
        List::new("Standard values", &["series", ">nearest, ohm", ">off", ">next up, ohm"]);
    let only = ["E12", "E24"].into_iter().find(|key| line.has(&[&key.to_lowercase()]));
    for key in ["E12", "E24"] {
        let Some(series) = series(desk, key) else { continue };
        let (Some(near), Some(up)) = (nearest(series, wanted), next_up(series, wanted)) else {
            continue;
        };
        let off = near.in_ohms() - wanted.in_ohms();
        list = list.row([
            key.to_owned(),
            plain(near.in_ohms()),
            plain(off.abs()),
            plain(up.in_ohms()),
        ]);
        if only.is_none_or(|only| only == key) {
            answer = answer
                .says(format!(
                    "{key}: nearest {} ohm, off by {}; next up {} ohm.",
                    plain(near.in_ohms()),
                    plain(off.abs()),
                    plain(up.in_ohms())
                ))
                .number(format!("{key} nearest"), near.in_ohms(), "ohm")
                .number(format!("{key} off by"), off.abs(), "ohm")
                .number(format!("{key} next up"), up.in_ohms(), "ohm");
        }
    }
    Ok(answer.list(list).by(
        "nearest by difference; for a lamp the next up is the safe one",
        "IEC 60063, read in public lists",
        "319 ohm in E24: 330 is off by 11, 300 by 19",
    ))
}

/// What a rating is worth in heat.
pub(super) fn derate(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "derating a resistor";
    let watts = line.size(SizeKind::Watts);
    let watts =
        watts.ok_or_else(|| line.missing(doing, "the rating", "1/4 W resistor at 100 C"))?;
    let rated = Power::watts(watts.number());
    let none = line.size_by(SizeKind::Celsius, &["none", "nothing", "zero", "max", "tmax"]);
    let full = line.size_by(SizeKind::Celsius, &["full", "ref", "reference", "from", "above"]);
    let places: Vec<Given> = std::iter::from_fn(|| line.size(SizeKind::Celsius)).collect();
    let row = desk.catalog.lamps.ratings.first();
    let full = full.map(Given::number).or(row.map(|row| row.full_to)).unwrap_or(70.0);
    let none = none.map(Given::number).or(row.map(|row| row.none_at)).unwrap_or(155.0);
    if places.is_empty() {
        return Err(line.missing(doing, "the temperature of the place", "1/4 W resistor at 100 C"));
    }
    if none <= full {
        return Err(Stop::new(
            doing,
            "it stands nothing before it stands all",
            "full to 70 C, none at 155 C",
        ));
    }
    let mut answer = Answer::new(
        "derate",
        format!("{rated} in heat, full to {} C, none at {} C", plain(full), plain(none)),
    );
    for place in places {
        let degrees = place.number();
        let left = derated(rated, full, none, degrees);
        let share = (left / rated) * 100.0;
        answer = answer
            .says(format!(
                "At {} C it stands {:.4} W, {share:.2} percent of its rating.",
                plain(degrees),
                left.in_watts()
            ))
            .number(format!("stands at {} C", plain(degrees)), left.in_watts(), "W")
            .number(
                format!("in milliwatts at {} C", plain(degrees)),
                left.in_watts() * 1000.0,
                "mW",
            )
            .number(format!("share at {} C", plain(degrees)), share, "%");
    }
    Ok(answer
        .by(
            "(T none - T) / (T none - T full) of the rating above T full, all of it below",
            "component glossaries, read; full to 70 C and none at 155 C from memory of film resistor sheets",
            format!("{} x ({} - T) / ({} - {})", plain(rated.in_watts()), plain(none), plain(none), plain(full)),
        )
        .note("keep resistors off card and foam, where air reaches"))
}
