//! The lamps as tables, with their cautions.
//!
//! JSON: `stop` where the stage could not go on, else `strings[]` (`name`,
//! `lamp`, `supply`, `refused` or `in_series`, `branches`, `forward_v`,
//! `wanted_a`, `exact_ohm`, `resistor_ohm`, `current_a`, `heat_w`, `rating_w`,
//! `share`, `low_a`, `high_a`, `lowest_a`, `highest_a`, `worst_a`, `with_wire_a`),
//! `supplies[]` (`name`, `volts`, `low_v`, `high_v`, `made_for_a`, `drawn_a`,
//! `highest_a`, `worst_a`, `wanted_a`, `arrives_v`, `feeder_ohm`, `fixed_a`, `fixed_drop_v`, `holds`), `plug` (`contacts`,
//! `current_a`), `cautions[]` and `findings[]`.

use serde_json::{Value, json};

use super::Seen;
use super::faces::stopped;
use super::table::{Mark, Row, Table, View};
use crate::finding::{Finding, Subject};
use crate::lamps::INSIDE;
use crate::lamps::resistor::derated;
use crate::lamps::{Budget, CAUTIONS, Hung, Lighting, Strung};
use crate::quantity::{Current, Power};

const FIRST: &str = "Low voltage only; no mains. Local codes and licensed practice decide.";

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: lamps", seen.job.about.name);
    let lighting = match &seen.plan.lamps {
        Ok(Some(lighting)) => lighting,
        Ok(None) => return none(title),
        Err(stop) => return stopped(title, stop),
    };
    let tables = vec![
        strings(seen, lighting),
        moves(lighting),
        supplies(lighting),
        feeders(lighting),
        wire(lighting),
    ];
    let tables = tables.into_iter().chain([fixed(seen)]).filter(|table| !table.rows.is_empty());
    View {
        title,
        lead: vec![lead(lighting), FIRST.to_owned()],
        tables: tables.chain([Table::sentences("Cautions", &CAUTIONS)]).collect(),
        findings: noticed(seen),
        next: "try every string on the bench before the roof closes".to_owned(),
    }
}

fn none(title: String) -> View {
    View {
        title,
        lead: vec!["No lamps in this job.".to_owned()],
        next: "write [[lamps.supply]] and [[lamps.string]] into the job file".to_owned(),
        ..View::default()
    }
}

fn lead(lighting: &Lighting) -> String {
    let good = || lighting.strings.iter().filter_map(|hung| hung.answer.as_ref().ok());
    let lamps: u64 = good().map(|strung| u64::from(strung.lamps())).sum();
    let resistors: u64 = good().map(|strung| u64::from(strung.branches)).sum();
    let drawn: Current = lighting.budgets.iter().map(|budget| budget.drawn).sum();
    let bad = lighting.strings.iter().filter(|hung| hung.answer.is_err()).count();
    let plug = match lighting.contacts {
        0 => String::new(),
        contacts => format!(" Roof plug: {contacts} contacts, {}.", lighting.through_plug),
    };
    let refused = if bad > 0 { format!(" {bad} refused.") } else { String::new() };
    format!(
        "{lamps} lamps on {resistors} resistors draw {drawn} with the fixed loads.{refused}{plug}"
    )
}

fn about(name: &str) -> Subject {
    Subject::Lamp(name.to_owned())
}

/// The answer for each string; what is refused says why.
fn strings(seen: Seen<'_>, lighting: &Lighting) -> Table {
    let heads = [
        "string",
        "lamp",
        ">each",
        ">branches",
        ">needs",
        ">wanted",
        ">exact",
        ">resistor",
        ">current",
        ">heat",
        ">rated",
    ];
    let mut table = Table::new("Strings", &heads);
    for hung in &lighting.strings {
        let row = match &hung.answer {
            Ok(strung) => Row::about(about(&hung.name), string(hung, strung)),
            Err(why) => {
                let mut cells = vec![hung.name.clone(), hung.lamp.clone()];
                cells.resize(heads.len(), String::new());
                table.notes.push(format!("{} is refused: {why}; {}.", hung.name, why.hint()));
                Row::about(about(&hung.name), cells).marked(Mark::Refused)
            }
        };
        table.push(row);
    }
    if lighting.strings.iter().any(|hung| hung.answer.is_ok()) {
        table.notes.extend(derated_notes(seen, lighting));
        table.notes.push("Resistor: the value picked, or the next standard one up. Rated: twice its heat, and all of it at the highest supply.".to_owned());
    }
    table
}

