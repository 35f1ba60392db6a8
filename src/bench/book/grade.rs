//! Grades of track and ramps, and the frogs of turnouts.

use super::above_zero;
use crate::bench::answer::{Answer, Drawn, exactly, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line, any, named};
use crate::finding::Stop;
use crate::quantity::{Piece, Rational};
use crate::sums::curve::{frog_angle, frog_number};

const DOING: &str = "working out a grade";
const EXAMPLE: &str = "2 percent grade over 8 ft";

/// The rise over the run: a percentage, `1:40`, `1 in 40`.
fn share(line: &mut Line<'_>) -> Option<Rational> {
    if let Some(percent) = line.percent() {
        return percent.value.over(Rational::whole(100));
    }
    if let Some(ratio) = line.next(|piece| matches!(piece, Piece::Ratio(..))) {
        return Some(ratio.value);
    }
    // `1 in 40` is read as one inch and a number.
    let run = line.count(|piece| matches!(piece, Piece::Number(_)));
    let one = (0..line.tokens.len()).find(|at| {
        let number = line.tokens.get(at + 1).map(|token| &token.what);
        matches!(line.tokens[*at].what, Piece::Length(..))
            && matches!(number, Some(Piece::Number(_)))
    });
    let per = (0..line.tokens.len()).find(|at| {
        let after = [line.word(at + 1), line.word(at + 2)];
        let foot = matches!(after, [Some("per" | "a" | "the" | "to"), Some("foot" | "ft")]);
        matches!(line.tokens[*at].what, Piece::Length(..)) && foot
    });
    if let Some(at) = per {
        let Piece::Length(fall, _) = line.tokens[at].what else { return None };
        line.take(at..at + 3);
        return fall.over(Rational::whole(12));
    }
    let at = one.filter(|_| run == 1)?;
    let Piece::Length(rise, _) = line.tokens[at].what else { return None };
    line.take(at..at + 1);
    rise.over(line.first_number()?.value)
}

/// A grade: what it rises over a run, or how long it is for a climb.
pub(super) fn grade(line: &mut Line<'_>, _: &Desk<'_>) -> Result<Answer, Stop> {
    let said = share(line);
    let [climb, run] = line.lengths([
        named(&["climb", "climbs", "rise", "rises", "up", "high", "height", "gain", "drop"]),
        any(&["over", "run", "long", "in", "along", "length", "across"]),
    ]);
    let (rise, run, said) = match (said, climb, run) {
        (Some(said), None, Some(run)) => (said.times(run.value), Some(run.value), Some(said)),
        (Some(said), Some(climb), _) if said > Rational::ZERO => {
            (Some(climb.value), climb.value.over(said), Some(said))
        }
        (None, Some(climb), Some(run)) => {
            (Some(climb.value), Some(run.value), climb.value.over(run.value))
        }
        (Some(said), ..) => (None, None, Some(said)),
        _ => (None, None, None),
    };
    let said = said.ok_or_else(|| {
        line.missing(DOING, "two of the grade, the climb and the length", EXAMPLE)
    })?;
    above_zero("grade", said.value())?;
    let degrees = said.value().atan().to_degrees();
    let mut answer =
        Answer::new("grade", format!("a grade of {} percent", plain(said.value() * 100.0)));
    if let (Some(rise), Some(run)) = (rise, run) {
        answer = answer
            .says(format!("It climbs {} over {}.", exactly(rise), exactly(run)))
            .number("climb", rise.value(), "in")
            .number("climb, mm", rise.value() * 25.4, "mm")
            .number("length", run.value(), "in")
            .number("length, feet", run.value() / 12.0, "ft");
    }
    Ok(answer
        .says(format!(
            "{} percent is 1 in {}, {degrees:.3} degrees.",
            plain(said.value() * 100.0),
            plain(1.0 / said.value())
        ))
        .number("percent", said.value() * 100.0, "%")
        .number("one in", 1.0 / said.value(), "")
        .number("angle", degrees, "degrees")
        .by(
            "climb = grade x length, along the level; the same full size and on the model",
            "arithmetic",
            "2 percent of 96 in = 1.92 in",
        )
        .drawn(Drawn::Protractor(degrees)))
}

/// A turnout by the number of its frog, or by its angle.
pub(super) fn frog(line: &mut Line<'_>, _: &Desk<'_>) -> Result<Answer, Stop> {
    let said = line.angle().map(|given| frog_number(given.number()));
    let number = said.or_else(|| line.first_number().map(Given::number));
    let number = number.ok_or_else(|| {
        line.missing("working out a frog", "its number or its angle", "frog number 6")
    })?;
    above_zero("number of the frog", number)?;
    let degrees = frog_angle(number).in_degrees();
    Ok(Answer::new("frog", format!("a frog of number {}", plain(number)))
        .says(format!("{degrees:.3} degrees: the tracks part by 1 in {} of length.", plain(number)))
        .number("number", number, "")
        .number("angle", degrees, "degrees")
        .by(
            "angle = 2 atan(1 / 2N): N is the length to the spread along the middle line",
            "American railway practice, from memory",
            format!("2 atan(1 / {}) = {degrees:.3}", plain(2.0 * number)),
        )
        .drawn(Drawn::Protractor(degrees)))
}
