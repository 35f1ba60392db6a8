//! Checks what the table of keys cannot say of one key alone: keys that must
//! agree, and words that the data hold.

use std::collections::BTreeSet;

use super::locate::{self, Place};
use super::model::Job;
use super::read::nearest;
use super::sections::sections;
use crate::catalog::Catalog;
use crate::finding::{Stop, short};

mod bodies;
mod many;
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

/// Names that the table of keys cannot hold against others by itself.
struct Names<'a> {
    what: &'static str,
    known: BTreeSet<&'a str>,
}

impl Names<'_> {
    fn want(&self, name: &str, place: impl FnOnce() -> Place) -> Checked {
        if self.known.contains(name) {
            return Ok(());
        }
        let hint = match nearest(name, self.known.iter().copied()) {
            Some(meant) => format!("did you mean \"{meant}\"?"),
            None if self.known.is_empty() => format!("the job has no {} yet", self.what),
            None => format!("there are: {}", short::list(self.known.iter().copied())),
        };
        let message = format!("there is no {} called \"{}\"", self.what, short::word(name));
        Err(trouble(place(), message, hint))
    }
}

/// Checks the whole job.
pub(super) fn check(job: &Job, catalog: &Catalog) -> Checked {
    about(job, catalog)?;
    many::check(job)?;
    readings(job)?;
    paper(job)?;
    bodies::check(job)?;
    walls::check(job)?;
    stock(job)?;
    series(job, catalog)
}

/// Every reading says something.
fn readings(job: &Job) -> Checked {
    let says_nothing =
        |reading: &super::model::Reading| reading.value.is_none() && reading.given.is_empty();
    let Some(at) = job.readings.iter().position(says_nothing) else { return Ok(()) };
    Err(trouble(
        locate::row("reading", at, "id"),
        format!("the reading \"{}\" says nothing", job.readings[at].id),
        "give it a `value`, or the figures it is worked out from under `given`",
    ))
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

/// Materials and picks are for sections that the building has.
fn stock(job: &Job) -> Checked {
    let known = sections(job);
    let unknown = |name: &str, place: Place| {
        let names = || known.iter().map(String::as_str);
        let hint = match nearest(name, names()) {
            Some(meant) => format!("did you mean \"{meant}\"?"),
            None => format!("there are: {}", short::list(names())),
        };
        trouble(place, format!("the building has no section \"{}\"", short::word(name)), hint)
    };
    let is_known = |name: &str| known.iter().any(|known| known == name);
    for key in job.materials.keys().filter(|key| *key != "all") {
        if !is_known(key) {
            return Err(unknown(key, locate::key("materials", key)));
        }
    }
    match job.picked.iter().position(|picked| !is_known(&picked.member)) {
        Some(at) => Err(unknown(&job.picked[at].member, locate::row("stock", at, "member"))),
        None => Ok(()),
    }
}

/// What `[job]` says of scale, era and rule.
fn about(job: &Job, catalog: &Catalog) -> Checked {
    let stopped = |key: &str, stop: Stop| trouble(locate::key("job", key), stop.trouble, stop.hint);
    catalog.scales.find(&job.about.scale).map_err(|stop| stopped("scale", stop))?;
    for scale in &job.about.compare {
        catalog.scales.find(scale).map_err(|stop| stopped("compare", stop))?;
    }
    if let Some(era) = &job.about.lumber {
        catalog.lumber.era(era).map_err(|stop| stopped("lumber", stop))?;
    }
    for (key, parts) in [("fraction", Some(job.about.fraction)), ("surveyor", job.about.surveyor)] {
        if parts.is_some_and(|parts| ![2, 4, 8, 16, 32, 64].contains(&parts)) {
            return Err(trouble(
                locate::key("job", key),
                format!("1/{} in is not a mark on a rule", parts.unwrap_or_default()),
                "use 2, 4, 8, 16, 32 or 64",
            ));
        }
    }
    Ok(())
}

/// The series of resistors is one that is made.
fn series(job: &Job, catalog: &Catalog) -> Checked {
    let named = job.lamps.as_ref().and_then(|lamps| lamps.series.as_ref());
    match named {
        Some(series) if catalog.lamps.series(series).is_none() => Err(trouble(
            locate::key("lamps", "series"),
            format!("no series of resistors is called \"{series}\""),
            "one of E12, E24",
        )),
        _ => Ok(()),
    }
}
