//! Pitches, rafters, hips and valleys; braces.

use super::{above_zero, both, by};
use crate::bench::answer::{Answer, Drawn, Figure, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Line, any, named};
use crate::finding::Stop;
use crate::quantity::{Piece, PrototypeLength, Unit};
use crate::sums::{frame, roof};

/// A ratio, an angle or a percentage without a word.
pub(super) fn is_pitch(line: &Line<'_>) -> u32 {
    let found =
        |piece: &Piece| matches!(piece, Piece::Ratio(..) | Piece::Angle(_) | Piece::Percent(_));
    u32::from(line.count(found) > 0) * 3
}

const EXAMPLE: &str = "6:12 run 19 ft";

/// A pitch, and what follows from a run or a span.
pub(super) fn pitch(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let said = line.pitch();
    let second = line.pitch();
    // `6/12 pitch` is a plain fraction, `pitch 6` the rise in 12.
    let plain_number = if said.is_none() { line.number(&["pitch", "slope", "roof"]) } else { None };
    let said = said.or(plain_number.map(|given| {
        let number = given.number();
        if number < 1.0 { number } else { number / 12.0 }
    }));
    let [rise, span, run, tail, ridge] = line.lengths([
        named(&["rise", "rises", "high", "height"]),
        named(&["span", "wide", "width", "gable", "deep", "square"]),
        any(&["run", "over", "half"]),
        named(&["overhang", "tail", "eave", "eaves"]).bare(Unit::Inch),
        named(&["ridge"]).bare(Unit::Inch),
    ]);
    let run = run.map(|given| given.full()).or(span.map(|given| given.full() / 2.0));
    let rise = rise.map(|given| given.full());
    let slope = match (said, rise, run) {
        (Some(pitch), ..) => pitch,
        (None, Some(rise), Some(run)) if run > PrototypeLength::ZERO => rise / run,
        _ => {
            return Err(line.missing(
                "working out a pitch",
                "the pitch, or a rise and a run",
                EXAMPLE,
            ));
        }
    };
    if !(slope > 0.0 && slope.is_finite() && slope < 1e4) {
        return Err(Stop::new(
            "working out a pitch",
            "it is no slope of a roof",
            "write 6:12, 26.6 deg or 50 percent",
        ));
    }
    let run = run.or(rise.map(|rise| rise / slope));
    let mut answer = bare(slope);
    if let Some(run) = run {
        let ridge = ridge.map_or(PrototypeLength::ZERO, |given| given.full());
        answer = over_a_run(answer, slope, run, ridge, desk);
        if let Some(tail) = tail {
            let tail = roof::along_slope(tail.full(), slope);
            let whole = roof::along_slope(run, slope) + tail;
            let shown = both(whole, desk);
            answer = answer
                .says(format!("With the overhang the rafter is {shown}."))
                .figure(Figure::full("rafter with its tail", whole, by(desk)));
            answer = answer.figure(Figure::full("tail along the slope", tail, by(desk)));
        }
        if let Some(other) = second.filter(|other| *other > 0.0) {
            let rise = run * slope;
            let valley = roof::valley(rise, slope, other);
            answer = answer
                .says(format!(
                    "Valley between {}:12 and {}:12: {}.",
                    plain(slope * 12.0),
                    plain(other * 12.0),
                    both(valley, desk)
                ))
                .figure(Figure::full("valley of the two pitches", valley, by(desk)));
        }
        if let Some(span) = span {
            let area = roof::gable_area(slope, span.full().in_feet());
            answer = answer.number("gable", area, "sq ft");
        }
    }
    let angle = slope.atan().to_degrees();
    answer = answer.drawn(Drawn::Protractor(angle)).by(
        "factor = sqrt(1 + p^2); plumb cut at the angle of the pitch, level cut at 90 less it; hip and valley of equal pitches = run x sqrt(2 + p^2)",
        "Pythagoras; hip by run, run and rise",
        format!("p = {}; sqrt(1 + p^2) = {}", plain(slope), plain(slope.hypot(1.0))),
    );
    let degrees = format!("{} deg curve", plain(angle));
    answer.near.extend([degrees, format!("{}:12 run 12 ft", plain(slope * 12.0))]);
    Ok(answer)
}

