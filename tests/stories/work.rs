//! The things done most.

use std::time::Duration;

use crate::desk::Desk;

#[test]
fn a_length_is_converted_at_the_bench() {
    let mut desk = Desk::start(&["grain-store"]);
    desk.sees("Dimensions").types("\x1b[Z").sees("length");
    desk.types("8 ft").sees("50.80 mm");
    desk.signal("TERM");
    desk.ends();
}

/// A newcomer's evening: mend a reading, choose, look at what is to be cut, save.
#[test]
fn a_reading_is_mended_and_the_job_saved() {
    let mut desk = Desk::start(&["grain-store"]);
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
    let mut desk = Desk::start(&["grain-store"]);
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
    let mut desk = Desk::start(&["grain-store"]);
    desk.sees("Dimensions").stage("compress", "would be built").types("\r").sees("why this one");
    desk.types("the row of doors is kept\r").sees("chosen");
    desk.types("S").sees("Save as").types("\x15").types("mine.toml\r").sees("saved: mine.toml");
    desk.types("q");
    assert!(desk.ends().success());
    let saved = std::fs::read_to_string(desk.home.join("mine.toml")).expect("the job on disk");
    assert!(saved.contains("reason = \"the row of doors is kept\""), "{saved}");
}

#[test]
fn the_nearest_stock_is_picked_by_hand_with_a_reason() {
    let mut desk = Desk::start(&["grain-store"]);
    desk.sees("Dimensions").stage("stock", "Nearest stock").types("\r").sees("Stock for");
    desk.types("\x15").types("styrene 0.020 in x 0.250 in\t").types("on the shelf\r");
    desk.sees("not saved").sees("in x 0.250 in");
    desk.types("S").sees("Save as").types("\x15").types("mine.toml\r").sees("saved: mine.toml");
    desk.types("q");
    assert!(desk.ends().success());
    let saved = std::fs::read_to_string(desk.home.join("mine.toml")).expect("the job on disk");
    assert!(
        saved.contains("size = \"styrene 0.020 in x 0.250 in\"") && saved.contains("on the shelf")
    );
}

/// From nothing to a building: the start offers a new job, five answers make
/// it, it is saved, and the next start offers it again.
#[test]
fn a_new_job_is_typed_from_the_start() {
    let mut desk = Desk::start(&[]);
    desk.sees("which building?").types("\r").sees("What is it called?");
    desk.types("The old mill\t").sees("The old mill").types("\x15").types("1:48\t");
    desk.types("48 ft\t30 ft\t12 ft\r").sees("not saved").sees("Next: ").sees("12.000 in");
    desk.types("s").sees("the-old-mill.toml").types("\r").sees("saved: ");
    let saved = std::fs::read_to_string(desk.home.join("the-old-mill.toml")).expect("on disk");
    assert!(saved.contains("name = \"The old mill\"") && saved.contains("[[body]]"), "{saved}");
    desk.types("j").sees("Go on with").sees("the-old-mill.toml").types("\x1b");
    desk.until("the view again", |screen| !screen.contents().contains("Go on with"));
    desk.types("q");
    assert!(desk.ends().success());
}

/// Somebody edits the file by hand while it is open here.
#[test]
fn a_job_changed_on_disk_is_shown_beside_before_anything_is_written() {
    let mut desk = Desk::start(&["grain-store"]);
    desk.sees("Dimensions").types("S").sees("Save as").types("\x15").types("mine.toml\r");
    desk.sees("saved: mine.toml");
    let job = desk.home.join("mine.toml");
    let text = std::fs::read_to_string(&job).expect("the job on disk");
    std::fs::write(&job, text.replace("\"10 thou\"", "\"5 thou\"")).expect("by hand");
    desk.types("m").sees("Scale of the model").types("\x15").types("1:64\r");
    desk.sees("another program changed").types("s");
    desk.sees("what is on disk").sees("hand = \"5 thou\"");
    assert!(std::fs::read_to_string(&job).expect("the job").contains("\"5 thou\""));
    desk.types("k").sees("saved: ").types("q");
    assert!(desk.ends().success());
    let (now, before) = (job.clone(), desk.home.join("mine.toml.before"));
    let read = |path| std::fs::read_to_string(path).expect("a text");
    assert!(read(now).contains("\"1:64\"") && read(before).contains("\"5 thou\""));
}

#[test]
fn two_windows_on_one_job_know_of_each_other() {
    let mut first = Desk::start(&["grain-store"]);
    first.sees("Dimensions").types("S").sees("Save as").types("\x15").types("mine.toml\r");
    first.sees("saved: mine.toml");
    let path = first.home.join("mine.toml").display().to_string();
    let mut second = Desk::at(&first.home.clone(), &[&path]);
    second.sees("open in another window").types("q");
    second.ends();
    first.types("q");
    first.ends();
    let mut third = Desk::at(&first.home.clone(), &[&path]);
    third.sees("Dimensions");
    assert!(!third.text().contains("open"), "{}", third.text());
    third.types("q");
    third.ends();
}

/// Drawn on events only: once nothing happens, nothing is written.
#[test]
fn an_idle_terminal_is_left_alone() {
    let mut desk = Desk::start(&["river-cannery"]);
    desk.sees("Dimensions").stage("compress", "would be built");
    // Work that began alone may still report.
    desk.is_quiet_for(Duration::from_secs(3));
    assert_eq!(desk.hears(Duration::from_secs(4)), 0);
    desk.types("\x1b[B");
    assert!(desk.hears(Duration::from_secs(2)) > 0, "a key is answered");
}

/// What a start costs; printed, because the machine decides:
/// `cargo test --release --test stories -- --ignored --nocapture start`.
#[test]
#[ignore = "prints what a start costs"]
fn what_a_start_costs() {
    let mut firsts: Vec<_> =
        (0..15).map(|_| Desk::first_frame(&["grain-store", "--ground", "dark"])).collect();
    firsts.sort();
    println!("first frame: median {:.1?}, longest {:.1?}", firsts[7], firsts[14]);
    let mut desk = Desk::start(&["grain-store"]);
    desk.sees("Dimensions");
    for name in ["compress", "takeoff", "layout", "templates", "record"] {
        desk.stage(name, &format!("\u{25b6}{}", &name[..6]));
    }
    desk.is_quiet_for(Duration::from_secs(2));
    let status = std::fs::read_to_string(format!("/proc/{}/status", desk.process()));
    let status = status.unwrap_or_default();
    for line in status.lines().filter(|line| line.starts_with("VmRSS") || line.starts_with("VmHWM"))
    {
        println!("{line}");
    }
    desk.types("q");
    desk.ends();
}
