//! What every table can do, at 60 by 20 as well: sort, filter, lead to what a
//! number came from and back, copy, be written, be clicked.

use scantling::finding::Subject;
use scantling::job::new::{Answers, text};
use scantling::tui::action::{Action, Command};
use scantling::tui::effect::Effect;
use scantling::tui::state::{Line, Over, State};

use crate::desk::Desk;

fn at(stage: &str) -> Desk {
    let mut desk = Desk::demo("grain-store", (60, 20));
    desk.stage(stage);
    desk
}

/// First cells of the rows in the order shown.
fn shown(desk: &Desk) -> Vec<String> {
    let (view, spot) = (desk.state.view().expect("a view"), desk.state.spot().expect("a spot"));
    let table = view.shown()[spot.table];
    let order = scantling::tui::screen::sheet::order(table, spot);
    order.into_iter().map(|row| table.rows[row].texts[0].clone()).collect()
}

#[test]
fn a_table_sorts_by_each_column_and_comes_back() {
    let mut desk = at("notes");
    let before = shown(&desk);
    desk.keys("o");
    let mut sorted = before.clone();
    sorted.sort();
    assert_eq!(shown(&desk), sorted);
    desk.keys("O");
    sorted.reverse();
    assert_eq!(shown(&desk), sorted);
    desk.keys("O");
    let columns = desk.state.view().expect("notes").shown()[0].heads().len();
    for _ in 0..columns {
        desk.keys("o");
    }
    assert_eq!(shown(&desk), before);
}

#[test]
fn a_filter_works_while_it_is_typed_and_esc_shows_all() {
    let mut desk = at("notes");
    let before = shown(&desk);
    desk.keys("/").text("office");
    let rows = shown(&desk);
    assert!(rows.len() < before.len() && rows.iter().any(|name| name == "office_door_left"));
    assert!(!rows.iter().any(|name| name == "d1_left"), "{rows:?}");
    desk.keys("Enter Esc");
    assert_eq!(shown(&desk), before);
}

/// A part carries what it is: its chain ends at a reading, Enter goes there,
/// Backspace comes back to the part.
#[test]
fn from_a_part_to_its_reading_and_back() {
    let [front, deep, eaves] = ["48 ft", "30 ft", "12 ft"].map(str::to_owned);
    let answers = Answers { scale: "1:48".into(), front, deep, eaves, ..Answers::default() };
    let mut desk = Desk::of("mill", &text(&answers).expect("sizes"), None, (60, 20));
    desk.stage("takeoff");
    assert!(matches!(desk.state.subject(), Some(Subject::Part(_))), "{}", desk.picture());
    let place = desk.state.spot().cloned();
    desk.keys("w");
    let Some(Over::List(list)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    let is_reading = |line: &Line| matches!(&line.target, Some((_, Subject::Reading(_))));
    let reading = list.lines.iter().position(is_reading);
    for _ in 0..reading.unwrap_or_else(|| panic!("no reading behind it: {}", desk.picture())) {
        desk.keys("Down");
    }
    desk.keys("Enter");
    assert_eq!(State::stage_name(desk.state.stage), "notes");
    assert!(matches!(desk.state.subject(), Some(Subject::Reading(_))));
    desk.keys("Backspace");
    assert_eq!(State::stage_name(desk.state.stage), "takeoff");
    assert_eq!(desk.state.spot().cloned(), place);
}

#[test]
fn a_row_is_copied_and_the_view_written_to_a_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut desk = at("stock");
    desk.keys("y");
    let row = desk.state.row().expect("a row").texts.join("\t");
    assert!(matches!(desk.outside.last(), Some(Effect::Copy(text)) if *text == row));
    let file = folder.path().join("stock.txt");
    desk.keys("W").retype(&file.display().to_string()).keys("Enter");
    let text = std::fs::read_to_string(&file).expect("the view on disk");
    assert!(row.split('\t').all(|cell| text.contains(cell.trim())), "{text}");
    // A second time nothing is written over.
    desk.keys("W").retype(&file.display().to_string()).keys("Enter");
    assert!(desk.shows("already there"), "{}", desk.picture());
}

