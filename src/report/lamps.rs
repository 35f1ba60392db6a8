//! The lamps as tables, with their cautions.

use super::Seen;
use super::cell::Cell;
use super::column::{count, electric, only, percent, text};
use super::draft::{one, rows, sentences};
use super::table::{Mark, Table, View};
use crate::finding::Subject;
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
        Ok(lighting) => lighting.as_ref(),
        Err(stop) => return View::stopped(title, stop),
    };
    let hung = lighting.map_or(&[][..], |lighting| &lighting.strings);
    let budgets = lighting.map_or(&[][..], |lighting| &lighting.budgets);
    let cautions = sentences("cautions", "Cautions", CAUTIONS);
    View {
        title,
        lead: match lighting {
            Some(lighting) => vec![lead(lighting), FIRST.to_owned()],
            None => vec!["No lamps in this job.".to_owned()],
        },
        tables: vec![
            strings(seen, hung),
            moves(hung, budgets),
            supplies(budgets, lighting),
            feeders(budgets),
            wire(hung, budgets),
            fixed(seen),
            one("plug", lighting)
                .col(only("contacts"), |it| it.contacts)
                .col(only("current_a"), |it| it.through_plug)
                .table(),
            if lighting.is_some() { cautions } else { cautions.hidden() },
        ],
        next: match lighting {
            Some(_) => "try every string on the bench before the roof closes".to_owned(),
            None => "write [[lamps.supply]] and [[lamps.string]] into the job file".to_owned(),
        },
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

/// Of a string that is not refused.
fn good<C: Into<Cell>>(hung: &Hung, of: impl Fn(&Strung) -> C) -> Cell {
    hung.answer.as_ref().map_or(Cell::Absent, |strung| of(strung).into())
}

/// The answer for each string; what is refused says why.
fn strings(seen: Seen<'_>, hung: &[Hung]) -> Table {
    let resistor = |it: &Strung| {
        let picked = if it.picked { " *" } else { "" };
        Cell::said(format!("{}{picked}", it.resistor), it.resistor)
    };
    let refused =
        |it: &Hung| it.answer.as_ref().err().map_or(Cell::Absent, |why| why.to_string().into());
    let hint = |it: &Hung| it.answer.as_ref().err().map_or(Cell::Absent, |why| why.hint().into());
    let why = hung.iter().filter_map(|it| Some((it, it.answer.as_ref().err()?)));
    let table = rows("strings", "Strings", hung)
        .about(|it| Subject::Lamp(it.name.clone()))
        .marked(|it| if it.answer.is_ok() { Mark::Plain } else { Mark::Refused })
        .col(text("name", "string"), |it| &it.name)
        .col(text("lamp", "lamp"), |it| &it.lamp)
        .col(only("supply"), |it| &it.supply)
        .col(only("refused"), refused)
        .col(only("hint"), hint)
        .col(count("in_series", "each"), |it| good(it, |it| it.in_series))
        .col(count("branches", "branches"), |it| good(it, |it| it.branches))
        .col(electric("forward_v", "needs"), |it| good(it, |it| it.forward.take))
        .col(electric("wanted_a", "wanted"), |it| good(it, |it| it.wanted))
        .col(electric("exact_ohm", "exact").places(0, ""), |it| good(it, |it| it.exact))
        .col(electric("resistor_ohm", "resistor"), |it| good(it, resistor))
        .col(electric("current_a", "current"), |it| good(it, |it| it.current))
        .col(electric("heat_w", "heat"), |it| good(it, |it| it.heat))
        .col(electric("rating_w", "rated"), |it| good(it, |it| it.rating))
        .notes(why.map(|(it, why)| format!("{} is refused: {why}; {}.", it.name, why.hint())));
    if hung.iter().all(|it| it.answer.is_err()) {
        return table.table();
    }
    table.notes(derated_notes(seen, hung)).note("Resistor: the value picked, or the next standard one up. Rated: twice its heat, and all of it at the highest supply.").table()
}

/// What each rating used stands in the closed building.
fn derated_notes(seen: Seen<'_>, hung: &[Hung]) -> Vec<String> {
    let degrees = seen.job.lamps.as_ref().and_then(|lamps| lamps.inside).unwrap_or(INSIDE);
    let used = |watts: Power| {
        let mut good = hung.iter().filter_map(|hung| hung.answer.as_ref().ok());
        good.any(|strung| strung.rating == watts)
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

/// The strings that work, each with its supply.
fn fed<'a>(hung: &'a [Hung], budgets: &'a [Budget]) -> Vec<(&'a Hung, &'a Strung, &'a Budget)> {
    let fed = hung.iter().filter_map(|it| {
        let budget = budgets.iter().find(|budget| budget.name == it.supply)?;
        Some((it, it.answer.as_ref().ok()?, budget))
    });
    fed.collect()
}

/// What a supply that sags and rises does to each string.
fn moves(hung: &[Hung], budgets: &[Budget]) -> Table {
    let dark = |amperes: Current| match amperes.in_amperes() > 0.0 {
        true => amperes.into(),
        false => Cell::said("dark", amperes),
    };
    rows("strings", "When the supply moves", fed(hung, budgets))
        .named("moves")
        .about(|(it, ..)| Subject::Lamp(it.name.clone()))
        .col(text("name", "string"), |(it, ..)| &it.name)
        .col(percent("share", "across it", 0), |(_, it, _)| it.share)
        .col(electric("low", "sags to").screen(), |(.., it)| it.range.low)
        .col(electric("low_a", "current"), |(_, it, _)| dark(it.low[0]))
        .col(electric("named", "named").screen(), |(.., it)| it.range.named)
        .col(electric("at_named", "current").screen(), |(_, it, _)| it.current)
        .col(electric("high", "rises to").screen(), |(.., it)| it.range.high)
        .col(electric("high_a", "current"), |(_, it, _)| it.high[0])
        .col(percent("change", "change", 0).signed().screen(), |(_, it, _)| {
            it.high[0] / it.current - 1.0
        })
        .col(electric("worst_a", "worst"), |(_, it, _)| it.worst)
        .col(only("lowest_a"), |(_, it, _)| it.low[1])
        .col(only("highest_a"), |(_, it, _)| it.high[1])
        .note("Across it: share of the supply the resistor has. Worst: all together, the supply at its highest, lamps that need the least of their kind, the resistor as low as its tolerance allows, the heat inside.")
        .table()
}

fn supplies(budgets: &[Budget], lighting: Option<&Lighting>) -> Table {
    let plug = lighting.filter(|lighting| lighting.contacts > 0);
    rows("supplies", "Supplies", budgets)
        .about(|it| Subject::Lamp(it.name.clone()))
        .marked(|it| if it.holds() { Mark::Plain } else { Mark::Look })
        .col(text("name", "supply"), |it| &it.name)
        .col(electric("volts", "volts"), |it| it.range.named)
        .col(only("low_v"), |it| it.range.low)
        .col(only("high_v"), |it| it.range.high)
        .col(electric("drawn_a", "drawn"), |it| it.drawn)
        .col(electric("highest_a", "at its highest"), |it| it.highest)
        .col(only("worst_a"), |it| it.worst)
        .col(electric("wanted_a", "with reserve"), |it| it.wanted)
        .col(electric("made_for_a", "made for"), |it| it.made_for)
        .col(only("arrives_v"), |it| it.arrives)
        .col(only("feeder_ohm"), |it| it.feeder)
        .col(only("fixed_a"), |it| it.fixed)
        .col(only("fixed_drop_v"), |it| it.fixed * it.feeder)
        .col(text("holds", ""), |it| {
            Cell::said(if it.holds() { "enough" } else { "too small" }, it.holds())
        })
        .notes(plug.map(|it| {
            format!("Roof plug: {} contacts, {} through it.", it.contacts, it.through_plug)
        }))
        .table()
}

/// What the wire from each supply takes, of the fixed loads and of all.
fn feeders(budgets: &[Budget]) -> Table {
    let far = budgets.iter().filter(|budget| budget.feeder.in_ohms() > 0.0);
    rows("feeders", "Wire from the supply", far)
        .screen()
        .about(|it| Subject::Lamp(it.name.clone()))
        .col(text("name", "supply"), |it| &it.name)
        .col(electric("feeder", "wire").places(3, " ohm"), |it| it.feeder)
        .col(electric("fixed", "fixed loads"), |it| it.fixed)
        .col(electric("fixed_drop", "they lose").places(3, " V"), |it| it.fixed * it.feeder)
        .col(electric("drop", "all lose").places(3, " V"), |it| it.range.named - it.arrives)
        .col(electric("arrives", "at the building").places(2, " V"), |it| it.arrives)
        .table()
}

/// What the wire takes, string by string.
fn wire(hung: &[Hung], budgets: &[Budget]) -> Table {
    rows("strings", "Wire", fed(hung, budgets))
        .named("wire")
        .about(|(it, ..)| Subject::Lamp(it.name.clone()))
        .col(text("name", "string"), |(it, ..)| &it.name)
        .col(electric("arrives", "at the building").places(2, " V").screen(), |(.., it)| it.arrives)
        .col(electric("wire", "own wire").screen(), |(_, it, _)| it.wire)
        .col(electric("without", "without wire").screen(), |(_, it, _)| it.current)
        .col(electric("with_wire_a", "with wire"), |(it, ..)| it.at_end)
        .note("Resistance there and back; copper at 20 degrees C, by gauge (ASTM B258).")
        .table()
}

/// Flicker units and filament lamps.
fn fixed(seen: Seen<'_>) -> Table {
    rows("loads", "Fixed loads", seen.job.lamps.iter().flat_map(|lamps| &lamps.loads))
        .screen()
        .about(|it| Subject::Lamp(it.name.clone()))
        .col(text("name", "load"), |it| &it.name)
        .col(count("count", "count"), |it| it.times.unwrap_or(1))
        .col(electric("each", "each"), |it| it.current)
        .col(electric("together", "together"), |it| it.current * f64::from(it.times.unwrap_or(1)))
        .col(text("note", "note"), |it| if it.hot { "hot: 1/2 in from card and roof" } else { "" })
        .table()
}
