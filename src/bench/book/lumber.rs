//! Nominal lumber by era, and board feet.

use super::by;
use crate::bench::answer::{Answer, Drawn, Figure, List, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Line, any};
use crate::catalog::lumber::{Actual, Era, Nominal};
use crate::catalog::stock::Stock;
use crate::finding::Stop;
use crate::quantity::{Denominator, ModelLength, Notation, Piece, Rational, Sign, Unit};

/// Words for an era that are no year.
const ERAS: [(&str, &str); 6] = [
    ("dry", "ps20-dry"),
    ("modern", "ps20-dry"),
    ("today", "ps20-dry"),
    ("green", "ps20-green"),
    ("rough", "full-dimension"),
    ("dimension", "full-dimension"),
];

/// Two bare numbers with a sign between: `2x12`.
pub(super) fn is_section(line: &Line<'_>) -> u32 {
    let bare = |at: usize| {
        !line.is_used(at)
            && line.tokens.get(at).is_some_and(|token| matches!(token.what, Piece::Number(_)))
    };
    let by = |at: usize| line.tokens[at].what == Piece::Sign(Sign::By);
    let found = (1..line.tokens.len()).any(|at| by(at) && bare(at - 1) && bare(at + 1));
    u32::from(found) * 6
}

/// A section with a length behind it, or so many pieces of one.
pub(super) fn is_lot(line: &Line<'_>) -> u32 {
    let by = line.tokens.iter().filter(|token| token.what == Piece::Sign(Sign::By)).count();
    let pieces = line.has(&["pieces", "pcs"]) && is_section(line) > 0;
    let third = by == 2 && is_section(line) > 0;
    // A count before the section, a length behind it: 100 1x12 16 ft.
    let sized = is_section(line) > 0 && line.lengths_left() == 1;
    let counted = sized && line.count(|piece| matches!(piece, Piece::Number(_))) == 3;
    u32::from(pieces || third || counted) * 7
}

/// The nominal section of a line, and the length behind its second sign.
fn nominal(line: &mut Line<'_>) -> Result<(Nominal, Option<Rational>), Stop> {
    let example = "2x12 at O in 1926";
    let missing = || line_missing(example);
    let sides = line.group(false).ok_or_else(missing)?;
    let inches = |at: usize| sides.get(at).map(|(given, _)| given.value);
    let (one, two) = inches(0).zip(inches(1)).ok_or_else(missing)?;
    if one <= Rational::ZERO || two <= Rational::ZERO {
        return Err(Stop::new("reading the section", "a side is not above zero", "write 2x12"));
    }
    let long = sides.get(2).and_then(|(given, sized)| {
        if *sized { Some(given.value) } else { Unit::Foot.to_inches(given.value) }
    });
    Ok((Nominal { thickness: one.min(two), width: one.max(two) }, long))
}

fn line_missing(example: &str) -> Stop {
    Stop::new(
        "working out lumber",
        "a section of two sides is missing",
        format!("write for example: {example}"),
    )
}

/// The eras asked for: by word, by year, or all.
fn eras<'c>(line: &mut Line<'_>, desk: &Desk<'c>) -> Result<(Vec<&'c Era>, bool), Stop> {
    let lumber = &desk.catalog.lumber;
    if let Some((_, key)) = ERAS.iter().find(|(word, _)| line.has(&[word])) {
        return Ok((vec![lumber.era(key)?], true));
    }
    let years = [Rational::whole(1500), Rational::whole(2100)];
    let year = |piece: &Piece| matches!(piece, Piece::Number(n) if *n >= years[0] && *n <= years[1] && n.denominator() == 1);
    let year = line.next(year).map(|given| given.number() as i32).or(desk.year);
    let found = year.map(|year| lumber.eras_of_year(year)).unwrap_or_default();
    if found.is_empty() { Ok((lumber.eras.iter().collect(), false)) } else { Ok((found, true)) }
}