#[test]
fn the_mouse_marks_rows_until_it_is_switched_off() {
    let mut desk = at("notes");
    let row = |desk: &Desk| desk.state.spot().map_or(0, |spot| spot.row);
    desk.act(Action::Wheel(3));
    assert_eq!(row(&desk), 3);
    desk.keys("M");
    assert!(matches!(desk.outside.last(), Some(Effect::Mouse(false))));
    desk.act(Action::Wheel(-3));
    assert_eq!(row(&desk), 3, "a mouse switched off moves nothing");
    desk.keys("M");
    assert!(matches!(desk.outside.last(), Some(Effect::Mouse(true))));
    desk.act(Action::Wheel(-3));
    assert_eq!(row(&desk), 0);
}

/// Whatever can be done on a view can be found by its words, at any size.
#[test]
fn every_action_is_found_at_60_by_20() {
    let mut desk = at("notes");
    for command in Command::ALL {
        let hits = scantling::tui::finder::hits(&desk.state, command.words());
        let applies = scantling::tui::update::applies(&desk.state, *command);
        let listed = scantling::tui::keymap::of(scantling::tui::keymap::Context::View)
            .any(|row| row.command == *command);
        let skipped = matches!(command, Command::Find | Command::Cancel);
        if listed && applies && !skipped {
            let hit = scantling::tui::finder::Hit::Command(*command);
            assert!(hits.contains(&hit), "{command:?}");
        }
    }
    desk.keys("f").text("new job").keys("Enter");
    assert!(desk.shows("What is it called?"), "{}", desk.picture());
}

/// The things done most, from keys alone, on the small screen.
#[test]
fn sixty_by_twenty_does_the_work() {
    let mut desk = at("bench");
    desk.text("8 ft");
    assert!(desk.shows("50.80 mm"), "{}", desk.picture());
    desk.stage("compress").keys("Enter").text("kept the doors").keys("Enter");
    assert!(desk.state.document.job().choice.is_some(), "{}", desk.picture());
    desk.stage("stock").keys("Enter");
    assert!(desk.shows("Stock for"), "{}", desk.picture());
    desk.keys("Esc").stage("takeoff").keys("Space");
    assert_eq!(desk.state.document.job().done.len(), 1, "{}", desk.picture());
    let undo = desk.state.document.undo_name().expect("named").to_owned();
    assert!(undo.starts_with("mark "), "{undo}");
    desk.keys("u");
    assert!(desk.shows(&format!("undone: {}", &undo[..10])), "{}", desk.picture());
}

/// Whatever the order and the filter, the row marked is the same one.
#[test]
fn every_table_of_every_view_keeps_its_row() {
    use scantling::report::table::View;
    use scantling::tui::screen::sheet::{order, settle};
    use scantling::tui::state::Spot;

    let key = |view: &View, spot: &Spot| {
        let table = view.table(spot.table)?;
        Some((table.id.clone(), table.rows[*order(table, spot).get(spot.row)?].key.clone()))
    };
    for demo in scantling::job::demo::DEMOS {
        let desk = Desk::demo(demo.name, (80, 24));
        for view in &desk.state.views {
            for (at, table) in view.shown().into_iter().enumerate() {
                let middle = table.rows.len() / 2;
                let mut spot = Spot { table: at, row: middle, ..Spot::default() };
                settle(&mut spot, view, 5);
                let was = key(view, &spot).expect("a row");
                for sort in (0..table.heads().len()).map(Some).chain([None]) {
                    for reverse in [false, true] {
                        spot = Spot { sort, reverse, ..spot };
                        settle(&mut spot, view, 5);
                        assert_eq!(key(view, &spot).as_ref(), Some(&was), "{}", table.title);
                    }
                }
                let words = table.rows[middle].texts.iter().find(|text| !text.is_empty());
                spot.filter = words.cloned().unwrap_or_default();
                settle(&mut spot, view, 5);
                assert_eq!(key(view, &spot).as_ref(), Some(&was), "{}", table.title);
                spot.filter = "no row holds this".to_owned();
                settle(&mut spot, view, 5);
                spot.filter.clear();
                settle(&mut spot, view, 5);
                assert_eq!(key(view, &spot), Some(was), "{}", table.title);
            }
        }
    }
}
