//! Stairs.

use super::by;
use crate::bench::answer::{Answer, Drawn, Figure, List, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Line, any, named};
use crate::finding::Stop;
use crate::quantity::{PrototypeLength, Unit};
use crate::sums::rows::{Stairs, stairs, stairs_by_code};

/// A code of stairs: its highest riser and its shortest tread.
struct Code {
    words: &'static [&'static str],
    riser: f64,
    tread: f64,
    source: &'static str,
}

const CODES: [Code; 3] = [
    Code {
        words: &["ibc", "public", "commercial"],
        riser: 7.0,
        tread: 11.0,
        source: "IBC 1011.5.2, read at second hand: riser 4 to 7 in, tread 11 in at least",
    },
    Code {
        words: &["old", "older", "steep"],
        riser: 8.25,
        tread: 9.0,
        source: "common practice of older stairs, no source: riser up to 8 1/4 in, tread 9 in",
    },
    Code {
        words: &["irc"],
        riser: 7.75,
        tread: 10.0,
        source: "IRC 2018 R311.7: riser 7 3/4 in at most, tread 10 in at least",
    },
];

/// `12 risers of 7 1/2 in`, `12 treads of 9 in at 8 in riser`: what they climb.
fn counted(line: &mut Line<'_>, desk: &Desk<'_>) -> Option<Answer> {
    let mut said = line.clone();
    let risers = said.counted(&["risers", "riser", "steps"]).map(|given| given.number());
    let count = risers.or_else(|| said.counted(&["treads"]).map(|given| given.number() + 1.0))?;
    let [riser, tread] = said.lengths([
        any(&["riser", "risers", "steps"]).bare(Unit::Inch),
        named(&["tread", "treads", "going"]).bare(Unit::Inch),
    ]);
    // A flight is higher than a foot.
    let riser = riser.map(|given| given.full()).filter(|riser| riser.in_inches() <= 12.0)?;
    if riser <= PrototypeLength::ZERO {
        return None;
    }
    *line = said;
    Some(climb(count, riser, tread.map(|given| given.full()), desk))
}

/// What so many risers come to.
fn climb(
    count: f64,
    riser: PrototypeLength,
    tread: Option<PrototypeLength>,
    desk: &Desk<'_>,
) -> Answer {
    let full = desk.look.full;
    let rise = riser * count;
    let mut answer =
        Answer::new("stairs", format!("{} risers of {}", plain(count), full.show(&riser)))
            .says(format!("They climb {}.", super::both(rise, desk)))
            .figure(Figure::full("rise", rise, by(desk)))
            .number("risers", count, "");
    if let Some(tread) = tread {
        let run = tread * (count - 1.0).max(0.0);
        answer = answer
            .says(format!(
                "{} treads of {} run {}.",
                plain(count - 1.0),
                full.show(&tread),
                full.show(&run)
            ))
            .figure(Figure::full("run", run, by(desk)));
    }
    answer
        .by(
            "rise = risers x riser; a flight has a tread less than risers",
            "arithmetic",
            format!(
                "{} x {} = {}",
                plain(count),
                plain(riser.in_inches()),
                plain(rise.in_inches())
            ),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(rise)))
}

/// A flight between two levels.
pub(super) fn flight(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let code = CODES.iter().find(|code| line.has(code.words)).unwrap_or(&CODES[2]);
    let about = line.has(&["about", "around"]);
    if let Some(answer) = counted(line, desk) {
        return Ok(answer);
    }
    let [height, riser, tread, room] = line.lengths([
        any(&["floor", "height", "high", "rise", "total", "dock", "up", "rises", "stairs"]),
        named(&["riser", "risers", "max", "most", "maximum"]).bare(Unit::Inch),
        named(&["tread", "treads", "going"]).bare(Unit::Inch),
        named(&["run", "room"]),
    ]);
    let example = "stairs 9 ft floor to floor, riser at most 7 3/4 in, tread 10 in";

    let height =
        height.ok_or_else(|| line.missing("working out the stairs", "the height", example))?.full();
    super::above_zero("height", height.in_inches())?;
    let most = riser.map_or(PrototypeLength::inches(code.riser), |given| given.full());
    super::above_zero("riser", most.in_inches())?;
    let tread = tread.map(|given| given.full());
    let step = tread.unwrap_or(PrototypeLength::inches(code.tread));
    let make = if about { stairs } else { stairs_by_code };
    let mut found = make(height, most, step);
    // A flight has as many treads as there are spaces between risers.
    if let Some(room) = room.filter(|_| tread.is_none() && found.treads > 0) {
        let tread = room.full() / f64::from(found.treads);
        found = make(height, most, tread);
    }
    Ok(told(&found, height, most, code, desk))
}

fn told(
    found: &Stairs<crate::quantity::Prototype>,
    height: PrototypeLength,
    most: PrototypeLength,
    code: &Code,
    desk: &Desk<'_>,
) -> Answer {
    let tread = if found.treads > 0 { found.run / f64::from(found.treads) } else { found.run };
    let angle = found.rise.in_inches().atan2(tread.in_inches()).to_degrees();
    let full = desk.look.full;
    let mut list =
        List::new("Other numbers of risers", &["risers", ">each, in", ">run, in", ">2R + T, in"]);
    for risers in (found.risers.saturating_sub(1).max(1)..=found.risers + 2).filter(|n| *n > 0) {
        let rise = height / f64::from(risers);
        let run = tread * f64::from(risers - 1);
        list = list.row([
            risers.to_string(),
            plain(rise.in_inches()),
            plain(run.in_inches()),
            plain((rise * 2.0 + tread).in_inches()),
        ]);
    }
    let mut answer = Answer::new("stairs", format!("stairs of {}", full.show(&height)))
        .says(format!(
            "{} risers of {} ({} in), {} treads, run {} ({} in).",
            found.risers,
            full.show(&found.rise),
            plain(found.rise.in_inches()),
            found.treads,
            full.show(&found.run),
            plain(found.run.in_inches()),
        ))
        .number("risers", f64::from(found.risers), "")
        .figure(Figure::full("riser", found.rise, by(desk)))
        .number("treads", f64::from(found.treads), "")
        .figure(Figure::full("tread", tread, by(desk)))
        .figure(Figure::full("run", found.run, by(desk)))
        .figure(Figure::full("stringer", found.stringer, by(desk)))
        .number("slope of the stair", angle, "degrees")
        .figure(Figure::full("two risers and a tread", found.rise * 2.0 + tread, by(desk)))
        .list(list)
        .by(
            "the least number of risers none of which is above the highest allowed; one tread less; run = treads x tread",
            code.source,
            format!(
                "{} / {} rounded up = {}; {} / {} = {}",
                plain(height.in_inches()),
                plain(most.in_inches()),
                found.risers,
                plain(height.in_inches()),
                found.risers,
                plain(found.rise.in_inches())
            ),
        )
        .drawn(Drawn::Protractor(angle))
        .beside(["stairs 4 ft dock, old", "stairs 9 ft, public"]);
    let comfort = (found.rise * 2.0 + tread).in_inches();
    if !(24.0..=25.0).contains(&comfort) {
        answer = answer.note(format!(
            "two risers and a tread make {} in; 24 to 25 walk well (common practice, no source)",
            plain(comfort)
        ));
    }
    answer.note("for a model; stairs people use are made by the local code")
}
