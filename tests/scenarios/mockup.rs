//! The mock-up taken back: `mockup/*.toml`.
//!
//! `measured` rows stand in for the card on the table; those named in `take` go
//! back into the job in one edit. `planned` rows give sizes on the model
//! afterwards, `part` rows parts of the take-off, `finding` what is noticed;
//! one undo brings the job back to the letter.

use std::fs;

use serde::Deserialize;

use scantling::catalog::Catalog;
use scantling::job::demo;
use scantling::job::document::Document;
use scantling::job::edit::{Edit, MeasuredText};
use scantling::job::mock_up::On;
use scantling::mockup::take_back;
use scantling::plan::{Plan, plan};
use scantling::report::{Seen, ViewId, record};

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Scenario {
    job: String,
    measured: Vec<Reading>,
    #[serde(default)]
    take: Vec<String>,
    #[serde(default)]
    reason: String,
    #[serde(default)]
    refused: String,
    #[serde(default)]
    standing: Vec<StandingRow>,
    #[serde(default)]
    planned: Vec<PlannedRow>,
    #[serde(default)]
    part: Vec<PartRow>,
    #[serde(default)]
    finding: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Reading {
    of: String,
    #[serde(default)]
    on: String,
    reads: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StandingRow {
    of: String,
    off_thou: f64,
    is: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PlannedRow {
    of: String,
    model_in: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PartRow {
    face: String,
    kind: String,
    length_in: f64,
    width_in: f64,
}

struct Table {
    document: Document,
    catalog: Catalog,
}

impl Table {
    fn plan(&self) -> Plan {
        plan(self.document.job(), &self.catalog)
    }

    fn take(&self, names: &[String], reason: &str) -> Result<Edit, String> {
        let plan = self.plan();
        let (faces, scale) = (plan.faces.unwrap(), plan.scale.unwrap());
        let (compress, mock_up) = (plan.compress.unwrap(), plan.mock_up.unwrap());
        take_back(
            self.document.job(),
            &self.catalog,
            (&faces, &scale),
            (&compress, &mock_up),
            (names, reason),
        )
        .map_err(|stop| stop.told())
    }
}

fn check(name: &str) {
    let root = env!("CARGO_MANIFEST_DIR");
    let text = fs::read_to_string(format!("{root}/tests/scenarios/mockup/{name}.toml")).unwrap();
    let scenario: Scenario = toml::from_str(&text).unwrap_or_else(|error| panic!("{error}"));
    let catalog = Catalog::built_in().unwrap();
    let job = demo::find(&scenario.job).unwrap();
    let document = Document::read(job.name, job.text, &catalog).unwrap();
    let mut table = Table { document, catalog };
    for row in &scenario.measured {
        let (of, reads) = (row.of.clone(), row.reads.clone());
        let edit = Edit::Measure(MeasuredText {
            of,
            on: On::from_word(&row.on).unwrap_or_default(),
            reads,
            note: String::new(),
        });
        table.document.apply(&edit, &table.catalog).unwrap();
    }
    standing(&scenario, &table.plan());
    if scenario.take.is_empty() {
        findings(&scenario, &table.plan());
        return;
    }
    let before = table.document.text().to_owned();
    let edit = match table.take(&scenario.take, &scenario.reason) {
        Ok(edit) => edit,
        Err(told) => {
            assert!(!scenario.refused.is_empty() && told.contains(&scenario.refused), "{told}");
            return;
        }
    };
    assert!(scenario.refused.is_empty(), "it was to be refused: {}", scenario.refused);
    table.document.apply(&edit, &table.catalog).unwrap();
    after(&scenario, &table);
    table.document.undo(&table.catalog).unwrap();
    assert_eq!(table.document.text(), before);
}

/// What follows in the plan and stands in the record.
fn after(scenario: &Scenario, table: &Table) {
    let plan = table.plan();
    let mock_up = plan.mock_up.as_ref().unwrap();
    for row in &scenario.planned {
        let planned = mock_up.get(&row.of).unwrap_or_else(|| panic!("no {}", row.of)).planned;
        let off = planned.in_inches() - row.model_in;
        assert!(off.abs() < 0.0005, "{} is {} in", row.of, planned.in_inches());
    }
    let parts = &plan.takeoff.as_ref().unwrap_or_else(|stop| panic!("{stop}")).parts;
    for row in &scenario.part {
        let near = |a: f64, b: f64| (a - b).abs() < 0.01;
        let found = parts.iter().any(|part| {
            part.face == row.face
                && part.kind.word() == row.kind
                && near(part.length.in_inches(), row.length_in)
                && near(part.width.in_inches(), row.width_in)
        });
        assert!(found, "no {} of {} by {}", row.kind, row.length_in, row.width_in);
    }
    findings(scenario, &plan);
    let seen = Seen { job: table.document.job(), catalog: &table.catalog, plan: &plan };
    let markdown = record::markdown(seen);
    assert!(markdown.contains("## Taken back from the mock-up"), "{markdown}");
    assert!(markdown.contains(&scenario.reason), "{markdown}");
    let json = ViewId::Record.kind().told(seen);
    let taken = json["taken_back"].as_array().unwrap();
    assert_eq!(taken.len(), scenario.take.len());
}

fn standing(scenario: &Scenario, plan: &Plan) {
    let mock_up = plan.mock_up.as_ref().unwrap();
    for row in &scenario.standing {
        let size = mock_up.get(&row.of).unwrap_or_else(|| panic!("no {}", row.of));
        let found = size.mock_up.as_ref().or(size.model.as_ref()).unwrap();
        let off = found.off.in_thou();
        assert!((off - row.off_thou).abs() < 0.5, "{} is {off} thou off", row.of);
        assert_eq!(found.standing.word(), row.is, "{}", row.of);
    }
}

fn findings(scenario: &Scenario, plan: &Plan) {
    for text in &scenario.finding {
        assert!(
            plan.findings.iter().any(|finding| finding.message.contains(text)),
            "nothing is said of \"{text}\""
        );
    }
}

#[test]
fn shallower_and_lower() {
    check("shallower-and-lower");
}

#[test]
fn a_shorter_front() {
    check("a-shorter-front");
}

#[test]
fn a_front_that_cannot_be_so_short() {
    check("a-front-that-cannot-be-so-short");
}

#[test]
fn a_print_fitted_to_the_page() {
    check("a-print-fitted-to-the-page");
}

#[test]
fn the_finished_model() {
    check("the-finished-model");
}
