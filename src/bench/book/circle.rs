//! Round things and regular ones: tanks and what they hold, arches, mitres.

use super::{above_zero, both, by};
use crate::bench::answer::{Answer, Drawn, Figure, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line, any, named};
use crate::finding::Stop;
use crate::quantity::Unit;
use crate::sums::circle::{circumference, mitre, segment, side_across_flats};
use crate::sums::rows::redistribute;

/// A diameter beside a length, and no wire.
pub(super) fn is_round(line: &Line<'_>) -> u32 {
    let across = line.has(&["diameter", "dia", "diam"]) && line.lengths_left() > 0;
    u32::from(across && !line.has(&["awg", "swg", "wire", "gauge"])) * 8
}

const TANK: &str = "tank 16 ft diameter, 12 ft high, staves 6 in";

/// A circle, a tank or a box: round it, its area, what it holds, its staves.
pub(super) fn tank(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "working out a tank";
    let sides = line.group(true).unwrap_or_default();
    if let [(long, true), (wide, true), (high, true)] = sides.as_slice() {
        return boxed([*long, *wide, *high], line.has(&["model"]));
    }
    let by_radius = line.has(&["radius"]);
    let [high, stave, across] = line.lengths([
        named(&["high", "height", "tall", "deep", "depth"]),
        named(&["stave", "staves", "boards", "board", "bricks", "hoops"]).bare(Unit::Inch),
        any(&[
            "diameter", "dia", "diam", "across", "wide", "circle", "tank", "silo", "round",
            "radius",
        ]),
    ]);
    // `16 ft x 12 ft`: across, and high.
    let grouped = |at: usize| sides.get(at).filter(|side| side.1).map(|side| side.0);
    let (across, high) = (across.or(grouped(0)), high.or(grouped(1)));
    let across = across.ok_or_else(|| line.missing(doing, "the diameter", TANK))?.full();
    let across = if by_radius { across * 2.0 } else { across };
    above_zero("diameter", across.in_inches())?;
    let round = circumference(across);
    let area = across.in_feet().powi(2) * std::f64::consts::FRAC_PI_4;
    let shown = desk.look.full.show(&across);
    let mut answer = Answer::new("tank", format!("{shown} across"))
        .says(format!(
            "{} round; {} sq ft; on the model {}.",
            desk.look.full.show(&round),
            plain(area),
            crate::bench::answer::read(desk.scale.reduce(across), desk.look)
        ))
        .figure(Figure::full("across", across, by(desk)))
        .figure(Figure::full("round it", round, by(desk)))
        .number("area", area, "sq ft");
    if let Some(high) = high {
        above_zero("height", high.number())?;
        answer = holds(answer, area * high.full().in_feet());
    }
    if let Some(stave) = stave {
        above_zero("stave", stave.number())?;
        let (count, each) = redistribute(round, stave.full());
        answer = answer
            .says(format!("{count} staves to come out even, each {}.", both(each, desk)))
            .number("staves", f64::from(count), "")
            .figure(Figure::full("each stave", each, by(desk)));
    }
    // What was asked for comes first.
    if line.has(&["gallon", "gallons", "litres", "liters", "volume", "stave", "staves", "hold"]) {
        answer.lead.rotate_left(1);
    }
    Ok(answer
        .by(
            "round it = pi x diameter; area = pi / 4 x diameter squared; volume = area x height",
            "geometry; a gallon of the United States is 231 cu in, an imperial one 4.54609 litres: NIST Handbook 44 appendix C",
            format!("pi x {} ft = {} ft", plain(across.in_feet()), plain(round.in_feet())),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(across)))
        .beside(["circumference of a 16 ft tank", "arch 4 ft wide, 8 in rise", "mitre of 8 sides"]))
}

/// What so many cubic feet hold.
fn holds(answer: Answer, cubic_feet: f64) -> Answer {
    let gallons = cubic_feet * 1728.0 / 231.0;
    let litres = cubic_feet * 28.316_846_592;
    answer
        .says(format!(
            "It holds {} cu ft: {:.0} gallons of the United States, {:.0} imperial, {:.0} litres.",
            plain(cubic_feet),
            gallons,
            litres / 4.546_09,
            litres
        ))
        .number("volume", cubic_feet, "cu ft")
        .number("gallons, United States", gallons, "gal")
        .number("gallons, imperial", litres / 4.546_09, "gal")
        .number("litres", litres, "l")
}

