//! The ground: outline and track -> where the building can stand.
//!
//! [`Ground::longest_front`] finds the longest front for a depth,
//! [`Ground::largest`] the largest rectangle of a range of aspects, at any angle
//! allowed, on convex and concave outlines, clear of the track's car.

mod bound;
mod ground;
mod hunt;
mod reach;
mod strip;
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
    /// Where the building may stand, clear of the track as the job keeps it.
    pub ground: Ground,
    /// The track, where there is one.
    pub track: Option<Track>,
    /// The track's clearances, where there is one.
    pub clearance: Option<Clearance>,
    /// Front over depth wanted of the largest rectangle, where the job says.
    pub aspect: Option<[f64; 2]>,
}

/// The curve beside the building and the car on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Track {
    /// Centre of the curve, model inches on the outline's axes.
    pub centre: [f64; 2],
    /// Radius of the centre line.
    pub radius: ModelLength,
    /// Whether the building stands inside the curve.
    pub inside: bool,
    /// How far the car reaches to both sides.
    pub reach: Reach,
    /// Length of the car over its ends.
    pub car_length: ModelLength,
    /// Width of the car.
    pub car_width: ModelLength,
    /// Kept free beyond the car.
    pub margin: ModelLength,
}

impl Track {
    /// The circle of a distance from the centre line, on the building's side.
    #[must_use]
    pub fn line(&self, clear: ModelLength) -> Circle {
        let (radius, clear) = (self.radius.in_inches(), clear.in_inches());
        Circle {
            centre: self.centre,
            radius: if self.inside { radius - clear } else { radius + clear },
            inside: self.inside,
        }
    }

    /// How far a point stands from the centre line; below zero on the other side
    /// of it.
    #[must_use]
    pub fn away(&self, point: [f64; 2]) -> ModelLength {
        let out = (point[0] - self.centre[0]).hypot(point[1] - self.centre[1]);
        let away = out - self.radius.in_inches();
        ModelLength::inches(if self.inside { -away } else { away })
    }

    /// How far a wall from one point to another stands from the centre line at
    /// its nearest.
    #[must_use]
    pub fn nearest(&self, a: [f64; 2], b: [f64; 2]) -> ModelLength {
        let along = [b[0] - a[0], b[1] - a[1]];
        let square = along[0] * along[0] + along[1] * along[1];
        let foot = |at: f64| [a[0] + at * along[0], a[1] + at * along[1]];
        let to = [self.centre[0] - a[0], self.centre[1] - a[1]];
        let at = if square > 0.0 { (to[0] * along[0] + to[1] * along[1]) / square } else { 0.0 };
        let places = [a, b, foot(at.clamp(0.0, 1.0))].map(|point| self.away(point));
        places.into_iter().fold(places[0], |least, it| if it < least { it } else { least })
    }
}

impl Survey {
    /// The same ground where the track is given another distance.
    ///
    /// # Errors
    ///
    /// As [`Ground::new`]; the outline was read before, so none is expected.
    pub fn clear_by(&self, clear: ModelLength) -> Result<Ground, Stop> {
        self.ground.beside(self.track.map(|track| track.line(clear)))
    }
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
    let read = site.track.as_ref().map(|track| curve(track, scale)).transpose()?;
    let (track, clearance) = read.map_or((None, None), |(track, clear)| (Some(track), Some(clear)));
    let circle = track.zip(clearance).map(|(track, clear)| track.line(clear.kept));
    let ground = Ground::new(outline, circle, turn)?;
    Ok(Survey { ground, track, clearance, aspect: aspect(site)? })
}

/// The aspects asked for, each front over depth.
fn aspect(site: &Site) -> Result<Option<[f64; 2]>, Stop> {
    let Some([least, most]) = site.aspect else { return Ok(None) };
    if !(least > 0.0 && least <= most && most.is_finite()) {
        return Err(Stop::new(
            "reading the site's aspect",
            format!("from {least} to {most} is no range above zero"),
            "write the least and the most of front over depth: [1.2, 1.6]",
        ));
    }
    Ok(Some([least, most]))
}

/// Kept free beyond a car where the job does not say (judgement).
pub const MARGIN: f64 = 0.125;

/// Kept free beyond the car's reach on the curve of a site: all that is kept.
#[must_use]
pub fn margin(track: &SiteTrack) -> ModelLength {
    track.margin.as_ref().map_or(ModelLength::inches(MARGIN), |said| said.length())
}

fn curve(track: &SiteTrack, scale: &Scale) -> Result<(Track, Clearance), Stop> {
    let model =
        |said: &crate::job::said::Said<crate::quantity::Prototype>| scale.reduce(said.length());
    let car = &track.car;
    let sizes = [&car.length, &car.centres, &car.width].map(model);
    let radius = track.radius.length();
    if radius <= ModelLength::ZERO || sizes.iter().any(|size| *size <= ModelLength::ZERO) {
        return Err(Stop::new(
            "setting the car on the curve",
            "a radius or a size of the car is not above zero",
            "look at the radius and the car",
        ));
    }
    let reach = reach(radius, sizes[0], sizes[1], sizes[2]).ok_or_else(|| {
        Stop::new(
            "setting the car on the curve",
            "its truck centres are longer than the curve is wide",
            "look at the radius and the car",
        )
    })?;
    let margin = margin(track);
    let needs = margin + if track.inside { reach.inside } else { reach.outside };
    let rule = track.rule.as_ref().map(model);
    let kept = match (track.keep, rule) {
        (Keep::Rule, Some(rule)) => needs.max(rule),
        _ => needs,
    };
    let centre = [track.centre[0].length().in_inches(), track.centre[1].length().in_inches()];
    let inside = track.inside;
    let [car_length, _, car_width] = sizes;
    let read = Track { centre, radius, inside, reach, car_length, car_width, margin };
    Ok((read, Clearance { car: needs, rule, kept }))
}
