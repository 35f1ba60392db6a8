//! What lamps side by side take from their supply.

use super::above_zero;
use crate::bench::answer::{Answer, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line};
use crate::finding::Stop;
use crate::quantity::{Piece, SizeKind};

const LAMPS: [&str; 8] = ["lamp", "lamps", "led", "leds", "bulb", "bulbs", "strings", "branches"];

/// Lamps, a current, and a word that each takes it.
pub(super) fn is_supply(line: &Line<'_>) -> u32 {
    let current = |piece: &Piece| matches!(piece, Piece::Size(SizeKind::Amperes, _));
    let several =
        line.has(&LAMPS) && line.has(&["each", "parallel", "total", "apiece", "supply", "fuse"]);
    u32::from(line.count(current) == 1 && several && !line.has(&["series"])) * 9
}

/// How long a battery lasts.
fn lasts(line: &mut Line<'_>, charge: f64) -> Result<Answer, Stop> {
    let doing = "working out how long a battery lasts";
    let each = line.size(SizeKind::Amperes);
    let each = each.ok_or_else(|| line.missing(doing, "the current", "battery 2000 mAh, 40 mA"))?;
    let count = line.counted(&LAMPS).map_or(1.0, Given::number);
    let total = each.number() * count;
    above_zero("charge", charge)?;
    above_zero("current", total)?;
    Ok(Answer::new("supply", format!("{} Ah at {} mA", plain(charge), plain(total * 1e3)))
        .says(format!(
            "{} hours by what is printed on it; count on {} of them.",
            plain(charge / total),
            plain(charge / total * 0.8)
        ))
        .number("hours", charge / total, "h")
        .number("hours to count on", charge / total * 0.8, "h")
        .by(
            "charge over current; four fifths of it, for cold and age",
            "definition; four fifths is common practice, no source",
            format!("{} / {}", plain(charge), plain(total)),
        )
        .note("lithium cells only with their own guard; never charged inside the model"))
}

/// The current and the power of so many lamps or branches side by side.
pub(super) fn supply(line: &mut Line<'_>, _: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "adding up lamps";
    if let Some(charge) = line.size(SizeKind::AmpereHours) {
        return lasts(line, charge.number());
    }
    let example = "5 bulbs 60 mA each at 12 V";
    let each = line.size(SizeKind::Amperes);
    let each = each.ok_or_else(|| line.missing(doing, "the current of one", example))?.number();
    let count = line.counted(&LAMPS).or_else(|| line.first_number());
    let count = count.ok_or_else(|| line.missing(doing, "how many there are", example))?.number();
    above_zero("current", each)?;
    above_zero("number of lamps", count)?;
    let total = count * each;
    let volts = line.size(SizeKind::Volts).map(Given::number);
    let spoken = |amperes: f64| {
        if amperes < 1.0 {
            format!("{} mA", plain(amperes * 1e3))
        } else {
            format!("{} A", plain(amperes))
        }
    };
    let power = volts.map_or(String::new(), |volts| {
        format!(", {} W at {} V", plain(total * volts), plain(volts))
    });
    // A quarter in hand.
    let wanted = total * 1.25;
    let mut answer = Answer::new("supply", format!("{} at {} each", plain(count), spoken(each)))
        .says(format!("{} in all{power}; a supply of {} or more.", spoken(total), spoken(wanted)))
        .number("in all", total, "A")
        .number("supply, at least", wanted, "A");
    if let Some(volts) = volts {
        answer = answer.number("power", total * volts, "W");
    }
    Ok(answer
        .by(
            "currents side by side add up; a quarter more for the supply",
            "Kirchhoff; the quarter is common practice, no source",
            format!("{} x {} = {}", plain(count), spoken(each), spoken(total)),
        )
        .note("low voltage inside a model, never mains; the fuse goes by the thinnest wire behind it, not by the lamps")
        .beside(["wire 12 ft awg 30, 60 mA", "12 V, 3 white in series, 5 mA"]))
}
