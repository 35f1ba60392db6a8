//! Paper: copies, prints that are out, tiles, points and pixels.

use super::above_zero;
use crate::bench::answer::{Answer, Drawn, Figure, plain, read};
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line, any, named};
use crate::drawing::tile::needed;
use crate::finding::Stop;
use crate::job::paper::{Paper, bar_across, bar_up};
use crate::quantity::{Exact, Length, ModelLength, Paper as OnPage, PaperLength, Piece, Unit};
use crate::writers::dxf::DxfUnit;

fn on_page(given: Given) -> PaperLength {
    Exact::<OnPage>::inches(given.value).length()
}

/// Photocopy and redraw: from a drawing to a scale.
pub(in crate::bench) fn copy(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "working out a copy";
    let example = "copy 1/8 in = 1 ft to O";
    let (factor, from, to) = match (&desk.to, line.lengths_left()) {
        (_, 2..) => {
            let [target, now] = line.lengths([
                named(&["to", "be", "wanted", "should"]),
                any(&["is", "measures", "from", "copy"]),
            ]);
            let (Some(now), Some(target)) = (now, target) else {
                return Err(line.missing(doing, "one of the two sizes", "copy 3 1/4 in to 4 in"));
            };
            let (now, target) = (on_page(now), on_page(target));
            above_zero("size of the drawing", now.in_inches())?;
            (
                target / now,
                format!("{} in", plain(now.in_inches())),
                format!("{} in", plain(target.in_inches())),
            )
        }
        (Some(to), _) => (desk.scale.redraw(to), desk.scale.to_string(), to.to_string()),
        _ => {
            return Err(line.missing(
                doing,
                "the scale of the drawing, or that of the copy",
                example,
            ));
        }
    };
    let percent = factor * 100.0;
    let steps = stepped(factor);
    Ok(Answer::new("copy", format!("a copy from {from} to {to}"))
        .says(format!("Copy at {percent:.4} percent: {factor:.6} times as large{steps}."))
        .number("percent", percent, "%")
        .number("factor", factor, "")
        .number("back again, percent", 100.0 / factor, "%")
        .number("of the area", factor * factor, "")
        .by("ratio of the drawing over ratio of the copy", "NEM 010 section 3.5 prints 45/87 = 0.517, read", format!("factor {} = {}", plain(factor), plain(percent)))
        .note("check a copy with a rule: machines are out by up to a percent, and differently each way"))
}

/// How a machine that goes from 25 to 400 percent gets there (common practice,
/// no source).
fn stepped(factor: f64) -> String {
    let (least, most) = (0.25, 4.0);
    if !factor.is_finite() || factor <= 0.0 || (least..=most).contains(&factor) {
        return String::new();
    }
    let limit = if factor > 1.0 { most } else { least };
    let times = (factor.ln() / f64::ln(limit)).ceil().max(1.0);
    let each = factor.powf(1.0 / times);
    format!("; {} copies of copies at {:.2} percent each", plain(times), each * 100.0)
}

/// What a bar was drawn as where a line does not say: the bars of our own pages,
/// by the unit it was measured in.
fn drawn_as(line: &Line<'_>, measured: Given) -> PaperLength {
    let metric = matches!(
        line.tokens.get(measured.at).map(|token| &token.what),
        Some(Piece::Length(_, Unit::Millimetre | Unit::Centimetre | Unit::Metre))
    );
    if metric { bar_up() } else { bar_across() }
}

/// A print by what its bar measures, or by how far it is out.
struct Printed {
    factor: f64,
    /// One standard uncertainty of the factor.
    spread: f64,
    about: String,
}

