//! The tables of the job on the screen: every table has its form.

use std::collections::BTreeSet;

use scantling::finding::Subject;
use scantling::job::slot::{Holds, Line, Slot, lines};
use scantling::tui::screen::tables::Tables;
use scantling::tui::state::{Over, State};

use crate::desk::Desk;

const EVERY: &str = include_str!("../properties/every_key.toml");

fn empty(size: (u16, u16)) -> Desk {
    let answers = scantling::job::new::Answers {
        name: "Shed".to_owned(),
        scale: "1:48".to_owned(),
        ..Default::default()
    };
    let text = scantling::job::new::text(&answers).expect("a job");
    Desk::of("shed", &text, None, size)
}

fn tables(state: &State) -> &Tables {
    match state.over.last() {
        Some(Over::Tables(tables)) => tables,
        _ => panic!("the tables are not open"),
    }
}

impl Desk {
    /// The tables opened at a place, its line marked.
    fn opened(&mut self, slot: &Slot) -> &mut Self {
        let file = self.state.document.file();
        let outer = slot.parent().unwrap_or_default();
        let mut open = Tables::at(&file, &outer);
        let at = open.lines.iter().position(|line| line.slot.is_at(slot)).expect("a line of it");
        open.go(at);
        self.state.over = vec![Over::Tables(Box::new(open))];
        self
    }

    fn trouble(&self) -> String {
        tables(&self.state).trouble.clone()
    }
}

/// An empty stage begins what it lacks; a shed is made with the keys alone.
#[test]
fn a_shed_is_described_from_nothing() {
    let mut desk = empty((80, 24));
    desk.stage("faces");
    assert!(desk.shows("Next: Enter describes the body"), "{}", desk.picture());
    desk.keys("Enter").text("main").keys("Enter");
    assert!(desk.trouble().contains("has no eave"), "{}", desk.picture());
    desk.text("9").keys("Enter");
    insta::assert_snapshot!("forms-refused", desk.picture());
    desk.text(" ft").keys("Enter");
    // Without a depth it would be one wall alone.
    desk.keys("/").text("depth").keys("Enter").text("12 ft").keys("Enter");
    desk.keys("End Enter");
    insta::assert_snapshot!("forms-choice", desk.picture());
    desk.text("ga").keys("Enter").text("6:12").keys("Enter");
    insta::assert_snapshot!("forms-row", desk.picture());
    desk.keys("q");
    assert!(desk.shows("Next: Enter describes the wall"), "{}", desk.picture());
    desk.keys("Enter").text("main/f").keys("Enter");
    assert_eq!(tables(&desk.state).here().path(), "wall.main/front");
    // To its row: plain wall, door, plain wall.
    let row = tables(&desk.state).lines.iter().position(|line| line.slot.word() == "row");
    for _ in 0..row.expect("a row") - tables(&desk.state).mark() {
        desk.keys("Down");
    }
    desk.keys("Enter").text("pl").keys("Enter").text("a").keys("Enter").text("7 ft").keys("Enter");
    desk.keys("a").text("pl").keys("Enter").text("b").keys("Enter").text("8 ft").keys("Enter");
    desk.keys("Left");
    insta::assert_snapshot!("forms-list", desk.picture());
    desk.keys("q");
    let job = desk.state.document.job();
    assert_eq!(job.walls[0].row.len(), 2);
    assert!(desk.shows("15'-0\""), "the drawing follows: {}", desk.picture());
}

/// What is written is in sight to the letter: names and values are wrapped, never
/// cut.
#[test]
fn nothing_of_name_and_value_is_cut() {
    for (size, long) in [((80, 24), 8), ((140, 45), 40)] {
        let mut desk = Desk::of("every", EVERY, None, size);
        desk.idle = true;
        for line in written(&desk) {
            let is_long = line.text.as_ref().is_some_and(|text| text.len() > long);
            if matches!(line.holds, Holds::Value) && is_long {
                desk.opened(&line.slot);
                let shown = desk.picture();
                let value = line.text.unwrap_or_default();
                let last = value.split_whitespace().last().unwrap_or_default();
                let word = line.slot.word().trim_matches('"').to_owned();
                assert!(shown.contains(&word) && shown.contains(last), "{}: {shown}", line.slot);
            }
        }
    }
}

/// Every line of a job that is written.
fn written(desk: &Desk) -> Vec<Line> {
    let file = desk.state.document.file();
    let mut found = Vec::new();
    let mut open = vec![Slot::root()];
    while let Some(slot) = open.pop() {
        for line in lines(&file, &slot).into_iter().filter(|line| line.text.is_some()) {
            open.push(line.slot.clone());
            found.push(line);
        }
    }
    found
}

