//! How far a car reaches from the centre line of a curve.

use crate::quantity::ModelLength;

/// Reach from the centre line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// Towards the centre of the curve, in the middle of the car.
    pub inside: ModelLength,
    /// Away from it, at the car's ends.
    pub outside: ModelLength,
}

/// The reach of a car of a length over its ends, truck centres and width on a
/// curve of a radius. The trucks stand on the centre line, so the middle of the
/// car stands at `c = sqrt(R^2 - (b/2)^2)`: the inside reach is
/// `R - (c - w/2)`, the outside one `sqrt((c + w/2)^2 + (l/2)^2) - R`
/// (Pythagoras). Nothing where the truck centres are no chord of the curve.
#[must_use]
pub fn reach(
    radius: ModelLength,
    length: ModelLength,
    centres: ModelLength,
    width: ModelLength,
) -> Option<Reach> {
    let (r, l, b, w) =
        (radius.in_inches(), length.in_inches(), centres.in_inches(), width.in_inches());
    let under = r * r - b * b / 4.0;
    if under <= 0.0 {
        return None;
    }
    let middle = under.sqrt();
    Some(Reach {
        inside: ModelLength::inches(r - (middle - w / 2.0)),
        outside: ModelLength::inches((middle + w / 2.0).hypot(l / 2.0) - r),
    })
}