fn by_bar(line: &Line<'_>, measured: Given, drawn: Option<Given>) -> Result<Printed, Stop> {
    let size = on_page(measured);
    let should = drawn.map_or_else(|| drawn_as(line, measured), on_page);
    above_zero("bar as drawn", should.in_inches())?;
    above_zero("bar as measured", size.in_inches())?;
    let mm = |length: PaperLength| plain(length.in_millimetres());
    Ok(Printed {
        factor: size / should,
        spread: measured.spread() / should.in_inches(),
        about: format!("a bar of {} mm that measures {}", mm(should), mm(size)),
    })
}

fn by_percent(line: &Line<'_>, percent: Given) -> Printed {
    let share = percent.number() / 100.0;
    let words = ["large", "larger", "long", "longer", "big", "over", "oversize", "stretched"];
    // `prints at 97 percent` is the factor itself.
    let factor = if share > 0.5 {
        share
    } else if line.has(&words) {
        1.0 + share
    } else {
        1.0 - share
    };
    let about = format!("a print {} percent out", plain(percent.number()));
    Printed { factor, spread: 0.0, about }
}

/// A print that is out.
pub(super) fn print(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let percent = line.percent();
    let [part, drawn, measured] = line.lengths([
        named(&["part", "parts", "piece", "wall", "template", "on"]),
        named(&["of", "drawn", "should", "instead", "against", "nominal"]),
        any(&["measures", "measured", "is", "bar", "bars", "prints", "printed"]),
    ]);
    let found = match (measured, percent) {
        (Some(measured), _) => by_bar(line, measured, drawn)?,
        (None, Some(percent)) => by_percent(line, percent),
        _ => {
            let what = "what the bar measures, or the percent it is out";
            let example = "print bar measures 97.1 mm of 100 mm, part 140 mm";
            return Err(line.missing("checking a print", what, example));
        }
    };
    let other = line.length(any(&[])).map(|given| on_page(given) / drawn_as(line, given));
    let off = (found.factor - 1.0).abs();
    let mut answer = Answer::new("print", found.about.clone())
        .says(format!(
            "Factor {}, out by {} percent; print at {:.4} percent.",
            plain(found.factor),
            plain(off * 100.0),
            100.0 / found.factor
        ))
        .number("factor", found.factor, "")
        .number("out by", off * 100.0, "%")
        .number("print at", 100.0 / found.factor, "%");
    if let Some(part) = part {
        answer = part_error(answer, part.model(), &found, desk);
    }
    if found.spread > 0.0 {
        let word = if off <= 2.0 * found.spread { "lies" } else { "does not lie" };
        answer = answer
            .says(format!(
                "1.000 {word} within two sigma: {off:.4} against {:.4}.",
                2.0 * found.spread
            ))
            .number("off", off, "")
            .number("two sigma", 2.0 * found.spread, "");
    }
    if let Some(factor) = other {
        let apart = (found.factor / factor - 1.0).abs() * 100.0;
        answer = answer
            .says(format!(
                "The other bar: factor {}; the two are {apart:.2} percent apart.",
                plain(factor)
            ))
            .number("factor of the other bar", factor, "")
            .number("apart", apart, "%");
    }
    if off > 0.005 {
        answer = answer.look(
            "more than half a percent out, too much for card templates",
            "reprint at the percentage above, then measure again",
        );
    }
    let reprint = plain(100.0 / found.factor);
    Ok(answer
        .by(
            "factor = measured / drawn; print at 100 / factor; error of a part = part x (1 - factor); each direction by itself",
            "arithmetic; 0.5 percent for card and 0.2 mm for fits are common practice, no source",
            format!("100 x {} = {reprint}", plain(1.0 / found.factor)),
        )
        .note("a page printed with the correction carries bars that measure true: do not correct it again"))
}

