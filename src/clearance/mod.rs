//! Track, cars and structure -> does the largest car pass, everywhere, with
//! what margin.
//!
//! | file | what |
//! |---|---|
//! | `laid`, `chain` | the track: straights, arcs, easements |
//! | `section`, `body` | what is carried, and what stands beside it |
//! | `sweep` | a body carried along the chain, and how near it comes; `pose`, `solid`, `search` serve it |
//! | `standard` | cars, full-size rules, published outlines |
//! | `structure` | what stands there, at its place on the model |
//! | `check` | each thing against each standard, and what to do |
//! | `spots` | cars at the doors, floors at the platform |
//! | `words` | findings, and what to do, in words |
//! | `picture` | the plan and the section |
//!
//! Inside this room lengths are plain model inches on one plan; sizes of the
//! building come in through the scale.

pub mod body;
pub mod chain;
mod check;
mod laid;
mod picture;
mod pose;
mod search;
pub mod section;
mod solid;
mod spots;
mod standard;
mod structure;
pub mod sweep;
#[cfg(test)]
mod tests;
mod words;

pub use check::{Checked, Fix, Held};
pub use picture::{Cut, Picture};
pub use spots::{AtDoor, AtFloor, Spots};
pub use standard::Kind;
pub use structure::What;
pub use words::{fix_words, told_short};

use crate::catalog::cars::Car;
use crate::catalog::clearances::Rule;
use crate::catalog::{Catalog, Tag};
use crate::compress::Compression;
use crate::finding::{Finding, Outcome, Staged, Stop, Subject};
use crate::job::Job;
use crate::job::site::SiteTrack;
use crate::quantity::{Compressed, ModelLength, Prototype, Reading, Scale, Written, parse};
use crate::solve::beside::each;
use crate::stock::Choices;
use crate::survey::Survey;
use standard::Standard;
use structure::{Gather, Ground};

/// The margin kept beyond the car for structures of wood (judgement).
const MARGIN: f64 = 0.125;

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
    /// The drawing.
    pub picture: Picture,
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
}

/// What the stage works from.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    /// The job.
    pub job: &'a Job,
    /// The data.
    pub catalog: &'a Catalog,
    /// The dimensions.
    pub survey: &'a Survey,
    /// The building as built.
    pub compress: &'a Compression,
    /// The sections of its timbers.
    pub stock: &'a Choices,
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
    let Given { job, catalog, scale, .. } = given;
    let gathered = |findings: &mut Vec<Finding>| gather(given, findings);
    held(Laid { job, catalog, scale }, gathered, |car| spotted(given, car))
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
    let rail = job.track.as_ref().and_then(|track| track.rail.as_ref());
    let ground = Ground::bare(rail.map_or(ModelLength::ZERO, |rail| rail.length()));
    let items = |_: &mut Vec<Finding>| {
        job.obstacles.iter().map(|said| structure::standing(said, ground)).collect()
    };
    held(Laid { job, catalog, scale }, items, |_| None)
}

fn held(
    given: Laid<'_>,
    gathered: impl FnOnce(&mut Vec<Finding>) -> Vec<structure::Item>,
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
    let items = gathered(&mut findings);
    let checked = each(&items, |item| Checked {
        name: item.name.clone(),
        subject: item.subject.clone(),
        what: item.what,
        held: standards.iter().map(|standard| check::hold(item, standard)).collect(),
    });
    let worst = worst(&checked, &standards);
    let picture = picture::picture(&standards, &items, &checked, worst);
    let along = picture.section.as_ref().map(|cut| cut.along);
    let clearance = Clearance {
        worst,
        sharpest: (chain.sharpest() > 1e-9).then(|| ModelLength::inches(1.0 / chain.sharpest())),
        margin: margin(given),
        spots: cars.first().and_then(spotted),
        floors: floors(&items, &cars, scale),
        gauge: gauge(&picture, &standards),
        standards: standards.iter().map(|it| told(it, along)).collect(),
        checked,
        picture,
    };
    findings.extend(words::noticed(given, &clearance));
    Ok(Outcome { value: Some(clearance), findings })
}

