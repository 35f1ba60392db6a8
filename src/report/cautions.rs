//! Cautions of a job: by the materials its parts are cut from, by the steps it
//! comes to; and what no laser cuts unless the person says otherwise.

use std::collections::BTreeSet;

use super::Seen;
use super::column::text;
use super::draft::rows;
use super::table::Table;
use crate::drawing::TemplateKind;
use crate::finding::Stop;
use crate::takeoff::Kind;

/// Before anything else.
pub const FIRST: &str =
    "Local codes, the makers' sheets and licensed practice go before these cautions.";

/// The materials a sheet is cut from, as the stock taken names them.
#[must_use]
pub fn materials(seen: Seen<'_>, kind: TemplateKind) -> BTreeSet<String> {
    let is_its = |part: Kind| match kind {
        TemplateKind::Core => matches!(part, Kind::Core | Kind::Floor),
        TemplateKind::Roof => part == Kind::Roof,
        TemplateKind::Cladding => matches!(
            part,
            Kind::Scribed | Kind::Board | Kind::Batten | Kind::Clapboard | Kind::Iron | Kind::Brick
        ),
        _ => false,
    };
    if kind == TemplateKind::MockUp {
        return BTreeSet::from(["card".to_owned()]);
    }
    of_parts(seen, is_its)
}

/// The materials of a stock that sheets are laid out on.
#[must_use]
pub fn of_stock(seen: Seen<'_>, stock: &str) -> BTreeSet<String> {
    let choices = seen.plan.stock.iter().flat_map(|stock| &stock.choices);
    let taken = choices.filter_map(|choice| choice.taken());
    let its = taken.filter(|way| stock.starts_with(&way.stock));
    let mut found: BTreeSet<String> = its.map(|way| way.material.clone()).collect();
    if found.is_empty() && seen.catalog.cautions.material(stock).is_some() {
        found.insert(stock.to_owned());
    }
    found
}

fn of_parts(seen: Seen<'_>, is_its: impl Fn(Kind) -> bool) -> BTreeSet<String> {
    let (Ok(takeoff), Ok(stock)) = (&seen.plan.takeoff, &seen.plan.stock) else {
        return BTreeSet::new();
    };
    let parts = takeoff.parts.iter().filter(|part| is_its(part.kind));
    let taken = parts.filter_map(|part| stock.of(&part.section)?.taken());
    taken.map(|way| way.material.clone()).collect()
}

/// Refuses to write a sheet for a laser that is cut from what no laser may
/// cut, or from what is not known, unless the job or the person names that
/// material as safe.
///
/// # Errors
/// With the material and the reason.
pub fn laser_may(
    seen: Seen<'_>,
    what: &str,
    materials: &BTreeSet<String>,
    safe: &[String],
) -> Result<(), Stop> {
    let said = |material: &str| safe.iter().any(|one| one.eq_ignore_ascii_case(material));
    for material in materials {
        if said(material) {
            continue;
        }
        let trouble = match seen.catalog.cautions.material(material) {
            Some(row) if row.laser => continue,
            Some(row) => format!("{material} is not for a laser: {}", row.why),
            None => format!("nobody here knows what {material} gives off in a laser"),
        };
        return Err(Stop::new(
            format!("writing {what} for a laser"),
            trouble,
            format!(
                "cut it with a knife (pdf), leave the sheet out with --sheets, choose another material, or say that its maker allows it: laser-safe = [\"{material}\"] under [paper], or --laser-safe {material}"
            ),
        ));
    }
    Ok(())
}

/// What travels with a file for a laser.
#[must_use]
pub fn for_laser(seen: Seen<'_>, made: &BTreeSet<String>) -> Vec<String> {
    let cautions = &seen.catalog.cautions;
    let mut out = Vec::new();
    if made.is_empty() {
        out.push(
            "Cut from: not known here. No vinyl, no plastic whose kind is not known.".to_owned(),
        );
    }
    for material in made {
        let why = cautions.material(material).map_or("not known here", |row| row.why.as_str());
        out.push(format!("Cut from {material}: {why}."));
    }
    let laser = cautions.steps.iter().filter(|step| step.key == "laser");
    out.extend(laser.flat_map(|step| step.says.iter().cloned()));
    out.push(FIRST.to_owned());
    out
}

/// What the job is made of and holds, as the steps ask for it.
fn things(seen: Seen<'_>) -> Vec<String> {
    let mut things: Vec<String> = of_parts(seen, |_| true).into_iter().collect();
    things.extend(seen.job.lamps.iter().map(|_| "lamps".to_owned()));
    things.extend(seen.job.openings.first().map(|_| "casting".to_owned()));
    let beam = seen.job.paper.laser_kerf().is_ok_and(|kerf| kerf.in_thou() > 0.0);
    things.extend(beam.then(|| "laser".to_owned()));
    things
}

/// Each step of the job with what to bear in mind.
#[must_use]
pub fn by_step(seen: Seen<'_>) -> Vec<(String, String)> {
    let things = things(seen);
    let steps = seen.catalog.cautions.steps(&things);
    steps.flat_map(|step| step.says.iter().map(|says| (step.name.clone(), says.clone()))).collect()
}

/// The same as a table.
#[must_use]
pub fn table(seen: Seen<'_>) -> Table {
    rows("steps", "Cautions by step", &by_step(seen))
        .screen()
        .col(text("step", "step"), |(step, _)| step)
        .col(text("says", "what to bear in mind"), |(_, says)| says)
        .note(FIRST)
        .table()
}
