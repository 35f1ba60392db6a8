//! Wire by its gauge, and what a run of it loses.

use crate::bench::answer::{Answer, Drawn, Figure, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line, any};
use crate::finding::Stop;
use crate::lamps::wire;
use crate::quantity::{Current, ModelLength, Piece, SizeKind, Unit};

/// A gauge that is a number and no length.
pub(super) fn is_wire(line: &Line<'_>) -> u32 {
    let number = line.count(|piece| matches!(piece, Piece::Number(_))) > 0;
    u32::from(line.has(&["gauge", "ga"]) && number && line.lengths_left() == 0) * 7
}

/// A wire by gauge, and what a run loses.
pub(super) fn wire(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "working out a wire";
    let data = &desk.catalog.lamps;
    let current = line.size(SizeKind::Amperes);
    let volts = line.size(SizeKind::Volts);
    let gauge = line.number(&["awg", "gauge", "ga", "#", "no", "number", "wire"]);
    let [run] = line.lengths([any(&["run", "long", "wire", "away"]).bare(Unit::Foot)]);
    let gauge = gauge.or_else(|| line.first_number());
    let gauge =
        gauge.ok_or_else(|| line.missing(doing, "the gauge", "wire 12 ft awg 30, 60 mA"))?.number();
    let whole = (gauge - gauge.round()).abs() < 1e-9;
    if !whole || gauge < 0.0 || !wire::GAUGES.contains(&(gauge as u32)) {
        return Err(Stop::new(
            doing,
            format!("{} is no gauge for a model", plain(gauge)),
            "write a gauge from 10 to 44: awg 30",
        ));
    }
    let gauge = gauge as u32;
    let diameter = wire::diameter(gauge);
    let thousand = wire::resistance(&data.wires, gauge, ModelLength::feet(1000.0));
    let mils = diameter.in_thou();
    let carries = wire::carries(gauge, data.rule("mils-per-ampere"));
    let mut answer = Answer::new("wire", format!("wire of gauge {gauge}"))
        .says(format!(
            "Gauge {gauge}: {:.6} in ({:.4} mm) thick, {} ohm to 1000 ft; carries {:.0} mA.",
            diameter.in_inches(),
            diameter.in_millimetres(),
            plain(thousand.in_ohms()),
            carries.in_milliamperes()
        ))
        .figure(Figure::number("diameter", diameter.in_inches(), "in"))
        .number("diameter, metric", diameter.in_millimetres(), "mm")
        .number("circular mils", mils * mils, "")
        .number("ohm to 1000 ft", thousand.in_ohms(), "ohm")
        .number("carries", carries.in_milliamperes(), "mA");
    answer.worked = format!("0.005 x 92^((36 - {gauge}) / 39) = {:.6}", diameter.in_inches());
    if let Some(run) = run {
        let there_and_back = wire::resistance(&data.wires, gauge, run.model() * 2.0);
        answer = answer.number("there and back", there_and_back.in_ohms(), "ohm");
        if let Some(current) = current {
            let current = Current::amperes(current.number());
            answer = lost(answer, gauge, (run.model(), current), volts, desk);
            if current > carries {
                let hint = "take a thicker wire: a smaller number";
                answer = answer.look("the wire carries less than that", hint);
            }
        }
    }
    let worked = std::mem::take(&mut answer.worked);
    Ok(answer
        .by(
            "diameter 0.005 in x 92^((36 - n) / 39); drop = 2 x length x ohm per foot x amperes",
            "ASTM B258, formula from memory; copper at 20 C, National Bureau of Standards lineage, read",
            worked,
        )
        .drawn(Drawn::Rule(diameter)))
}

/// What a run loses there and back.
fn lost(
    mut answer: Answer,
    gauge: u32,
    (run, current): (ModelLength, Current),
    volts: Option<Given>,
    desk: &Desk<'_>,
) -> Answer {
    let wires = &desk.catalog.lamps.wires;
    let drop = wire::loop_drop(wires, gauge, run, current);
    let thousand = wire::resistance(wires, gauge, ModelLength::feet(1000.0));
    let feet = plain(run.in_feet());
    let told =
        format!("A run of {feet} ft at {current} loses {:.6} V there and back.", drop.in_volts());
    answer.lead.insert(0, told);
    answer.worked = format!(
        "2 x {feet} x {} / 1000 x {} = {:.6} V",
        plain(thousand.in_ohms()),
        plain(current.in_amperes()),
        drop.in_volts()
    );
    let answer = answer.number("drop", drop.in_volts(), "V").number(
        "heat in the wire",
        (drop * current).in_watts() * 1000.0,
        "mW",
    );
    match volts {
        Some(volts) => {
            answer.number("share of the supply", 100.0 * drop.in_volts() / volts.number(), "%")
        }
        None => answer,
    }
}
