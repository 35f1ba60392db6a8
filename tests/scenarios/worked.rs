//! Buildings worked out by hand apart from the program: every value of
//! `worked/*.toml` against the figures kept beside the repository, where they
//! are there. Rows of `worked/held.txt` must hold; the others are only listed.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;

use scantling::catalog::Catalog;
use scantling::job::Job;
use serde::Deserialize;

#[path = "../../examples/worked/values/mod.rs"]
mod values;

#[derive(Deserialize)]
struct Expected {
    row: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    id: String,
    verb: String,
    part: String,
    field: String,
    value: toml::Value,
    tol: Option<f64>,
    model_field: Option<String>,
    model_value: Option<f64>,
    model_tol: Option<f64>,
}

/// How a row stands to what the program says.
#[derive(Clone, Debug, PartialEq)]
enum Found {
    Holds,
    Differs(String),
    Missing,
}

/// What is said of a part and field; of the order of work, several.
type Said = BTreeMap<(String, String), Vec<String>>;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Where the figures are: beside the repository, or where the environment says.
fn figures() -> PathBuf {
    std::env::var_os("WORKED_FIGURES")
        .map_or_else(|| root().join("../shared/reference/worked"), PathBuf::from)
}

fn said(name: &str) -> Said {
    let path = root().join(format!("tests/scenarios/worked/{name}.toml"));
    let job: Job = fs::read_to_string(path)
        .expect("a job")
        .parse()
        .unwrap_or_else(|error| panic!("{name}: {error}"));
    let lines = values::of(&job, &Catalog::built_in().expect("the shipped data"));
    let lines = lines.unwrap_or_else(|trouble| panic!("{name}: {trouble}"));
    let mut said = Said::new();
    for line in &lines {
        let mut parts = line.split('\t').map(str::to_owned);
        let mut next = || parts.next().expect("part, field and value");
        said.entry((next(), next())).or_default().push(next());
    }
    said
}

fn held() -> BTreeSet<String> {
    let text = fs::read_to_string(root().join("tests/scenarios/worked/held.txt"));
    text.unwrap_or_default().split_whitespace().map(str::to_owned).collect()
}

fn find<'s>(said: &'s Said, part: &str, field: &str) -> Option<&'s String> {
    said.get(&(part.to_owned(), field.to_owned()))?.first()
}

fn says(said: &Said, part: &str, field: &str, value: &str) -> bool {
    let all = said.get(&(part.to_owned(), field.to_owned()));
    all.is_some_and(|all| all.iter().any(|it| it == value))
}

fn near(found: Option<&String>, wanted: f64, tol: f64) -> Found {
    let Some(text) = found else { return Found::Missing };
    match text.parse::<f64>() {
        Ok(value) if (value - wanted).abs() <= tol + 1e-9 => Found::Holds,
        _ => Found::Differs(format!("{text}, not {wanted}")),
    }
}

fn judge(row: &Row, said: &Said) -> Found {
    let found = find(said, &row.part, &row.field);
    let first = match (&row.value, row.value.as_float(), row.value.as_integer()) {
        (_, Some(value), _) => near(found, value, row.tol.unwrap_or(0.0)),
        (_, _, Some(value)) => near(found, value as f64, row.tol.unwrap_or(0.0)),
        (value, ..) => match found {
            None => Found::Missing,
            Some(_) if value.as_str().is_some_and(|it| says(said, &row.part, &row.field, it)) => {
                Found::Holds
            }
            Some(text) => Found::Differs(format!("{text}, not {value}")),
        },
    };
    match (&first, &row.model_field, row.model_value) {
        (Found::Holds, Some(field), Some(value)) => {
            near(find(said, &row.part, field), value, row.model_tol.unwrap_or(0.0))
        }
        _ => first,
    }
}

/// Holds a building against its figures and prints a line a row; the ids of
/// rows that must hold and do not.
fn building(name: &str, must: &BTreeSet<String>) -> Vec<String> {
    let path = figures().join(format!("{name}.expected.toml"));
    let Ok(text) = fs::read_to_string(&path) else {
        println!("{name}: no figures at {}", path.display());
        // Without figures the building must at least be raised.
        assert!(!said(name).is_empty());
        return Vec::new();
    };
    let expected: Expected = toml::from_str(&text).unwrap_or_else(|error| panic!("{error}"));
    let said = said(name);
    let mut counts = [0_u32; 3];
    let mut lost = Vec::new();
    for row in &expected.row {
        let found = judge(row, &said);
        let (at, words) = match &found {
            Found::Holds => (0, "holds".to_owned()),
            Found::Differs(how) => (1, format!("differs: {how}")),
            Found::Missing => (2, "missing".to_owned()),
        };
        counts[at] += 1;
        let line = format!("{} {} {} {}: {words}", row.id, row.verb, row.part, row.field);
        println!("{line}");
        if found != Found::Holds && must.contains(&row.id) {
            lost.push(line);
        }
    }
    let [holds, differs, missing] = counts;
    println!("{name}: {holds} of {} hold, {differs} differ, {missing} missing", expected.row.len());
    lost
}

#[test]
fn rows_that_held_still_hold() {
    let must = held();
    let lost: Vec<String> =
        ["worked-1", "worked-2"].iter().flat_map(|name| building(name, &must)).collect();
    assert!(lost.is_empty(), "rows that held and do not any more:\n{}", lost.join("\n"));
}