/// What each rating used stands in the closed building.
fn derated_notes(seen: Seen<'_>, lighting: &Lighting) -> Vec<String> {
    let degrees = seen.job.lamps.as_ref().and_then(|lamps| lamps.inside).unwrap_or(INSIDE);
    let used = |watts: Power| {
        let good = lighting.strings.iter().filter_map(|hung| hung.answer.as_ref().ok());
        good.into_iter().any(|strung| strung.rating == watts)
    };
    let ratings = seen.catalog.lamps.ratings.iter().filter(|row| used(row.watts));
    let told = ratings.map(|row| {
        let left = derated(row.watts, row.full_to, row.none_at, degrees);
        format!(
            "A {} resistor stands {:.1} mW at {degrees} C inside (all to {} C, nothing at {} C).",
            row.watts,
            left.in_watts() * 1000.0,
            row.full_to,
            row.none_at
        )
    });
    told.collect()
}

fn string(hung: &Hung, strung: &Strung) -> Vec<String> {
    vec![
        hung.name.clone(),
        hung.lamp.clone(),
        strung.in_series.to_string(),
        strung.branches.to_string(),
        strung.forward.take.to_string(),
        strung.wanted.to_string(),
        format!("{:.0}", strung.exact.in_ohms()),
        format!("{}{}", strung.resistor, if strung.picked { " *" } else { "" }),
        strung.current.to_string(),
        strung.heat.to_string(),
        strung.rating.to_string(),
    ]
}

/// What a supply that sags and rises does to each string.
fn moves(lighting: &Lighting) -> Table {
    let heads = [
        "string",
        ">across it",
        ">sags to",
        ">current",
        ">named",
        ">current",
        ">rises to",
        ">current",
        ">change",
        ">worst",
    ];
    let mut table = Table::new("When the supply moves", &heads);
    for hung in &lighting.strings {
        let range = lighting.budgets.iter().find(|budget| budget.name == hung.supply);
        let (Ok(strung), Some(range)) = (&hung.answer, range.map(|budget| budget.range)) else {
            continue;
        };
        let dark = |amperes: Current| match amperes.in_amperes() > 0.0 {
            true => amperes.to_string(),
            false => "dark".to_owned(),
        };
        table.push(Row::about(
            about(&hung.name),
            vec![
                hung.name.clone(),
                format!("{:.0}%", strung.share * 100.0),
                range.low.to_string(),
                dark(strung.low[0]),
                range.named.to_string(),
                strung.current.to_string(),
                range.high.to_string(),
                strung.high[0].to_string(),
                format!("{:+.0}%", (strung.high[0] / strung.current - 1.0) * 100.0),
                strung.worst.to_string(),
            ],
        ));
    }
    table.notes.push("Across it: share of the supply the resistor has. Worst: all together, the supply at its highest, lamps that need the least of their kind, the resistor as low as its tolerance allows, the heat inside.".to_owned());
    table
}

fn supplies(lighting: &Lighting) -> Table {
    let heads = ["supply", ">volts", ">drawn", ">at its highest", ">with reserve", ">made for", ""];
    let mut table = Table::new("Supplies", &heads);
    for budget in &lighting.budgets {
        let verdict = if budget.holds() { "enough" } else { "too small" };
        let mark = if budget.holds() { Mark::Plain } else { Mark::Look };
        table.push(Row::about(about(&budget.name), budgeted(budget, verdict)).marked(mark));
    }
    if lighting.contacts > 0 {
        table.notes.push(format!(
            "Roof plug: {} contacts, {} through it.",
            lighting.contacts, lighting.through_plug
        ));
    }
    table
}

fn budgeted(budget: &Budget, verdict: &str) -> Vec<String> {
    vec![
        budget.name.clone(),
        budget.range.named.to_string(),
        budget.drawn.to_string(),
        budget.highest.to_string(),
        budget.wanted.to_string(),
        budget.made_for.to_string(),
        verdict.to_owned(),
    ]
}

