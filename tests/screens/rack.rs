//! Cutting: what is cut leaves the list, what is left goes to the rack.

use scantling::finding::Subject;
use scantling::tui::state::{Over, Spot};

use crate::desk::Desk;

/// The sticks of the rafters: 13 of five and one of three.
const RAFTERS: &str = "wood 0.8 mm x 3 mm";

fn at_table(desk: &mut Desk, title: &str, row: usize) {
    desk.stage("layout");
    let at = desk.state.stage - 1;
    let found = desk.state.views[at].shown().into_iter().position(|one| one.title == title);
    desk.state.spots[at] = Spot { table: found.expect(title), row, ..Spot::default() };
    let size = desk.state.size;
    desk.size(size);
}

fn needed(desk: &Desk, stock: &str) -> u32 {
    let layout = desk.state.plan.as_ref().unwrap().layout.as_ref().unwrap();
    layout.sticks.iter().find(|group| group.stock == stock).map_or(0, |group| group.count())
}

#[test]
fn a_stick_that_is_cut_leaves_the_list_and_its_offcut_goes_to_the_rack() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    at_table(&mut desk, RAFTERS, 0);
    assert_eq!(needed(&desk, RAFTERS), 14);
    desk.keys("k");
    assert!(desk.shows("Left of each, for the rack: 2.7"), "{}", desk.picture());
    desk.retype("4").keys("Enter");
    assert_eq!(needed(&desk, RAFTERS), 10);
    let job = desk.state.document.job();
    assert_eq!((job.cut[0].part.as_str(), job.cut[0].count), ("main/roof/rafter-1", 20));
    assert_eq!((job.offcuts[0].stock.as_str(), job.offcuts[0].count), (RAFTERS, 4));
    at_table(&mut desk, "On the rack", 0);
    assert!(desk.shows(RAFTERS), "{}", desk.picture());
    desk.keys("u");
    assert_eq!(needed(&desk, RAFTERS), 14);
    assert!(!desk.state.document.text().contains("[[offcut]]"));
}

#[test]
fn more_sticks_than_the_list_has_are_refused() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    at_table(&mut desk, RAFTERS, 1);
    desk.keys("k").retype("2").keys("Enter");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(form.trouble.contains("from 1 to 1"), "{}", form.trouble);
}

#[test]
fn the_list_of_what_to_buy_is_not_cut() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    at_table(&mut desk, "To buy", 0);
    desk.keys("k");
    assert!(desk.state.over.is_empty());
}

/// Cutting one stick or sheet after the other, as listed, is never dearer than
/// the list said at first, and in the end every part is cut.
#[test]
fn cutting_all_as_listed_takes_no_more_than_was_listed() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("layout");
    let layout = desk.state.plan.as_ref().unwrap().layout.clone().unwrap();
    let listed: u32 = layout.sticks.iter().map(|group| group.count()).sum();
    let mut bought = 0;
    for _ in 0..200 {
        let layout = desk.state.plan.as_ref().unwrap().layout.clone().unwrap();
        if let Some(group) = layout.sticks.first() {
            let cut = &group.layout.cuts[0];
            bought += if group.is_new(cut) { cut.times } else { 0 };
            let title = group.stock.clone();
            at_table(&mut desk, &title, 0);
        } else if let Some(group) = layout.sheets.first() {
            let title = format!("{}: cuts in order", group.stock);
            at_table(&mut desk, &title, 0);
        } else {
            break;
        }
        desk.keys("k Enter");
        assert!(desk.state.over.is_empty(), "{}", desk.picture());
    }
    assert!(bought <= listed, "{bought} sticks for {listed}");
    let layout = desk.state.plan.as_ref().unwrap().layout.clone().unwrap();
    assert!(layout.sticks.is_empty() && layout.sheets.is_empty(), "{}", desk.picture());
    let job = desk.state.document.job();
    let takeoff = desk.state.plan.as_ref().unwrap().takeoff.as_ref().unwrap();
    for part in takeoff.parts.iter().filter(|part| !job.done.contains_key(&part.label)) {
        assert_eq!(part.form, scantling::takeoff::Form::Bought, "{} is not cut", part.label);
    }
    // Cut to a size that is no longer wanted: the person hears of it.
    desk.keys("m").retype("1:45").keys("Enter");
    let about = Subject::Part("main/roof/rafter-1".to_owned());
    let findings = &desk.state.plan.as_ref().unwrap().findings;
    assert!(findings.iter().any(|one| one.subject == about && one.message.contains("were cut")));
}
