//! What is cut: kerf, sticks, lids, cores, diagonals.

use super::above_zero;
use crate::bench::answer::{Answer, Drawn, Figure, plain, read};
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line, any, named};
use crate::finding::Stop;
use crate::quantity::{ModelLength, PrototypeLength};
use crate::sums::fit::{casting_opening, drawn_hole, drawn_outside};
use crate::sums::rows::hypotenuse;

const ALREADY: &str =
    "common practice for a beam that runs on the line, read in laser service pages";

/// Two sides as a text.
fn sides(size: (ModelLength, ModelLength)) -> String {
    let (one, two) = (size.0.in_millimetres(), size.1.in_millimetres());
    format!(
        "{} x {} mm ({:.4} x {:.4} in)",
        plain(one),
        plain(two),
        size.0.in_inches(),
        size.1.in_inches()
    )
}

/// The sides of the first group, or a square of the length beside a word.
fn rectangle(line: &mut Line<'_>) -> Option<(ModelLength, ModelLength)> {
    let sides = line.group(true)?;
    match sides.as_slice() {
        [(one, _), (two, _), ..] => Some((one.model(), two.model())),
        _ => None,
    }
}

/// What is drawn for a beam, or what comes of what was drawn.
pub(super) fn kerf(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    if line.has(&["stick", "sticks"]) {
        return sticks(line, desk);
    }
    let doing = "allowing for the kerf";
    let example = "kerf 0.2 mm, part 40 mm square";
    // The group first, so that its sides are not taken for a part.
    let group = rectangle(line);
    let [kerf, hole, drawn, part] = line.lengths([
        named(&["kerf", "beam", "laser"]),
        named(&["hole", "opening", "slot", "window"]),
        named(&["drawn"]),
        any(&["part", "piece", "outside", "square"]),
    ]);
    let kerf = kerf.ok_or_else(|| line.missing(doing, "the kerf", example))?.model();
    above_zero("kerf", kerf.in_inches())?;
    let square = |given: Option<Given>| given.map(|given| (given.model(), given.model()));
    let is_drawn = line.has(&["drawn"]);
    let is_hole = line.has(&["hole", "opening", "slot", "window"]);
    let mut answer = Answer::new("kerf", format!("a kerf of {} mm", plain(kerf.in_millimetres())))
        .number("kerf", kerf.in_millimetres(), "mm");
    let group_is_part = group.is_some() && !is_hole && !is_drawn;
    let wanted_part = if group_is_part { group } else { square(part) };
    let wanted_hole =
        if is_hole && !is_drawn { group.or_else(|| square(hole)) } else { square(hole) };
    let was_drawn = if is_drawn { group.or_else(|| square(drawn)) } else { None };
    if let Some((x, y)) = wanted_part {
        let cut = (drawn_outside(x, kerf), drawn_outside(y, kerf));
        answer = answer.says(format!("A part of {}: draw {}.", sides((x, y)), sides(cut)));
        answer = pair(answer, "draw the part", cut, desk);
    }
    if let Some((x, y)) = wanted_hole {
        let cut = (drawn_hole(x, kerf), drawn_hole(y, kerf));
        above_zero("hole as drawn", cut.0.in_inches().min(cut.1.in_inches()))?;
        answer = answer.says(format!("A hole of {}: draw {}.", sides((x, y)), sides(cut)));
        answer = pair(answer, "draw the hole", cut, desk);
    }
    if let Some((x, y)) = was_drawn {
        let piece = (drawn_hole(x, kerf), drawn_hole(y, kerf));
        let opening = (drawn_outside(x, kerf), drawn_outside(y, kerf));
        answer = answer.says(format!(
            "Drawn {}: the piece is {}, the opening {}.",
            sides((x, y)),
            sides(piece),
            sides(opening)
        ));
        answer = pair(pair(answer, "the piece", piece, desk), "the opening", opening, desk);
    }
    if wanted_part.is_none() && wanted_hole.is_none() && was_drawn.is_none() {
        return Err(line.missing(doing, "the part, the hole or what was drawn", example));
    }
    Ok(answer
        .by("the beam eats half of its width each side: outside shapes are drawn a kerf larger, holes a kerf smaller", ALREADY, "40 + 0.2 = 40.2; 2 - 0.2 = 1.8")
        .note("fumes of a laser are drawn off; never cut vinyl or a plastic you do not know")
        .beside(["kerf 0.2 mm, hole 2.0 x 4.0 mm", "kerf 0.2 mm, drawn 2.0 x 4.0 mm"]))
}