/// What the wire from each supply takes, of the fixed loads and of all.
fn feeders(lighting: &Lighting) -> Table {
    let heads = ["supply", ">wire", ">fixed loads", ">they lose", ">all lose", ">at the building"];
    let mut table = Table::new("Wire from the supply", &heads);
    for budget in lighting.budgets.iter().filter(|budget| budget.feeder.in_ohms() > 0.0) {
        let lost = budget.fixed * budget.feeder;
        let all = budget.range.named - budget.arrives;
        table.push(Row::about(
            about(&budget.name),
            vec![
                budget.name.clone(),
                format!("{:.3} ohm", budget.feeder.in_ohms()),
                budget.fixed.to_string(),
                format!("{:.3} V", lost.in_volts()),
                format!("{:.3} V", all.in_volts()),
                format!("{:.2} V", budget.arrives.in_volts()),
            ],
        ));
    }
    table
}

/// What the wire takes, string by string.
fn wire(lighting: &Lighting) -> Table {
    let heads = ["string", ">at the building", ">own wire", ">without wire", ">with wire"];
    let mut table = Table::new("Wire", &heads);
    for hung in &lighting.strings {
        let budget = lighting.budgets.iter().find(|budget| budget.name == hung.supply);
        let (Ok(strung), Some(budget)) = (&hung.answer, budget) else { continue };
        table.push(Row::about(
            about(&hung.name),
            vec![
                hung.name.clone(),
                format!("{:.2} V", budget.arrives.in_volts()),
                strung.wire.to_string(),
                strung.current.to_string(),
                hung.at_end.to_string(),
            ],
        ));
    }
    table.notes.push(
        "Resistance there and back; copper at 20 degrees C, by gauge (ASTM B258).".to_owned(),
    );
    table
}

/// Flicker units and filament lamps.
fn fixed(seen: Seen<'_>) -> Table {
    let mut table = Table::new("Fixed loads", &["load", ">count", ">each", ">together", "note"]);
    for load in seen.job.lamps.iter().flat_map(|lamps| &lamps.loads) {
        let count = load.times.unwrap_or(1);
        let note = if load.hot { "hot: 1/2 in from card and roof" } else { "" };
        table.push(Row::about(
            about(&load.name),
            vec![
                load.name.clone(),
                count.to_string(),
                load.current.to_string(),
                (load.current * f64::from(count)).to_string(),
                note.to_owned(),
            ],
        ));
    }
    table
}

fn noticed(seen: Seen<'_>) -> Vec<Finding> {
    let of_lamps = |finding: &&Finding| matches!(finding.subject, Subject::Lamp(_));
    seen.plan.findings.iter().filter(of_lamps).cloned().collect()
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    let lighting = match &seen.plan.lamps {
        Ok(Some(lighting)) => lighting,
        Ok(None) => return json!({ "strings": [], "supplies": [], "cautions": CAUTIONS }),
        Err(stop) => return json!({ "stop": stop }),
    };
    json!({
        "strings": lighting.strings.iter().map(string_json).collect::<Vec<_>>(),
        "supplies": lighting.budgets.iter().map(|budget| json!({
            "name": budget.name,
            "volts": budget.range.named,
            "low_v": budget.range.low,
            "high_v": budget.range.high,
            "made_for_a": budget.made_for,
            "drawn_a": budget.drawn,
            "highest_a": budget.highest,
            "worst_a": budget.worst,
            "wanted_a": budget.wanted,
            "arrives_v": budget.arrives,
            "feeder_ohm": budget.feeder,
            "fixed_a": budget.fixed,
            "fixed_drop_v": budget.fixed * budget.feeder,
            "holds": budget.holds(),
        })).collect::<Vec<_>>(),
        "plug": { "contacts": lighting.contacts, "current_a": lighting.through_plug },
        "cautions": CAUTIONS,
        "findings": noticed(seen),
    })
}

fn string_json(hung: &Hung) -> Value {
    let strung = match &hung.answer {
        Ok(strung) => strung,
        Err(why) => {
            return json!({
                "name": hung.name, "lamp": hung.lamp, "supply": hung.supply,
                "refused": why.to_string(), "hint": why.hint(),
            });
        }
    };
    json!({
        "name": hung.name,
        "lamp": hung.lamp,
        "supply": hung.supply,
        "in_series": strung.in_series,
        "branches": strung.branches,
        "forward_v": strung.forward.take,
        "wanted_a": strung.wanted,
        "exact_ohm": strung.exact,
        "resistor_ohm": strung.resistor,
        "current_a": strung.current,
        "heat_w": strung.heat,
        "rating_w": strung.rating,
        "share": strung.share,
        "low_a": strung.low[0],
        "lowest_a": strung.low[1],
        "high_a": strung.high[0],
        "highest_a": strung.high[1],
        "worst_a": strung.worst,
        "with_wire_a": hung.at_end,
    })
}
