//! Track, cars and structure -> does the largest car pass, everywhere, with
//! what margin.
//!
//! | file | what |
//! |---|---|
//! | `laid`, `chain` | the track: straights, arcs, easements |
//! | `section`, `body` | what is carried, and what stands beside it |
//! | `sweep` | a body carried along the chain, and how near it comes; `pose`, `solid`, `convex`, `search` serve it |
//! | `beside` | on the plan: distance from the centre line, and the height over the cars |
//! | `standard` | a car, a full-size rule, a published outline carried along |
//! | `passing` | which of them the job holds its building against, and what is kept free |
//! | `things` | the solids of the building and the obstacles, at their places on the model |
//! | `check` | each thing against each standard, and what to do |
//! | `spots` | cars at the doors, floors at the platform |
//! | `words` | findings, and what to do, in words |
//! | `picture` | the plan and the section |
//!
//! Inside this room lengths are plain model inches on one plan; sizes of the
//! building come in through the scale.

mod beside;
pub mod body;
pub mod chain;
mod check;
mod convex;
mod laid;
mod passing;
mod picture;
mod pose;
mod search;
pub mod section;
mod solid;
mod spots;
mod standard;
pub mod sweep;
#[cfg(test)]
mod tests;
mod things;
mod words;

pub use beside::Off;
pub use check::{Checked, Fix, Held};
pub use picture::{Cut, Picture};
pub use spots::{AtDoor, AtFloor, Spots};
pub use standard::Kind;
pub use things::What;
pub use words::{fix_words, told_short};

use crate::building::{self, Building};
use crate::catalog::Catalog;
use crate::catalog::cars::Car;
use crate::compress::Compression;
use crate::finding::{Finding, Outcome, Staged};
use crate::job::Job;
use crate::quantity::slack::{NOTHING, TOUCH};
use crate::quantity::{Compressed, ModelLength, Scale};
use crate::solve::beside::each;
use beside::Line;
use passing::{cars, margin, standards};
use standard::Standard;
use things::Item;

/// The clearance of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearance {
    /// What is held against the structure, cars first.
    pub standards: Vec<Told>,
    /// Everything near the track.
    pub checked: Vec<Checked>,
    /// The thing and the standard with the least to spare.
    pub worst: Option<(usize, usize)>,
    /// Radius of the sharpest curve; none on straight track.
    pub sharpest: Option<ModelLength>,
    /// What a car's margin is made of: the margin, handwork, paint.
    pub margin: [ModelLength; 3],
    /// Cars at the doors.
    pub spots: Option<Spots>,
    /// Platforms at the floors of the cars.
    pub floors: Vec<AtFloor>,
    /// The outline that must pass at the worst place, margins included: to the
    /// left and right of the centre line, and height over the rail.
    pub gauge: Vec<[ModelLength; 3]>,
    /// Under each body on posts, the least over the cars.
    pub headroom: Vec<Headroom>,
    /// How many timbers stand further off than an inch beyond all that passes,
    /// and are left out.
    pub further: usize,
    /// The drawing.
    pub picture: Picture,
}

/// The least from a car's roof to what hangs over it.
#[derive(Clone, Debug, PartialEq)]
pub struct Headroom {
    /// The body on posts.
    pub body: String,
    /// The thing, by its place in the list.
    pub thing: usize,
    /// The car, by its place among the standards.
    pub standard: usize,
    /// Model inches.
    pub least: f64,
}

/// A standard in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// What it is called.
    pub name: String,
    /// What kind it is.
    pub kind: Kind,
    /// Where it comes from.
    pub source: String,
    /// How far it reaches at the worst place, to the left and to the right.
    pub reach: Option<[ModelLength; 2]>,
    /// Of an outline: whether its reach there is known; not where its sheet
    /// prints no widening for that curve.
    pub widened: bool,
    /// Of a car or rule: its reach on the sharpest curve, towards the centre of
    /// the curve and away from it, by the formula; none on straight track.
    pub on_curve: Option<[ModelLength; 2]>,
}

/// What the stage works from.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    /// The job.
    pub job: &'a Job,
    /// The data.
    pub catalog: &'a Catalog,
    /// The building as built.
    pub compress: &'a Compression,
    /// The building in three dimensions.
    pub building: &'a Building,
    /// The scale.
    pub scale: &'a Scale,
}

/// What the track and its cars come from: no building is in it.
#[derive(Clone, Copy, Debug)]
struct Laid<'a> {
    job: &'a Job,
    catalog: &'a Catalog,
    scale: &'a Scale,
}

