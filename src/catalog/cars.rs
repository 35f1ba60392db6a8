//! Cars that pass: `data/cars.toml`.

use serde::Deserialize;

use super::row::{Tag, keyed, merge, own, rows};
use super::{DataFile, double_trouble};
use crate::quantity::{Prototype, Rational, Written};

type Full = Written<Prototype>;

/// A car, full size.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Car {
    /// What it is called for.
    pub key: String,
    /// What it is.
    #[serde(default)]
    pub name: String,
    /// Length over its ends.
    pub length: Full,
    /// Between truck centres.
    pub centres: Full,
    /// Length it takes in a row of cars, coupled.
    pub coupled: Option<Full>,
    /// Its floor over the rail head.
    pub floor: Option<Full>,
    /// Width of the door in the middle of its side.
    pub door: Option<Full>,
    /// Its cross-section from the rail head up: width and height, at the least
    /// two points.
    pub profile: Vec<[Full; 2]>,
    /// Steps at its ends, where they stand out.
    pub steps: Option<EndSteps>,
    /// What to bear in mind.
    #[serde(default)]
    pub note: String,
    /// Where the row comes from.
    #[serde(default = "own")]
    pub source: String,
    /// How it is known.
    #[serde(default)]
    pub tag: Tag,
}

/// Steps and ladders at the ends of a car.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct EndSteps {
    /// How far they go along the car from its end.
    pub length: Full,
    /// Width over both sides.
    pub width: Full,
    /// Their foot over the rail head.
    pub low: Full,
    /// Their top over the rail head.
    pub high: Full,
}

impl Car {
    /// What is wrong with its sizes, in words.
    #[must_use]
    pub fn trouble(&self) -> Option<String> {
        let size = |full: &Full| full.exact().in_inches();
        let none = |full: &Full| size(full) <= Rational::ZERO;
        let high = |at: usize| self.profile.get(at).map(|point| size(&point[1]));
        if none(&self.length) || none(&self.centres) {
            return Some("its length and truck centres should be above 0".to_owned());
        }
        if size(&self.centres) > size(&self.length) {
            return Some("its truck centres are further apart than it is long".to_owned());
        }
        if self.profile.len() < 2 || (1..self.profile.len()).any(|at| high(at) < high(at - 1)) {
            return Some("its profile should go up, from two points at the least".to_owned());
        }
        (high(0) == high(self.profile.len() - 1)
            || self.profile.iter().all(|point| none(&point[0])))
        .then(|| "its profile holds no area".to_owned())
    }
}

/// The cars.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cars {
    /// The rows, in the order of the file.
    #[serde(default, rename = "car")]
    pub rows: Vec<Car>,
}

impl Cars {
    /// The car of that key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Car> {
        keyed(&self.rows, key)
    }
}

rows! { Car, self => self.key.clone(); }

impl DataFile for Cars {
    const NAME: &'static str = "cars.toml";

    fn trouble(&self) -> Option<String> {
        let bad = self.rows.iter().find_map(|car| Some((&car.key, car.trouble()?)));
        double_trouble(&self.rows).or_else(|| bad.map(|(key, what)| format!("{key}: {what}")))
    }

    fn merged(&self, own: &Self) -> Self {
        Self { rows: merge(&self.rows, &own.rows) }
    }
}
