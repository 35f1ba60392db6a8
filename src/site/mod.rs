//! The ground: outline and track -> where the building can stand.
//!
//! [`Ground::longest_front`] finds the longest front for a depth,
//! [`Ground::largest`] the largest rectangle of a range of aspects, at any angle
//! allowed, on convex and concave outlines, clear of the track's car.

mod ground;
mod reach;
#[cfg(test)]
mod tests;

pub use ground::{Circle, Ground, Placement, WITHIN};
pub use reach::{Reach, reach};

use crate::finding::Stop;
use crate::job::site::{Keep, Site, SiteTrack};
use crate::quantity::{ModelLength, PrototypeLength, Scale, parse_angle};

/// The ground of a job, with both clearances for the person to compare.
#[derive(Clone, Debug, PartialEq)]
pub struct Survey {
    /// Where the building may stand.
    pub ground: Ground,
    /// The track's clearances, where there is one.
    pub clearance: Option<Clearance>,
}

/// How far the building stands from the track.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// From the track centre as the model car needs it, margin included.
    pub car: ModelLength,
    /// From the track centre as the full-size rule has it.
    pub rule: Option<ModelLength>,
    /// The one kept.
    pub kept: ModelLength,
}

impl Clearance {
    /// What the kept clearance is at full size.
    #[must_use]
    pub fn full(&self, scale: &Scale) -> PrototypeLength {
        scale.enlarge(self.kept)
    }
}

/// Reads the ground of a job.
///
/// # Errors
///
/// Where the outline has fewer than three corners, crosses itself or holds no
/// area, or the car cannot stand on the curve: named.
pub fn survey(site: &Site, scale: &Scale) -> Result<Survey, Stop> {
    let point = |said: &[crate::job::said::Said<crate::quantity::Model>; 2]| {
        [said[0].length().in_inches(), said[1].length().in_inches()]
    };
    let outline: Vec<[f64; 2]> = site.outline.iter().map(point).collect();
    let turn = match &site.turn {
        None => 0.0,
        Some(text) => parse_angle(text)
            .map_err(|error| {
                Stop::new("reading the site's turn", error.to_string(), "write 20 deg")
            })?
            .value
            .in_radians()
            .abs(),
    };
    let clearance = site.track.as_ref().map(|track| clearance(track, scale)).transpose()?;
    let circle = site.track.as_ref().zip(clearance).map(|(track, clear)| {
        let radius = track.radius.length().in_inches();
        let kept = clear.kept.in_inches();
        Circle {
            centre: point(&track.centre),
            radius: if track.inside { radius - kept } else { radius + kept },
            inside: track.inside,
        }
    });
    Ok(Survey { ground: Ground::new(outline, circle, turn)?, clearance })
}

fn clearance(track: &SiteTrack, scale: &Scale) -> Result<Clearance, Stop> {
    let model =
        |said: &crate::job::said::Said<crate::quantity::Prototype>| scale.reduce(said.length());
    let car = &track.car;
    let reach =
        reach(track.radius.length(), model(&car.length), model(&car.centres), model(&car.width))
            .ok_or_else(|| {
                Stop::new(
                    "setting the car on the curve",
                    "its truck centres are longer than the curve is wide",
                    "look at the radius and the car",
                )
            })?;
    let margin = track.margin.as_ref().map_or(ModelLength::inches(0.125), |said| said.length());
    let car = margin + if track.inside { reach.inside } else { reach.outside };
    let rule = track.rule.as_ref().map(model);
    let kept = match (track.keep, rule) {
        (Keep::Rule, Some(rule)) => car.max(rule),
        _ => car,
    };
    Ok(Clearance { car, rule, kept })
}
