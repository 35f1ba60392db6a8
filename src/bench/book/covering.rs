//! What lies on a roof or a wall in pieces: shingles, slates, corrugated iron.

use super::{above_zero, both, by};
use crate::bench::answer::{Answer, Drawn, Figure, List, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line, any, named};
use crate::finding::Stop;
use crate::quantity::{PrototypeLength, Unit};
use crate::sums::rows::{pieces_over, sheets_across, slate_exposure, slope_courses, tiers};

/// Exposures of wood shingles 16, 18 and 24 in long, by grade, in inches: at
/// 4:12 and steeper, and from 3:12 to under 4:12.
const GRADES: [(&str, [f64; 3], [f64; 3]); 3] = [
    ("No. 1", [5.0, 5.5, 7.5], [3.75, 4.25, 5.75]),
    ("No. 2", [4.0, 4.5, 6.5], [3.5, 4.0, 5.5]),
    ("No. 3", [3.5, 4.0, 5.5], [3.0, 3.5, 5.0]),
];
const SHINGLES: &str = "IRC 2018 table R905.7.5(1), wood shingles";
/// Exposures of shakes 18 and 24 in long.
const SHAKES: &str = "IRC table R905.8.6, wood shakes, from memory";
/// On a wall, in a single course: 16, 18, 24 in.
const ON_A_WALL: [f64; 3] = [7.5, 8.5, 11.5];
const LENGTHS: [f64; 3] = [16.0, 18.0, 24.0];

/// What a table says of one length.
struct Listed {
    exposure: f64,
    source: String,
}

/// The exposure a table lists for a length; nothing where it has none.
fn listed(line: &Line<'_>, long: f64, pitch: Option<f64>, grade: usize) -> Option<Listed> {
    let at = LENGTHS.iter().position(|known| (known - long).abs() < 1e-6)?;
    if line.has(&["shake", "shakes"]) {
        let exposure = if at == 2 { 10.0 } else { 7.5 };
        return (at > 0).then(|| Listed { exposure, source: SHAKES.to_owned() });
    }
    if line.has(&["wall", "walls"]) {
        let source = "common practice, single course on a wall, no source".to_owned();
        return Some(Listed { exposure: ON_A_WALL[at], source });
    }
    let (name, steep, low) = GRADES[grade];
    let steep_enough = pitch.is_none_or(|pitch| pitch >= 4.0 / 12.0 - 1e-9);
    let exposure = if steep_enough { steep[at] } else { low[at] };
    Some(Listed { exposure, source: format!("{SHINGLES}, {name} grade") })
}

/// Wood shingles by length and pitch, courses up a slope, how many.
pub(super) fn shingles(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "working out the shingles";
    let example = "shingles 18 in at 4:12";
    let grade = line.number(&["no", "grade", "number"]).map_or(1, |given| given.number() as usize);
    let pitch = line.pitch();
    let area = roof_area(line);
    let [slope, exposure, wide, said] = line.lengths([
        named(&["slope", "up", "roof", "on", "rafter", "high"]),
        named(&["exposure", "exposed", "weather"]).bare(Unit::Inch),
        named(&["wide", "width"]).bare(Unit::Inch),
        any(&["long", "shingle", "shingles", "shake", "shakes", "length"]).bare(Unit::Inch),
    ]);
    // No shingle shows more than a foot: that is its length.
    let (exposure, said) = match (exposure, said) {
        (Some(one), None) if one.full().in_inches() > 12.0 => (None, Some(one)),
        pair => pair,
    };
    let long = said.map(|given| given.full().in_inches());
    if pitch.is_some_and(|pitch| pitch < 3.0 / 12.0 - 1e-9) && exposure.is_none() {
        return Err(Stop::new(
            doing,
            "under 3:12 wood shingles are not laid",
            "give a pitch of 3:12 or steeper, or the exposure",
        ));
    }
    let known = long.and_then(|long| listed(line, long, pitch, grade.clamp(1, 3) - 1));
    let (inches, source) = match (exposure, known, long) {
        (Some(said), ..) => (said.full().in_inches(), "the exposure as given".to_owned()),
        (None, Some(listed), _) => (listed.exposure, listed.source),
        (None, None, Some(long)) => (
            (long - 3.0) / 3.0,
            "an old carpentry rule, read: (length - 3 in) / 3; the table has no such length"
                .to_owned(),
        ),
        _ if area.is_some() => {
            line.notes.push("no length was given: 16 in is taken".to_owned());
            (GRADES[0].1[0], format!("{SHINGLES}, No. 1 grade"))
        }
        _ => {
            return Err(line.missing(doing, "the length of the shingle, or the exposure", example));
        }
    };
    let exposed = PrototypeLength::inches(inches);
    above_zero("exposure", inches)?;
    let wide = wide.map_or(4.0, |given| given.full().in_inches());
    let square = pieces_over(14_400.0, PrototypeLength::inches(wide), exposed);
    let at = pitch.map_or(String::new(), |pitch| format!(" at {}:12", plain(pitch * 12.0)));
    let title = match long {
        Some(long) => format!("shingles of {} in{at}", plain(long)),
        None => format!("shingles showing {} in{at}", plain(inches)),
    };
    let mut answer = Answer::new("shingles", title)
        .says(format!("{} exposed.", both(exposed, desk)))
        .figure(Figure::full("exposure", exposed, by(desk)))
        .number(format!("shingles {} in wide to 100 sq ft", plain(wide)), square, "");
    if let Some(area) = area {
        answer = over_an_area(answer, area, square);
    }
    if let Some(slope) = slope {
        answer = up_a_slope(answer, slope, exposed, desk)?;
    }
    let strip = exposed * 2.0;
    answer = answer.figure(Figure::full("strip to cut, twice the exposure", strip, by(desk)));
    if exposure.is_none() && !line.has(&["wall", "walls", "shake", "shakes"]) {
        answer = answer.list(table());
    }
    let worked = format!("14400 / ({} x {}) = {}", plain(wide), plain(inches), plain(square));
    Ok(answer
        .by("the exposure of the table by length, grade and pitch; 14,400 sq in over width x exposure", source, worked)
        .drawn(Drawn::Rule(desk.scale.reduce(exposed)))
        .beside(["shingles 18 in at 3:12", "shingles 16 in on 16 ft 8 in of slope", "slates 10x20, lap 3 in"]))
}