/// A nominal size by era, on the model, with the nearest strip.
pub(super) fn section(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let (nominal, _) = nominal(line)?;
    let (eras, chosen) = eras(line, desk)?;
    let lumber = &desk.catalog.lumber;
    let known: Vec<(&Era, Actual)> = eras
        .iter()
        .filter_map(|era| Some((*era, lumber.actual(nominal, &era.key).ok()?)))
        .collect();
    let Some((era, first)) = known.first() else {
        return Err(Stop::new(
            format!("finding {nominal}"),
            "no table of these eras has such a size",
            "measure it: a measured size beats a table",
        ));
    };
    let title = format!("{nominal} at {}", desk.scale);
    let mut answer = Answer::new("lumber", title);
    let lead = chosen && known.len() == 1;
    for (era, actual) in known.iter().take(if lead { 1 } else { known.len() }) {
        answer = answer.says(sentence(nominal, era, actual, desk));
    }
    for (era, actual) in &known {
        let name = |side: &str| format!("{}: {side}", era.name);
        answer = answer
            .figure(Figure::full(name("thickness"), actual.thickness.length(), by(desk)))
            .figure(Figure::full(name("width"), actual.width.length(), by(desk)));
    }
    let mut answer = answer.list(strips(&known, &desk.catalog.stock, desk));
    for (era, _) in known.iter().filter(|(era, _)| !era.note.is_empty()) {
        answer = answer.note(format!("{}: {}", era.name, era.note));
    }
    if chosen {
        answer = answer.note("a measured size always beats a table");
    }
    let thick = first.thickness.in_inches();
    let model = desk.scale.reduce(first.width.length());
    let worked = format!(
        "{}: {} in nominal less {} is {} in; over {} on the model",
        era.name,
        nominal.thickness,
        nominal.thickness.minus(thick).unwrap_or(Rational::ZERO),
        thick,
        plain(desk.scale.ratio.value()),
    );
    let source: Vec<String> = known.iter().flat_map(|(_, actual)| actual.sources.clone()).collect();
    let near = [
        format!("{nominal} in 1910"),
        format!("30 pieces of {nominal}x16 ft board feet"),
        format!("{} in", plain(first.width.length().in_inches())),
    ];
    let mut answer = answer
        .by("the size of the era's table, divided by the scale", unique(source), worked)
        .drawn(Drawn::Rule(model));
    answer.near = near.into();
    Ok(answer)
}

fn unique(mut sources: Vec<String>) -> String {
    sources.dedup();
    let mut seen: Vec<String> = Vec::new();
    for source in sources {
        if !seen.contains(&source) {
            seen.push(source);
        }
    }
    seen.join("; ")
}

/// `2x12 PS 20, dry: 1 1/2" x 11 1/4"; on the model at O 1/32" x 15/64"- ...`
fn sentence(nominal: Nominal, era: &Era, actual: &Actual, desk: &Desk<'_>) -> String {
    let full = Notation::Inches(Denominator::SIXTY_FOURTHS);
    let model = |size: crate::quantity::PrototypeLength| desk.scale.reduce(size);
    let (thick, wide) = (actual.thickness.length(), actual.width.length());
    let near = desk.catalog.stock.strips.iter();
    let metric = desk.look.is_metric();
    let wood = near.filter(|strip| strip.material == "wood" && is_metric(strip) == metric);
    let best = nearest(wood, model(thick), model(wide));
    let strip = best.map_or(String::new(), |near| format!("; nearest wood strip {}", near.name()));
    format!(
        "{nominal}, {}: {} x {}; on the model at {} {} x {} ({:.2} x {:.2} mm){strip}.",
        era.name,
        full.show(&actual.thickness),
        full.show(&actual.width),
        desk.scale,
        desk.look.model.show(&model(thick)),
        desk.look.model.show(&model(wide)),
        model(thick).in_millimetres(),
        model(wide).in_millimetres(),
    )
}

/// A strip as near as one material has it.
struct Near {
    material: String,
    thickness: String,
    width: String,
    off: [ModelLength; 2],
}

impl Near {
    fn name(&self) -> String {
        format!("{} x {}", self.thickness, self.width)
    }

    fn worth(&self) -> f64 {
        self.off[0].in_inches().hypot(self.off[1].in_inches())
    }
}

/// Whether a strip is sold by millimetres.
fn is_metric(strip: &crate::catalog::stock::Strip) -> bool {
    strip.thickness.unit() == Unit::Millimetre
}