/// The cars that pass: those the job names, else the car of its site, else the
/// first of the data.
fn cars(given: Laid<'_>) -> Result<Vec<Car>, Stop> {
    let Laid { job, catalog, .. } = given;
    let named = job.track.as_ref().map_or(&[][..], |track| &track.cars);
    let find = |name: &String| {
        let own = job.cars.iter().find(|car| car.key.eq_ignore_ascii_case(name));
        own.or_else(|| catalog.cars.get(name)).cloned().ok_or_else(|| {
            Stop::new(
                "finding the car",
                format!("no car is called \"{name}\""),
                "write a [[car]], or take one of cars.toml",
            )
        })
    };
    if !named.is_empty() {
        return named.iter().map(find).collect();
    }
    if !job.cars.is_empty() {
        return Ok(job.cars.clone());
    }
    let site = job.site.as_ref().and_then(|site| site.track.as_ref());
    match site {
        Some(track) => Ok(vec![car_of_site(track)?]),
        None => Ok(catalog
            .cars
            .get("40 ft box car")
            .or(catalog.cars.rows.first())
            .cloned()
            .into_iter()
            .collect()),
    }
}

/// A size of the site, which was read once already.
fn full_size(text: &str) -> Result<Written<Prototype>, Stop> {
    parse(text, &Reading::default())
        .map_err(|error| Stop::new("reading the site", error.message, error.hint))
}

/// The full-size rule of a site.
fn rule_of_site(text: &str) -> Result<Rule, Stop> {
    Ok(Rule {
        key: format!("the site's rule, {text}"),
        name: String::new(),
        side: Some(full_size(text)?),
        beside_car: None,
        overhead: None,
        platforms: Vec::new(),
        note: String::new(),
        source: "the job's [site.track]".to_owned(),
        edition: "as entered".to_owned(),
        tag: Tag::Own,
    })
}

/// The car of a site, as high as box cars are.
fn car_of_site(track: &SiteTrack) -> Result<Car, Stop> {
    let full = full_size;
    let (width, height) = (full(track.car.width.text())?, full("15 ft")?);
    Ok(Car {
        key: "the site's car".to_owned(),
        name: String::new(),
        length: full(track.car.length.text())?,
        centres: full(track.car.centres.text())?,
        coupled: None,
        floor: None,
        door: None,
        profile: vec![[width.clone(), full("0 in")?], [width, height]],
        steps: None,
        note: "as wide from the rail to 15 ft".to_owned(),
        source: "the job's [site.track]".to_owned(),
        tag: Tag::Own,
    })
}

fn margin(given: Laid<'_>) -> [ModelLength; 3] {
    let Laid { job, catalog, .. } = given;
    let track = job.track.as_ref();
    let site = job.site.as_ref().and_then(|site| site.track.as_ref());
    let said = track.and_then(|track| track.margin.as_ref());
    let said = said.or_else(|| site.and_then(|track| track.margin.as_ref()));
    let paint = track.and_then(|track| track.paint.as_ref()).map(|said| said.length());
    let usual = || catalog.fits.get("paint").map_or(ModelLength::ZERO, |fit| fit.take.length());
    [
        said.map_or(ModelLength::inches(MARGIN), |said| said.length()),
        job.about.hand.as_ref().map_or(ModelLength::thou(5.0), |said| said.length()),
        paint.unwrap_or_else(usual),
    ]
}

fn standards<'a>(
    given: Laid<'a>,
    chain: &'a chain::Chain,
    cars: &[Car],
    findings: &mut Vec<Finding>,
) -> Result<Vec<Standard<'a>>, Stop> {
    let Laid { job, catalog, scale } = given;
    let track = job.track.as_ref();
    let half_gauge = laid::half_gauge(track, scale);
    let want: f64 = margin(given).iter().map(|part| part.in_inches()).sum();
    let mut all = Vec::new();
    for car in cars {
        all.push(Standard::car(chain, car, scale, half_gauge, want)?);
    }
    let Some(longest) = cars.iter().max_by(|a, b| a.length.length().total_cmp(&b.length.length()))
    else {
        return Ok(all);
    };
    let data = &*catalog.clearances;
    for rule in track.map_or(&[][..], |track| &track.rules) {
        let rule = data.rule(rule).ok_or_else(|| unknown("rule", rule))?;
        let for_what = track.and_then(|track| track.platform_for.as_deref());
        all.push(Standard::rule(chain, rule, longest, scale, for_what)?);
    }
    let site = job.site.as_ref().and_then(|site| site.track.as_ref());
    if let Some(said) = site.and_then(|track| track.rule.as_ref()).filter(|_| track.is_none()) {
        let rule = rule_of_site(said.text())?;
        all.push(Standard::rule(chain, &rule, longest, scale, None)?);
    }
    for outline in track.map_or(&[][..], |track| &track.outlines) {
        let outline = data.outline(outline).ok_or_else(|| unknown("outline", outline))?;
        let (length, centres) = (longest.length.length(), longest.centres.length());
        let group = data.group(length, centres).map_or("C", |group| group.key.as_str());
        // The sheet's sketch of the run-in at the ends of a curve was not read:
        // the whole of it is kept for half a car beyond.
        let felt = scale.reduce(length).in_inches() / 2.0;
        let standard = Standard::outline(chain, outline, data, group, felt)?;
        if chain.sharpest() > 1e-9 {
            let radius = ModelLength::inches(1.0 / chain.sharpest());
            if data.widening(&outline.key, radius, group).is_none() {
                findings.push(no_widening(&outline.key, group, radius));
            }
        }
        all.push(standard);
    }
    Ok(all)
}

