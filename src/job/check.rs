//! Checks that every name in a job stands for something, and only one thing.

use std::collections::BTreeSet;

use super::face::{Element, ElementKind};
use super::form::{Form, Linear, is_name};
use super::locate::{self, Place, Step};
use super::model::Job;
use super::read::nearest;
use super::said::Size;
use crate::catalog::Catalog;
use crate::finding::Stop;
use crate::quantity::ModelLength;

mod bodies;
mod lamps;
mod many;
mod track;
mod walls;

/// What is wrong, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Trouble {
    pub(super) place: Place,
    pub(super) message: String,
    pub(super) hint: String,
}

type Checked = Result<(), Trouble>;

fn trouble(place: Place, message: impl Into<String>, hint: impl Into<String>) -> Trouble {
    Trouble { place, message: message.into(), hint: hint.into() }
}

/// The names of one kind of thing.
struct Names<'a> {
    what: &'static str,
    known: BTreeSet<&'a str>,
}

impl<'a> Names<'a> {
    /// Collects names, refusing the second of a pair.
    fn collect(
        what: &'static str,
        names: impl Iterator<Item = (&'a str, Place)>,
    ) -> Result<Self, Trouble> {
        let mut known = BTreeSet::new();
        for (name, place) in names {
            if name.trim().is_empty() {
                return Err(trouble(place, format!("this {what} has an empty name"), ""));
            }
            if !known.insert(name) {
                return Err(trouble(
                    place,
                    format!("there are two {what}s called \"{name}\""),
                    "give one of them another name",
                ));
            }
        }
        Ok(Self { what, known })
    }

    fn want(&self, name: &str, place: impl FnOnce() -> Place) -> Checked {
        if self.known.contains(name) {
            return Ok(());
        }
        let hint = match nearest(name, self.known.iter().copied()) {
            Some(meant) => format!("did you mean \"{meant}\"?"),
            None if self.known.is_empty() => format!("the job has no {} yet", self.what),
            None => format!("there are: {}", list(&self.known)),
        };
        Err(trouble(place(), format!("there is no {} called \"{name}\"", self.what), hint))
    }
}

fn list(names: &BTreeSet<&str>) -> String {
    let shown: Vec<&str> = names.iter().copied().take(12).collect();
    let more = if names.len() > shown.len() { ", ..." } else { "" };
    format!("{}{more}", shown.join(", "))
}

/// Checks the whole job.
pub(super) fn check(job: &Job, catalog: &Catalog) -> Checked {
    about(job, catalog)?;
    many::check(job)?;
    let dimensions = dimension_names(job)?;
    evidence(job, &dimensions)?;
    methods(job, catalog)?;
    paper(job)?;
    measured(job)?;
    rack(job)?;
    let openings =
        Names::collect("opening", rows("opening", job.openings.iter().map(|o| &o.name)))?;
    let claddings =
        Names::collect("cladding", rows("cladding", job.claddings.iter().map(|c| &c.name)))?;
    Names::collect("member", rows("member", job.members.iter().map(|m| &m.name)))?;
    bodies::check(job, &dimensions, &claddings)?;
    walls::check(job, &claddings)?;
    for (index, wall) in job.walls.iter().enumerate() {
        if let Some(height) = &wall.height {
            size(height, &dimensions, || locate::row("wall", index, "height"))?;
        }
        let row = locate::row("wall", index, "row");
        let mut seen = BTreeSet::new();
        elements(&wall.row, &row, &mut seen, &dimensions, &openings)?;
        for placed in &wall.openings {
            let at = || locate::row("wall", index, "openings");
            openings.want(&placed.kind, at)?;
            size(&placed.at, &dimensions, at)?;
        }
    }
    materials(job, catalog)?;
    track::check(job, catalog)?;
    lamps::check(job, catalog)
}

/// The paper is one that is known, and the bars were measured on a printer.
fn paper(job: &Job) -> Checked {
    let at = |key: &'static str| locate::key("paper", key);
    job.paper.size().map_err(|stop| trouble(at("size"), stop.trouble, stop.hint))?;
    job.paper.check().map_err(|stop| trouble(at("across"), stop.trouble, stop.hint))?;
    job.paper.laser_kerf().map_err(|stop| trouble(at("laser-kerf"), stop.trouble, stop.hint))?;
    job.paper.card().map_err(|stop| trouble(at("card"), stop.trouble, stop.hint))?;
    Ok(())
}

/// What was measured on the table is larger than nothing.
fn measured(job: &Job) -> Checked {
    let none = |row: &super::mock_up::Measured| row.reads.length() <= ModelLength::ZERO;
    match job.measured.iter().position(none) {
        Some(at) => {
            let message = "a size that was measured must be larger than nothing";
            Err(trouble(locate::row("measured", at, "reads"), message, ""))
        }
        None => Ok(()),
    }
}

/// Offcuts are longer and wider than nothing.
fn rack(job: &Job) -> Checked {
    for (index, offcut) in job.offcuts.iter().enumerate() {
        let sizes = [("length", Some(&offcut.length)), ("width", offcut.width.as_ref())];
        for (key, said) in sizes {
            if said.is_some_and(|said| said.length() <= ModelLength::ZERO) {
                let message = "an offcut must be larger than nothing";
                return Err(trouble(locate::row("offcut", index, key), message, ""));
            }
        }
    }
    Ok(())
}

/// Every material liked is one that is sold or on the rack.
fn materials(job: &Job, catalog: &Catalog) -> Checked {
    let sold = catalog.stock.strips.iter().map(|strip| strip.material.as_str());
    let sheets = catalog.stock.sheets.iter().map(|sheet| sheet.material.as_str());
    let own = catalog.rack.rows.iter().map(|row| row.material.as_str());
    let known = Names { what: "material", known: sold.chain(sheets).chain(own).collect() };
    for (key, liked) in &job.materials {
        liked.iter().try_for_each(|name| known.want(name, || locate::key("materials", key)))?;
    }
    Ok(())
}

fn rows<'a>(
    table: &'static str,
    names: impl Iterator<Item = &'a String>,
) -> impl Iterator<Item = (&'a str, Place)> {
    let key = if matches!(table, "source" | "reading" | "tie" | "photo") { "id" } else { "name" };
    names.enumerate().map(move |(index, name)| (name.as_str(), locate::row(table, index, key)))
}

