//! Names in `[lamps]`.

use super::{Checked, Names, trouble};
use crate::catalog::Catalog;
use crate::job::Job;
use crate::job::locate::{self, Place, Step};

/// Checks the names of supplies, lamps and series.
pub(super) fn check(job: &Job, catalog: &Catalog) -> Checked {
    let Some(lamps) = &job.lamps else { return Ok(()) };
    let supplies =
        Names::collect("supply", named("supply", lamps.supplies.iter().map(|it| &it.name)))?;
    let strings = named("string", lamps.strings.iter().map(|it| &it.name));
    let loads = named("load", lamps.loads.iter().map(|it| &it.name));
    Names::collect("string or load", strings.chain(loads))?;
    let known = catalog.lamps.lamps.iter().map(|row| row.key.as_str()).collect();
    let known = Names { what: "lamp", known };
    for (at, string) in lamps.strings.iter().enumerate() {
        known.want(&string.lamp, || place("string", at, "lamp"))?;
        wanted(&supplies, string.supply.as_ref(), || place("string", at, "supply"))?;
    }
    for (at, load) in lamps.loads.iter().enumerate() {
        wanted(&supplies, load.supply.as_ref(), || place("load", at, "supply"))?;
    }
    match &lamps.series {
        Some(series) if catalog.lamps.series(series).is_none() => Err(trouble(
            locate::key("lamps", "series"),
            format!("no series of resistors is called \"{series}\""),
            "one of E12, E24",
        )),
        _ => Ok(()),
    }
}

fn wanted(supplies: &Names<'_>, name: Option<&String>, place: impl FnOnce() -> Place) -> Checked {
    name.map_or(Ok(()), |name| supplies.want(name, place))
}

fn named<'a>(
    table: &'static str,
    names: impl Iterator<Item = &'a String>,
) -> impl Iterator<Item = (&'a str, Place)> {
    names.enumerate().map(move |(at, name)| (name.as_str(), place(table, at, "name")))
}

fn place(table: &str, at: usize, key: &str) -> Place {
    let mut place = vec![Step::Key("lamps".to_owned())];
    place.extend(locate::row(table, at, key));
    place
}