/// The strip whose two sides are off the least, taken together.
fn nearest<'c>(
    strips: impl Iterator<Item = &'c crate::catalog::stock::Strip>,
    thick: ModelLength,
    wide: ModelLength,
) -> Option<Near> {
    let each = strips.flat_map(|strip| {
        strip.widths.iter().map(move |width| Near {
            material: strip.material.clone(),
            thickness: strip.thickness.text().to_owned(),
            width: width.text().to_owned(),
            off: [strip.thickness.length() - thick, width.length() - wide],
        })
    });
    each.min_by(|a, b| a.worth().total_cmp(&b.worth()))
}

/// A difference with its sign; what rounds to nothing has none.
fn signed(value: f64, places: usize) -> String {
    let least = 0.5 * 10_f64.powi(-i32::try_from(places).unwrap_or(0));
    if value.abs() < least { format!("{:.places$}", 0.0) } else { format!("{value:+.places$}") }
}

/// The nearest strip of each material, for each era.
fn strips(known: &[(&Era, Actual)], stock: &Stock, desk: &Desk<'_>) -> List {
    let (unit, places) = desk.look.fine();
    let off = |length: ModelLength| signed(length.in_inches() / unit.in_inches(), places);
    let heads = [
        "era",
        "material",
        "strip",
        &format!(">thickness off, {unit}"),
        &format!(">width off, {unit}"),
        ">in",
    ];
    let mut list = List::new("Nearest strip", &heads);
    let mut materials: Vec<&str> =
        stock.strips.iter().map(|strip| strip.material.as_str()).collect();
    materials.dedup();
    for (era, actual) in known {
        let thick = desk.scale.reduce(actual.thickness.length());
        let wide = desk.scale.reduce(actual.width.length());
        let kinds = materials.iter().flat_map(|material| [(material, false), (material, true)]);
        for (material, metric) in kinds {
            let same = stock.strips.iter();
            let same = same.filter(|s| s.material == *material && is_metric(s) == metric);
            if let Some(near) = nearest(same, thick, wide) {
                let exact = near.off.map(|off| signed(off.in_inches(), 6));
                list.rows.push(vec![
                    era.key.clone(),
                    near.material.clone(),
                    near.name(),
                    off(near.off[0]),
                    off(near.off[1]),
                    exact.join(", "),
                ]);
            }
        }
    }
    list
}

fn pieces(count: f64) -> String {
    let word = if (count - 1.0).abs() < 1e-9 { "piece" } else { "pieces" };
    format!("{} {word}", plain(count))
}

/// Board feet of a lot.
pub(super) fn board_feet(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let (nominal, behind) = nominal(line)?;
    let said =
        if behind.is_none() { line.length(any(&["long", "length", "by", "each"])) } else { None };
    let inches = behind.or(said.map(|given| given.value)).ok_or_else(|| {
        line.missing("working out board feet", "the length", "30 pieces of 2x6x14 ft board feet")
    })?;
    let counted = ["pieces", "piece", "pcs", "boards", "planks", "sticks", "of", "them", "times"];
    let count = line.number(&counted).or_else(|| line.first_number());
    let count = count.map_or(1.0, crate::bench::said::Given::number);
    let length: crate::quantity::PrototypeLength =
        crate::quantity::Exact::<crate::quantity::Prototype>::inches(inches).length();
    let each = nominal.board_feet(length);
    let feet = length.in_feet();
    let thick = nominal.thickness.max(Rational::whole(1));
    let model = desk.scale.reduce(length);
    let answer = Answer::new("board feet", format!("{} of {nominal}, {} ft", pieces(count), plain(feet)))
        .says(format!("{} board feet: {} of {} each.", plain(each * count), pieces(count), plain(each)))
        .number("board feet", each * count, "")
        .number("board feet each", each, "")
        .number("length in all", feet * count, "ft")
        .figure(Figure::full("each piece", length, by(desk)))
        .by(
            "nominal thickness x nominal width in inches x length in feet, over 12; under 1 in counts as 1 in",
            "several glossaries of the trade; the last part from memory of the lumber measure clause of PS 20",
            format!(
                "{thick} x {} x {} / 12 x {} = {}",
                nominal.width,
                plain(feet),
                plain(count),
                plain(each * count)
            ),
        )
        .drawn(Drawn::Rule(model));
    Ok(if nominal.thickness < Rational::whole(1) {
        answer.note(format!("{} in is counted as 1 in", nominal.thickness))
    } else {
        answer
    })
}
