//! Questions as a builder types them at the bench, answered on the first line.

use scantling::bench::{Desk, Found, Look, ask};
use scantling::catalog::Catalog;
use scantling::job::document::Document;
use scantling::plan::plan;
use scantling::quantity::Scale;
use scantling::report::bench::{sum_view, view};

fn first_line(question: &str, catalog: &Catalog, scale: &Scale) -> Result<String, String> {
    let desk = Desk {
        catalog,
        scale: scale.clone(),
        to: None,
        year: None,
        model: false,
        unit: None,
        look: Look::default(),
    };
    let shown = match ask(question, &desk) {
        Ok(Found::Length(outcome, _)) => view(&outcome, desk.look),
        Ok(Found::Sum(answer)) => sum_view(&answer),
        Err(stop) => return Err(stop.told()),
    };
    Ok(format!("{} {}", shown.title, shown.lead.first().cloned().unwrap_or_default()))
}

#[test]
fn questions_are_answered_on_the_first_line() {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let scale = catalog.scales.find("HO").expect("HO");
    let text = include_str!("desk/questions.txt");
    let (mut asked, mut keys, mut wrong) = (0_usize, 0_usize, Vec::new());
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        let (question, wanted) = line.split_once(" | ").expect("a question and its answer");
        asked += 1;
        keys += question.chars().count();
        match first_line(question, &catalog, &scale) {
            Ok(said) if said.contains(wanted) => {}
            Ok(said) => wrong.push(format!("{question}: wanted {wanted}, said {said}")),
            Err(stop) => wrong.push(format!("{question}: wanted {wanted}, refused: {stop}")),
        }
    }
    println!("{asked} questions, {:.1} keys each", keys as f64 / asked as f64);
    assert!(wrong.is_empty(), "{} of {asked} wrong\n{}", wrong.len(), wrong.join("\n"));
    assert!(asked >= 40);
    assert!(keys < 30 * asked, "{keys} keys for {asked} questions");
}

/// Whatever is typed, no answer is that a unit is unknown: the book says what it
/// has, or what to write.
#[test]
fn what_is_not_understood_names_what_can_be_asked() {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let scale = catalog.scales.find("HO").expect("HO");
    for line in [
        "3 furlongs",
        "2x12x",
        "6:12 of what",
        "wibble",
        "stairs",
        "curve",
        "25",
        "x",
        "12 V",
        "-",
        "1/0 in",
        "board feet",
        "shingles at 4:12",
        "5 parsecs at HO",
    ] {
        if let Err(told) = first_line(line, &catalog, &scale) {
            assert!(!told.contains("is no unit"), "{line}: {told}");
            assert!(told.contains("hint: "), "{line}: {told}");
        }
    }
}

/// A full-size length and one on the model are never added: both meanings are
/// worked out. 12 ft in HO is 42 mm, 2 in of the model 14.514 ft (COMPUTED).
#[test]
fn two_worlds_are_refused_with_both_meanings() {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let scale = catalog.scales.find("HO").expect("HO");
    let told = first_line("12 ft + 2 in model", &catalog, &scale).expect_err("two worlds");
    assert!(told.contains("two worlds"), "{told}");
    assert!(told.contains("26'-6 11/64\"") && told.contains("3.6535433 in"), "{told}");
}

/// A wall 1 1/2 in from straight track, and no building: the box car of 10 ft is
/// 17.5 mm to a side in HO, so 20.6 mm are left (worked by hand).
#[test]
fn track_and_a_wall_need_no_building() {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let text = r#"
[job]
name = "wall by the track"
scale = "HO"
[track]
cars = ["40 ft box car"]
at = ["0 in", "-1.5 in"]
[[track.piece]]
straight = "40 in"
[[obstacle]]
name = "wall"
from = ["15 in", "0 in", "1 in"]
to = ["25 in", "0 in", "1 in"]
solid = true
"#;
    let document = Document::read("wall", text, &catalog).expect("a job");
    let plan = plan(document.job(), &catalog);
    let found = plan.clearance.expect("it goes on").expect("a track");
    assert_eq!(found.checked.len(), 1);
    let held = found.checked[0].held[0].as_ref().expect("held against the car");
    assert!((held.clear * 25.4 - 20.6).abs() < 0.01, "{}", held.clear * 25.4);
}

/// Prints how long an answer takes; it asserts no time. Run it with
/// `cargo test --release --test scenarios -- --ignored --nocapture answer_takes`.
#[test]
#[ignore = "prints a time"]
fn how_long_an_answer_takes() {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let scale = catalog.scales.find("HO").expect("HO");
    let text = include_str!("desk/questions.txt");
    let questions: Vec<&str> = text
        .lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| Some(line.split_once(" | ")?.0))
        .collect();
    // Every beginning of every question: what the field on the screen is asked
    // at each key.
    let (mut keys, mut worst, mut all) = (0_u32, 0.0_f64, 0.0);
    for question in &questions {
        for (end, _) in question.char_indices().skip(1) {
            let start = std::time::Instant::now();
            let _ = first_line(&question[..end], &catalog, &scale);
            let taken = start.elapsed().as_secs_f64() * 1e3;
            (keys, worst, all) = (keys + 1, worst.max(taken), all + taken);
        }
    }
    println!("{keys} keys, {:.3} ms each, {worst:.3} ms at worst", all / f64::from(keys));
}