/// A box of three sides: in cubic feet, or what is cast on the model.
fn boxed(sides: [Given; 3], model: bool) -> Result<Answer, Stop> {
    let inches: f64 = sides.iter().map(|side| side.number()).product();
    above_zero("volume", inches)?;
    let title = sides.map(|side| format!("{} in", plain(side.number()))).join(" x ");
    let answer = Answer::new("tank", title);
    // What fits in the hand is cast; what does not is filled.
    let answer = if model || inches < 1728.0 {
        let millilitres = inches * 16.387_064;
        answer
            .says(format!("{} cu in, {} ml.", plain(inches), plain(millilitres)))
            .number("volume", inches, "cu in")
            .number("millilitres", millilitres, "ml")
    } else {
        holds(answer, inches / 1728.0)
    };
    Ok(answer.by(
        "side x side x side",
        "geometry; a gallon of the United States is 231 cu in: NIST Handbook 44 appendix C",
        "4 in x 3 in x 1/2 in = 6 cu in = 98.3 ml",
    ))
}

/// An arch by its width and its rise.
pub(super) fn arch(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "working out an arch";
    let example = "arch 4 ft wide, 8 in rise";
    let [high, wide] = line.lengths([
        named(&["rise", "rises", "high", "height", "up"]),
        any(&["wide", "width", "span", "across", "arch", "opening"]),
    ]);
    let wide = wide.ok_or_else(|| line.missing(doing, "the width", example))?.full();
    above_zero("width", wide.in_inches())?;
    if high.is_none() {
        line.notes.push("no rise was given: half a circle is taken".to_owned());
    }
    let high = high.map_or(wide / 2.0, |given| given.full());
    let Some((radius, turn, along)) = segment(wide, high) else {
        return Err(line.missing(doing, "a rise above nothing", example));
    };
    let full = desk.look.full;
    Ok(Answer::new(
        "arch",
        format!("an arch {} wide, rising {}", full.show(&wide), full.show(&high)),
    )
    .says(format!(
        "Radius {}; it turns through {:.2} degrees, {} along it.",
        both(radius, desk),
        turn.in_degrees(),
        full.show(&along)
    ))
    .figure(Figure::full("radius", radius, by(desk)))
    .figure(Figure::full("along the arch", along, by(desk)))
    .number("turns through", turn.in_degrees(), "degrees")
    .by(
        "radius = (w^2 / 4 + h^2) / 2h",
        "geometry of a chord",
        format!("w = {} in, h = {} in", plain(wide.in_inches()), plain(high.in_inches())),
    )
    .drawn(Drawn::Rule(desk.scale.reduce(radius))))
}

/// Figures by their name.
const NAMES: [(&[&str], f64); 4] = [
    (&["octagon", "octagonal"], 8.0),
    (&["hexagon", "hexagonal"], 6.0),
    (&["pentagon", "pentagonal"], 5.0),
    (&["triangle", "triangular"], 3.0),
];

/// The cuts of a corner, or of so many equal sides.
pub(super) fn mitres(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let corner = line.angle();
    let told = NAMES.iter().find(|(words, _)| line.has(words)).map(|(_, sides)| *sides);
    let sides = told
        .or_else(|| line.number(&["sided", "sides", "side", "faces"]).map(Given::number))
        .or_else(|| line.first_number().map(Given::number));
    let (cut, title) = match (corner, sides) {
        (Some(corner), _) => {
            let inside = corner.number();
            if !(inside > 0.0 && inside < 360.0) {
                return Err(line.missing(
                    "cutting a mitre",
                    "an angle that is a corner",
                    "mitre 135 deg",
                ));
            }
            ((180.0 - inside).abs() / 2.0, format!("a corner of {} degrees", plain(inside)))
        }
        (None, Some(sides)) if sides >= 3.0 => {
            (mitre(sides).in_degrees(), format!("{} equal sides", plain(sides)))
        }
        (None, Some(_)) => {
            return Err(line.missing("cutting a mitre", "a third side", "mitre of 8 sides"));
        }
        // A plain mitre.
        (None, None) => (45.0, "a square corner".to_owned()),
    };
    let mut answer = Answer::new("mitre", title)
        .says(format!(
            "Each end is cut {cut:.2} degrees from square, {:.2} from its edge; the corner is {:.2} degrees.",
            90.0 - cut,
            180.0 - 2.0 * cut
        ))
        .number("from square", cut, "degrees")
        .number("from the edge", 90.0 - cut, "degrees")
        .number("corner", 180.0 - 2.0 * cut, "degrees");
    let flats = line.length(any(&["across", "wide", "flats"])).map(|given| given.full());
    if let (None, Some(sides), Some(flats)) = (corner, sides, flats) {
        above_zero("width", flats.in_inches())?;
        let side = side_across_flats(sides, flats);
        answer = answer
            .says(format!(
                "{} across the flats: each side {}.",
                desk.look.full.show(&flats),
                both(side, desk)
            ))
            .figure(Figure::full("each side", side, by(desk)));
    }
    Ok(answer
        .by(
            "from square = half of what the corner turns; 180 / n for n equal sides",
            "geometry",
            "180 / 8 = 22.5",
        )
        .drawn(Drawn::Protractor(cut)))
}
