//! A length off a map: `on-map`, `ratio`.

use crate::quantity::{Paper, parse_number};

use super::super::observed::{Observed, Unusable, no};
use super::{Bench, Given};

pub(super) fn observe(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<Observed, Unusable> {
    let (on_map, read) = given.read_length::<Paper>(given.want("on-map")?)?;
    let text = given.want("ratio")?;
    let ratio = text.trim_start_matches("1:").trim();
    let ratio = parse_number(ratio)
        .map_err(|_| no(format!("\"{text}\" is no ratio"), "write 1:600 for 1 in to 50 ft"))?
        .value
        .value();
    let value = on_map * ratio;
    let usual = given.method.fixed.as_ref().map_or(0.0, |fixed| fixed.length().in_inches());
    given.found(bench.names, value, usual.hypot(read.unwrap_or(0.0) * ratio))
}