fn pair(answer: Answer, name: &str, size: (ModelLength, ModelLength), desk: &Desk<'_>) -> Answer {
    answer
        .figure(Figure::model(format!("{name}, one way"), size.0, desk.look))
        .figure(Figure::model(format!("{name}, other way"), size.1, desk.look))
        .drawn(Drawn::Rule(size.0))
}

/// Pieces from a stick.
pub(super) fn sticks(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "cutting sticks";
    let example = "stick 24 in, kerf 0.4 mm, pieces 87.5 mm";
    let [kerf, trim, piece, stick] = line.lengths([
        named(&["kerf", "saw"]),
        named(&["trim", "lost", "ends"]),
        any(&["piece", "pieces", "each", "part", "parts", "strips", "cut"]),
        any(&["stick", "sticks", "strip", "sheet", "long", "from", "stripwood"]),
    ]);
    // What is lost at each cut is the kerf, what is lost once the trim.
    let by_cut = kerf.is_none() && line.has(&["each cut", "per cut", "a cut", "every cut"]);
    let (kerf, trim) = if by_cut { (trim, None) } else { (kerf, trim) };
    let (Some(piece), Some(stick)) = (piece, stick) else {
        return Err(line.missing(doing, "the stick, or the piece", example));
    };
    let count =
        line.number(&["pieces", "piece", "times", "of", "parts"]).or_else(|| line.first_number());
    let full = line.has(&["full", "scale", "prototype"]);
    let piece = if full { desk.scale.reduce(piece.full()) } else { piece.model() };
    // Of two lengths the stick is the longer.
    let (piece, stick) = (piece.min(stick.model()), piece.max(stick.model()));
    let kerf = kerf.map_or(ModelLength::ZERO, |given| given.model());
    let usable = stick - trim.map_or(ModelLength::ZERO, |given| given.model());
    above_zero("piece", piece.in_inches())?;
    let each = ((usable + kerf) / (piece + kerf) + 1e-9).floor();
    let left = usable - piece * each - kerf * (each - 1.0).max(0.0);
    let mut answer = Answer::new(
        "sticks",
        format!("pieces of {} from {}", read(piece, desk.look), read(stick, desk.look)),
    )
    .says(format!(
        "{} pieces from a stick, {} left over.",
        plain(each),
        read(left.max(ModelLength::ZERO), desk.look)
    ))
    .number("pieces from a stick", each, "")
    .figure(Figure::model("left over", left, desk.look))
    .number("waste", 100.0 * (1.0 - piece * each / stick), "%");
    if let Some(count) = count.map(Given::number).filter(|_| each > 0.0) {
        let sticks = (count / each).ceil();
        answer = answer
            .says(format!(
                "{} pieces take {} sticks, no breakage counted.",
                plain(count),
                plain(sticks)
            ))
            .number("sticks", sticks, "");
    }
    Ok(answer
        .by(
            "(stick + kerf) / (piece + kerf) rounded down: n pieces need n - 1 cuts",
            "arithmetic",
            format!(
                "({} + {k}) / ({} + {k}) = {}",
                plain(usable.in_millimetres()),
                plain(piece.in_millimetres()),
                plain((usable + kerf) / (piece + kerf)),
                k = plain(kerf.in_millimetres())
            ),
        )
        .drawn(Drawn::Rule(piece)))
}

/// A lid over walls, or a floor inside.
pub(super) fn lid(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let size = rectangle(line);
    let fit = line.length(any(&["clearance", "gap", "fit", "round", "all", "loose"]));
    let size = size.ok_or_else(|| {
        line.missing(
            "fitting a lid",
            "the outside of the walls",
            "lid over 140 x 85 mm, 0.4 mm all round",
        )
    })?;
    let usual =
        desk.catalog.fits.fits.iter().find(|fit| fit.key == "roof").map(|fit| fit.take.length());
    let clear = fit.map(|given| given.model()).or(usual).unwrap_or(ModelLength::thou(15.0));
    let over = casting_opening(size, clear);
    let inside = (size.0 - clear * 2.0, size.1 - clear * 2.0);
    let mut answer = Answer::new(
        "lid",
        format!("a fit of {} all round {}", read(clear, desk.look), sides(size)),
    )
    .says(format!(
        "A lid over it is {} inside; a floor within it {}.",
        sides(over),
        sides(inside)
    ));
    answer = pair(answer, "inside of the lid", over, desk);
    answer = pair(answer, "a floor inside", inside, desk);
    if fit.is_none() {
        answer =
            answer.note(format!("no clearance was given: {} is taken", read(clear, desk.look)));
    }
    Ok(answer.by(
        "size and twice the clearance",
        "common practice: 0.25 to 0.5 mm all round, more on card, no source",
        "140 + 2 x 0.4 = 140.8",
    ))
}

