//! One size beside another: rounding, differences, repeated pieces, areas,
//! scales.

use super::{above_zero, by};
use crate::bench::answer::{Answer, Drawn, Figure, exactly, plain, read};
use crate::bench::arithmetic;
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line, any, named};
use crate::catalog::scales::ratio_name;
use crate::finding::Stop;
use crate::quantity::{
    Denominator, Exact, Model, Notation, Piece, Prototype, PrototypeLength, Rational, Scale, Sign,
    Unit,
};

/// A size, `to`, and a step: `45.75 to 0.1`, `0.4019 in to 1/64`.
pub(super) fn is_rounding(line: &Line<'_>) -> u32 {
    let quantities = line.count(Piece::is_quantity);
    let numbers = line.count(|piece| matches!(piece, Piece::Number(_)));
    u32::from(line.has(&["to"]) && quantities == 2 && numbers > 0) * 4
}

/// To the nearest fraction, step or place.
pub(super) fn round(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "rounding";
    let example = "0.4019 in to nearest 1/64";
    if line.count(|piece| matches!(piece, Piece::Size(..))) > 0 || line.has(&["e12", "e24"]) {
        return super::circuit::values(line, desk);
    }
    let places = line.number(&["places", "place", "decimals", "digits"]);
    let quantity = |piece: &Piece| matches!(piece, Piece::Length(..) | Piece::Number(_));
    let step = if places.is_none() { line.behind(&["nearest", "to"], quantity) } else { None };
    let size = line.next(|piece| matches!(piece, Piece::Length(..)));
    let number = if size.is_none() { line.first_number() } else { None };
    let sized = size.is_some();
    let value =
        size.or(number).ok_or_else(|| line.missing(doing, "the size to round", example))?.value;
    let step = match (step, places) {
        (Some(step), _) => step.value,
        (None, Some(places)) => {
            let places = places.number().clamp(0.0, 12.0) as u32;
            Rational::new(1, 10_i128.pow(places)).unwrap_or(Rational::whole(1))
        }
        _ => return Err(line.missing(doing, "the step to round to", example)),
    };
    let trouble = || {
        Stop::new(doing, "the step is nothing, or the numbers are too long", "write 1/64 or 0.1")
    };
    if step <= Rational::ZERO {
        return Err(trouble());
    }
    let (count, _) = value.over(step).ok_or_else(trouble)?.nearest_whole();
    let count = Rational::new(count, 1).ok_or_else(trouble)?;
    let rounded = step.times(count).ok_or_else(trouble)?;
    let off = rounded.minus(value).ok_or_else(trouble)?;
    let shown =
        if sized { format!("{rounded} in, {}", exactly(rounded)) } else { plain(rounded.value()) };
    let answer = Answer::new("round", line.text.trim())
        .says(format!(
            "{shown}; that is {} steps of {step}, off by {}.",
            plain(count.value()),
            plain(off.value().abs())
        ))
        .number("rounded", rounded.value(), if sized { "in" } else { "" })
        .number("steps", count.value(), "")
        .number("off by", off.value().abs(), if sized { "in" } else { "" })
        .by(
            "to the nearest step, an exact half to the even one, once and from the unrounded value",
            "ASTM E29; ISO 80000-1 Annex B rule A",
            format!("{value} / {step} = {}", plain(value.value() / step.value())),
        );
    if !sized {
        return Ok(answer);
    }
    let full: PrototypeLength = Exact::<Prototype>::inches(rounded).length();
    Ok(answer
        .figure(Figure::full("size", full, by(desk)))
        .drawn(Drawn::Rule(Exact::<Model>::inches(rounded).length())))
}

