//! The look of shortened fronts, judged apart from the program: by the
//! definition in `docs/look.md`, over random faces and random look data.
//!
//! Some in every run; as many as `SCANTLING_FACES` says otherwise, and one alone
//! with `SCANTLING_FACE=17`, which prints its job.

mod face;
mod judge;
mod least;

use face::{Building, RATIO};
use judge::{Counts, Decided, Roof};
use scantling::building::Scheme;
use scantling::catalog::Catalog;
use scantling::compress::{self, Alternative, Compression, Decision, Shape};
use scantling::finding::Stop;
use scantling::job::Job;
use scantling::job::place::RoofFollows;
use scantling::{elevation, survey};

/// How many are judged in every run.
const USUAL: u64 = 60;
/// Costs that differ by less are the same.
const SAME: f64 = 1e-6;

fn numbers() -> Vec<u64> {
    let said = |name: &str| std::env::var(name).ok().and_then(|it| it.parse::<u64>().ok());
    match said("SCANTLING_FACE") {
        Some(one) => vec![one],
        None => (0..said("SCANTLING_FACES").unwrap_or(USUAL)).collect(),
    }
}

fn run(building: &Building) -> Result<Compression, Stop> {
    let mut catalog = Catalog::built_in().expect("the shipped data");
    catalog.look = building.data.clone();
    let job: Job = building.text().parse().unwrap_or_else(|error| panic!("{error}"));
    let scale = catalog.scales.find(&job.about.scale)?;
    let survey = survey::run(&job, &catalog).value;
    let faces = elevation::lay_out(&job, &survey)?.value;
    let scheme = Scheme::of(&job, &survey, &faces).value;
    Ok(compress::run(&job, &catalog, (&faces, &scheme), &scale)?.value)
}

fn roof(follows: RoofFollows) -> Roof {
    match follows {
        RoofFollows::KeepPitch => Roof::KeepPitch,
        RoofFollows::KeepRidge => Roof::KeepRidge,
        RoofFollows::HalfRelief => Roof::HalfRelief,
        RoofFollows::Flat => Roof::Flat,
    }
}

fn decided(decision: &Decision) -> Decided {
    let widths = decision.widths.iter().map(|(key, width)| (key.clone(), width.in_inches()));
    Decided {
        counts: decision.counts.clone(),
        widths: widths.collect(),
        depth: decision.depth.in_inches(),
        roof: roof(decision.roof),
        behind: decision.shape == Shape::SmallerBehind,
    }
}

/// What the judge says a decision costs, and how much of it is the roof.
fn cost(building: &Building, decision: &Decision) -> (f64, f64) {
    let decided = decided(decision);
    let whole = judge::whole(building, &decided);
    (whole, judge::of_roof(building, decided.depth, decided.roof, decided.behind))
}

/// The longest front the place takes, full size.
fn longest(building: &Building) -> f64 {
    let first: f64 = building.front.iter().map(|it| face::widest(&it.part)).sum();
    building.place[0].map_or(first, |place| place.min(first))
}

/// The least cost over all counts and widths, roof aside.
fn least(building: &Building) -> Option<(f64, Counts)> {
    let longest = longest(building);
    let mut best: Option<(f64, Counts)> = None;
    for counts in least::every(building) {
        let at_most = best.as_ref().map_or(f64::INFINITY, |known| known.0);
        if let Some(cost) = least::of(building, &counts, longest, at_most)
            && cost < at_most
        {
            best = Some((cost, counts));
        }
    }
    best
}

/// Whether a feature that is judged only afterwards counts here.
fn is_judged_after(building: &Building) -> bool {
    let weight = |key: &str| judge::figures(building, key, 1.0).map_or(0.0, |it| it.1);
    ["spacing", "silhouette"].into_iter().any(|key| weight(key) > 0.0)
}

/// Every printed cost is that of the definition.
fn scores(building: &Building, compression: &Compression) -> Result<(), String> {
    for it in &compression.alternatives {
        let Some(decision) = it.decision.as_ref().filter(|it| is_judged(it)) else { continue };
        let (wanted, found) = (cost(building, decision).0, it.lines.total());
        if (wanted - found).abs() > SAME {
            return Err(format!("{}: costs {wanted}, the program says {found}", it.key));
        }
    }
    Ok(())
}

/// What is found before rounding keeps its bounds and its place.
fn keeps(building: &Building, compression: &Compression) -> Result<(), String> {
    for it in compression.alternatives.iter().filter(|it| it.is_offered()) {
        let exact = it.exact.as_ref().map(|exact| &exact.decision);
        let Some(decision) = exact.or(it.decision.as_ref()) else { continue };
        let broken = judge::broken(building, &decided(decision), longest(building));
        if let Some(why) = broken {
            return Err(format!("{}: {why}", it.key));
        }
    }
    Ok(())
}

/// The edge of the scene cuts openings: that is not the face's own cost.
fn is_judged(decision: &Decision) -> bool {
    !matches!(decision.shape, Shape::SceneEdge(_))
}

/// The least the program found, before rounding, roof aside.
fn found(building: &Building, compression: &Compression) -> f64 {
    let exact = |it: &Alternative| match &it.exact {
        Some(exact) => Some((exact.decision.clone(), exact.cost)),
        None => Some((it.decision.clone()?, it.cost()?)),
    };
    let offered = compression.alternatives.iter().filter(|it| it.is_offered());
    let each =
        offered.filter_map(exact).map(|(decision, cost_of)| cost_of - cost(building, &decision).1);
    each.fold(f64::INFINITY, f64::min)
}

fn judged(building: &Building) -> Result<bool, String> {
    let compression = match run(building) {
        Ok(compression) => compression,
        Err(stop) => {
            return match least(building) {
                None => Ok(false),
                Some((cost, counts)) => {
                    Err(format!("refused ({stop}), but {counts:?} costs {cost}"))
                }
            };
        }
    };
    scores(building, &compression)?;
    keeps(building, &compression)?;
    let proven = !is_judged_after(building);
    if compression.is_proven() != proven {
        return Err(format!("proven is {}, should be {proven}", compression.is_proven()));
    }
    let found = found(building, &compression);
    let Some((least, counts)) = least(building) else {
        // A building that nothing may be taken from is built as it stands, and
        // said not to fit.
        let said = if found.is_finite() { Err("offered, where nothing fits") } else { Ok(false) };
        return said.map_err(str::to_owned);
    };
    if proven && (least - found).abs() > SAME {
        return Err(format!("proven at {found}, where {counts:?} costs {least}"));
    }
    Ok(proven)
}

#[test]
fn what_is_proven_is_so_by_the_definition() {
    let alone = std::env::var("SCANTLING_FACE").is_ok();
    let (mut wrong, mut proven) = (Vec::new(), 0);
    let numbers = numbers();
    for number in &numbers {
        let building = Building::random(*number);
        if alone {
            println!("{}", building.text());
        }
        match judged(&building) {
            Ok(it) => proven += u32::from(it),
            Err(why) => wrong.push(format!("face {number}: {why}")),
        }
    }
    println!("{} faces, {proven} of them proven and agreed; scale 1:{RATIO}", numbers.len());
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
    assert!(alone || proven as usize > numbers.len() / 2, "too few were proven to tell");
}