fn unknown(what: &str, name: &str) -> Stop {
    Stop::new(
        format!("finding the {what}"),
        format!("no {what} is called \"{name}\""),
        "see data/clearances.toml, or write a row into your own clearances.toml",
    )
}

fn no_widening(outline: &str, group: &str, radius: ModelLength) -> Finding {
    Finding::look(
        Subject::Job,
        format!(
            "{outline}: the sheet prints no widening for cars of group {group} at {:.0} mm; nothing is said of it on that curve",
            radius.in_millimetres()
        ),
        "a wider curve, or shorter cars",
    )
}

fn gather(given: Given<'_>, findings: &mut Vec<Finding>) -> Vec<structure::Item> {
    let Given { job, survey, compress, stock, scale, .. } = given;
    let rail = job.track.as_ref().and_then(|track| track.rail.as_ref());
    let ground = Ground::of(compress, rail.map_or(ModelLength::ZERO, |rail| rail.length()));
    let built = &compress.built;
    let (items, noticed) = (Vec::new(), Vec::new());
    let mut gather = Gather { job, survey, built, stock, scale, ground, items, findings: noticed };
    gather.all();
    findings.append(&mut gather.findings);
    gather.items
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
    let sweep = standard.main();
    let high = sweep.body().widest()[1];
    let reach = along.and_then(|along| {
        let of = |left: bool| sweep.reach(along, high, left).map(ModelLength::inches);
        Some([of(true)?, of(false)?])
    });
    Told {
        name: standard.name.clone(),
        kind: standard.kind,
        source: standard.source.clone(),
        reach,
    }
}

/// The outline of all the cars at the worst place, with what they want.
fn gauge(picture: &Picture, standards: &[Standard<'_>]) -> Vec<[ModelLength; 3]> {
    let Some(cut) = &picture.section else { return Vec::new() };
    let cars = || standards.iter().filter(|it| it.kind == Kind::Car);
    let mut heights: Vec<f64> = cars().flat_map(|it| it.main().body().corners()).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let most = |high: f64, left: bool| {
        let reach = |it: &Standard<'_>| Some(it.main().reach(cut.along, high, left)? + it.want);
        cars().filter_map(reach).reduce(f64::max)
    };
    let mut points: Vec<[f64; 3]> = Vec::new();
    for high in heights {
        for at in [high - 1e-6, high + 1e-6] {
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
    let front = job.building.as_ref().map(|building| building.front.as_str())?;
    let front = compress.built.faces.iter().position(|face| face.name == front)?;
    spots::spots(car, &compress.built, front, first)
}

/// Platforms against the floors of the cars that have one.
fn floors(items: &[structure::Item], cars: &[Car], scale: &Scale) -> Vec<AtFloor> {
    let platforms = items.iter().filter(|item| item.what == What::Platform);
    let each = |item: &structure::Item| {
        let top = scale.enlarge(ModelLength::inches(item.bar.ends[0][2]));
        let name = item.name.clone();
        cars.iter().filter_map(move |car| {
            let floor = car.floor.as_ref()?.length();
            Some(AtFloor { platform: name.clone(), top, car: car.key.clone(), floor })
        })
    };
    platforms.flat_map(each).collect()
}