/// One size against another.
pub(super) fn against(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    if line.has(&["track", "gauge"]) {
        return super::track::gauge(line, desk);
    }
    let doing = "comparing two sizes";
    let example = "0.060 in against 1.5 mm";
    let places: Vec<Given> = std::iter::from_fn(|| {
        line.next(|piece| matches!(piece, Piece::Length(..) | Piece::Number(_)))
    })
    .collect();
    let [one, other] = places.as_slice() else {
        return Err(line.missing(doing, "one of the two sizes", example));
    };
    let off = one
        .value
        .minus(other.value)
        .ok_or_else(|| Stop::new(doing, "the numbers are too long", ""))?;
    above_zero("second size", other.number().abs())?;
    let (a, b) = (one.number(), other.number());
    let percent = 100.0 * (a / b - 1.0);
    let mm = off.value() * 25.4;
    let full: PrototypeLength = Exact::<Prototype>::inches(off).length();
    let word = if off.is_negative() { "less" } else { "more" };
    let answer = Answer::new(
        "against",
        format!("{} against {}", line.written(one.at), line.written(other.at)),
    )
    .says(format!(
        "{} is {} in ({} mm) {word} than {}: {percent:+.4} percent.",
        line.written(one.at),
        plain(off.value().abs()),
        plain(mm.abs()),
        line.written(other.at)
    ))
    .number("difference", off.value(), "in")
    .number("difference, mm", mm, "mm")
    .number("percent", percent, "%")
    .number("ratio", a / b, "")
    .number("the first, inches", a, "in")
    .number("the first, mm", a * 25.4, "mm")
    .number("the second, mm", b * 25.4, "mm");
    let model = desk.scale.reduce(full);
    Ok(answer
        .figure(Figure::full("difference, if full size", full, by(desk)))
        .by(
            "first less second; percent of the second",
            "the inch is 25.4 mm, NIST Handbook 44",
            format!("{} - {} = {} in", plain(a), plain(b), plain(off.value())),
        )
        .note(format!(
            "a full-size difference so large is {} on the model at {}",
            read(model, desk.look),
            desk.scale
        )))
}

/// So many pieces of a size that carries an uncertainty.
pub(super) fn is_each(line: &Line<'_>) -> u32 {
    let wide = line.has_sign(&[Sign::PlusMinus]);
    let each = line.has(&["each"]) && line.count(|piece| matches!(piece, Piece::Number(_))) > 0;
    u32::from(wide && each && line.lengths_left() > 0) * 8
}

/// A row of pieces alike: the sum, and its uncertainty both ways.
pub(super) fn each(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "adding up pieces";
    let example = "8 boards each 9.5 \u{b1} 0.1 in";
    let (sizes, unit) = series_behind(line);
    let (count, size) = match (sizes.as_slice(), unit) {
        ([count, size], Some(unit)) => (
            count.value.over(unit.to_inches(Rational::whole(1)).unwrap_or(Rational::whole(1))),
            *size,
        ),
        _ => return Err(line.missing(doing, "the number of pieces, or the size of one", example)),
    };
    let count = count.map_or(1.0, Rational::value);
    let (one, spread) = (size.number(), size.spread());
    let full = PrototypeLength::inches(one * count);
    let (independent, common) = (spread * count.abs().sqrt(), spread * count.abs());
    Ok(Answer::new("each", format!("{} pieces of {} in", plain(count), plain(one)))
        .says(format!(
            "{} in in all; \u{b1} {:.6} in if each goes its own way, \u{b1} {:.6} in if all are out alike.",
            plain(one * count),
            independent,
            common
        ))
        .figure(Figure::full("in all", full, by(desk)))
        .number("in all, inches", one * count, "in")
        .number("\u{b1} independent", independent, "in")
        .number("\u{b1} all alike", common, "in")
        .by(
            "sum = n x size; independent: sigma x sqrt(n); one common cause: sigma x n",
            "JCGM 100:2008 (GUM) 5.1 and 5.2, from memory",
            format!("{} x sqrt({n}) = {}; {} x {n} = {}", plain(spread), plain(independent), plain(spread), plain(common), n = plain(count)),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(full))))
}

