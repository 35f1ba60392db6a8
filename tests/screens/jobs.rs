//! Which job is worked on: a new one, another one, one changed on disk.

use std::path::PathBuf;

use scantling::tui::action::Action;
use scantling::tui::state::{Over, State};

use crate::desk::Desk;

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder")
}

/// A job on disk that is worked on.
fn on_disk(folder: &tempfile::TempDir) -> (Desk, PathBuf) {
    let path = folder.path().join("store.toml");
    let text = scantling::job::demo::find("grain-store").expect("a job").text;
    std::fs::write(&path, text).expect("written");
    let mut desk = Desk::of("store", text, Some(path.clone()), (80, 24));
    desk.state.folder = Some(folder.path().to_owned());
    (desk, path)
}

fn scale(desk: &mut Desk, to: &str) {
    desk.stage("notes").keys("m").retype(to).keys("Enter");
}

fn on_disk_too(path: &PathBuf, from: &str, to: &str) {
    let text = std::fs::read_to_string(path).expect("the job");
    assert!(text.contains(from));
    std::fs::write(path, text.replace(from, to)).expect("changed by another program");
}

#[test]
fn five_answers_make_a_building_and_name_the_next_step() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.keys("N");
    insta::assert_snapshot!("new-job", desk.picture());
    desk.text("The old mill").keys("Tab").retype("1:48").keys("Tab").text("48 ft \u{b1} 2 ft");
    desk.keys("Tab").text("30 ft").keys("Tab").text("12 ft").keys("Enter");
    assert!(desk.state.over.is_empty(), "{}", desk.picture());
    assert_eq!(desk.state.document.job().about.name, "The old mill");
    assert!(desk.state.document.is_changed() && desk.shows("not saved"));
    insta::assert_snapshot!("new-job-made", desk.picture());
    // By hand: 48 ft, 30 ft and 12 ft at 1:48 are 12, 7 1/2 and 3 inches; the
    // ridge of 6:12 over half of 30 ft stands 7'-6" higher.
    desk.stage("faces");
    let sizes: Vec<_> = desk.state.view().expect("faces").shown()[0]
        .rows
        .iter()
        .map(|row| (row.texts[0].clone(), row.texts[1].clone(), row.texts[2].clone()))
        .collect();
    let row = |name: &str, full: &str, model: &str| {
        assert!(sizes.contains(&(name.into(), full.into(), model.into())), "{sizes:?}");
    };
    row("length", "48'-0\"", "12.000 in");
    row("depth", "30'-0\"", "7.500 in");
    row("eave", "12'-0\"", "3.000 in");
    row("ridge", "19'-6\"", "4.875 in");
    desk.stage("takeoff");
    assert!(desk.state.row().is_some(), "there are parts to cut: {}", desk.picture());
}

#[test]
fn every_view_of_every_job_names_the_next_step() {
    for name in ["grain-store", "river-cannery", "creamery"] {
        let mut desk = Desk::demo(name, (80, 24));
        for stage in 1..desk.state.stages() {
            desk.state.stage = stage;
            desk.size((80, 24));
            assert!(desk.shows("Next: "), "{name} {}", desk.picture());
        }
    }
}

#[test]
fn what_is_wrong_with_an_answer_is_said_and_nothing_is_lost() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.keys("N").text("Mill").keys("Tab Tab").text("12.6").keys("Enter");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(form.trouble.contains("length"), "{}", form.trouble);
    assert_eq!(form.fields[0].input.value(), "Mill");
    assert_eq!(desk.state.document.job().about.name, "The grain store");
}

#[test]
fn a_job_that_is_not_saved_is_asked_about_before_another_is_opened() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    scale(&mut desk, "1:64");
    desk.keys("j");
    insta::assert_snapshot!("jobs", desk.picture());
    desk.keys("End Enter");
    assert!(desk.shows("The job is not saved"), "{}", desk.picture());
    desk.keys("Esc");
    assert_eq!(desk.state.document.job().about.name, "The grain store");
    desk.keys("j End Enter d");
    assert_eq!(desk.state.document.job().about.name, "The lost creamery");
    assert!(!desk.state.document.is_changed());
}

#[test]
fn the_last_jobs_are_offered_and_opened() {
    let folder = folder();
    let (mut desk, path) = on_disk(&folder);
    desk.keys("j End Enter");
    assert_eq!(desk.state.place.path, None);
    scantling::job::last::note(folder.path(), &path);
    desk.state.last = scantling::job::last::jobs(folder.path());
    desk.keys("j Down");
    assert!(desk.shows("store.toml"), "{}", desk.picture());
    desk.keys("Enter");
    assert_eq!(desk.state.place.path.as_ref().map(|path| path.ends_with("store.toml")), Some(true));
}

