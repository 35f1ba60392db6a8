//! Every row of the check values asked through the verb, as a builder would ask
//! it: the real program, its JSON and its text. The sources of the rows stand in
//! `tests/README.md`.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::process::Command;

use serde_json::Value;

struct Check {
    row: String,
    figure: String,
    wanted: String,
    slack: String,
}

/// The list, by question.
fn questions() -> BTreeMap<String, Vec<Check>> {
    let text = include_str!("verbs.txt");
    let mut all: BTreeMap<String, Vec<Check>> = BTreeMap::new();
    for line in text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty()) {
        let cells: Vec<&str> = line.split(" |").map(str::trim).collect();
        let [row, question, figure, wanted, slack] = cells[..] else { panic!("{line}") };
        let own = str::to_owned;
        all.entry(own(question)).or_default().push(Check {
            row: own(row),
            figure: own(figure),
            wanted: own(wanted),
            slack: own(slack),
        });
    }
    all
}

fn asked(question: &str, json: bool) -> Result<String, String> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_scantling"));
    let empty = Path::new(env!("CARGO_TARGET_TMPDIR")).join("no-settings");
    command.env("XDG_CONFIG_HOME", &empty).env("XDG_DATA_HOME", &empty).arg("bench");
    if json {
        command.arg("--json");
    }
    let output = command.args(["--", question]).output().expect("the program runs");
    if output.status.success() {
        Ok(String::from_utf8_lossy(&output.stdout).into_owned())
    } else {
        Err(format!("{question}: {}", String::from_utf8_lossy(&output.stderr)))
    }
}

/// A figure of an answer: by its name, `.mm` for its size on the model; or a path
/// through the JSON of a length.
fn figure(answer: &Value, name: &str) -> Option<f64> {
    let of =
        |name: &str| answer["figures"].as_array()?.iter().find(|figure| figure["name"] == name);
    if let Some(found) = of(name) {
        return found["value"].as_f64();
    }
    if let Some(found) = name.strip_suffix(".mm").and_then(of) {
        return found["model_mm"].as_f64();
    }
    name.split('.').try_fold(answer, |value, key| value.get(key))?.as_f64()
}

#[test]
fn every_row_is_answered_through_the_verb() {
    let mut rows = BTreeSet::new();
    let mut wrong = Vec::new();
    for (question, checks) in questions() {
        let words = checks.iter().any(|check| check.figure == "says");
        let both = (
            asked(&question, true),
            if words { asked(&question, false) } else { Ok(String::new()) },
        );
        let (json, text) = match both {
            (Ok(json), Ok(text)) => (json, text),
            (Err(error), _) | (_, Err(error)) => {
                wrong.push(error);
                continue;
            }
        };
        let json: Value = serde_json::from_str(&json).expect("JSON");
        for check in checks {
            rows.insert(check.row.clone());
            if check.figure == "says" {
                if !text.contains(&check.wanted) {
                    wrong.push(format!(
                        "{}: {question} does not say {}:\n{text}",
                        check.row, check.wanted
                    ));
                }
                continue;
            }
            let wanted: f64 = check.wanted.parse().expect("a number");
            let slack: f64 = check.slack.parse().expect("a number");
            match figure(&json, &check.figure) {
                Some(found) if (found - wanted).abs() <= slack.max(1e-14 * wanted.abs()) => {}
                found => wrong.push(format!(
                    "{}: {question}: {} is {found:?}, wanted {wanted} within {slack}",
                    check.row, check.figure
                )),
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong\n{}", wrong.len(), wrong.join("\n"));
    // R1 to R9 have so many rows.
    assert_eq!(rows.len(), 105, "{rows:?}");
}
