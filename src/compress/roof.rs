//! How the roof follows a shallower building.

use super::Decision;
use crate::elevation::Body;
use crate::elevation::body::run;
use crate::job::body::RoofKind;
use crate::job::place::RoofFollows;
use crate::quantity::slack::{TOUCH, WHOLE};
use crate::quantity::{Compressed, CompressedLength, Prototype};

/// A depth with the roof that goes on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Roofed {
    pub(crate) depth: CompressedLength,
    pub(crate) roof: RoofFollows,
}

/// The ways to be no deeper than the space.
pub(crate) fn options(
    body: &Body<Prototype>,
    kind: RoofKind,
    deepest: &dyn Fn(RoofFollows) -> Option<CompressedLength>,
) -> Vec<Roofed> {
    let full = CompressedLength::kept(body.depth);
    let limit = deepest(RoofFollows::KeepPitch).unwrap_or(full);
    if full <= limit + slack() {
        return vec![Roofed { depth: full, roof: RoofFollows::KeepPitch }];
    }
    let depth = whole_feet(limit);
    let mut options = vec![Roofed { depth, roof: RoofFollows::KeepPitch }];
    if run(kind, body.depth) > crate::quantity::PrototypeLength::ZERO {
        options.push(Roofed { depth, roof: RoofFollows::KeepRidge });
    }
    let ridged = kind.has_gables() || kind == RoofKind::Hip;
    if ridged && full / 2.0 <= deepest(RoofFollows::HalfRelief).unwrap_or(full) + slack() {
        options.push(Roofed { depth: full / 2.0, roof: RoofFollows::HalfRelief });
    }
    options.push(Roofed { depth: CompressedLength::ZERO, roof: RoofFollows::Flat });
    options
}

/// A rounding error of the arithmetic, not of the building.
pub(crate) fn slack() -> CompressedLength {
    CompressedLength::inches(TOUCH)
}

/// The depth a carpenter would take: whole feet, where there is more than one.
fn whole_feet(depth: CompressedLength) -> CompressedLength {
    let feet = (depth.in_feet() + WHOLE).floor();
    if feet >= 2.0 { CompressedLength::feet(feet) } else { depth }
}

/// The body with that depth and roof and that length of front.
pub(crate) fn body(
    original: &Body<Prototype>,
    kind: RoofKind,
    length: CompressedLength,
    roofed: Roofed,
) -> Body<Compressed> {
    let kept = CompressedLength::kept;
    let (eave, ridge) = (kept(original.eave), kept(original.ridge));
    let before = kept(run(kind, original.depth));
    let after = run(kind, roofed.depth);
    let rise = ridge - eave;
    let (ridge, pitch) = match roofed.roof {
        // Both slopes keep their pitch, and their shares of the run.
        RoofFollows::KeepPitch if kind == RoofKind::Gambrel => {
            (eave + rise * (after / before), original.pitch)
        }
        RoofFollows::KeepRidge if kind == RoofKind::Gambrel && after > CompressedLength::ZERO => {
            (ridge, original.pitch * (before / after))
        }
        RoofFollows::KeepPitch => (ridge - (before - after) * original.pitch, original.pitch),
        RoofFollows::KeepRidge if after > CompressedLength::ZERO => (ridge, (ridge - eave) / after),
        RoofFollows::KeepRidge | RoofFollows::HalfRelief | RoofFollows::Flat => {
            (ridge, original.pitch)
        }
    };
    Body {
        length,
        depth: roofed.depth,
        eave,
        ridge,
        pitch,
        eave_overhang: kept(original.eave_overhang),
        rake_overhang: kept(original.rake_overhang),
    }
}

/// The body with the heights that were set by hand. `run` is that of its slope.
/// The ridge goes with the eave unless it is kept or set; then the pitch follows.
pub(crate) fn set(
    body: &mut Body<Compressed>,
    Decision { roof, set, .. }: &Decision,
    run: CompressedLength,
) {
    let rise = set.eave.map_or(CompressedLength::ZERO, |eave| eave - body.eave);
    body.eave += rise;
    match (set.ridge, roof) {
        (Some(ridge), _) => body.ridge = ridge,
        (None, RoofFollows::KeepRidge) => {}
        (None, _) => body.ridge += rise,
    }
    let turned = set.ridge.is_some() || (set.eave.is_some() && *roof == RoofFollows::KeepRidge);
    if turned && run > CompressedLength::ZERO {
        body.pitch = (body.ridge - body.eave) / run;
    }
}