/// Holds the building against the track; nothing where the job has no track.
///
/// # Errors
///
/// Track that cannot be laid, and cars that cannot stand on it: named.
pub fn run(given: Given<'_>) -> Staged<Option<Clearance>> {
    let Given { job, catalog, scale, building, .. } = given;
    let gathered = |findings: &mut Vec<Finding>| things::gather(given, findings);
    let laid = Laid { job, catalog, scale };
    held(laid, Some(building), gathered, |car| spotted(given, car))
}

/// Holds what else stands there against the track, where nothing is built yet;
/// nothing where the job has no track or nothing stands beside it.
///
/// # Errors
///
/// As [`run`].
pub fn alone(job: &Job, catalog: &Catalog, scale: &Scale) -> Staged<Option<Clearance>> {
    if job.obstacles.is_empty() {
        return Ok(Outcome { value: None, findings: Vec::new() });
    }
    held(Laid { job, catalog, scale }, None, |_| things::alone(job, scale), |_| None)
}

fn held(
    given: Laid<'_>,
    building: Option<&Building>,
    gathered: impl FnOnce(&mut Vec<Finding>) -> Vec<Item>,
    spotted: impl FnOnce(&Car) -> Option<Spots>,
) -> Staged<Option<Clearance>> {
    let Laid { job, scale, .. } = given;
    let Some(chain) = laid::chain(job, scale) else {
        return Ok(Outcome { value: None, findings: Vec::new() });
    };
    let chain = chain?;
    let cars = cars(given)?;
    let mut findings = Vec::new();
    let standards = standards(given, &chain, &cars, &mut findings)?;
    let line = Line::new(&chain, beyond(&standards));
    let all = gathered(&mut findings);
    let placed = each(&all, |item| check::place(item, &line));
    let count = all.len();
    let within = near(&standards, &chain);
    let (items, placed): (Vec<Item>, Vec<Checked>) = (all.into_iter().zip(placed))
        .filter(|(item, at)| !item.what.is_timber() || at.off.by <= within)
        .unzip();
    let held = each(&items.iter().zip(&placed).collect::<Vec<_>>(), |(item, at)| {
        standards.iter().map(|it| check::hold(item, &at.off, it, &line)).collect::<Vec<_>>()
    });
    let checked: Vec<Checked> =
        placed.into_iter().zip(held).map(|(at, held)| Checked { held, ..at }).collect();
    let worst = worst(&checked, &standards);
    let picture = picture::picture(&standards, &items, &checked, worst);
    let along = picture.section.as_ref().map(|cut| cut.along);
    let clearance = Clearance {
        worst,
        sharpest: (chain.sharpest() > NOTHING).then(|| ModelLength::inches(1.0 / chain.sharpest())),
        margin: margin(given),
        spots: cars.first().and_then(spotted),
        floors: floors(&items, &cars, scale),
        gauge: gauge(&picture, &standards),
        standards: standards.iter().map(|it| told(it, along)).collect(),
        headroom: building.map(|it| headroom(it, &checked)).unwrap_or_default(),
        further: count - items.len(),
        checked,
        picture,
    };
    findings.extend(words::noticed(given, &clearance));
    Ok(Outcome { value: Some(clearance), findings })
}

