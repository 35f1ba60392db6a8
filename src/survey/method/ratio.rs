//! One length over another on a picture: `ratio`, `to`.

use crate::job::form::Linear;
use crate::solve::least_squares::Form;

use super::super::observed::{Observed, Unusable, no};
use super::{Bench, Given, stranger};

pub(super) fn observe(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<Observed, Unusable> {
    let over = given.sum(bench.names)?;
    let text = given.want("to")?;
    let under: Linear = text.parse().map_err(|error| no(format!("{error}"), ""))?;
    let under = bench.names.terms(&under).map_err(stranger)?;
    let (ratio, sigma) = given.number("ratio")?;
    let sigma = sigma.unwrap_or(given.method.relative * ratio.abs());
    Ok(Observed::new(Form::Ratio(over, under), ratio, sigma))
}