/// What a part cut from such a print is out by.
fn part_error(answer: Answer, part: ModelLength, found: &Printed, desk: &Desk<'_>) -> Answer {
    let off = (found.factor - 1.0).abs();
    let error = part * off;
    let side = if found.factor < 1.0 { "short" } else { "long" };
    let fit = if error.in_millimetres() > 0.2 {
        "more than 0.2 mm, too much for a fit"
    } else {
        "within 0.2 mm"
    };
    answer
        .says(format!(
            "A part of {} comes out {} ({:.4} in, {:.2} thou) {side}: {fit}.",
            read(part, desk.look),
            millimetres(error),
            error.in_inches(),
            error.in_thou(),
        ))
        .figure(Figure::model("error of the part", error, desk.look))
        .number("error of the part, inches", error.in_inches(), "in")
        .number("error of the part, mm", error.in_millimetres(), "mm")
        .number("error share of the part", off * 100.0, "%")
        .figure(Figure::model("the part as printed", part * found.factor, desk.look))
}

fn millimetres(length: ModelLength) -> String {
    format!("{} mm", plain(length.in_millimetres()))
}

/// The paper a line names.
fn named_paper(line: &Line<'_>) -> Option<Paper> {
    let key = |paper: &&Paper| line.has(&[&paper.key.replace('-', " ")]);
    Paper::ALL.iter().rev().find(key).copied()
}

/// Pages a template takes.
pub(super) fn tiles(line: &mut Line<'_>, _desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "counting pages";
    let example = "tiles 500 x 300 mm on A4, margin 10 mm, overlap 10 mm";
    let sides = line.group(true);
    let paper = named_paper(line).unwrap_or(Paper::ALL[0]);
    let [margin, overlap, wide, high] = line.lengths([
        named(&["margin", "margins", "border"]),
        named(&["overlap", "lap", "overlapping"]),
        any(&["wide", "long", "across"]),
        any(&["high", "tall", "down"]),
    ]);
    let (wide, high) = match (sides.as_deref(), wide, high) {
        (Some([(one, true), (two, true)]), ..) => (on_page(*one), on_page(*two)),
        (_, Some(wide), Some(high)) => (on_page(wide), on_page(high)),
        _ => return Err(line.missing(doing, "the size of the template", example)),
    };
    let margin = margin.map_or(PaperLength::millimetres(8.0), on_page);
    let overlap = overlap.map_or(PaperLength::ZERO, on_page);
    let (short, long) = paper.upright();
    let room = |side: Length<OnPage>| side - margin * 2.0;
    above_zero("room between the margins", room(short).in_inches())?;
    let count = |across: PaperLength, up: PaperLength| {
        (needed(wide, room(across), overlap), needed(high, room(up), overlap))
    };
    let (upright, lying) = (count(short, long), count(long, short));
    let all = |(across, down): (u32, u32)| across * down;
    let better = if all(lying) < all(upright) { " (fewer lying)" } else { "" };
    Ok(Answer::new(
        "tiles",
        format!(
            "{} x {} mm on {}",
            plain(wide.in_millimetres()),
            plain(high.in_millimetres()),
            paper.name
        ),
    )
    .says(format!(
        "Upright: {} across, {} down, {} pages; lying: {} across, {} down, {} pages{better}.",
        upright.0,
        upright.1,
        all(upright),
        lying.0,
        lying.1,
        all(lying)
    ))
    .number("across, upright", f64::from(upright.0), "")
    .number("down, upright", f64::from(upright.1), "")
    .number("pages, upright", f64::from(all(upright)), "")
    .number("pages, lying", f64::from(all(lying)), "")
    .by(
        "(length - overlap) / (room - overlap) rounded up, each way",
        "arithmetic; ISO 216 and ANSI/ASME Y14.1 for the paper, read",
        format!(
            "room {} x {} mm",
            plain(room(short).in_millimetres()),
            plain(room(long).in_millimetres())
        ),
    ))
}

/// A length on paper in every unit a file knows.
fn in_units(answer: Answer, name: &str, length: PaperLength) -> Answer {
    answer
        .number(format!("{name}, mm"), length.in_millimetres(), "mm")
        .number(format!("{name}, inches"), length.in_inches(), "in")
        .number(format!("{name}, points"), length.in_inches() * 72.0, "pt")
        .number(format!("{name}, pixels"), length.in_inches() * 96.0, "px")
}

