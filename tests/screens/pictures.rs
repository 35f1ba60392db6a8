//! A stored picture of every view, at two sizes.

use scantling::tui::state::{Spot, State};

use crate::desk::Desk;

fn store(job: &str, size: (u16, u16)) {
    let mut desk = Desk::demo(job, size);
    for stage in 0..desk.state.stages() {
        desk.state.stage = stage;
        desk.size(size);
        let name = format!("{}-{}x{}", State::stage_name(stage), size.0, size.1);
        insta::assert_snapshot!(name, desk.picture());
    }
}

#[test]
fn every_view_at_80_by_24() {
    store("grain-store", (80, 24));
}

#[test]
fn every_view_at_120_by_40() {
    store("grain-store", (120, 40));
}

#[test]
fn what_lies_over_a_view() {
    for (name, keys) in
        [("help", "?"), ("finder", "f"), ("why", "w"), ("form", "Enter"), ("findings", "l")]
    {
        let mut desk = Desk::demo("grain-store", (80, 24));
        desk.stage("notes").keys(keys);
        insta::assert_snapshot!(name, desk.picture());
    }
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("bench").keys("Enter");
    insta::assert_snapshot!("bench-large", desk.picture());
}

/// What is longer than the screen is reached to its last line: the list of the
/// sums, an answer, and back to the top.
#[test]
fn a_long_answer_on_the_bench_is_paged() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("bench").keys("Backspace");
    insta::assert_snapshot!("bench-list-first", desk.picture());
    desk.keys("PageDown PageDown");
    insta::assert_snapshot!("bench-list-further", desk.picture());
    desk.keys(&"PageDown ".repeat(20));
    assert!(desk.shows("what scale is"), "{}", desk.picture());
    desk.keys(&"PageUp ".repeat(20));
    assert!(desk.shows("board feet"), "{}", desk.picture());
    desk.text("6:12 run 19 ft, tail 18 in");
    insta::assert_snapshot!("bench-long-first", desk.picture());
    desk.keys("PageDown PageDown PageDown PageDown");
    insta::assert_snapshot!("bench-long-last", desk.picture());
    assert!(desk.shows("source"), "{}", desk.picture());
    desk.text(" ");
    assert!(!desk.shows("PgUp"), "a letter goes back to the top\n{}", desk.picture());
}

#[test]
fn sticks_and_sheets_are_drawn_as_they_are_cut() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("layout");
    for (name, table) in [
        ("cut-sticks", "wood 0.8 mm x 3 mm"),
        ("cut-sheets", "core"),
        ("cut-order", "core: cuts in order"),
    ] {
        let at = desk.state.stage - 1;
        let found = desk.state.views[at].shown().into_iter().position(|one| one.title == table);
        desk.state.spots[at] = Spot { table: found.unwrap(), row: 2, ..Spot::default() };
        desk.size((100, 30));
        insta::assert_snapshot!(name, desk.picture());
    }
}

#[test]
fn the_mock_up_measured_and_taken_back() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("mockup").row("depth").keys("Enter").text("4.25 in").keys("Enter");
    insta::assert_snapshot!("mockup-measured", desk.picture());
    desk.row("depth").keys("t");
    insta::assert_snapshot!("mockup-take-back", desk.picture());
    desk.keys("Enter");
    insta::assert_snapshot!("mockup-taken", desk.picture());
}
