//! A reading taken at its word: tape, laser, record, guess, or any method
//! whose figure the person worked out.

use crate::job::form::Form;
use crate::quantity::{
    self, Length, Prototype, PrototypeLength, Rational, Stated, Unit, parse_number, parse_stated,
};

use super::super::observed::{Observed, Unusable, no};
use super::{Bench, Given, stranger};

pub(super) fn observe(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<Observed, Unusable> {
    let form = bench.names.form(&given.reading.of).map_err(stranger)?;
    let text = given.reading.value.as_deref().unwrap_or_default();
    let (value, sigma) = match given.reading.of {
        Form::Linear(_) | Form::Diagonal(..) => length(given, text)?,
        Form::Ratio(..) => ratio(given, text)?,
        Form::Product(..) => area(given, text)?,
    };
    Ok(Observed::new(form, value, sigma))
}

fn length(given: &Given<'_>, text: &str) -> Result<(f64, f64), Unusable> {
    let how = quantity::Reading { unit: None, surveyor: given.surveyor };
    let Stated { value, sigma } = parse_stated::<Prototype>(text, &how)?;
    let sigma = match &given.reading.sigma {
        Some(text) => {
            let how = quantity::Reading { unit: Some(value.unit()), ..how };
            Some(quantity::parse::<Prototype>(text, &how)?)
        }
        None => sigma,
    };
    let value: PrototypeLength = value.length();
    let usual = || given.method.sigma(value.abs());
    let sigma: Length<Prototype> = sigma.map_or_else(usual, |sigma| sigma.length());
    Ok((value.in_inches(), sigma.in_inches()))
}

fn ratio(given: &Given<'_>, text: &str) -> Result<(f64, f64), Unusable> {
    let Stated { value, sigma } = parse_number(text)?;
    let own = given.reading.sigma.as_deref().map(parse_number).transpose()?;
    let sigma = own.map(|own| own.value).or(sigma).map(Rational::value);
    let value = value.value();
    Ok((value, sigma.unwrap_or(given.method.relative * value.abs())))
}

fn area(given: &Given<'_>, text: &str) -> Result<(f64, f64), Unusable> {
    let (number, square) = area_unit(text)?;
    let Stated { value, sigma } = parse_number(number)?;
    let own = match &given.reading.sigma {
        Some(text) => {
            let (number, square) = area_unit(text)?;
            Some(parse_number(number)?.value.value() * square)
        }
        None => sigma.map(|sigma| sigma.value() * square),
    };
    let value = value.value() * square;
    Ok((value, own.unwrap_or(given.method.relative * value.abs())))
}

/// An area's number, and its unit in square inches.
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
