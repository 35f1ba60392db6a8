//! A plain problem file goes in, a plan as JSON comes out, or a refusal that
//! names what is wrong.

use std::process::{Command, Output};

use serde_json::Value;

fn run(text: &str, more: &[&str]) -> Output {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("problem.toml");
    std::fs::write(&file, text).expect("the problem on disk");
    Command::new(env!("CARGO_BIN_EXE_scantling"))
        .arg("layout")
        .arg("--problem")
        .arg(&file)
        .args(["--seconds", "2", "--json"])
        .args(more)
        .output()
        .expect("the program runs")
}

fn answer(text: &str, more: &[&str]) -> Value {
    let output = run(text, more);
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{text}\n{said}");
    serde_json::from_slice(&output.stdout).expect("JSON and nothing else")
}

fn sticks(kerf: i64, stock: &str, parts: &str) -> String {
    format!("name = \"own\"\nkind = \"sticks\"\nkerf = {kerf}\nstock = {stock}\nparts = {parts}\n")
}

fn sheets(gap: i64, sheet: &str, parts: &str) -> String {
    format!("name = \"own\"\nkind = \"sheets\"\ngap = {gap}\nsheet = {sheet}\nparts = {parts}\n")
}

/// Cost by hand: pieces a strip holds are (length + kerf) / (part + kerf),
/// rounded down.
#[test]
fn sticks_are_laid_out_and_the_numbers_are_right() {
    let long = i64::MAX / 8;
    let cases = [
        // Without kerf three fit, with it two.
        (sticks(0, "[[30, 1, -1]]", "[[10, 6]]"), 2),
        (sticks(1, "[[30, 1, -1]]", "[[10, 6]]"), 3),
        // A kerf wider than the part: (30 + 12) / (3 + 12) = 2.
        (sticks(12, "[[30, 1, -1]]", "[[3, 4]]"), 2),
        // Nothing wanted.
        (sticks(1, "[[30, 1, -1]]", "[[10, 0]]"), 0),
        (sticks(1, "[[30, 1, -1]]", "[]"), 0),
        // A stock of which there is none is not used.
        (sticks(0, "[[60, 1, 0], [30, 5, -1]]", "[[10, 3]]"), 5),
        // Near the limit of the numbers.
        (sticks(0, &format!("[[{long}, 1, -1]]"), &format!("[[{}, 5]]", long / 2)), 3),
    ];
    for (text, cost) in cases {
        let answer = answer(&text, &[]);
        assert_eq!(answer["cost"], cost, "{text}");
        assert_eq!((&answer["bound"], &answer["proven"]), (&answer["cost"], &true.into()));
        assert!(answer["seconds"].as_f64().is_some_and(|seconds| seconds < 10.0));
        let strips: u64 = answer["plan"].as_array().expect("a plan").iter().map(times).sum();
        assert!(answer["cost"] == 5 || strips == cost, "{text}: {answer}");
    }
}

fn times(pattern: &Value) -> u64 {
    assert!(pattern["stock"].is_u64() && pattern["pieces"].is_array(), "{pattern}");
    pattern["times"].as_u64().expect("a count")
}

#[test]
fn sheets_are_laid_out_by_either_method() {
    // A pinwheel: one sheet for the laser, two for the knife.
    let pinwheel = sheets(0, "[3, 3]", "[[2, 1, 2], [1, 2, 2]]");
    for (method, count) in [("laser", 1), ("knife", 2)] {
        let answer = answer(&pinwheel, &["--method", method]);
        assert_eq!((&answer["sheets"], &answer["method"]), (&count.into(), &method.into()));
        assert_eq!(
            answer["plan"].as_array().map(Vec::len),
            answer["sheets"].as_u64().map(|n| n as usize)
        );
        let placed = answer["plan"].as_array().expect("a plan").iter();
        assert_eq!(
            placed.map(|sheet| sheet["placed"].as_array().map_or(0, Vec::len)).sum::<usize>(),
            4
        );
    }
    let cases = [
        // A gap wider than the part: (30 + 12) / (3 + 12) = 2 each way.
        (sheets(12, "[30, 30]", "[[3, 3, 5]]"), 2),
        (sheets(0, "[30, 30]", "[]"), 0),
        (sheets(0, "[30, 30]", "[[10, 10, 0]]"), 0),
        (sheets(0, "[1073741824, 1073741824]", "[[1073741824, 536870912, 3]]"), 2),
    ];
    for (text, count) in cases {
        assert_eq!(answer(&text, &[])["sheets"], count, "{text}");
    }
}

#[test]
fn what_cannot_be_worked_is_refused_by_name() {
    let cases = [
        (sticks(0, "[[30, 1, -1]]", "[[31, 1]]"), "longer than every stock"),
        (sticks(0, "[[30, 1, 1]]", "[[10, 4]]"), "cannot hold"),
        (sticks(0, "[[30, 1, 0]]", "[[10, 4]]"), "longer than every stock"),
        (sticks(-1, "[[30, 1, -1]]", "[[10, 4]]"), "kerf"),
        (sticks(0, "[[0, 1, -1]]", "[[10, 4]]"), "more than 0"),
        (sticks(0, "[[30, 1, -1]]", "[[0, 4]]"), "more than 0"),
        (sticks(0, "[[30, 1, -1]]", "[[10, -4]]"), "parts"),
        (sticks(0, "[[9223372036854775807, 1, -1]]", "[[10, 4]]"), "too large"),
        (sheets(0, "[30, 30]", "[[31, 1, 1]]"), "fit no sheet"),
        (sheets(-1, "[30, 30]", "[[3, 1, 1]]"), "gap"),
        (sheets(0, "[0, 30]", "[[3, 1, 1]]"), "must lie between"),
        (sheets(0, "[30, 30]", "[[9223372036854775807, 1, 1]]"), "must lie between"),
        (sheets(0, "[30, 30]", "[[1, 1, 4000000000]]"), "more than"),
        ("name = \"a\"\nkind = \"tubes\"\n".to_owned(), "tubes"),
        ("kind = ".to_owned(), "line 1"),
    ];
    for (text, words) in cases {
        let output = run(&text, &[]);
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(!output.status.success() && output.stdout.is_empty(), "{text}");
        assert!(said.contains(words) && !said.contains("panicked"), "{text}\n{said}");
    }
}
