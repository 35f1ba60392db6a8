//! What is printed can be cut.

use serde_json::Value;

use crate::catalog::Catalog;
use crate::job::{demo, document::Document};
use crate::plan::plan;
use crate::report::{Seen, ViewId};

fn of_demo(name: &str) -> Value {
    let catalog = Catalog::built_in().expect("the shipped data");
    let text = demo::find(name).expect("a built-in job").text;
    let document = Document::read(name, text, &catalog).expect("a job");
    let plan = plan(document.job(), &catalog);
    ViewId::Layout.kind().told(Seen { job: document.job(), catalog: &catalog, plan: &plan })
}

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("{key} in {value}"))
}

fn rows<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().unwrap_or_else(|| panic!("{key} in {value}"))
}

/// Left, foot, right, top.
fn edges(area: &Value) -> [f64; 4] {
    let [x, y] = ["x_in", "y_in"].map(|key| number(area, key));
    [x, y, x + number(area, "width_in"), y + number(area, "height_in")]
}

/// Half a count of the grid and rounding.
const SLACK: f64 = 0.001;

#[test]
fn what_is_printed_lies_on_its_sheet_and_on_nothing_else() {
    for demo in demo::DEMOS {
        for sheet in
            rows(&of_demo(demo.name), "sheet_plans").iter().flat_map(|plan| rows(plan, "sheets"))
        {
            let parts: Vec<[f64; 4]> = rows(sheet, "parts")
                .iter()
                .map(edges)
                .chain(sheet["offcut"].is_object().then(|| edges(&sheet["offcut"])))
                .collect();
            for (at, [left, foot, right, top]) in parts.iter().enumerate() {
                assert!(*left >= 0.0 && *right <= number(sheet, "width_in") + SLACK);
                assert!(*foot >= 0.0 && *top <= number(sheet, "height_in") + SLACK);
                for [l, f, r, t] in &parts[at + 1..] {
                    let apart = *l >= right - SLACK
                        || *r <= left + SLACK
                        || *f >= top - SLACK
                        || *t <= foot + SLACK;
                    assert!(apart, "{}: {sheet}", demo.name);
                }
            }
            assert!(!rows(sheet, "cuts").is_empty(), "a knife cuts every part out");
        }
    }
}

#[test]
fn pieces_follow_each_other_along_the_stick() {
    let plans = of_demo("river-cannery");
    for stick in rows(&plans, "sticks") {
        for cut in rows(stick, "cuts") {
            let usable = number(cut, "stick_in");
            let mut at = 0.0;
            for (begin, length) in rows(cut, "at_in").iter().zip(rows(cut, "length_in")) {
                assert!(begin.as_f64().unwrap_or(-1.0) >= at - 1e-9, "{cut}");
                at = begin.as_f64().unwrap_or(0.0) + length.as_f64().unwrap_or(0.0);
            }
            assert!(at <= usable + SLACK, "{cut}");
        }
    }
}
