//! Field notes and what they come to: `survey/*.toml`.
//!
//! A file holds the evidence of a job as a job file does, what it shows
//! (`about`), and under `expect` what must come out: the readings set aside,
//! the dimensions as `value ± sigma` in inches each with its slack, what is
//! unchecked, and words that must stand in the findings.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use serde::Deserialize;

use scantling::catalog::Catalog;
use scantling::job::Job;
use scantling::survey::{self, Checked, Rejected, Standing, Survey};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Scenario {
    about: String,
    expect: Expect,
    #[serde(default)]
    dimension: Vec<toml::Table>,
    #[serde(default)]
    source: Vec<toml::Table>,
    #[serde(default)]
    tie: Vec<toml::Table>,
    #[serde(default)]
    reading: Vec<toml::Table>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Expect {
    #[serde(default)]
    rejected: Vec<ExpectRejected>,
    #[serde(default)]
    dimensions: BTreeMap<String, Figure>,
    #[serde(default)]
    networks: Vec<ExpectNetwork>,
    /// All networks together: chi-square and degrees.
    all: Option<(f64, usize)>,
    kept: Option<(f64, usize)>,
    #[serde(default)]
    unchecked: Vec<String>,
    #[serde(default)]
    weakly: Vec<String>,
    #[serde(default)]
    unfixed: Vec<String>,
    #[serde(default)]
    left_out: Vec<String>,
    #[serde(default)]
    says: Vec<String>,
}

/// Value, sigma, and how near both must be.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Figure {
    value: f64,
    sigma: Option<f64>,
    within: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ExpectRejected {
    id: String,
    z: Option<f64>,
    slip: Option<String>,
    #[serde(default)]
    alike: Vec<String>,
}

/// The network of a dimension: chi-square, with its last digit, and degrees.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ExpectNetwork {
    of: String,
    all: Option<(f64, usize)>,
    kept: (f64, usize),
}