fn table() -> List {
    let heads = ["grade", ">16 in", ">18 in", ">24 in", ">16 in", ">18 in", ">24 in"];
    let row = |list: List, (name, steep, low): (&str, [f64; 3], [f64; 3])| {
        let [a, b, c] = steep.map(plain);
        let [d, e, f] = low.map(plain);
        list.row([name.to_owned(), a, b, c, d, e, f])
    };
    GRADES.into_iter().fold(
        List::new("Exposure in inches: 4:12 and steeper, then 3:12 to under 4:12", &heads),
        row,
    )
}

/// Squares of an area in square inches, and the shingles on them.
fn over_an_area(answer: Answer, area: f64, square: f64) -> Answer {
    let squares = area / 14_400.0;
    let mut answer = answer
        .says(format!(
            "{} squares, {:.0} shingles, no waste counted.",
            plain(squares),
            (squares * square).ceil()
        ))
        .number("squares", squares, "")
        .number("shingles", (squares * square).ceil(), "");
    answer.lead.rotate_right(1);
    answer
}

fn up_a_slope(
    answer: Answer,
    slope: Given,
    exposed: PrototypeLength,
    desk: &Desk<'_>,
) -> Result<Answer, Stop> {
    let slope = slope.full();
    above_zero("slope", slope.in_inches())?;
    let (count, each) = slope_courses(slope, exposed);
    Ok(answer
        .says(format!(
            "{count} courses of {} in up {}, and a starter.",
            plain(each.in_inches()),
            desk.look.full.show(&slope)
        ))
        .number("courses", f64::from(count), "")
        .figure(Figure::full("exposure used", each, by(desk)))
        .number("courses, unrounded", slope / exposed, ""))
}

/// Slates by length and headlap, and how many.
pub(super) fn slates(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "working out the slates";
    let example = "slates 10x20, lap 3 in, on 16 ft x 20 ft";
    let sides =
        line.group(false).ok_or_else(|| line.missing(doing, "the size of a slate", example))?;
    let sizes: Vec<f64> = sides.iter().map(|(given, _)| given.value.value()).collect();
    let (wide, long) = (sizes[0].min(sizes[1]), sizes[0].max(sizes[1]));
    let area = roof_area(line);
    let pitch = line.pitch();
    let lap = line.length(any(&["lap", "headlap", "head"]).bare(Unit::Inch));
    let usual = match pitch {
        Some(pitch) if pitch < 8.0 / 12.0 => 4.0,
        Some(pitch) if pitch > 20.0 / 12.0 => 2.0,
        _ => 3.0,
    };
    let inches = lap.map_or(usual, |given| given.full().in_inches());
    let exposed = slate_exposure(PrototypeLength::inches(long), PrototypeLength::inches(inches));
    above_zero("exposure", exposed.in_inches())?;
    let wide_one = PrototypeLength::inches(wide);
    let square = pieces_over(14_400.0, wide_one, exposed);
    let mut answer = Answer::new(
        "slates",
        format!("slates {} x {} in, lap {} in", plain(wide), plain(long), plain(inches)),
    )
    .says(format!(
        "{} exposed; {:.2} to 100 sq ft, take {}.",
        both(exposed, desk),
        square,
        square.ceil()
    ))
    .figure(Figure::full("exposure", exposed, by(desk)))
    .number("slates to 100 sq ft", square, "");
    if let Some(area) = area {
        let count = pieces_over(area, wide_one, exposed);
        answer = answer
            .says(format!(
                "{} slates on {} sq ft, no waste counted.",
                count.ceil(),
                plain(area / 144.0)
            ))
            .number("slates", count.ceil(), "")
            .number("slates, unrounded", count, "");
    }
    if lap.is_none() {
        answer = answer.note(format!("no lap was given: {} in is taken", plain(usual)));
    }
    Ok(answer
        .by(
            "exposure = (length - headlap) / 2; headlap 3 in, 4 under 8:12, 2 over 20:12; 14,400 over width x exposure",
            "building trades pocketbook and slate trade manual pages, read",
            format!("({} - {}) / 2 = {}", plain(long), plain(inches), plain(exposed.in_inches())),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(exposed))))
}

