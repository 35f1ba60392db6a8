//! Readings as observations: what each says, in inches, with its sigma.

use crate::catalog::Catalog;
use crate::catalog::methods::Method;
use crate::finding::Finding;
use crate::job::Job;
use crate::job::form::Form;
use crate::job::model::Reading;
use crate::quantity::{
    self, Denominator, Prototype, PrototypeLength, Rational, Stated, Unit, parse_number,
    parse_stated,
};
use crate::solve::least_squares;

use super::names::Names;
use super::unusable;

/// An observation of the unknowns. Lengths are in inches, areas in square
/// inches, ratios plain.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Observed {
    /// The reading it comes from; nothing for what is known beforehand.
    pub(super) reading: Option<usize>,
    pub(super) form: least_squares::Form,
    pub(super) value: f64,
    pub(super) sigma: f64,
}

/// Why a reading says nothing.
pub(super) struct Unusable {
    pub(super) trouble: String,
    pub(super) hint: String,
}

pub(super) fn no(trouble: impl Into<String>, hint: impl Into<String>) -> Unusable {
    Unusable { trouble: trouble.into(), hint: hint.into() }
}

impl From<quantity::NotationError> for Unusable {
    fn from(error: quantity::NotationError) -> Self {
        no(format!("\"{}\": {}", error.text, error.message), error.hint)
    }
}

/// Every reading that is not switched off and says something.
pub(super) fn read_all(
    job: &Job,
    catalog: &Catalog,
    names: &mut Names,
    findings: &mut Vec<Finding>,
) -> Vec<Observed> {
    let mut all = Vec::new();
    for (at, reading) in job.readings.iter().enumerate().filter(|(_, reading)| !reading.off) {
        match read(job, catalog, names, reading) {
            Ok((form, value, sigma)) => {
                all.push(Observed { reading: Some(at), form, value, sigma });
            }
            Err(why) => findings.push(unusable(&reading.id, &why.trouble, &why.hint)),
        }
    }
    all
}

type Said = (least_squares::Form, f64, f64);

fn read(job: &Job, catalog: &Catalog, names: &Names, reading: &Reading) -> Result<Said, Unusable> {
    let form = names.form(&reading.of).map_err(|name| {
        no(format!("no dimension is called \"{name}\""), "add the dimension or mend the name")
    })?;
    let method = catalog.methods.get(&reading.method).ok_or_else(|| {
        no(format!("no method is called \"{}\"", reading.method), "see data/methods.toml")
    })?;
    let text = reading.value.as_deref().ok_or_else(|| no("it has no value", ""))?;
    let (value, sigma) = match reading.of {
        Form::Linear(_) => length(job, reading, text, method)?,
        _ => number(reading, text, method)?,
    };
    if !value.is_finite() || !sigma.is_finite() || sigma <= 0.0 {
        return Err(no(
            format!("its sigma comes to {sigma}, which is not above zero"),
            "give it a sigma: half of the smallest division you could read",
        ));
    }
    Ok((form, value, sigma))
}

fn length(
    job: &Job,
    reading: &Reading,
    text: &str,
    method: &Method,
) -> Result<(f64, f64), Unusable> {
    let surveyor = job.about.surveyor.and_then(Denominator::new);
    let how = quantity::Reading { unit: None, surveyor };
    let Stated { value, sigma } = parse_stated::<Prototype>(text, &how)?;
    let given = match &reading.sigma {
        Some(text) => {
            let how = quantity::Reading { unit: Some(value.unit()), surveyor };
            Some(quantity::parse::<Prototype>(text, &how)?)
        }
        None => sigma,
    };
    let value: PrototypeLength = value.length();
    let sigma = given.map_or_else(|| method.sigma(value.abs()), |sigma| sigma.length());
    Ok((value.in_inches(), sigma.in_inches()))
}

fn number(reading: &Reading, text: &str, method: &Method) -> Result<(f64, f64), Unusable> {
    let unit = match reading.of {
        Form::Product(..) => area_unit(text)?,
        _ => (text, 1.0),
    };
    let Stated { value, sigma } = parse_number(unit.0)?;
    let given = match &reading.sigma {
        Some(text) if matches!(reading.of, Form::Product(..)) => {
            let (text, factor) = area_unit(text)?;
            Some(parse_number(text)?.value.value() * factor)
        }
        Some(text) => Some(parse_number(text)?.value.value()),
        None => sigma.map(|sigma| sigma.value() * unit.1),
    };
    let value = value.value() * unit.1;
    Ok((value, given.unwrap_or(method.relative * value.abs())))
}

/// An area's number and what its unit is in square inches.
fn area_unit(text: &str) -> Result<(&str, f64), Unusable> {
    let squares = [("sq ft", Unit::Foot), ("sq in", Unit::Inch), ("sq m", Unit::Metre)];
    let found = squares.iter().find_map(|(word, unit)| {
        let side = unit.to_inches(Rational::whole(1))?.value();
        Some((text.trim().strip_suffix(word)?.trim(), side * side))
    });
    found.ok_or_else(|| {
        no(format!("\"{text}\" is no area"), "write an area as 560 sq ft, sq in or sq m")
    })
}