fn series_behind(line: &mut Line<'_>) -> (Vec<Given>, Option<Unit>) {
    line.series()
}

pub(super) fn is_area(line: &Line<'_>) -> u32 {
    let area = line.count(|piece| matches!(piece, Piece::Area(_))) > 0;
    u32::from(area) * 3
}

/// An area of two sides.
pub(super) fn area(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    if line.count(|piece| matches!(piece, Piece::Area(_))) == 0
        && let Some(mut sides) = line.group(true)
    {
        if line.has(&["plywood", "panel", "sheet", "sheets", "drywall"]) {
            in_feet(line, &mut sides);
        }
        return two_sides(line, &sides, desk);
    }
    if line.has(&["circle", "round", "diameter"]) {
        return super::circle::tank(line, desk);
    }
    let signs = [Sign::Plus, Sign::Minus, Sign::Times, Sign::Over, Sign::Open];
    if line.lengths_left() == 2 && !line.has_sign(&signs) {
        let pair =
            line.lengths([any(&["wide", "long", "width"]), any(&["high", "tall", "height"])]);
        if let [Some(one), Some(two)] = pair {
            return two_sides(line, &[(one, true), (two, true)], desk);
        }
    }
    arithmetic::work(line, desk)
}

/// Sheets are spoken of in feet.
fn in_feet(line: &mut Line<'_>, sides: &mut [(Given, bool)]) {
    for (given, sized) in sides.iter_mut().filter(|(_, sized)| !*sized) {
        if let Some(inches) = Unit::Foot.to_inches(given.value) {
            (given.value, *sized) = (inches, true);
        }
    }
    line.notes.push("the sides are taken as feet".to_owned());
}

/// Two sizes in feet or inches with an `x` between, and nothing else.
pub(super) fn is_two_sides(line: &Line<'_>) -> u32 {
    let two = line.lengths_left() == 2 && line.count(Piece::is_quantity) == 2;
    let signs = [Sign::Plus, Sign::Minus, Sign::Times, Sign::Over, Sign::Open, Sign::PlusMinus];
    u32::from(two && line.has_sign(&[Sign::By]) && !line.has_sign(&signs)) * 5
}

fn two_sides(
    line: &mut Line<'_>,
    sides: &[(Given, bool)],
    desk: &Desk<'_>,
) -> Result<Answer, Stop> {
    let slope = line.pitch().map_or(1.0, |pitch| pitch.hypot(1.0));
    let [(one, true), (two, true)] = sides else {
        return Err(line.missing(
            "working out an area",
            "two sides with their unit",
            "area 40 x 14 ft",
        ));
    };
    let halved = line.has(&["gable", "triangle"]);
    let (a, b) = (one.full().in_feet(), two.full().in_feet());
    let with = match (halved, slope > 1.0) {
        (true, _) => ", a triangle",
        (_, true) => ", along its slopes",
        _ => "",
    };
    let around = (one.full() + two.full()) * 2.0;
    let on_model = [one, two].map(|side| desk.scale.reduce(side.full()));
    let b = if halved { b / 2.0 } else { b } * slope;
    let sigma = (b * one.spread() / 12.0).hypot(a * two.spread() / 12.0);
    let ratio = desk.scale.ratio.value();
    let model = a * b * 144.0 / (ratio * ratio);
    let spread = if sigma > 0.0 { format!(" \u{b1} {sigma:.4}") } else { String::new() };
    let mut answer = Answer::new(
        "area",
        format!(
            "{} by {}{with}",
            desk.look.full.show(&one.full()),
            desk.look.full.show(&two.full())
        ),
    )
    .says(format!(
        "{}{spread} sq ft, {} around it; on the model at {} {} x {}, {} sq in ({} sq cm).",
        plain(a * b),
        desk.look.full.show(&around),
        desk.scale,
        read(on_model[0], desk.look),
        read(on_model[1], desk.look),
        plain(model),
        plain(model * 6.4516)
    ))
    .figure(Figure::full("around it", around, by(desk)))
    .figure(Figure::model("one side on the model", on_model[0], desk.look))
    .figure(Figure::model("other side on the model", on_model[1], desk.look))
    .number("area", a * b, "sq ft")
    .number("area, metric", a * b * 0.092_903_04, "sq m")
    .number("squares of roof", a * b / 100.0, "")
    .number("on the model", model, "sq in");
    if sigma > 0.0 {
        answer = answer.number("\u{b1} 1 sigma", sigma, "sq ft");
    }
    Ok(answer.by(
        "side x side; sigma = sqrt((b sa)^2 + (a sb)^2); on the model over the scale squared",
        "JCGM 100:2008 (GUM) equation 10, from memory",
        format!("{} x {} = {}", plain(a), plain(b), plain(a * b)),
    ))
}

