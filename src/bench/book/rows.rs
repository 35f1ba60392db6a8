//! Rows of equal pieces: courses, boards, bays, pieces at centres, ties.

use super::masonry::{COURSES, is_counted, laid};
use super::{above_zero, both, by};
use crate::bench::answer::{Answer, Drawn, Figure, List, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Line, Want, any, named};
use crate::finding::Stop;
use crate::quantity::{Prototype, PrototypeLength, Unit};
use crate::sums::rows::{at_centres, between_lines, planks, redistribute, spaced};

const EXPOSURE: Want =
    named(&["exposure", "exposed", "weather", "course", "each", "at", "of", "gauge", "showing"])
        .bare(Unit::Inch);

/// Courses up a height, or between several lines.
pub(super) fn courses(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    if is_counted(line) {
        return laid(line, desk);
    }
    let called = COURSES.iter().find(|named| line.has(named.words));
    let lines = line.has(&["lines", "between"]).then(|| several(line)).flatten();
    if let Some((heights, exposure)) = lines {
        return Ok(between(&heights, exposure, desk));
    }
    let count = line.counted(&["courses", "course"]).map(|given| given.number());
    let high = any(&["high", "height", "wall", "slope", "up", "tall", "courses"]);
    let [height, exposure] = line.lengths([high, EXPOSURE]);
    let example = "courses 12 ft high, exposure 4 1/2 in";
    let doing = "working out the courses";
    // "12 courses of 2 2/3 in": one size, and it is the course.
    let (height, exposure) = match (height, exposure, count) {
        (None, Some(course), Some(_)) => (Some(course), None),
        sizes => (sizes.0, sizes.1),
    };
    // `45 courses of brick`: how high they stand.
    let stand =
        called.zip(count).map(|(called, count)| PrototypeLength::inches(called.course) * count);
    let height = match (height, stand) {
        (Some(height), _) => height.full(),
        (None, Some(stand)) if exposure.is_none() => stand,
        _ => return Err(line.missing(doing, "the height", example)),
    };
    let lap = line.length(named(&["lap", "lapped", "laps"]).bare(Unit::Inch));
    let usual = if line.has(&["paper", "felt"]) { 2.0 } else { 0.0 };
    let lap = lap.map_or(PrototypeLength::inches(usual), |given| given.full());
    let left = line.length(any(&["wide"])).map(|given| given.full() - lap);
    let exposure = exposure.map(|given| given.full()).or(left);
    // So many courses of a size; or the smaller of two sizes is the course.
    let (height, exposure) = match (exposure, count) {
        (None, Some(count)) if called.is_none() => (height * count, Some(height)),
        (Some(exposure), _) if exposure > height => (exposure, Some(height)),
        _ => (height, exposure),
    };
    let exposure = match (exposure, called) {
        (Some(said), _) => said,
        (None, Some(named)) => PrototypeLength::inches(named.course),
        (None, None) => return Err(line.missing(doing, "the exposure", example)),
    };
    above_zero("height", height.in_inches())?;
    above_zero("exposure", exposure.in_inches())?;
    let source =
        called.map_or("arithmetic; sharing out is common practice, no source", |it| it.source);
    let name = called.map_or(String::new(), |named| format!(" of {}", named.name));
    Ok(run(height, exposure, &name, source, desk))
}

/// More than two heights, and the exposure beside its word.
fn several(line: &mut Line<'_>) -> Option<(Vec<PrototypeLength>, PrototypeLength)> {
    if line.count(|piece| piece.is_quantity()) < 4 {
        return None;
    }
    let exposure = line.length(named(&["exposure", "exposed", "weather"]).bare(Unit::Inch))?;
    let (heights, _) = line.series();
    let mut heights: Vec<PrototypeLength> = heights.iter().map(|given| given.full()).collect();
    heights.sort_by(PrototypeLength::total_cmp);
    Some((heights, exposure.full()))
}

fn between(heights: &[PrototypeLength], exposure: PrototypeLength, desk: &Desk<'_>) -> Answer {
    let runs = between_lines::<Prototype>(heights, exposure);
    let count: u32 = runs.iter().map(|run| run.count).sum();
    let mut list =
        List::new("Between the lines", &["from", "to", ">courses", ">each, in", ">off, percent"]);
    for run in &runs {
        list = list.row([
            desk.look.full.show(&run.from),
            desk.look.full.show(&run.to),
            run.count.to_string(),
            plain(run.exposure.in_inches()),
            format!("{:+.2}", 100.0 * (run.exposure / exposure - 1.0)),
        ]);
    }
    let said: Vec<String> = runs
        .iter()
        .map(|run| format!("{} of {} in", run.count, plain(run.exposure.in_inches())))
        .collect();
    Answer::new("courses", "courses between lines")
        .says(format!("{count} courses: {}.", said.join(", ")))
        .number("courses", f64::from(count), "")
        .list(list)
        .by(
            "courses = gap / exposure to the nearest, each gap shared out; a line is dropped where that would be more than 5 percent out",
            "judgement: 5 percent is seen, no source",
            "0, 30, 108, 144 in at 4 1/2: 7 of 4.2857, 17 of 4.5882, 8 of 4.5",
        )
}

