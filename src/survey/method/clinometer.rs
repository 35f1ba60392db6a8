//! Two angles and a level distance: `up`, `down` or `eye`, `distance`.

use crate::estimate::budget::propagate;

use super::super::observed::{Observed, Unusable, no};
use super::{Bench, Given};

pub(super) fn observe(bench: &mut Bench<'_>, given: &Given<'_>) -> Result<Observed, Unusable> {
    let up = given.angle("up")?;
    let (distance, sigma) = given.length("distance")?;
    // Paced, where nothing else is said.
    let distance = (distance, sigma.unwrap_or(0.02 * distance));
    let (value, sigma) = if given.text("down").is_some() {
        let inputs = [distance, up, given.angle("down")?];
        propagate(inputs, |[far, up, down]| far * (up.tan() + down.tan()))
    } else if given.text("eye").is_some() {
        let (eye, sigma) = given.length("eye")?;
        let inputs = [distance, up, (eye, sigma.unwrap_or(2.0))];
        propagate(inputs, |[far, up, eye]| far * up.tan() + eye)
    } else {
        return Err(no(
            "one angle alone gives no height",
            "sight the foot as well (down), or say the height of the eye (eye)",
        ));
    };
    given.found(bench.names, value, sigma)
}
