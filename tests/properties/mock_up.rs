//! Whatever is measured on the mock-up of a built-in job can be taken back, is
//! then what is built, and comes back with one undo.

use scantling::catalog::Catalog;
use scantling::finding::Stop;
use scantling::job::demo;
use scantling::job::document::Document;
use scantling::job::edit::{Edit, MeasuredText};
use scantling::mockup::{MockUp, Standing, take_back};
use scantling::plan::{Plan, plan};
use scantling::quantity::ModelLength;

struct Table {
    document: Document,
    catalog: Catalog,
}

impl Table {
    fn of(name: &str) -> Self {
        let catalog = Catalog::built_in().expect("the shipped data");
        let demo = demo::find(name).expect("a built-in job");
        let document = Document::read(name, demo.text, &catalog).expect("it reads");
        Self { document, catalog }
    }

    fn plan(&self) -> Plan {
        plan(self.document.job(), &self.catalog)
    }

    fn mock_up(&self) -> MockUp {
        self.plan().mock_up.expect("something is built")
    }

    fn measure(&mut self, of: &str, reads: &str) {
        let text = MeasuredText { of: of.into(), reads: reads.into(), ..MeasuredText::default() };
        self.document.apply(&Edit::Measure(text), &self.catalog).expect("measured");
    }

    fn take(&mut self, names: &[&str], reason: &str) -> Result<(), Stop> {
        let plan = self.plan();
        let (faces, scale, compress) = (plan.faces?, plan.scale?, plan.compress?);
        let mock_up = plan.mock_up.expect("something is built");
        let names: Vec<String> = names.iter().map(|name| (*name).to_owned()).collect();
        let edit = take_back(
            self.document.job(),
            &self.catalog,
            (&faces, &scale),
            (&compress, &mock_up),
            (&names, reason),
        )?;
        self.document.apply(&edit, &self.catalog).expect("taken back");
        Ok(())
    }
}

#[test]
fn every_body_size_can_be_taken_back_and_is_then_what_is_built() {
    for demo in demo::DEMOS {
        for name in ["length", "depth", "eave", "ridge"] {
            let mut table = Table::of(demo.name);
            let planned = table.mock_up().get(name).map(|size| size.planned);
            let Some(planned) = planned else { continue };
            let wanted = planned * 0.97;
            table.measure(name, &format!("{:.5} in", wanted.in_inches()));
            assert_eq!(
                table.mock_up().get(name).unwrap().mock_up.as_ref().unwrap().standing,
                Standing::Over
            );
            table
                .take(&[name], "seen")
                .unwrap_or_else(|stop| panic!("{} {name}: {stop}", demo.name));
            let after = table.mock_up();
            let size = after.get(name).unwrap();
            assert!(
                size.planned.agrees(wanted, ModelLength::thou(0.1)),
                "{} {name}: {} for {}",
                demo.name,
                size.planned.in_inches(),
                wanted.in_inches()
            );
            let found = size.mock_up.as_ref().unwrap();
            assert_eq!(found.standing, Standing::TakenBack);
            assert!(found.was.unwrap().agrees(planned, ModelLength::thou(0.1)));
            let undone = table.document.undo(&table.catalog).unwrap();
            assert_eq!(undone, format!("take {name} back from the mock-up"));
            assert!(
                table.mock_up().get(name).unwrap().planned.agrees(planned, ModelLength::thou(0.01))
            );
        }
    }
}

#[test]
fn within_the_tolerance_nothing_is_asked() {
    let mut table = Table::of("grain-store");
    let planned = table.mock_up().get("depth").unwrap().planned;
    let said = |more: f64| format!("{:.5} in", planned.in_inches() + more / 1000.0);
    table.measure("depth", &said(31.0));
    assert_eq!(
        table.mock_up().get("depth").unwrap().mock_up.as_ref().unwrap().standing,
        Standing::Within
    );
    table.measure("depth", &said(-32.0));
    assert_eq!(
        table.mock_up().get("depth").unwrap().mock_up.as_ref().unwrap().standing,
        Standing::Over
    );
    assert_eq!(table.document.job().measured.len(), 1);
}

#[test]
fn a_door_is_not_taken_back() {
    let mut table = Table::of("grain-store");
    let mock_up = table.mock_up();
    let door = mock_up.sizes.iter().find(|size| size.name.ends_with(" height")).unwrap();
    table.measure(&door.name, "1 in");
    assert!(table.take(&[&door.name], "seen").is_err_and(|stop| stop.trouble.contains("never")));
}

/// 96 percent of everything is a page fitted to the sheet.
#[test]
fn a_print_fitted_to_the_page_is_told() {
    let mut table = Table::of("grain-store");
    let before = table.mock_up();
    for name in ["length", "depth", "eave"] {
        let printed = before.get(name).unwrap().planned * 0.96;
        table.measure(name, &format!("{:.3} in", printed.in_inches()));
    }
    let told =
        |table: &Table| table.plan().findings.iter().any(|it| it.message.contains("96.0 percent"));
    assert!(told(&table));
    table.measure("eave", "5 in");
    assert!(!told(&table));
}

#[test]
fn a_reading_taken_back_stays_when_it_is_measured_again() {
    let mut table = Table::of("creamery");
    table.measure("depth", "3 in");
    table.take(&["depth"], "out of reach").unwrap();
    table.measure("depth", "2.9 in");
    let rows = &table.document.job().measured;
    assert_eq!(rows.len(), 2);
    assert_eq!(rows[0].reason, "out of reach");
    assert!(rows[1].was.is_none());
}
