//! How many parts a building will come to, counted before any is taken off.
//!
//! The count is from above and by plain division: it need not be right, only
//! never far too small. What it refuses is named with the key that causes it.

use crate::building::{Building, RoofPlane, Wall};
use crate::finding::Stop;
use crate::job::Job;
use crate::job::building::{Cladding, CladdingKind};
use crate::job::said::{Said, Size};
use crate::quantity::{CompressedLength, ModelLength, Scale};
use crate::survey::Survey;

/// Most parts of a plan: a hundred times a large building.
const MOST: f64 = 200_000.0;

/// Refuses a building of more parts than a plan holds.
///
/// # Errors
/// The key that makes the most of them.
pub(super) fn parts(
    job: &Job,
    survey: &Survey,
    building: &Building,
    scale: &Scale,
) -> Result<(), Stop> {
    let count = Count { job, survey, building, stick: stick(job, scale) };
    let claddings = job.claddings.iter().map(|cladding| count.cladding(cladding));
    let counts = claddings.chain(job.decks.iter().map(|deck| {
        let long = count.size(deck.length.as_ref(), front(building));
        let pitch = count.size(Some(&deck.plank), 8.0) + count.size(deck.gap.as_ref(), 0.0);
        let wide = count.size(Some(&deck.width), 0.0);
        let rows = wide / count.size(deck.stringers.as_ref(), 24.0) + 2.0;
        let planks = long / pitch * count.sticks(wide) + rows * count.sticks(long);
        (planks, format!("`plank` of the deck \"{}\"", deck.name))
    }));
    let counts = counts.chain(job.members.iter().map(|member| {
        let spaced = member
            .spacing
            .as_ref()
            .map_or(0.0, |spacing| front(building) / count.size(Some(spacing), 12.0) + 1.0);
        let many = member.count.map_or(spaced, f64::from) * f64::from(member.each.unwrap_or(1));
        let long = count.size(member.length.as_ref(), 0.0);
        (many * count.sticks(long), format!("`count` of the member \"{}\"", member.name))
    }));
    let rafters = job.main_roof().and_then(|roof| roof.rafters.as_ref()).map(|centres| {
        let rows = front(building) / count.size(Some(centres), 24.0) + 1.0;
        (2.0 * rows * count.sticks(count.slope()), "`rafters` of the roof".to_owned())
    });
    let all: Vec<(f64, String)> = counts.chain(rafters).collect();
    let total: f64 = all.iter().map(|(many, _)| *many).sum();
    let most = all.into_iter().max_by(|a, b| a.0.total_cmp(&b.0));
    match most {
        Some((many, key)) if total.is_nan() || total > MOST => Err(Stop::new(
            "taking off the parts",
            format!("{key} alone comes to some {many:.0} parts, and a plan holds {MOST}"),
            "look at that size, at the sizes of the building and at the scale",
        )),
        _ => Ok(()),
    }
}

/// Usable length of a stick, in inches at full size.
fn stick(job: &Job, scale: &Scale) -> f64 {
    let said = job.cutting.stick.as_ref().map_or(ModelLength::inches(24.0), Said::length);
    let full: CompressedLength = scale.enlarge(said);
    full.in_inches()
}

/// How many parts a surface of a length and height takes.
type PartsOn<'a> = Box<dyn Fn(f64, f64) -> f64 + 'a>;

/// Length of the front, in inches at full size.
fn front(building: &Building) -> f64 {
    building.bodies.first().map_or(0.0, |main| main.length.length.in_inches())
}

struct Count<'a> {
    job: &'a Job,
    survey: &'a Survey,
    building: &'a Building,
    stick: f64,
}

impl Count<'_> {
    /// A size in inches, never so small that a count is without end.
    fn size(&self, size: Option<&Size>, otherwise: f64) -> f64 {
        let found = size.and_then(|size| self.survey.size(size).ok());
        found.map_or(otherwise, |found| found.value.in_inches()).max(1e-3)
    }

    fn sticks(&self, length: f64) -> f64 {
        (length / self.stick).ceil().max(1.0)
    }

    /// The longest slope of the roofs.
    fn slope(&self) -> f64 {
        let slopes = self.building.planes.iter().map(|plane| plane.slope.length.in_inches());
        slopes.fold(0.0, f64::max)
    }

    /// Length and height of every surface a cladding lies on: walls and slopes.
    fn surfaces(&self, cladding: &Cladding) -> Vec<(f64, f64)> {
        let is_on = |wall: &&Wall| {
            let mut layers = wall.layers.iter();
            layers.any(|layer| layer.claddings.contains(&cladding.name))
        };
        let of_wall = |wall: &Wall| {
            let (left, right) = (CompressedLength::ZERO, wall.width);
            let high = wall.highest(left, right) - wall.lowest(left, right);
            (wall.width.in_inches(), high.in_inches())
        };
        let walls = self.building.walls.iter().filter(is_on).map(of_wall);
        let roofed = |plane: &&RoofPlane| {
            let roof = self.job.body(&plane.body).and_then(|body| body.roof.as_ref());
            roof.and_then(|roof| roof.cladding.as_ref()) == Some(&cladding.name)
        };
        let planes = self.building.planes.iter().filter(roofed).map(|plane| {
            let long = plane.eave.length.max(plane.ridge.length);
            (long.in_inches(), plane.slope.length.in_inches())
        });
        walls.chain(planes).collect()
    }

    fn cladding(&self, cladding: &Cladding) -> (f64, String) {
        let unit = |otherwise| self.size(cladding.unit.as_ref(), otherwise);
        let exposure = || self.size(cladding.exposure.as_ref(), 4.5);
        let (key, each): (&str, PartsOn<'_>) = match cladding.kind {
            CladdingKind::BoardAndBatten | CladdingKind::Boards if cladding.scribed => {
                ("unit", Box::new(|_, _| 1.0))
            }
            CladdingKind::BoardAndBatten | CladdingKind::Boards => {
                ("unit", Box::new(move |long, high| 2.0 * long / unit(12.0) * self.sticks(high)))
            }
            CladdingKind::Clapboard | CladdingKind::Shingle => {
                ("exposure", Box::new(move |long, high| high / exposure() * self.sticks(long)))
            }
            CladdingKind::Corrugated => (
                "unit",
                Box::new(move |long, high| {
                    let lap = self.size(cladding.lap.as_ref(), 6.0);
                    let up = (self.size(cladding.length.as_ref(), 120.0) - lap).max(1.0);
                    (long / unit(24.0)).ceil() * (high / up).ceil()
                }),
            ),
            CladdingKind::Brick => ("unit", Box::new(|_, _| 1.0)),
        };
        let many = self.surfaces(cladding).into_iter().map(|(long, high)| each(long, high)).sum();
        (many, format!("`{key}` of the cladding \"{}\"", cladding.name))
    }
}
