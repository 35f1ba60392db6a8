//! Take-off of the demo buildings: `takeoff/*.toml`.
//!
//! `part` rows give kind, count and length of the parts of one face, longest
//! first, at full size; `total` rows linear feet; every wall's cladding must
//! come to the wall less its openings, to 0.1 percent.

use std::fs;

use serde::Deserialize;

use scantling::catalog::Catalog;
use scantling::job::Job;
use scantling::plan::plan;
use scantling::takeoff::{Part, Takeoff};

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Scenario {
    job: String,
    #[serde(default)]
    part: Vec<PartRow>,
    #[serde(default)]
    total: Vec<TotalRow>,
    #[serde(default)]
    finding: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct PartRow {
    face: String,
    kind: String,
    count: u32,
    length_in: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct TotalRow {
    face: String,
    kind: String,
    count: u32,
    feet: Option<f64>,
}

fn check(name: &str) {
    let root = env!("CARGO_MANIFEST_DIR");
    let read = |path: String| fs::read_to_string(path).expect("a readable file");
    let scenario: Scenario =
        toml::from_str(&read(format!("{root}/tests/scenarios/takeoff/{name}.toml")))
            .unwrap_or_else(|error| panic!("{error}"));
    let job: Job = read(format!("{root}/data/demo/{}.toml", scenario.job))
        .parse()
        .unwrap_or_else(|error| panic!("{error}"));
    let plan = plan(&job, &Catalog::built_in().expect("the shipped data"));
    let takeoff = plan.takeoff.unwrap_or_else(|stop| panic!("{stop}"));
    for row in &scenario.part {
        let found = of(&takeoff, &row.face, &row.kind).any(|part| {
            part.count == row.count && (part.length.in_inches() - row.length_in).abs() < 0.01
        });
        assert!(found, "no {} {} of {} in on {}", row.count, row.kind, row.length_in, row.face);
    }
    for row in &scenario.total {
        let count: u32 = of(&takeoff, &row.face, &row.kind).map(|part| part.count).sum();
        assert_eq!(count, row.count, "{} of {}", row.kind, row.face);
        let feet: f64 = of(&takeoff, &row.face, &row.kind).map(|part| part.total().in_feet()).sum();
        assert!(
            row.feet.is_none_or(|wanted| (feet - wanted).abs() < 1.0 / 12.0),
            "{} of {}: {feet} ft",
            row.kind,
            row.face
        );
    }
    for cover in &takeoff.cover {
        let share = cover.covered.in_square_feet() / cover.wanted.in_square_feet();
        assert!((share - 1.0).abs() < 1e-3, "{} is covered {share} times", cover.wall);
    }
    for text in &scenario.finding {
        assert!(
            plan.findings.iter().any(|finding| finding.message.contains(text)),
            "nothing is said of \"{text}\""
        );
    }
}

fn of<'a>(takeoff: &'a Takeoff, face: &'a str, kind: &'a str) -> impl Iterator<Item = &'a Part> {
    takeoff.parts.iter().filter(move |part| part.face == face && part.kind.word() == kind)
}

#[test]
fn the_river_cannery() {
    check("river-cannery");
}

#[test]
fn the_grain_store() {
    check("grain-store");
}

#[test]
fn the_creamery() {
    check("creamery");
}

/// Prints how long everything that follows from a job takes.
#[test]
#[ignore = "prints a time"]
fn time_of_a_plan() {
    let catalog = Catalog::built_in().expect("the shipped data");
    for name in ["river-cannery", "grain-store", "creamery"] {
        let demo = scantling::job::demo::find(name).expect("a built-in job");
        let job: Job = demo.text.parse().expect("it reads");
        let best = (0..20).map(|_| {
            let start = std::time::Instant::now();
            assert!(plan(&job, &catalog).takeoff.is_ok());
            start.elapsed()
        });
        println!("{name}: {:?} for a whole plan", best.min().expect("twenty runs"));
    }
}