fn dimension_names(job: &Job) -> Result<Names<'_>, Trouble> {
    for (index, dimension) in job.dimensions.iter().enumerate() {
        if !is_name(&dimension.name) {
            return Err(trouble(
                locate::row("dimension", index, "name"),
                format!("\"{}\" cannot name a dimension", dimension.name),
                "use letters, digits and underscores, a letter first",
            ));
        }
    }
    Names::collect("dimension", rows("dimension", job.dimensions.iter().map(|d| &d.name)))
}

fn evidence(job: &Job, dimensions: &Names<'_>) -> Checked {
    let sources = Names::collect("source", rows("source", job.sources.iter().map(|s| &s.id)))?;
    Names::collect("reading", rows("reading", job.readings.iter().map(|r| &r.id)))?;
    Names::collect("tie", rows("tie", job.ties.iter().map(|t| &t.id)))?;
    Names::collect("photo", rows("photo", job.photos.iter().map(|p| &p.id)))?;
    for (index, reading) in job.readings.iter().enumerate() {
        for name in reading.of.names() {
            dimensions.want(name, || locate::row("reading", index, "of"))?;
        }
        if let Some(source) = &reading.source {
            sources.want(source, || locate::row("reading", index, "source"))?;
        }
        if reading.value.is_none() && reading.given.is_empty() {
            return Err(trouble(
                locate::row("reading", index, "id"),
                format!("the reading \"{}\" says nothing", reading.id),
                "give it a `value`, or the figures it is worked out from under `given`",
            ));
        }
    }
    for (index, photo) in job.photos.iter().enumerate() {
        for name in photo.asks.iter().filter_map(|ask| ask.reads.as_ref()).flat_map(Form::names) {
            dimensions.want(name, || locate::row("photo", index, "id"))?;
        }
    }
    for (index, tie) in job.ties.iter().enumerate() {
        linear(&tie.says.difference(), dimensions, || locate::row("tie", index, "says"))?;
    }
    Ok(())
}