/// A size of paper, or a length in points and pixels.
pub(super) fn paper(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let rule = "1 in = 72 pt = 96 px = 25.4 mm";
    let source = "ISO 32000-2 8.3.2.3 for points, CSS for pixels, ISO 216 and ANSI/ASME Y14.1 for paper, read";
    if let Some(size) = named_paper(line) {
        let (short, long) = size.upright();
        let answer = Answer::new("paper", format!("paper {}", size.name)).says(format!(
            "{}: {} x {} mm, {:.4} x {:.4} pt, {:.4} x {:.4} px; {:.6} to 1.",
            size.name,
            plain(short.in_millimetres()),
            plain(long.in_millimetres()),
            short.in_inches() * 72.0,
            long.in_inches() * 72.0,
            short.in_inches() * 96.0,
            long.in_inches() * 96.0,
            long / short
        ));
        let answer = in_units(in_units(answer, "short side", short), "long side", long);
        return Ok(answer
            .number("long over short", long / short, "")
            .number("root of 2", std::f64::consts::SQRT_2, "")
            .by(
                rule,
                source,
                format!(
                    "{} / 25.4 x 72 = {:.4}",
                    plain(short.in_millimetres()),
                    short.in_inches() * 72.0
                ),
            ));
    }
    if let Some(given) = line.length(any(&[])) {
        let model = if desk.model || line.has(&["paper"]) && given.full().in_inches() < 24.0 {
            given.model()
        } else {
            desk.scale.reduce(given.full())
        };
        let page = PaperLength::inches(model.in_inches());
        let answer = Answer::new("paper", format!("{} on paper at 1:1", line.written(given.at)))
            .says(format!(
                "{:.4} mm, {:.4} pt, {:.4} px on a page at 1:1.",
                page.in_millimetres(),
                page.in_inches() * 72.0,
                page.in_inches() * 96.0
            ));
        return Ok(in_units(answer, "on the page", page)
            .by(rule, source, "25.4 / 72 = 0.3527778 mm")
            .drawn(Drawn::Rule(model)));
    }
    let points = line.has(&["pt", "point", "points"]);
    let count = line.first_number().map_or(1.0, Given::number);
    let length = PaperLength::inches(count / if points { 72.0 } else { 96.0 });
    let word = if points { "pt" } else { "px" };
    let answer = Answer::new("paper", format!("{} {word}", plain(count))).says(format!(
        "{} {word} is {:.7} mm, {:.7} in.",
        plain(count),
        length.in_millimetres(),
        length.in_inches()
    ));
    Ok(in_units(answer, "it is", length).by(
        rule,
        source,
        "25.4 / 96 = 0.2645833 mm; 25.4 / 72 = 0.3527778 mm",
    ))
}

/// The unit number of a DXF file.
pub(super) fn dxf(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let metric = line.has(&["mm", "millimetre", "millimetres", "millimeters", "metric"])
        || desk.look.is_metric();
    let inches = line.has(&["in", "inch", "inches"]);
    let mut answer = Answer::new("dxf", "the unit of a DXF file");
    for (unit, wanted) in [(DxfUnit::Millimetres, metric), (DxfUnit::Inches, inches)] {
        if wanted || metric == inches {
            answer = answer
                .says(format!("$INSUNITS of a file in {}: {}.", unit.word(), unit.code()))
                .number(unit.word(), f64::from(unit.code()), "");
        }
    }
    let foot = 2.0;
    Ok(answer
        .number("feet", foot, "")
        .number("centimetres", 5.0, "")
        .number("metres", 6.0, "")
        .number("none said", 0.0, "")
        .by(
            "$INSUNITS in the header",
            "the format owner's variable reference, read",
            "R12 has no such field: the unit stands in the file's name",
        ))
}