/// The scale a line names, or the one two sizes tell.
pub(super) fn scale(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let [full, model] = line.lengths([
        named(&["for", "full", "stands", "real", "building", "of"]),
        any(&["is", "model", "drawing"]),
    ]);
    let (Some(full), Some(model)) = (full, model) else {
        return Ok(named_scale(&desk.scale, desk));
    };
    let (full, model) = (full.value.max(model.value), full.value.min(model.value));
    let ratio = full.over(model).and_then(Rational::to_ratio);
    let ratio = ratio.ok_or_else(|| {
        Stop::new(
            "finding a scale",
            "a size is not above zero",
            "write: what scale is 42 mm for 12 ft",
        )
    })?;
    let found = Scale::new(ratio_name(ratio), ratio);
    let mut answer = named_scale(&found, desk);
    let off = |name: &str| {
        desk.catalog
            .scales
            .find(name)
            .ok()
            .map(|scale| (100.0 * (scale.ratio.value() / ratio.value() - 1.0), scale))
    };
    let near = desk.catalog.scales.rows.iter().filter_map(|row| off(&row.name));
    if let Some((percent, scale)) = near.min_by(|a, b| a.0.abs().total_cmp(&b.0.abs())) {
        answer = answer
            .says(format!("The nearest scale of the list is {scale}, {percent:+.3} percent off."));
    }
    Ok(answer)
}

/// All about a scale.
pub(in crate::bench) fn named_scale(scale: &Scale, desk: &Desk<'_>) -> Answer {
    let ratio = scale.ratio.value();
    let exact = Rational::from(scale.ratio);
    let foot = PrototypeLength::feet(1.0);
    let inch = PrototypeLength::inches(1.0);
    let row = desk.catalog.scales.row(scale);
    let look = desk.look;
    let mut answer = Answer::new("scale", format!("scale {scale}"))
        .says(format!(
            "{scale} is 1:{ratio:.10} (exactly {exact}); a foot is {}, an inch {:.4} thou.",
            read(scale.reduce(foot), look),
            scale.reduce(inch).in_thou()
        ))
        .number("ratio", ratio, "")
        .figure(Figure::full("a foot", foot, (scale, look)))
        .number("a foot, mm", scale.reduce(foot).in_millimetres(), "mm")
        .number("an inch, thou", scale.reduce(inch).in_thou(), "thou")
        .drawn(Drawn::Rule(scale.reduce(foot)));
    if let Some(gauge) = row.and_then(|row| row.gauge.as_ref()) {
        answer = answer.figure(Figure::model("gauge of its track", gauge.length(), look));
    }
    let source = row.map_or("the ratio as given".to_owned(), |row| row.source.clone());
    let parts = Notation::Inches(Denominator::SIXTY_FOURTHS);
    answer.by(
        "304.8 mm over what stands for a foot",
        source,
        format!("1 ft / {} = {}", plain(ratio), parts.show(&scale.reduce(foot))),
    )
}