#[test]
fn a_file_changed_meanwhile_is_shown_beside_and_mine_kept() {
    let folder = folder();
    let (mut desk, path) = on_disk(&folder);
    scale(&mut desk, "1:64");
    on_disk_too(&path, "hand = \"10 thou\"", "hand = \"5 thou\"");
    desk.keys("s");
    assert!(matches!(desk.state.over.last(), Some(Over::Beside(_))), "{}", desk.picture());
    insta::assert_snapshot!("beside", desk.picture());
    let there = std::fs::read_to_string(&path).expect("the job");
    assert!(there.contains("1:48") && there.contains("\"5 thou\""), "nothing is written unasked");
    desk.keys("k");
    let there = std::fs::read_to_string(&path).expect("the job");
    assert!(there.contains("1:64") && there.contains("hand = \"10 thou\""));
    let before = folder.path().join("store.toml.before");
    assert!(std::fs::read_to_string(before).expect("theirs").contains("\"5 thou\""));
    assert!(!desk.state.document.is_changed() && desk.state.over.is_empty());
}

#[test]
fn theirs_is_taken_as_an_edit_that_can_be_undone() {
    let folder = folder();
    let (mut desk, path) = on_disk(&folder);
    scale(&mut desk, "1:64");
    on_disk_too(&path, "hand = \"10 thou\"", "hand = \"5 thou\"");
    desk.keys("s t");
    let text = desk.state.document.text().to_owned();
    assert!(text.contains("1:48") && text.contains("\"5 thou\""));
    assert!(!desk.state.document.is_changed(), "it is what stands on disk");
    desk.keys("u");
    assert!(desk.state.document.text().contains("1:64"));
    assert!(desk.state.document.is_changed());
    // What was taken is what the file still holds: saving is plain again.
    desk.keys("s");
    assert!(std::fs::read_to_string(&path).expect("the job").contains("1:64"));
}

#[test]
fn mine_can_go_under_another_name() {
    let folder = folder();
    let (mut desk, path) = on_disk(&folder);
    scale(&mut desk, "1:64");
    on_disk_too(&path, "hand = \"10 thou\"", "hand = \"5 thou\"");
    let other = folder.path().join("other.toml");
    desk.keys("s S").retype(&other.display().to_string()).keys("Enter");
    assert!(std::fs::read_to_string(&other).expect("mine").contains("1:64"));
    assert!(std::fs::read_to_string(&path).expect("theirs").contains("\"5 thou\""));
    assert_eq!(desk.state.place.path, Some(other));
    assert!(desk.state.over.is_empty(), "{}", desk.picture());
}

#[test]
fn decided_later_is_asked_again() {
    let folder = folder();
    let (mut desk, path) = on_disk(&folder);
    scale(&mut desk, "1:64");
    on_disk_too(&path, "hand = \"10 thou\"", "hand = \"5 thou\"");
    desk.keys("q s");
    assert!(matches!(desk.state.over.last(), Some(Over::Beside(_))), "{}", desk.picture());
    desk.keys("Esc");
    assert!(desk.state.document.is_changed() && desk.shows("changed on disk"));
    desk.keys("s");
    assert!(matches!(desk.state.over.last(), Some(Over::Beside(_))));
    // Changed once more while both are looked at: shown anew.
    on_disk_too(&path, "\"5 thou\"", "\"7 thou\"");
    desk.keys("k");
    let Some(Over::Beside(beside)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(beside.theirs.contains("\"7 thou\""));
}

#[test]
fn a_change_on_disk_is_noticed_at_the_next_edit() {
    let folder = folder();
    let (mut desk, path) = on_disk(&folder);
    on_disk_too(&path, "1:48", "1:32");
    scale(&mut desk, "1:64");
    assert!(desk.shows("another program changed"), "{}", desk.picture());
}

#[test]
fn what_is_on_disk_may_be_no_job() {
    let folder = folder();
    let (mut desk, path) = on_disk(&folder);
    scale(&mut desk, "1:64");
    std::fs::write(&path, "half a jo").expect("written");
    desk.keys("s t");
    assert!(desk.shows("is no job"), "{}", desk.picture());
    assert!(matches!(desk.state.over.last(), Some(Over::Beside(_))));
    assert!(desk.state.document.text().contains("1:64"));
}

#[test]
fn both_texts_fit_any_size() {
    let folder = folder();
    let (mut desk, path) = on_disk(&folder);
    scale(&mut desk, "1:64");
    std::fs::write(&path, "a\n".repeat(3_000)).expect("written");
    desk.keys("s End PageDown");
    for over in ["", "j"] {
        desk.keys(if over.is_empty() { "" } else { "Esc" }).keys(over);
        for wide in [0, 1, 9, 39, 40, 41, 60, 80, 300] {
            for high in [0, 1, 9, 10, 11, 20, 24, 100] {
                desk.act(Action::Resize(wide, high));
                let area = ratatui::layout::Rect::new(0, 0, wide, high);
                let mut buffer = ratatui::buffer::Buffer::empty(area);
                scantling::tui::view::draw(&desk.state, area, &mut buffer);
            }
        }
    }
    assert!(State::stage_name(desk.state.stage) == "notes");
}