/// The area of a line in square inches, for both slopes where it says so.
fn roof_area(line: &mut Line<'_>) -> Option<f64> {
    let both = line.has(&["both sides", "both slopes", "two sides", "each side"]);
    Some(one_area(line)? * if both { 2.0 } else { 1.0 })
}

/// Two sides, an area, or squares.
fn one_area(line: &mut Line<'_>) -> Option<f64> {
    if let Some(squares) = line.number(&["squares"]) {
        return Some(squares.number() * 14_400.0);
    }
    if let Some(area) = line.next(|piece| matches!(piece, crate::quantity::Piece::Area(_))) {
        return Some(area.number());
    }
    let sides = line.group(true)?;
    match sides.as_slice() {
        [(one, true), (two, true)] => Some(one.number() * two.number()),
        _ => None,
    }
}

/// Corrugated sheets across a wall and up it.
pub(super) fn corrugated(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let sides = line.group(true).unwrap_or_default();
    let grouped = |at: usize| sides.get(at).filter(|side| side.1).map(|side| side.0);
    let [wide, high, cover, lap, end, sheet] = line.lengths([
        any(&["wide", "across", "wall", "long"]),
        named(&["high", "height", "up"]),
        named(&["cover", "covers", "covering"]).bare(Unit::Inch),
        named(&["lap", "side"]).bare(Unit::Inch),
        named(&["end"]).bare(Unit::Inch),
        named(&["sheet", "sheets"]),
    ]);
    let example = "corrugated iron 96 ft wide, 12 ft high, sheets 8 ft";
    // With two sides given the length left is that of the sheet.
    let sheet = if sides.is_empty() { sheet } else { sheet.or(wide) };
    let (wide, high) = (grouped(0).or(wide), grouped(1).or(high));
    let wide = wide
        .ok_or_else(|| {
            line.missing("covering with corrugated iron", "the width of the wall", example)
        })?
        .full();
    let inches = |given: Option<Given>, usual: f64| {
        given.map_or(PrototypeLength::inches(usual), |given| given.full())
    };
    let (cover, lap, end) = (inches(cover, 24.0), inches(lap, 0.0), inches(end, 4.0));
    let sheet = inches(sheet, 96.0);
    above_zero("cover", cover.in_inches())?;
    above_zero("sheet less its lap", (sheet - end).in_inches())?;
    let across = sheets_across(wide, cover, lap);
    let mut answer =
        Answer::new("corrugated", format!("corrugated iron across {}", desk.look.full.show(&wide)))
            .number("sheets across", f64::from(across), "");
    let mut lead = format!("{across} sheets across");
    if let Some(high) = high {
        let up = tiers(high.full(), sheet, end);
        lead = format!("{lead}, {up} tiers: {} sheets", across * up);
        answer = answer.number("tiers", f64::from(up), "").number(
            "sheets in all",
            f64::from(across * up),
            "",
        );
    }
    let pitch = PrototypeLength::inches(2.5);
    Ok(answer
        .says(format!("{lead}."))
        .figure(Figure::full("cover of a sheet", cover, by(desk)))
        .figure(Figure::full("corrugation, usual", pitch, by(desk)))
        .by(
            "(width - lap) / cover rounded up; tiers = height / (sheet - end lap) rounded up",
            "Cyclopedia of Architecture, Carpentry and Building: corrugated iron, read; end lap 4 to 6 in from memory",
            format!("{} / {} = {}", plain(wide.in_inches()), plain(cover.in_inches()), plain(wide / cover)),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(pitch))))
}