fn run(
    height: PrototypeLength,
    exposure: PrototypeLength,
    name: &str,
    source: &str,
    desk: &Desk<'_>,
) -> Answer {
    let ratio = height / exposure;
    let whole = (ratio + 1e-6).floor();
    let rest = height - exposure * whole;
    let even = rest.abs() <= exposure * 1e-5;
    let count = if even { whole } else { whole + 1.0 };
    let (shared, each) = redistribute(height, exposure);
    let full = desk.look.full;
    let lead = if even {
        format!(
            "{} courses{name}, all whole: {}; in all {}.",
            plain(count),
            both(exposure, desk),
            full.show(&height)
        )
    } else {
        format!(
            "{} courses{name}, the last showing {} ({} in); or {shared} of {} in, {:+.2} percent.",
            plain(count),
            full.show(&rest),
            plain(rest.in_inches()),
            plain(each.in_inches()),
            100.0 * (each / exposure - 1.0)
        )
    };
    Answer::new("courses", format!("courses of {} up {}", full.show(&exposure), full.show(&height)))
        .says(lead)
        .number("courses", count, "")
        .figure(Figure::full("exposure", exposure, by(desk)))
        .figure(Figure::full("last course", if even { exposure } else { rest }, by(desk)))
        .number("courses shared out", f64::from(shared), "")
        .figure(Figure::full("exposure shared out", each, by(desk)))
        .by(
            "height / exposure; shared out: height over the nearest whole number of courses",
            source,
            format!(
                "{} / {} = {}",
                plain(height.in_inches()),
                plain(exposure.in_inches()),
                plain(ratio)
            ),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(exposure)))
        .beside(["courses lines 0, 30, 108, 144 in exposure 4 1/2", "courses 8 ft modular brick"])
}

/// Boards across a width, or planks with a gap.
pub(super) fn boards(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let [width, board, gap] = line.lengths([
        any(&["across", "along", "wide", "width", "wall", "deck", "long"]),
        named(&[
            "board", "boards", "plank", "planks", "batten", "battens", "picket", "pickets", "slat",
            "slats",
        ])
        .bare(Unit::Inch),
        named(&["gap", "gaps", "joint"]).bare(Unit::Inch),
    ]);
    let example = "boards 12 in across 114 ft 6 in";
    let doing = "laying boards";
    let (Some(width), Some(board)) = (width, board) else {
        return Err(line.missing(doing, "the width of the wall or of a board", example));
    };
    let (width, board) = (width.full(), board.full());
    let gap = gap.map_or(PrototypeLength::ZERO, |given| given.full());
    above_zero("board", board.in_inches())?;
    above_zero("width", width.in_inches())?;
    let pitch = board + gap;
    let count = (width / pitch - 1e-6).ceil();
    let last = (width - pitch * (count - 1.0)).min(board);
    let (shared, each) = redistribute(width, pitch);
    let whole = (width / pitch + 1e-6).floor();
    let ends = (width - pitch * (whole - 1.0)) / 2.0;
    let (laid, used) = planks(width, board, gap);
    let full = desk.look.full;
    Ok(Answer::new("boards", format!("boards of {} across {}", full.show(&board), full.show(&width)))
        .says(format!(
            "{} boards, the last {} wide; centred {} whole and two of {}; shared out {shared} of {} in.",
            plain(count),
            full.show(&last),
            plain((whole - 1.0).max(0.0)),
            full.show(&ends),
            plain(each.in_inches())
        ))
        .number("boards", count, "")
        .figure(Figure::full("last board", last, by(desk)))
        .figure(Figure::full("end boards, centred", ends, by(desk)))
        .number("shared out", f64::from(shared), "")
        .figure(Figure::full("board, shared out", each, by(desk)))
        .number("planks", f64::from(laid), "")
        .figure(Figure::full("gap between planks", used, by(desk)))
        .by(
            "boards = width / (board + gap) rounded up; planks = (width + gap) / (plank + gap) rounded down, what is left shared by the gaps",
            "common practice, no source",
            format!("{} / {} = {}", plain(width.in_inches()), plain(pitch.in_inches()), plain(width / pitch)),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(board))))
}