/// Each value is typed again as it is, and each key taken out and put back, by
/// keys alone.
#[test]
fn every_value_is_typed_and_taken_out_on_the_screen() {
    let mut desk = Desk::of("every", EVERY, None, (80, 24));
    desk.idle = true;
    let (mut many, mut seen) = (0, BTreeSet::new());
    for line in written(&desk) {
        let Holds::Value = line.holds else { continue };
        let table = line.slot.parent().and_then(|it| it.shape()).map(|shape| shape.head.name);
        if !seen.insert((table, line.key.map(|key| key.name))) {
            continue;
        }
        let kept = desk.state.document.clone();
        let before = kept.text().to_owned();
        let value = line.text.clone().unwrap_or_default();
        desk.opened(&line.slot).keys("x");
        let gone = desk.state.document.text() != before;
        // What must be there, or is named elsewhere, is refused with a reason.
        assert!(gone || !desk.trouble().is_empty(), "{}: {}", line.slot, desk.picture());
        if gone && line.slot.is_written(&desk.state.document.file()) {
            panic!("{} is still there", line.slot);
        }
        let pair = ["paper.across", "paper.up"].contains(&line.slot.path().as_str());
        if gone && !pair && lines_hold(&desk, &line) {
            desk.opened(&line.slot).keys("Enter").retype(&value).keys("Enter");
            while tables(&desk.state).entry.is_some() && desk.trouble().is_empty() {
                desk.keys("Enter");
            }
            assert_eq!(desk.trouble(), "", "{} = {value}", line.slot);
            many += 1;
        }
        desk.state.document = kept;
    }
    println!("{} keys, {many} of them taken out and typed again", seen.len());
    assert!(many > 200, "{many}");
}

/// Whether the table round a line still shows it: the key that told the kind of a
/// row does not come back alone.
fn lines_hold(desk: &Desk, line: &Line) -> bool {
    let outer = line.slot.parent().unwrap_or_default();
    let file = desk.state.document.file();
    lines(&file, &outer).iter().any(|one| one.slot.is_at(&line.slot))
}

#[test]
fn rows_are_copied_renamed_moved_and_removed() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.idle = true;
    let file = desk.state.document.file();
    let door = Slot::find(&file, "opening.freight-door").unwrap();
    let before = desk.state.document.text().to_owned();
    desk.opened(&door).keys("c").text("coal-door").keys("Enter");
    desk.keys(">");
    let names = |desk: &Desk| -> Vec<String> {
        desk.state.document.job().openings.iter().map(|one| one.name.clone()).collect()
    };
    assert_eq!(names(&desk)[2], "coal-door", "{}", desk.picture());
    desk.keys("x").keys("Home n").retype("wide-door").keys("Enter");
    assert_eq!(names(&desk)[0], "wide-door");
    assert!(desk.state.document.text().contains("kind = \"wide-door\""));
    desk.keys("u u u u");
    assert!(desk.state.document.text() == before, "each was one step");
}

#[test]
fn the_row_under_the_cursor_opens_what_it_speaks_of() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("notes").subject_row(&Subject::Reading("D3-left".into())).keys("d");
    assert_eq!(tables(&desk.state).here().path(), "reading.D3-left");
    desk.keys("Esc");
    assert_eq!(tables(&desk.state).line().unwrap().slot.word(), "D3-left");
    desk.keys("q").stage("stock").subject_row(&Subject::Member("knee-brace".into())).keys("d");
    assert_eq!(tables(&desk.state).here().path(), "member.knee-brace");
    desk.keys("q").stage("lamps").keys("d");
    assert!(tables(&desk.state).here().path().starts_with("lamps."), "{}", desk.picture());
    desk.keys("D");
    insta::assert_snapshot!("forms-tables", desk.picture());
    desk.size((140, 45));
    insta::assert_snapshot!("forms-tables-wide", desk.picture());
}

/// Names come from the job and the data; several are parted by commas.
#[test]
fn names_are_picked() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.idle = true;
    let file = desk.state.document.file();
    let layers = Slot::find(&file, "walls.layers").unwrap();
    desk.opened(&layers).keys("Enter").retype("roof").keys("Enter");
    assert!(tables(&desk.state).entry.is_some(), "one of several was taken");
    desk.keys("Enter");
    assert_eq!(desk.state.document.job().usual.layers, ["roof-iron"]);
    let roof = Slot::find(&file, "body.main.roof.cladding").unwrap();
    desk.opened(&roof).keys("Enter Down");
    insta::assert_snapshot!("forms-names", desk.picture());
}

/// Plain signs, no colour, and the smallest screen.
#[test]
fn the_tables_are_drawn_everywhere() {
    let mut desk = Desk::demo("river-cannery", (40, 10));
    desk.keys("D");
    insta::assert_snapshot!("forms-small", desk.picture());
    desk.state.look.ascii = true;
    desk.size((80, 24));
    let shown = desk.picture();
    assert!(shown.lines().all(|line| line.is_ascii()), "{shown}");
}

/// Whatever is pressed, the job stays one that can be read, and each edit is one
/// step back.
#[test]
fn keys_in_any_order_leave_a_job() {
    let keys =
        "Enter Enter Down Down Up a x c n < > u r Esc Tab BackTab / D Home End Left Right 7 \
                s p , w { 2 Space ft [ \" } ] = in Backspace"
            .split(' ')
            .filter(|key| *key != "s")
            .collect::<Vec<_>>();
    let mut desk = Desk::of("every", EVERY, None, (80, 24));
    desk.idle = true;
    desk.keys("D");
    let mut at = 20_261_127_u64;
    for step in 0..4_000 {
        at = at.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let key = keys[(at >> 33) as usize % keys.len()];
        desk.keys(key);
        if !matches!(desk.state.over.last(), Some(Over::Tables(_))) {
            desk.state.over.clear();
            desk.keys("D");
        }
        if step % 50 == 0 {
            let shown = desk.picture();
            assert!(shown.lines().count() >= 24, "{shown}");
        }
    }
    let text = desk.state.document.text().to_owned();
    let catalog = desk.state.catalog.clone();
    let again = scantling::job::document::Document::read("every", &text, &catalog);
    assert!(again.is_ok(), "{text}");
}