/// What a pitch tells without a length.
fn bare(slope: f64) -> Answer {
    let angle = slope.atan().to_degrees();
    let hip = (slope / std::f64::consts::SQRT_2).atan().to_degrees();
    let twelve = slope * 12.0;
    Answer::new("pitch", format!("a pitch of {}:12", plain(twelve)))
        .says(format!(
            "{}:12 is {:.2} degrees, {} percent; slope factor {:.4}; plumb cut {:.2}, level cut {:.2} degrees; hip and valley {:.4} of the run.",
            plain(twelve),
            angle,
            plain((slope * 1e6).round() / 1e4),
            slope.hypot(1.0),
            angle,
            90.0 - angle,
            (2.0 + slope * slope).sqrt()
        ))
        .number("rise in 12", twelve, "")
        .number("angle", angle, "degrees")
        .number("percent", slope * 100.0, "%")
        .number("slope factor", slope.hypot(1.0), "")
        .number("plumb cut", angle, "degrees")
        .number("level cut", 90.0 - angle, "degrees")
        .number("hip or valley to the run", (2.0 + slope * slope).sqrt(), "")
        .number("hip or valley from level", hip, "degrees")
        .number("hip bevel and backing", roof::hip_bevel(slope).in_degrees(), "degrees")
        .number("one roof plane longer by, of its thickness", slope, "")
}

fn over_a_run(
    answer: Answer,
    slope: f64,
    run: PrototypeLength,
    ridge: PrototypeLength,
    desk: &Desk<'_>,
) -> Answer {
    let line = roof::along_slope(run, slope);
    let hip = roof::hip_rafter(run, slope);
    let rise = run * slope;
    let full = desk.look.full;
    let mut answer = answer
        .says(format!(
            "Over a run of {}: rise {}, rafter {} ({} in), hip or valley {}.",
            full.show(&run),
            full.show(&rise),
            full.show(&line),
            plain(line.in_inches()),
            full.show(&hip)
        ))
        .figure(Figure::full("run", run, by(desk)))
        .figure(Figure::full("rise", rise, by(desk)))
        .figure(Figure::full("rafter line", line, by(desk)))
        .figure(Figure::full("hip or valley", hip, by(desk)));
    if ridge > PrototypeLength::ZERO {
        let rafter = roof::rafter(run, slope, ridge);
        answer = answer.figure(Figure::full("rafter to the ridge board", rafter, by(desk)));
    }
    answer
}

/// A brace of two legs.
pub(super) fn brace(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let [level, upright, stick] = line.lengths([
        any(&["out", "level", "across", "legs", "leg", "bay"]),
        any(&["up", "upright", "high", "down", "height"]),
        named(&["stick", "thick", "deep", "depth", "timber"]).bare(Unit::Inch),
    ]);
    let example = "brace 24 in out, 36 in up, 4 in stick";
    let level =
        level.ok_or_else(|| line.missing("working out a brace", "the legs", example))?.full();
    let upright = upright.map_or(level, |given| given.full());
    let depth = stick.map_or(PrototypeLength::ZERO, |given| given.full());
    above_zero("leg", level.in_inches().min(upright.in_inches()))?;
    let found = frame::brace(level, upright, depth);
    let degrees = found.from_level.in_degrees();
    let mut answer = Answer::new(
        "brace",
        format!(
            "a brace {} out and {} up",
            desk.look.full.show(&level),
            desk.look.full.show(&upright)
        ),
    )
    .says(format!(
        "{} ({} in) long, {:.2} degrees from level.",
        both(found.line, desk),
        plain(found.line.in_inches()),
        degrees
    ))
    .figure(Figure::full("line, long side", found.line, by(desk)))
    .number("from level", degrees, "degrees")
    .number("from plumb", 90.0 - degrees, "degrees");
    if depth > PrototypeLength::ZERO {
        answer = answer.figure(Figure::full("short side", found.short, by(desk)));
    }
    Ok(answer
        .by(
            "the long side of a right angle; the short side less depth x (tan a + 1 / tan a), both ends cut to lie flat",
            "Pythagoras",
            format!("sqrt({}^2 + {}^2) = {}", plain(level.in_inches()), plain(upright.in_inches()), plain(found.line.in_inches())),
        )
        .drawn(Drawn::Protractor(degrees)))
}