fn linear(form: &Linear, dimensions: &Names<'_>, place: impl Fn() -> Place) -> Checked {
    form.terms.iter().try_for_each(|term| dimensions.want(&term.name, &place))
}

fn size(size: &Size, dimensions: &Names<'_>, place: impl Fn() -> Place) -> Checked {
    size.measured.as_ref().map_or(Ok(()), |form| linear(form, dimensions, place))
}

fn elements<'a>(
    row: &'a [Element],
    place: &Place,
    seen: &mut BTreeSet<&'a str>,
    dimensions: &Names<'_>,
    openings: &Names<'_>,
) -> Checked {
    for (index, element) in row.iter().enumerate() {
        let here = || [place.clone(), vec![Step::At(index)]].concat();
        if !seen.insert(&element.name) {
            return Err(trouble(
                here(),
                format!("this face has two elements called \"{}\"", element.name),
                "give one of them another name",
            ));
        }
        match &element.kind {
            ElementKind::Corner { width } | ElementKind::Plain { width, .. } => {
                size(width, dimensions, here)?;
            }
            ElementKind::Opening { kind, .. } => openings.want(kind, here)?,
            ElementKind::Bays { width, cycle, times, .. } => {
                size(width, dimensions, here)?;
                if cycle.is_empty() {
                    return Err(trouble(
                        here(),
                        "the cycle of these bays is empty",
                        "use [\"\"] for plain bays",
                    ));
                }
                for kind in cycle.iter().flat_map(|cell| cell.split('+')).map(str::trim) {
                    if !kind.is_empty() {
                        openings.want(kind, here)?;
                    }
                }
                if let Some(centre) = &times.centre {
                    openings.want(centre, here)?;
                }
            }
            ElementKind::Repeat { row, .. } => {
                let inner = [here(), vec![Step::Key("row".to_owned())]].concat();
                elements(row, &inner, seen, dimensions, openings)?;
            }
        }
    }
    Ok(())
}

/// What `[job]` says of scale, era and rule.
fn about(job: &Job, catalog: &Catalog) -> Checked {
    let stopped = |key: &str, stop: Stop| trouble(locate::key("job", key), stop.trouble, stop.hint);
    catalog.scales.find(&job.about.scale).map_err(|stop| stopped("scale", stop))?;
    if let Some(era) = &job.about.lumber {
        catalog.lumber.era(era).map_err(|stop| stopped("lumber", stop))?;
    }
    if job.about.rejection_level.is_some_and(|level| !(1e-6..=0.2).contains(&level)) {
        return Err(trouble(
            locate::key("job", "rejection-level"),
            "the rejection level is no share of networks that may lose a good reading",
            "write a number from 0.000001 to 0.2; 0.01 is usual",
        ));
    }
    if ![2, 4, 8, 16, 32, 64].contains(&job.about.fraction) {
        return Err(trouble(
            locate::key("job", "fraction"),
            format!("1/{} in is not a mark on a rule", job.about.fraction),
            "use 2, 4, 8, 16, 32 or 64",
        ));
    }
    Ok(())
}

/// Every way of reading is one of `data/methods.toml`.
fn methods(job: &Job, catalog: &Catalog) -> Checked {
    let known = catalog.methods.rows.iter().map(|method| method.key.as_str()).collect();
    let known = Names { what: "method", known };
    job.readings.iter().enumerate().try_for_each(|(index, it)| {
        known.want(&it.method, || locate::row("reading", index, "method"))
    })
}