/// A wall of a core and its covers.
pub(super) fn core(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let [core, cover, glue] = line.lengths([
        any(&["core", "board", "sheet"]),
        named(&["cover", "covers", "cladding", "skin", "sides", "side", "layers", "layer"]),
        named(&["glue"]),
    ]);
    let sum = line.next(|piece| matches!(piece, crate::quantity::Piece::Length(..)));
    let core = core
        .ok_or_else(|| {
            line.missing("adding up a wall", "the core", "core 2 mm, cover 0.25 mm both sides")
        })?
        .model();
    let cover = cover.or(sum).map_or(ModelLength::ZERO, |given| given.model());
    let said = line.number(&["covers", "layers", "sides", "times"]).map(Given::number);
    let count = said.unwrap_or(if line.has(&["both", "two", "each"]) { 2.0 } else { 1.0 });
    let glue = glue.map_or(ModelLength::ZERO, |given| given.model());
    let whole = core + (cover + glue) * count;
    let full: PrototypeLength = desk.scale.enlarge(whole);
    Ok(Answer::new("core", "a wall of core and covers")
        .says(format!(
            "{} ({} mm) thick, {} full size at {}.",
            read(whole, desk.look),
            plain(whole.in_millimetres()),
            desk.look.full.show(&full),
            desk.scale
        ))
        .figure(Figure::model("thickness", whole, desk.look))
        .number("thickness, mm", whole.in_millimetres(), "mm")
        .number("covers", count, "")
        .figure(Figure::full("full size", full, super::by(desk)))
        .by(
            "core and covers, and a glue line for each cover where one is given",
            "arithmetic; a glue line of 1 to 3 thou is common practice, no source",
            format!(
                "{} + {} x {} = {}",
                plain(core.in_millimetres()),
                plain(count),
                plain(cover.in_millimetres()),
                plain(whole.in_millimetres())
            ),
        )
        .drawn(Drawn::Rule(whole)))
}

/// A diagonal, and how far a box is out of square.
pub(super) fn diagonal(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let example = "diagonal 12 ft x 16 ft";
    let group = line.group(true);
    let [one, other, long, wide] = line.lengths([
        named(&["diagonal", "diagonals", "measured"]),
        named(&["and", "other"]),
        any(&["long", "by", "of"]),
        any(&["wide", "deep", "high"]),
    ]);
    // `9 ft and 12 ft`: two sizes alone are the sides.
    let mut alone = [long, wide, one, other].into_iter().flatten();
    let (a, b) = match (group.as_deref(), alone.next(), alone.next()) {
        (Some([(a, _), (b, _), ..]), ..) => (a.full(), b.full()),
        (None, Some(a), Some(b)) => (a.full(), b.full()),
        _ => return Err(line.missing("working out a diagonal", "the two sides", example)),
    };
    above_zero("side", a.in_inches().min(b.in_inches()))?;
    let d = hypotenuse(a, b);
    let mut answer = Answer::new(
        "diagonal",
        format!("the diagonal of {} by {}", desk.look.full.show(&a), desk.look.full.show(&b)),
    )
    .says(format!("{} ({} in).", super::both(d, desk), plain(d.in_inches())))
    .figure(Figure::full("diagonal", d, super::by(desk)))
    .number("diagonal, inches", d.in_inches(), "in");
    if let (Some(one), Some(other)) = (one, other) {
        let (one, other) = (one.full(), other.full());
        let out = (one - other).in_inches() * d.in_inches() / (2.0 * a.in_inches() * b.in_inches());
        answer = answer
            .says(format!("The box is {:.3} degrees out of square.", out.to_degrees().abs()))
            .number("out of square", out.to_degrees().abs(), "degrees");
    }
    Ok(answer
        .by(
            "sqrt(a^2 + b^2); out of square by (d1 - d2) d / 2ab",
            "Pythagoras",
            format!(
                "sqrt({}^2 + {}^2) = {}",
                plain(a.in_inches()),
                plain(b.in_inches()),
                plain(d.in_inches())
            ),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(d))))
}
