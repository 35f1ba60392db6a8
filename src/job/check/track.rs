//! Names in `[track]`, and the cars and obstacles beside it.

use super::{Checked, Names, rows, trouble};
use crate::catalog::Catalog;
use crate::job::Job;
use crate::job::locate::{self, Place, Step};

/// Checks cars, rules and outlines, and that a car can be one.
pub(super) fn check(job: &Job, catalog: &Catalog) -> Checked {
    let car_keys = job.cars.iter().enumerate();
    let car_keys = car_keys.map(|(at, car)| (car.key.as_str(), locate::row("car", at, "key")));
    let own = Names::collect("car", car_keys)?;
    let obstacles = job.obstacles.iter().map(|it| &it.name);
    Names::collect("obstacle", rows("obstacle", obstacles))?;
    for (at, car) in job.cars.iter().enumerate() {
        if let Some(what) = car.trouble() {
            let place = locate::row("car", at, "key");
            return Err(trouble(place, format!("the car {}: {what}", car.key), ""));
        }
    }
    let Some(track) = &job.track else { return Ok(()) };
    let cars = catalog.cars.rows.iter().map(|row| row.key.as_str()).chain(own.known);
    wanted("car", "cars", &track.cars, cars)?;
    let data = &catalog.clearances;
    wanted("rule", "rules", &track.rules, data.rules.iter().map(|row| row.key.as_str()))?;
    let outlines = data.outlines.iter().map(|row| row.key.as_str());
    wanted("outline", "outlines", &track.outlines, outlines)
}

fn wanted<'a>(
    what: &'static str,
    key: &str,
    names: &[String],
    known: impl Iterator<Item = &'a str>,
) -> Checked {
    let known = Names { what, known: known.collect() };
    names.iter().enumerate().try_for_each(|(at, name)| known.want(name, || place(key, at)))
}

fn place(key: &str, at: usize) -> Place {
    let mut place = locate::key("track", key);
    place.push(Step::At(at));
    place
}
