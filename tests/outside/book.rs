//! The table of outside checks in `tests/README.md`, held against the tests
//! themselves: a row that names a test which is not there fails.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

fn top() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The rows of the table: identifier, and the tests it names.
fn rows() -> Vec<(String, Vec<String>)> {
    let text = fs::read_to_string(top().join("tests/README.md")).expect("the table of checks");
    let row = |line: &str| {
        let id = line.strip_prefix("| R")?.split(' ').next()?;
        let last = line.trim_end_matches([' ', '|']).rsplit('|').next()?;
        let tests = last.split('`').skip(1).step_by(2).map(str::to_owned).collect();
        Some((format!("R{id}"), tests))
    };
    text.lines().filter_map(row).collect()
}

/// The rows that no test answers; each says why.
fn unanswered() -> BTreeSet<String> {
    let text = fs::read_to_string(top().join("tests/README.md")).expect("the table of checks");
    let id = |line: &str| {
        let (id, why) = line.strip_prefix("- R")?.split_once(": ")?;
        assert!(why.len() > 20, "R{id} says why");
        Some(format!("R{id}"))
    };
    text.lines().filter_map(id).collect()
}

/// Names of all functions under a folder that stand after `#[test]`.
fn tests_under(folder: &Path, names: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).expect("a folder of the project").flatten() {
        let path = entry.path();
        if path.is_dir() {
            tests_under(&path, names);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = fs::read_to_string(&path).expect("a file of the project");
            let found = text.split("#[test]").skip(1).filter_map(|rest| {
                let name = rest.split_once("fn ")?.1.split('(').next()?;
                Some(name.to_owned())
            });
            names.extend(found);
        }
    }
}

#[test]
fn every_row_names_tests_that_are_there() {
    let mut names = BTreeSet::new();
    tests_under(&top().join("tests"), &mut names);
    tests_under(&top().join("src"), &mut names);
    let rows = rows();
    assert!(rows.len() > 90, "{} rows", rows.len());
    for (id, tests) in rows {
        assert!(!tests.is_empty(), "{id} names no test");
        for test in tests {
            assert!(names.contains(&test), "{id} names {test}, which is not there");
        }
    }
}

/// The book of check values is not ours to ship; where it is present no row of
/// it may be missing from the table.
#[test]
fn every_row_of_the_book_is_in_the_table() {
    let path = top().join("../shared/reference/check-values.md");
    let Ok(book) = fs::read_to_string(path) else {
        eprintln!("skipped: the book of check values is not here");
        return;
    };
    let mut listed: BTreeSet<String> = rows().into_iter().map(|(id, _)| id).collect();
    listed.extend(unanswered());
    for line in book.lines().filter(|line| line.starts_with("| R") && line.as_bytes()[4] == b'-') {
        let id = &line[2..7];
        assert!(listed.contains(id), "{id} is not in tests/README.md");
    }
}
