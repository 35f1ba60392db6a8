//! Shortening the demo buildings: `compress/*.toml`.
//!
//! `stated` rows give dimensions and the look cost they have; `optimum` rows name
//! a count and a depth and give the least cost; `kinds` give what is offered,
//! in order of cost. The figures are worked examples of the trade, kept fixed.

use std::collections::BTreeMap;
use std::fs;

use serde::Deserialize;

use scantling::catalog::Catalog;
use scantling::compress::{self, Alternative};
use scantling::job::Job;
use scantling::job::place::Choice;
use scantling::plan::plan;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Scenario {
    job: String,
    stated: Vec<Stated>,
    #[serde(default)]
    optimum: Vec<Optimum>,
    kinds: Vec<KindRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Stated {
    what: String,
    choice: toml::Table,
    cost: f64,
    within: f64,
    length_in: f64,
    model_in: Option<f64>,
    #[serde(default)]
    lines: BTreeMap<String, f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Optimum {
    what: String,
    bays: u32,
    depth_ft: Option<f64>,
    cost: f64,
    within: f64,
    width_ft: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct KindRow {
    kind: String,
    words: String,
    standing: String,
    cost: Option<f64>,
}

/// The choice of a row, by the grammar of a job.
fn choice_of(row: &Stated) -> Choice {
    let job = toml::Table::from_iter([("choice".to_owned(), row.choice.clone().into())]);
    let text = format!("[job]\nname = \"a scenario\"\nscale = \"1:48\"\n{job}");
    let job: Job = text.parse().unwrap_or_else(|error| panic!("{error}"));
    job.choice.unwrap()
}

fn job(name: &str) -> Job {
    let path = format!("{}/data/demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    fs::read_to_string(path).unwrap().parse().unwrap()
}

fn scenario(name: &str) -> Scenario {
    let root = env!("CARGO_MANIFEST_DIR");
    let text = fs::read_to_string(format!("{root}/tests/scenarios/compress/{name}.toml")).unwrap();
    toml::from_str(&text).unwrap_or_else(|error| panic!("{error}"))
}

fn check(name: &str) {
    let scenario = scenario(name);
    let (job, catalog) = (job(&scenario.job), Catalog::built_in().unwrap());
    let mut last = 0.0;
    for row in &scenario.stated {
        stated(&job, &catalog, row);
        assert!(row.cost >= last, "{}: the order is not kept", row.what);
        last = row.cost;
    }
    for row in &scenario.optimum {
        optimum(&scenario.job, &catalog, row);
    }
    kinds(&job, &catalog, &scenario.kinds);
}

fn stated(job: &Job, catalog: &Catalog, row: &Stated) {
    let mut job = job.clone();
    job.choice = Some(choice_of(row));
    let plan = plan(&job, catalog);
    let compression = plan.compress.unwrap_or_else(|stop| panic!("{}: {stop}", row.what));
    let chosen = compression.chosen();
    let cost = chosen.cost().unwrap();
    assert!((cost - row.cost).abs() <= row.within, "{}: {cost} for {}", row.what, row.cost);
    let scored = compress::score_stated(
        &job,
        catalog,
        &plan.faces.unwrap(),
        &plan.scale.unwrap(),
        &choice_of(row),
    );
    assert!((scored.unwrap().total() - cost).abs() < 1e-9, "{}: scored otherwise", row.what);
    let length = compression.built.body.length.in_inches();
    assert!((length - row.length_in).abs() < 1e-5, "{}: {length} in long", row.what);
    if let Some(model) = row.model_in {
        let found = chosen.model_length.in_inches();
        assert!((found - model).abs() < 0.001, "{}: {found} in on the model", row.what);
    }
    for (feature, cost) in &row.lines {
        let line = chosen.lines.0.iter().find(|line| line.feature == *feature).unwrap();
        assert!((line.cost - cost).abs() < 0.01, "{}: {feature} {}", row.what, line.cost);
    }
}

fn optimum(name: &str, catalog: &Catalog, row: &Optimum) {
    let job = job(name);
    let compression =
        plan(&job, catalog).compress.unwrap_or_else(|stop| panic!("{}: {stop}", row.what));
    let exact = |it: &Alternative| match &it.exact {
        Some(exact) => Some((exact.cost, exact.decision.clone())),
        None => it.cost().zip(it.decision.clone()),
    };
    let (cost, decision) = (compression.alternatives.iter().filter_map(exact))
        .filter(|(_, decision)| decision.counts["bay"] == row.bays && !decision.is_wedge())
        .filter(|(_, decision)| {
            row.depth_ft.is_none_or(|depth| (decision.depth.in_feet() - depth).abs() < 1e-6)
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .unwrap_or_else(|| panic!("{}: no such count", row.what));
    assert!((cost - row.cost).abs() <= row.within, "{}: {cost} for {}", row.what, row.cost);
    if let Some(width) = row.width_ft {
        let found = decision.widths["bay"].in_feet();
        assert!((found - width).abs() < 0.001, "{}: {found} ft wide", row.what);
    }
}

fn kinds(job: &Job, catalog: &Catalog, rows: &[KindRow]) {
    let compression = plan(job, catalog).compress.unwrap();
    let named = |row: &&KindRow| {
        let alternatives = &compression.alternatives;
        alternatives.iter().position(|it: &Alternative| it.key == row.kind)
    };
    let mut places = Vec::new();
    for row in rows {
        let at = named(&row).unwrap_or_else(|| panic!("no alternative {}", row.kind));
        let it = &compression.alternatives[at];
        assert_eq!(
            (it.words.as_str(), it.standing.word()),
            (row.words.as_str(), row.standing.as_str())
        );
        match (it.cost(), row.cost) {
            (Some(cost), Some(wanted)) => {
                assert!((cost - wanted).abs() < 0.1, "{}: {cost}", row.kind);
            }
            (cost, wanted) => assert_eq!(cost.is_some(), wanted.is_some(), "{}", row.kind),
        }
        places.push(at);
    }
    assert!(places.is_sorted(), "the order is not kept: {places:?}");
    assert_eq!(compression.alternatives[compression.chosen].key, rows[0].kind);
    assert!(!compression.is_chosen);
}

#[test]
fn river_cannery() {
    check("river-cannery");
}

#[test]
fn grain_store() {
    check("grain-store");
}

#[test]
fn creamery() {
    check("creamery");
}
