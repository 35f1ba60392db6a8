//! One length in a unit that is named: `48 ft in metres`, `inches in 2.4 m`.

use crate::bench::answer::{Answer, Drawn, Figure, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Line, any};
use crate::finding::Stop;
use crate::quantity::{Exact, Model, Piece};

/// Units as they are named without a number: their words, the inches in one, and how it is written.
const UNITS: [(&[&str], f64, &str); 6] = [
    (&["mm", "millimetres", "millimeters"], 1.0 / 25.4, "mm"),
    (&["cm", "centimetres", "centimeters"], 10.0 / 25.4, "cm"),
    (&["metres", "meters"], 1000.0 / 25.4, "m"),
    (&["inches"], 1.0, "in"),
    (&["feet"], 12.0, "ft"),
    (&["thou", "thousandths", "mils"], 0.001, "thou"),
];

/// One length, and the name of a unit.
pub(super) fn is_asked(line: &Line<'_>) -> u32 {
    let alone = line.lengths_left() == 1 && line.count(Piece::is_quantity) == 1;
    u32::from(alone && UNITS.iter().any(|(words, ..)| line.has(words))) * 7
}

/// The length in that unit, full size and on the model.
pub(super) fn convert(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let missing = "the length, or the unit";
    let example = "48 ft in metres";
    let doing = "writing a length in another unit";
    let unit = UNITS.iter().find(|(words, ..)| line.has(words));
    let (Some((_, unit, short)), Some(given)) = (unit, line.length(any(&[]))) else {
        return Err(line.missing(doing, missing, example));
    };
    let (full, model) = if desk.model {
        let model = Exact::<Model>::inches(given.value).length();
        (desk.scale.enlarge(model), model)
    } else {
        (given.full(), desk.scale.reduce(given.full()))
    };
    let (large, small) = (full.in_inches() / unit, model.in_inches() / unit);
    let shown = desk.look.full.show(&full);
    Ok(Answer::new("unit", format!("{shown}, {short}"))
        .says(format!(
            "{shown} is {} {short} full size, {} {short} on the model at {}.",
            plain(large),
            plain(small),
            desk.scale
        ))
        .number("full size", large, short)
        .number("on the model", small, short)
        .figure(Figure::full("length", full, (&desk.scale, desk.look)))
        .by(
            "a foot is 304.8 mm",
            "NIST Handbook 44 appendix C",
            format!("{} in x 25.4 = {} mm", plain(full.in_inches()), plain(full.in_millimetres())),
        )
        .drawn(Drawn::Rule(model)))
}