/// Equal bays, and their posts.
pub(super) fn bays(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let [most, length] = line.lengths([
        named(&["most", "max", "maximum", "apart", "spacing", "every", "over", "than", "bay"]),
        any(&["in", "along", "length", "long", "wall", "front"]),
    ]);
    let words = ["bays", "bay", "spaces", "posts", "post", "parts", "pieces", "lengths", "equal"];
    let count = line.number(&words);
    let example = "bays in 114 ft 6 in, at most 12 ft";
    let doing = "dividing into bays";
    // `7 posts over 45 ft`: with a number one size is the length.
    let (most, length) = match (most, length) {
        (Some(one), None) if count.is_some() => (None, Some(one)),
        pair => pair,
    };
    let length = length.ok_or_else(|| line.missing(doing, "the length", example))?.full();
    above_zero("length", length.in_inches())?;
    let posts = line.has(&["posts", "post"]) && !line.has(&["bays", "bay", "spaces"]);
    let (bays, each) = match (most, count) {
        (Some(most), _) => spaced(length, most.full()),
        (None, Some(count)) => {
            let bays = count.number() - if posts { 1.0 } else { 0.0 };
            above_zero("number of bays", bays)?;
            (bays as u32, length / bays)
        }
        _ => return Err(line.missing(doing, "the greatest spacing, or the number", example)),
    };
    let list = (0..=bays.min(24)).fold(
        List::new("Running, from one end", &["post", ">full size, in", ">on the model, mm"]),
        |list, at| {
            let here = each * f64::from(at);
            list.row([
                (at + 1).to_string(),
                plain(here.in_inches()),
                format!("{:.2}", desk.scale.reduce(here).in_millimetres()),
            ])
        },
    );
    Ok(Answer::new("bays", format!("bays in {}", desk.look.full.show(&length)))
        .says(format!("{bays} bays of {}; {} posts.", both(each, desk), bays + 1))
        .number("bays", f64::from(bays), "")
        .number("posts", f64::from(bays + 1), "")
        .figure(Figure::full("each bay", each, by(desk)))
        .list(list)
        .by(
            "bays = length / greatest spacing rounded up; one post more than bays; mark from one end",
            "common practice, no source",
            format!("{} / {bays} = {}", plain(length.in_inches()), plain(each.in_inches())),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(each))))
}

/// Pieces at centres.
pub(super) fn centres(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    // The section of the pieces.
    let _ = line.group(false);
    let [spacing, length] = line.lengths([
        named(&["at", "centres", "centers", "centre", "center", "oc", "every", "spacing", "apart"])
            .bare(Unit::Inch),
        any(&["along", "in", "length", "long", "wall", "roof", "ladder", "high", "tall"]),
    ]);
    let (Some(spacing), Some(length)) = (spacing, length) else {
        let example = "rafters at 24 in centres along 114 ft 6 in";
        return Err(line.missing(
            "setting pieces at centres",
            "the spacing or the length",
            example,
        ));
    };
    let (spacing, length) = (spacing.full(), length.full());
    above_zero("spacing", spacing.in_inches())?;
    let count = at_centres(length, spacing);
    let rest = length - spacing * f64::from(count.saturating_sub(1));
    Ok(Answer::new("centres", format!("at {} along {}", desk.look.full.show(&spacing), desk.look.full.show(&length)))
        .says(format!("{count} pieces, the last gap {}; {}.", desk.look.full.show(&rest), both(spacing, desk)))
        .number("pieces", f64::from(count), "")
        .figure(Figure::full("spacing", spacing, by(desk)))
        .figure(Figure::full("last gap", rest, by(desk)))
        .by(
            "length / spacing rounded down, and one more; another where the last gap is over a spacing and a quarter",
            "common practice, no source",
            format!("{} / {} = {}", plain(length.in_inches()), plain(spacing.in_inches()), plain(length / spacing)),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(spacing))))
}

/// Ties along a track.
pub(super) fn ties(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let [spacing, length] = line.lengths([
        any(&["at", "centres", "centers", "apart", "every", "spacing", "ties"]).bare(Unit::Inch),
        named(&["rail", "rails", "along", "in", "length", "long"]),
    ]);
    let mile = line.number(&["mile", "miles"]).map_or(1.0, |given| given.number());
    let spacing = spacing
        .ok_or_else(|| line.missing("counting ties", "the spacing", "ties at 21 in"))?
        .full();
    above_zero("spacing", spacing.in_inches())?;
    let miles = PrototypeLength::feet(5280.0) * mile;
    let mut answer = Answer::new("ties", format!("ties at {}", desk.look.full.show(&spacing)))
        .says(format!(
            "{} ties a mile ({:.0}); {} apart.",
            plain(miles / spacing / mile),
            miles / spacing / mile,
            both(spacing, desk)
        ))
        .number("ties a mile", PrototypeLength::feet(5280.0) / spacing, "")
        .figure(Figure::full("spacing", spacing, by(desk)));
    if let Some(length) = length {
        answer = answer.number("ties along it", length.full() / spacing, "");
    }
    Ok(answer
        .by(
            "a mile of 5280 ft over the spacing",
            "arithmetic; main line 19 1/2 in, army practice 24 in on straight track, read",
            format!(
                "63360 / {} = {}",
                plain(spacing.in_inches()),
                plain(63_360.0 / spacing.in_inches())
            ),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(spacing))))
}
