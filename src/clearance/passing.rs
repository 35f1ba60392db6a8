//! What passes: the cars of the job, with what is kept free beyond them, its
//! full-size rules and its published outlines.

use super::standard::Standard;
use super::{Laid, chain, laid};
use crate::catalog::Tag;
use crate::catalog::cars::Car;
use crate::catalog::clearances::Rule;
use crate::finding::{Finding, Stop, Subject};
use crate::job::site::SiteTrack;
use crate::quantity::slack::NOTHING;
use crate::quantity::{ModelLength, Prototype, Reading, Written, parse};
use crate::site;

/// The cars that pass: those the job names, else the car of its site, else the
/// first of the data.
pub(super) fn cars(given: Laid<'_>) -> Result<Vec<Car>, Stop> {
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
        arch: None,
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

/// Kept free beyond a car: the margin, handwork, and paint and glue. On the curve
/// of a site the margin of the site is all that is kept, as the site keeps it.
pub(super) fn margin(given: Laid<'_>) -> [ModelLength; 3] {
    let Laid { job, catalog, .. } = given;
    let site = job.site.as_ref().and_then(|site| site.track.as_ref());
    let track = job.track.as_ref();
    if let (true, Some(site)) = (track.is_none_or(|track| track.pieces.is_empty()), site) {
        return [site::margin(site), ModelLength::ZERO, ModelLength::ZERO];
    }
    let of_site = site.map_or(ModelLength::inches(site::MARGIN), site::margin);
    let said = track.and_then(|track| track.margin.as_ref());
    let paint = track.and_then(|track| track.paint.as_ref()).map(|said| said.length());
    let usual = || catalog.fits.get("paint").map_or(ModelLength::ZERO, |fit| fit.take.length());
    [
        said.map_or(of_site, |said| said.length()),
        job.about.hand.as_ref().map_or(ModelLength::thou(5.0), |said| said.length()),
        paint.unwrap_or_else(usual),
    ]
}

pub(super) fn standards<'a>(
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
    let wire = track.is_some_and(|track| track.wire);
    for outline in track.map_or(&[][..], |track| &track.outlines) {
        let outline = data.outline(outline).ok_or_else(|| unknown("outline", outline))?;
        let (length, centres) = (longest.length.length(), longest.centres.length());
        let group = data.group(length, centres).map_or("C", |group| group.key.as_str());
        // The sheet's sketch of the run-in at the ends of a curve was not read:
        // the whole of it is kept for half a car beyond.
        let felt = scale.reduce(length).in_inches() / 2.0;
        let standard = Standard::outline(chain, outline, data, group, felt, wire)?;
        if chain.sharpest() > NOTHING {
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
