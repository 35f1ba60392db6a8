//! Openings set out evenly, and the panes of a window.

use super::{above_zero, both, by};
use crate::bench::answer::{Answer, Drawn, Figure, List, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line, any, named};
use crate::finding::Stop;
use crate::quantity::{PrototypeLength, Unit};
use crate::sums::rows::{even_gaps, panes as pane};

/// What may stand in a row.
const THINGS: [&str; 12] = [
    "wide", "width", "each", "window", "windows", "door", "doors", "openings", "lamps", "vents",
    "stacks", "opening",
];

/// So many things in a length with the same gap between them and at both ends.
pub(super) fn evenly(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "setting out evenly";
    let example = "40 ft wall, 3 windows 30 in wide, evenly spaced";
    let count = line.counted(&THINGS).or_else(|| line.first_number());
    let count = count.ok_or_else(|| line.missing(doing, "how many there are", example))?.number();
    above_zero("number", count)?;
    let [each, length] = line.lengths([
        named(&THINGS),
        any(&["wall", "long", "in", "along", "across", "front", "length", "between"]),
    ]);
    let (each, length) = match (each, length) {
        (Some(each), Some(length)) => (each.full(), length.full()),
        (Some(length), None) | (None, Some(length)) => (PrototypeLength::ZERO, length.full()),
        _ => return Err(line.missing(doing, "the length of the wall", example)),
    };
    let (each, length) = (each.min(length), each.max(length));
    let gap = even_gaps(length, each, count);
    if gap < PrototypeLength::ZERO {
        return Err(Stop::new(
            doing,
            "they are wider together than the wall",
            "fewer, or narrower ones",
        ));
    }
    let full = desk.look.full;
    let heads = ["", ">from, in", ">middle, in", ">middle on the model, mm"];
    let list = (0..count.min(24.0) as u32).fold(List::new("From one end", &heads), |list, at| {
        let from = gap + (gap + each) * f64::from(at);
        let middle = from + each / 2.0;
        let model = desk.scale.reduce(middle).in_millimetres();
        list.row([
            (at + 1).to_string(),
            plain(from.in_inches()),
            plain(middle.in_inches()),
            format!("{model:.2}"),
        ])
    });
    let inner = (length - each * count) / (count - 1.0).max(1.0);
    let mut answer = Answer::new("evenly", format!("{} in {}", plain(count), full.show(&length)))
        .says(format!("{} gaps of {}.", plain(count + 1.0), both(gap, desk)))
        .figure(Figure::full("gap", gap, by(desk)))
        .figure(Figure::full("from middle to middle", gap + each, by(desk)));
    if count > 1.5 {
        answer = answer
            .says(format!(
                "Hard to both ends: {} gaps of {}.",
                plain(count - 1.0),
                full.show(&inner)
            ))
            .figure(Figure::full("gap, hard to both ends", inner, by(desk)));
    }
    Ok(answer
        .list(list)
        .by(
            "gap = (length - n x width) / (n + 1)",
            "common practice, no source",
            format!(
                "({} - {} x {}) / {} = {}",
                plain(length.in_inches()),
                plain(count),
                plain(each.in_inches()),
                plain(count + 1.0),
                plain(gap.in_inches())
            ),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(gap))))
}

/// Panes of a sash or a window and the bars between them.
pub(super) fn panes(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "working out the panes";
    let example = "window 30 in x 60 in, 2 panes wide, 4 high, muntins 1 in";
    let sides = line.group(true).unwrap_or_default();
    let [bar, wide, high] = line.lengths([
        named(&["muntin", "muntins", "bar", "bars", "mullion", "mullions"]).bare(Unit::Inch),
        any(&["window", "sash", "wide", "width"]),
        any(&["high", "height", "tall"]),
    ]);
    let grouped = |at: usize| sides.get(at).filter(|side| side.1).map(|side| side.0);
    let (Some(wide), Some(high)) = (grouped(0).or(wide), grouped(1).or(high)) else {
        return Err(line.missing(doing, "the width or the height of the glass", example));
    };
    let mut counts: Vec<f64> =
        sides.iter().filter(|side| !side.1).map(|side| side.0.number()).collect();
    counts.extend(line.numbers().into_iter().map(Given::number));
    let upright_first =
        line.phrase("high").zip(line.phrase("wide")).is_some_and(|(high, wide)| high < wide);
    let (across, up) = match counts.as_slice() {
        [up, across, ..] if upright_first => (*across, *up),
        [across, up, ..] => (*across, *up),
        _ => {
            return Err(line.missing(
                doing,
                "how many panes stand side by side and above another",
                example,
            ));
        }
    };
    above_zero("number of panes", across.min(up))?;
    if bar.is_none() {
        line.notes.push("no muntin was given: 1 in is taken".to_owned());
    }
    let bar = bar.map_or(PrototypeLength::inches(1.0), |given| given.full());
    let pane = (pane(wide.full(), bar, across), pane(high.full(), bar, up));
    above_zero("pane", pane.0.in_inches().min(pane.1.in_inches()))?;
    let full = desk.look.full;
    Ok(Answer::new("panes", format!("{} by {} panes", plain(across), plain(up)))
        .says(format!(
            "{} panes of {} x {}; on the model {:.2} x {:.2} mm.",
            plain(across * up),
            full.show(&pane.0),
            full.show(&pane.1),
            desk.scale.reduce(pane.0).in_millimetres(),
            desk.scale.reduce(pane.1).in_millimetres()
        ))
        .number("panes", across * up, "")
        .figure(Figure::full("pane, wide", pane.0, by(desk)))
        .figure(Figure::full("pane, high", pane.1, by(desk)))
        .figure(Figure::full("muntin", bar, by(desk)))
        .by(
            "pane = (glass - (n - 1) x muntin) / n, each way; take the glass inside its frame",
            "common practice, no source",
            format!(
                "({} - {} x {}) / {}",
                plain(wide.number()),
                plain(across - 1.0),
                plain(bar.in_inches()),
                plain(across)
            ),
        )
        .drawn(Drawn::Rule(desk.scale.reduce(pane.0))))
}
