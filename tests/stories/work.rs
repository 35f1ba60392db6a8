//! The things done most.

use crate::desk::Desk;

#[test]
fn a_length_is_converted_at_the_bench() {
    let mut desk = Desk::start(&[]);
    desk.sees("Dimensions").types("\x1b[Z").sees("length");
    desk.types("8 ft").sees("50.80 mm");
    desk.signal("TERM");
    desk.ends();
}

/// A newcomer's evening: mend a reading, choose, look at what is to be cut, save.
#[test]
fn a_reading_is_mended_and_the_job_saved() {
    let mut desk = Desk::start(&[]);
    desk.sees("1 set aside").types("\x1b[C").sees("[Readings]");
    desk.types("/").sees("Show only rows").types("D3-left\r").types("\r").sees("Reading D3-left");
    desk.types("\x15").types("792.5 in\r").sees("0 set aside");
    desk.types("s").sees("Save as").types("\x15").types("mine.toml\r").sees("saved: mine.toml");
    desk.types("q");
    assert!(desk.ends().success());
    let saved = std::fs::read_to_string(desk.home.join("mine.toml")).expect("the job on disk");
    assert!(saved.contains("792.5 in") && saved.contains("# An invented building"));
}

#[test]
fn work_left_unsaved_is_offered_again() {
    let mut desk = Desk::start(&[]);
    desk.sees("Dimensions").types("S").sees("Save as").types("\x15").types("mine.toml\r");
    desk.sees("saved: mine.toml").types("q");
    desk.ends();
    let job = desk.home.join("mine.toml");
    let text = std::fs::read_to_string(&job).expect("the job on disk");
    std::fs::write(desk.home.join("mine.toml.unsaved"), text.replace("\"1:48\"", "\"1:64\""))
        .expect("unsaved work beside it");
    let path = job.display().to_string();
    let mut again = Desk::start(&[&path]);
    again.sees("Unsaved work").types("t").sees("1:64").sees("not saved").types("s");
    again.sees("saved:").types("q");
    assert!(again.ends().success());
    assert!(std::fs::read_to_string(&job).expect("the job").contains("\"1:64\""));
}

#[test]
fn an_alternative_is_chosen_with_a_reason() {
    let mut desk = Desk::start(&[]);
    desk.sees("Dimensions").stage("compress", "would be built").types("\r").sees("why this one");
    desk.types("the row of doors is kept\r").sees("chosen");
    desk.types("S").sees("Save as").types("\x15").types("mine.toml\r").sees("saved: mine.toml");
    desk.types("q");
    assert!(desk.ends().success());
    let saved = std::fs::read_to_string(desk.home.join("mine.toml")).expect("the job on disk");
    assert!(saved.contains("reason = \"the row of doors is kept\""), "{saved}");
}
