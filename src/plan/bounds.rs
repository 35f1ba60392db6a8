//! How many parts a building will come to, counted before any is taken off.
//!
//! The count is from above and by plain division: it need not be right, only
//! never far too small. What it refuses is named with the key that causes it.

use crate::compress::Built;
use crate::elevation::Body;
use crate::finding::Stop;
use crate::job::Job;
use crate::job::building::{Cladding, CladdingKind};
use crate::job::said::{Said, Size};
use crate::quantity::{Compressed, ModelLength, Scale};
use crate::survey::Survey;

/// Most parts of a plan: a hundred times a large building.
const MOST: f64 = 200_000.0;

/// Refuses a building of more parts than a plan holds.
///
/// # Errors
/// The key that makes the most of them.
pub(super) fn parts(job: &Job, survey: &Survey, built: &Built, scale: &Scale) -> Result<(), Stop> {
    let count = Count { job, survey, body: &built.body, stick: stick(job, scale) };
    let claddings = job.claddings.iter().map(|cladding| count.cladding(cladding));
    let counts = claddings.chain(job.decks.iter().map(|deck| {
        let long = count.size(deck.length.as_ref(), built.body.length.in_inches());
        let pitch = count.size(Some(&deck.plank), 8.0) + count.size(deck.gap.as_ref(), 0.0);
        let wide = count.size(Some(&deck.width), 0.0);
        let rows = wide / count.size(deck.stringers.as_ref(), 24.0) + 2.0;
        let planks = long / pitch * count.sticks(wide) + rows * count.sticks(long);
        (planks, format!("`plank` of the deck \"{}\"", deck.name))
    }));
    let counts = counts.chain(job.members.iter().map(|member| {
        let spaced = member.spacing.as_ref().map_or(0.0, |spacing| {
            built.body.length.in_inches() / count.size(Some(spacing), 12.0) + 1.0
        });
        let many = member.count.map_or(spaced, f64::from) * f64::from(member.each.unwrap_or(1));
        let long = count.size(member.length.as_ref(), 0.0);
        (many * count.sticks(long), format!("`count` of the member \"{}\"", member.name))
    }));
    let rafters = job.roof.as_ref().and_then(|roof| roof.rafters.as_ref()).map(|centres| {
        let rows = built.body.length.in_inches() / count.size(Some(centres), 24.0) + 1.0;
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
    let full: crate::quantity::CompressedLength = scale.enlarge(said);
    full.in_inches()
}

struct Count<'a> {
    job: &'a Job,
    survey: &'a Survey,
    body: &'a Body<Compressed>,
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

    fn slope(&self) -> f64 {
        let rise = (self.body.ridge - self.body.eave).in_inches();
        (self.body.depth.in_inches() / 2.0).hypot(rise) + self.body.eave_overhang.in_inches()
    }

    /// Length and height of every surface a cladding lies on: walls of the
    /// body and of what is attached, slopes of the roof.
    fn surfaces(&self, cladding: &Cladding) -> Vec<(f64, f64)> {
        let (long, deep) = (self.body.length.in_inches(), self.body.depth.in_inches());
        let mut surfaces = Vec::new();
        if self.job.faces.iter().any(|face| face.cladding.contains(&cladding.name)) {
            let high = self.body.ridge.in_inches();
            surfaces.extend([(long, high), (long, high), (deep, high), (deep, high)]);
            surfaces.extend(self.job.attached.iter().map(|box_| {
                let round = self.size(Some(&box_.length), 0.0) + self.size(Some(&box_.depth), 0.0);
                (2.0 * round, 2.0 * self.size(Some(&box_.height), 0.0))
            }));
        }
        let roofed = self.job.roof.as_ref().and_then(|roof| roof.cladding.as_ref());
        if roofed == Some(&cladding.name) {
            surfaces.extend([(long, self.slope()), (long, self.slope())]);
        }
        surfaces
    }

    fn cladding(&self, cladding: &Cladding) -> (f64, String) {
        let unit = |otherwise| self.size(cladding.unit.as_ref(), otherwise);
        let exposure = || self.size(cladding.exposure.as_ref(), 4.5);
        let (key, each): (&str, Box<dyn Fn(f64, f64) -> f64>) = match cladding.kind {
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
