//! Where what is built stands on its ground, and what else the ground takes.

use super::Decision;
use super::case::Case;
use crate::elevation::Body;
use crate::finding::Stop;
use crate::quantity::{Compressed, CompressedLength, ModelLength};
use crate::site::{self, Clearance, Placement};

/// The aspects looked at where the job says none: so much either way of the
/// building's own (judgement).
const ASPECT_PLAY: f64 = 0.2;

/// The place of what is built on its ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Standpoint {
    /// The ground.
    pub survey: site::Survey,
    /// The longest front the ground takes at the depth built.
    pub longest: CompressedLength,
    /// Where that front stands, model inches on the outline.
    pub placement: Option<Placement>,
    /// Where the building as built stands: in the middle of that front. Nothing
    /// where it does not fit.
    pub built: Option<Placement>,
    /// The four walls of the main body within that place; where it does not fit,
    /// from the corner of the longest front.
    pub walls: Option<Placement>,
    /// The track's clearances, where there is a track.
    pub clearance: Option<Clearance>,
    /// What the ground takes at several depths.
    pub taken: Vec<Taken>,
    /// Least and most front over depth of the largest rectangle.
    pub aspect: [f64; 2],
    /// The largest rectangle of that range.
    pub largest: Option<Placement>,
}

/// The longest front at one depth.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// What the depth is.
    pub what: &'static str,
    /// The depth.
    pub depth: CompressedLength,
    /// Clear of the largest car.
    pub by_car: Option<Placement>,
    /// Clear by the full-size rule; nothing where there is no rule, or no place.
    pub by_rule: Option<Placement>,
}

pub(super) fn standpoint(
    case: &Case<'_>,
    decision: &Decision,
    body: &Body<Compressed>,
) -> Result<Option<Standpoint>, Stop> {
    let Some(survey) = &case.ground else { return Ok(None) };
    let depth = if decision.is_wedge() { CompressedLength::ZERO } else { decision.depth };
    let reach = case.reach(body.length, decision.roofed());
    let model = |inches: f64| case.scale.reduce(CompressedLength::inches(inches)).in_inches();
    let depth = if decision.is_wedge() { depth } else { CompressedLength::inches(reach.depth()) };
    let placement = survey.ground.longest_front(case.scale.reduce(depth).in_inches());
    let front = ModelLength::inches(placement.map_or(0.0, |placed| placed.front));
    let length = model(reach.length());
    let built = placement.filter(|placed| length <= placed.front + site::WITHIN);
    let within = |placed: Placement| {
        let corner = [-model(reach.along[0]), -model(reach.behind[0])];
        placed.within_it(corner, model(body.length.in_inches()), model(body.depth.in_inches()))
    };
    let built = built.map(|placed| placed.holding(length, model(reach.depth())));
    let own = case.full_length() / case.faces.body.depth.in_inches().max(1.0);
    let aspect = survey.aspect.unwrap_or([own * (1.0 - ASPECT_PLAY), own * (1.0 + ASPECT_PLAY)]);
    Ok(Some(Standpoint {
        longest: case.scale.enlarge(front),
        placement,
        walls: built.or(placement).map(within),
        built,
        clearance: survey.clearance,
        taken: taken(case, survey, decision.depth)?,
        aspect,
        largest: survey.ground.largest(aspect),
        survey: survey.clone(),
    }))
}

/// The longest fronts by car and by rule.
fn taken(
    case: &Case<'_>,
    survey: &site::Survey,
    built: CompressedLength,
) -> Result<Vec<Taken>, Stop> {
    let by = |clear: Option<ModelLength>| clear.map(|clear| survey.clear_by(clear)).transpose();
    let car = by(survey.clearance.map(|clear| clear.car))?;
    let rule = by(survey.clearance.and_then(|clear| clear.rule))?;
    let full = CompressedLength::kept(case.faces.body.depth);
    let mut depths = vec![("as built", built), ("full depth", full), ("half of it", full / 2.0)];
    depths.push(("the front line alone", CompressedLength::ZERO));
    depths.dedup_by(|a, b| a.1.agrees(b.1, super::roof::slack()));
    let rows = depths.into_iter().map(|(what, depth)| {
        let model = case.scale.reduce(depth).in_inches();
        Taken {
            what,
            depth,
            by_car: car.as_ref().unwrap_or(&survey.ground).longest_front(model),
            by_rule: rule.as_ref().and_then(|ground| ground.longest_front(model)),
        }
    });
    Ok(rows.collect())
}