#[test]
fn field_notes_come_to_what_they_should() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/scenarios/survey");
    let mut files: Vec<_> = fs::read_dir(&folder)
        .expect("the folder is there")
        .map(|entry| entry.expect("an entry").path())
        .collect();
    files.sort();
    assert!(files.len() > 10, "the scenarios are there");
    let mut wrong = Vec::new();
    for file in files {
        let text = fs::read_to_string(&file).expect("a file reads");
        let name = file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let scenario: Scenario =
            toml::from_str(&text).unwrap_or_else(|error| panic!("{name}: {error}"));
        wrong.extend(
            run(&scenario).into_iter().map(|what| format!("{name} ({}): {what}", scenario.about)),
        );
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

fn job(scenario: &Scenario) -> Job {
    let mut table = toml::Table::new();
    let about = "name = \"a scenario\"\nscale = \"1:48\"".parse::<toml::Table>();
    table.insert("job".into(), about.expect("a table").into());
    for (key, rows) in [
        ("dimension", &scenario.dimension),
        ("source", &scenario.source),
        ("tie", &scenario.tie),
        ("reading", &scenario.reading),
    ] {
        let rows: Vec<toml::Value> = rows.iter().cloned().map(toml::Value::Table).collect();
        table.insert(key.into(), rows.into());
    }
    table.to_string().parse().unwrap_or_else(|error| panic!("{error}"))
}

/// What came out otherwise than expected.
fn run(scenario: &Scenario) -> Vec<String> {
    let job = job(scenario);
    let catalog = Catalog::built_in().expect("the shipped data reads");
    let outcome = survey::run(&job, &catalog);
    let (survey, expect) = (&outcome.value, &scenario.expect);
    let mut wrong = Vec::new();
    rejected(survey, expect, &mut wrong);
    figures(survey, expect, &mut wrong);
    networks(survey, expect, &mut wrong);
    standings(survey, expect, &mut wrong);
    let said: Vec<String> = outcome
        .findings
        .iter()
        .map(|finding| format!("{} ({})", finding.message, finding.hint))
        .collect();
    for words in &expect.says {
        if !said.iter().any(|said| said.contains(words)) {
            wrong.push(format!("nothing says \"{words}\"; said: {said:#?}"));
        }
    }
    wrong
}

fn same<T: PartialEq + std::fmt::Debug>(
    what: &str,
    found: &T,
    wanted: &T,
    wrong: &mut Vec<String>,
) {
    if found != wanted {
        wrong.push(format!("{what}: found {found:?}, wanted {wanted:?}"));
    }
}

fn near(what: &str, found: f64, wanted: f64, within: f64, wrong: &mut Vec<String>) {
    if found.is_nan() || (found - wanted).abs() > within {
        wrong.push(format!("{what}: found {found}, wanted {wanted} within {within}"));
    }
}

fn rejected(survey: &Survey, expect: &Expect, wrong: &mut Vec<String>) {
    let ids = |all: &[Rejected]| all.iter().map(|each| each.id.clone()).collect::<Vec<_>>();
    let wanted: Vec<String> = expect.rejected.iter().map(|each| each.id.clone()).collect();
    same("set aside", &ids(&survey.rejected), &wanted, wrong);
    for (found, wanted) in survey.rejected.iter().zip(&expect.rejected) {
        if let Some(z) = wanted.z {
            near(&format!("z of {}", found.id), found.z, z, 0.06, wrong);
        }
        let slip = found.slip.as_ref().map(|slip| slip.kind);
        let slip = slip.and_then(|kind| serde_json::to_value(kind).ok());
        let slip = slip.and_then(|value| value.as_str().map(str::to_owned));
        same(&format!("slip of {}", found.id), &slip, &wanted.slip, wrong);
        same(&format!("alike to {}", found.id), &found.alike, &wanted.alike, wrong);
    }
}

fn figures(survey: &Survey, expect: &Expect, wrong: &mut Vec<String>) {
    for (name, wanted) in &expect.dimensions {
        let measured = survey.dimension(name).and_then(|found| found.measured.as_ref());
        let Some(measured) = measured else {
            wrong.push(format!("{name}: nothing fixes it"));
            continue;
        };
        near(name, measured.value.in_inches(), wanted.value, wanted.within, wrong);
        if let Some(sigma) = wanted.sigma {
            let what = format!("sigma of {name}");
            near(&what, measured.sigma.in_inches(), sigma, wanted.within, wrong);
        }
    }
}

fn networks(survey: &Survey, expect: &Expect, wrong: &mut Vec<String>) {
    for wanted in &expect.networks {
        let Some(found) = survey.networks.iter().find(|n| n.place(&wanted.of).is_some()) else {
            wrong.push(format!("no network of {}", wanted.of));
            continue;
        };
        near("chi-square kept", found.chi_square, wanted.kept.0, 0.051, wrong);
        same("degrees kept", &found.degrees, &wanted.kept.1, wrong);
        if let Some((chi_square, degrees)) = wanted.all {
            near("chi-square of all", found.chi_square_of_all, chi_square, 0.51, wrong);
            same("degrees of all", &found.degrees_of_all, &degrees, wrong);
        }
    }
    if let Some((chi_square, degrees)) = expect.all {
        let sum = survey.networks.iter().map(|n| n.chi_square_of_all).sum();
        near("chi-square of all together", sum, chi_square, 0.51, wrong);
        same("degrees", &survey.networks.iter().map(|n| n.degrees_of_all).sum(), &degrees, wrong);
    }
    if let Some((chi_square, degrees)) = expect.kept {
        let sum = survey.networks.iter().map(|n| n.chi_square).sum();
        near("chi-square kept together", sum, chi_square, 0.051, wrong);
        same("degrees kept", &survey.networks.iter().map(|n| n.degrees).sum(), &degrees, wrong);
    }
}

fn standings(survey: &Survey, expect: &Expect, wrong: &mut Vec<String>) {
    let with = |checked| -> Vec<String> {
        let of = survey.dimensions.iter().filter(|found| found.checked == checked);
        of.map(|found| found.name.clone()).collect()
    };
    same("unchecked", &with(Checked::Unchecked), &expect.unchecked, wrong);
    same("weakly checked", &with(Checked::Weakly), &expect.weakly, wrong);
    same("not fixed", &with(Checked::Unfixed), &expect.unfixed, wrong);
    let left_out = survey.readings.iter().filter(|found| found.standing == Standing::LeftOut);
    let left_out: Vec<String> = left_out.map(|found| found.id.clone()).collect();
    same("left out", &left_out, &expect.left_out, wrong);
}
