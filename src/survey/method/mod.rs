//! Ways to take a reading: what each says of the dimensions, from the figures
//! the person noted.
//!
//! A reading with a `value` is taken at its word. One without is worked out
//! from the figures under `given`; which figures a method takes stands with
//! it in `data/methods.toml`. Errors that readings share, such as the size of
//! a counted unit, become unknowns of their own.

mod clinometer;
mod count;
mod map;
mod object;
mod pacing;
mod pitch;
mod plain;
mod pull;
mod ratio;
mod shadow;

#[cfg(test)]
mod tests;

use crate::catalog::Catalog;
use crate::catalog::methods::Method;
use crate::job::Job;
use crate::job::form::Form;
use crate::job::model::Reading;
use crate::quantity::{
    self, Denominator, Prototype, Space, Stated, Written, parse_angle, parse_number, parse_pitch,
    parse_stated,
};
use crate::solve::least_squares::Terms;

use super::names::Names;
use super::observed::{Observed, Unusable, no};

/// What is at hand when a reading is worked out.
pub(super) struct Bench<'a> {
    pub(super) job: &'a Job,
    pub(super) catalog: &'a Catalog,
    pub(super) names: &'a mut Names,
    pub(super) priors: &'a mut Vec<Observed>,
}

impl Bench<'_> {
    /// An unknown that readings share, with what is known of it beforehand.
    fn shared(&mut self, name: &str, value: f64, sigma: f64) -> Result<usize, Unusable> {
        let at = self.names.own(name);
        if !self.priors.iter().any(|prior| prior.prior == name) {
            if sigma.is_nan() || sigma <= 0.0 {
                return Err(no(format!("the {name} has no sigma above zero"), ""));
            }
            self.priors.push(Observed::prior(name, at, value, sigma));
        }
        Ok(at)
    }
}

/// What a reading says.
pub(super) fn observe(bench: &mut Bench<'_>, reading: &Reading) -> Result<Observed, Unusable> {
    let method = bench.catalog.methods.get(&reading.method).ok_or_else(|| {
        no(format!("no method is called \"{}\"", reading.method), "see data/methods.toml")
    })?;
    let given = Given { reading, method, surveyor: surveyor(bench.job) };
    given.check_keys()?;
    let seen = if reading.value.is_some() {
        plain::observe(bench, &given)
    } else {
        let work_out = match reading.method.as_str() {
            "pacing" => pacing::observe,
            "count" => count::observe,
            "photo-ratio" => ratio::observe,
            "known-object" | "person" => object::observe,
            "clinometer" => clinometer::observe,
            "shadow" => shadow::observe,
            "pitch" => pitch::observe,
            "map" => map::observe,
            _ => return Err(no("it has no value", "a reading by this method needs one")),
        };
        work_out(bench, &given)
    }?;
    pull::shift(bench, &given, seen)
}

fn surveyor(job: &Job) -> Option<Denominator> {
    job.about.surveyor.and_then(Denominator::new)
}

/// The figures of one reading.
pub(super) struct Given<'a> {
    reading: &'a Reading,
    method: &'a Method,
    surveyor: Option<Denominator>,
}

/// A figure with its sigma, where it was given.
type Figure = (f64, Option<f64>);

impl<'a> Given<'a> {
    fn check_keys(&self) -> Result<(), Unusable> {
        let known = |key: &&String| self.method.inputs.contains_key(*key);
        let Some(stranger) = self.reading.given.keys().find(|key| !known(key)) else {
            return Ok(());
        };
        let keys: Vec<&str> = self.method.inputs.keys().map(String::as_str).collect();
        let hint = match keys.as_slice() {
            [] => "this method takes a value".to_owned(),
            keys => format!("it takes {}", keys.join(", ")),
        };
        Err(no(format!("the method {} takes no \"{stranger}\"", self.method.key), hint))
    }

    fn text(&self, key: &str) -> Option<&'a str> {
        self.reading.given.get(key).map(|text| text.trim())
    }

    fn want(&self, key: &str) -> Result<&'a str, Unusable> {
        self.text(key).ok_or_else(|| {
            let what = self.method.inputs.get(key).map_or("", String::as_str);
            no(format!("the figure \"{key}\" is missing"), format!("{key}: {what}"))
        })
    }

    fn read_length<S: Space>(&self, text: &str) -> Result<Figure, Unusable> {
        let how = quantity::Reading { unit: None, surveyor: self.surveyor };
        let Stated { value, sigma } = parse_stated::<S>(text, &how)?;
        let inches = |written: Written<S>| written.length().in_inches();
        Ok((inches(value), sigma.map(inches)))
    }

    /// A length, in inches.
    fn length(&self, key: &str) -> Result<Figure, Unusable> {
        self.read_length::<Prototype>(self.want(key)?)
    }

    /// A plain number.
    fn number(&self, key: &str) -> Result<Figure, Unusable> {
        let Stated { value, sigma } = parse_number(self.want(key)?)?;
        Ok((value.value(), sigma.map(quantity::Rational::value)))
    }

    /// A rise over its run.
    fn pitch(&self, key: &str) -> Result<Figure, Unusable> {
        let Stated { value, sigma } = parse_pitch(self.want(key)?)?;
        Ok((value.value(), sigma.map(quantity::Rational::value)))
    }

    /// An angle, in radians, with the method's own sigma where none is given.
    fn angle(&self, key: &str) -> Result<(f64, f64), Unusable> {
        let Stated { value, sigma } = parse_angle(self.want(key)?)?;
        let usual = self.method.angle.unwrap_or(0.5).to_radians();
        Ok((value.in_radians(), sigma.map_or(usual, quantity::Angle::in_radians)))
    }

    /// The sum the reading is of.
    fn sum(&self, names: &Names) -> Result<Terms, Unusable> {
        match &self.reading.of {
            Form::Linear(form) => names.terms(form).map_err(stranger),
            _ => Err(no("this method reads a length", "write one dimension, or a sum of them")),
        }
    }

    /// The sigma given with the reading, in inches.
    fn own_sigma(&self) -> Result<Option<f64>, Unusable> {
        let read = |text: &String| Ok(self.read_length::<Prototype>(text)?.0);
        self.reading.sigma.as_ref().map(read).transpose()
    }

    /// A length worked out, with the sigma given in its place if there is one.
    fn found(&self, names: &Names, value: f64, sigma: f64) -> Result<Observed, Unusable> {
        let form = crate::solve::least_squares::Form::Sum(self.sum(names)?);
        Ok(Observed::new(form, value, self.own_sigma()?.unwrap_or(sigma)))
    }
}

pub(super) fn stranger(name: &str) -> Unusable {
    no(format!("no dimension is called \"{name}\""), "add the dimension or mend the name")
}