/// How far beyond its ends the track is looked at: as far as cars stand there.
fn beyond(standards: &[Standard<'_>]) -> f64 {
    standards.iter().map(|it| it.main().body().radius()).fold(1.0, f64::max)
}

/// Timbers further from the centre line than this are left out: none of what is
/// carried comes within an inch of them, and what it wants.
fn near(standards: &[Standard<'_>], chain: &chain::Chain) -> f64 {
    let bend = chain.sharpest();
    let reach = |it: &Standard<'_>| {
        let body = it.main().body();
        let [a, b] = body.on_curve(bend).unwrap_or([body.radius(); 2]);
        a.max(b) + it.want
    };
    standards.iter().map(reach).fold(0.0, f64::max) + 1.0
}

/// The least headroom under each body that stands on posts, for each car.
fn headroom(building: &Building, checked: &[Checked]) -> Vec<Headroom> {
    let on_posts = |body: &&building::Body| building.walls_of(&body.name).next().is_none();
    let of = |body: &building::Body| {
        let over = checked.iter().enumerate().filter(|(_, it)| it.body == body.name);
        let each = over.flat_map(|(thing, it)| {
            let held = it.held.iter().enumerate();
            held.filter_map(move |(standard, held)| {
                let least = held.as_ref()?.headroom?;
                Some(Headroom { body: it.body.clone(), thing, standard, least })
            })
        });
        let mut least: Vec<Headroom> = Vec::new();
        for found in each {
            match least.iter_mut().find(|it| it.standard == found.standard) {
                Some(known) if found.least < known.least => *known = found,
                Some(_) => {}
                None => least.push(found),
            }
        }
        least
    };
    building.bodies.iter().filter(on_posts).flat_map(of).collect()
}

/// The least to spare: cars first, for they touch.
fn worst(checked: &[Checked], standards: &[Standard<'_>]) -> Option<(usize, usize)> {
    let of = |kind: Option<Kind>| {
        let each = checked.iter().enumerate().flat_map(|(thing, it)| {
            let held = it.held.iter().enumerate();
            held.filter_map(move |(of, held)| Some((thing, of, held.as_ref()?.short())))
        });
        each.filter(|(_, of, _)| kind.is_none_or(|kind| standards[*of].kind == kind))
            .max_by(|a, b| a.2.total_cmp(&b.2))
            .map(|(thing, of, short)| ((thing, of), short))
    };
    let car = of(Some(Kind::Car));
    car.filter(|(_, short)| *short > 0.0)
        .or(of(None).filter(|(_, short)| *short > 0.0))
        .or(car)
        .map(|(at, _)| at)
}

fn told(standard: &Standard<'_>, along: Option<f64>) -> Told {
    let wide = along.and_then(|along| standard.widened(along));
    let sweep = wide.as_ref().and_then(|it| it.as_deref()).unwrap_or_else(|| standard.main());
    let high = sweep.body().widest()[1];
    let reach = along.and_then(|along| {
        let of = |left: bool| sweep.reach(along, high, left).map(ModelLength::inches);
        Some([of(true)?, of(false)?])
    });
    let bend = sweep.chain().sharpest();
    let on_curve = (bend > NOTHING).then(|| standard.main().body().on_curve(bend)).flatten();
    Told {
        name: standard.name.clone(),
        kind: standard.kind,
        source: standard.source.clone(),
        reach,
        widened: along.is_none() || wide.is_some(),
        on_curve: on_curve
            .filter(|_| standard.kind != Kind::Outline)
            .map(|reach| reach.map(ModelLength::inches)),
    }
}

/// The outline of all the cars at the worst place, with what they want.
fn gauge(picture: &Picture, standards: &[Standard<'_>]) -> Vec<[ModelLength; 3]> {
    let Some(cut) = &picture.section else { return Vec::new() };
    let cars = || standards.iter().filter(|it| it.kind == Kind::Car);
    let mut heights: Vec<f64> = cars().flat_map(|it| it.main().body().corners()).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| (*a - *b).abs() < TOUCH);
    let most = |high: f64, left: bool| {
        let reach = |it: &Standard<'_>| Some(it.main().reach(cut.along, high, left)? + it.want);
        cars().filter_map(reach).reduce(f64::max)
    };
    let mut points: Vec<[f64; 3]> = Vec::new();
    for high in heights {
        for at in [high - TOUCH, high + TOUCH] {
            if let (Some(left), Some(right)) = (most(at, true), most(at, false)) {
                points.push([left, right, high]);
            }
        }
    }
    points.dedup_by(|a, b| (0..3).all(|axis| (a[axis] - b[axis]).abs() < 1e-5));
    let want = standards.iter().map(|it| it.want).fold(0.0, f64::max);
    if let Some(last) = points.last().copied() {
        points.push([last[0], last[1], last[2] + want]);
    }
    points.into_iter().map(|point| point.map(ModelLength::inches)).collect()
}

fn spotted(given: Given<'_>, car: &Car) -> Option<Spots> {
    let Given { job, compress, scale, .. } = given;
    let first = job.track.as_ref().and_then(|track| track.first_car.as_ref());
    let first = first.map(|said| scale.enlarge::<Compressed>(said.length()));
    let front = job.front()?.to_string();
    let front = compress.built.faces.iter().position(|face| face.name == front)?;
    spots::spots(car, &compress.built, front, first)
}

/// Platforms against the floors of the cars that have one.
fn floors(items: &[Item], cars: &[Car], scale: &Scale) -> Vec<AtFloor> {
    let platforms = items.iter().filter(|item| item.what == What::Platform);
    let each = |item: &Item| {
        let top = scale.enlarge(ModelLength::inches(item.solid.heights()[1]));
        let name = item.name.clone();
        cars.iter().filter_map(move |car| {
            let floor = car.floor.as_ref()?.length();
            Some(AtFloor { platform: name.clone(), top, car: car.key.clone(), floor })
        })
    };
    platforms.flat_map(each).collect()
}
