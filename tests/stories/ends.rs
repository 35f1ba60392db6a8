//! However it ends, the terminal is usable and the work is kept.

use crate::desk::Desk;

/// Where work on the built-in job is kept.
fn kept(desk: &Desk) -> std::path::PathBuf {
    desk.home.join(".local/state/scantling/grain-store.toml.unsaved")
}

/// The demo with one reading changed and not saved.
fn with_an_edit() -> Desk {
    let mut desk = Desk::start(&["grain-store"]);
    desk.sees("Dimensions").types("m").sees("Scale of the model");
    desk.types("\x15").types("1:64\r").sees("not saved");
    let path = kept(&desk);
    // Kept by a worker, in its own time.
    desk.until("unsaved work on disk", |_| path.exists());
    desk
}

#[test]
fn quit_gives_the_terminal_back() {
    let mut desk = Desk::start(&["grain-store"]);
    desk.sees("Dimensions").types("q");
    assert!(desk.ends().success());
    desk.is_usable();
    desk.is_cooked();
}

#[test]
fn quit_asks_when_something_is_not_saved() {
    let mut desk = with_an_edit();
    desk.types("q").sees("The job is not saved").types("d");
    assert!(desk.ends().success());
    desk.is_usable();
    assert!(!kept(&desk).exists(), "thrown away on purpose");
}

#[test]
fn ending_signals_give_the_terminal_back_and_keep_the_work() {
    for name in ["TERM", "INT", "HUP"] {
        let mut desk = with_an_edit();
        desk.signal(name);
        assert!(!desk.ends().success(), "ended by {name}");
        desk.is_usable();
        desk.is_cooked();
        let text = std::fs::read_to_string(kept(&desk)).expect("the work is kept");
        assert!(text.contains("1:64"));
    }
}

/// The terminal is held by another process, so that it goes away whole when
/// that one ends: a window closed, a line dropped.
#[test]
fn a_terminal_that_goes_away_ends_the_program_and_keeps_the_work() {
    let folder = tempfile::tempdir().expect("a folder");
    let me = std::env::current_exe().expect("this test");
    let told = folder.path().join("told");
    let status = std::process::Command::new(me)
        .args(["--exact", "ends::holds_a_terminal_and_drops_it", "--ignored", "--nocapture"])
        .env("TMPDIR", folder.path())
        .env("SCANTLING_STORY_TOLD", &told)
        .status()
        .expect("this test runs");
    assert!(status.success());
    let told = std::fs::read_to_string(told).expect("what it told");
    let (process, kept) = told.split_once(' ').expect("process and file");
    let process = process.parse().expect("a number");
    let end = std::time::Instant::now() + crate::desk::limit();
    while crate::desk::runs(process) {
        assert!(std::time::Instant::now() < end, "it does not end");
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    assert!(std::fs::read_to_string(kept).expect("the work is kept").contains("1:64"));
}

#[test]
#[ignore = "run by the story of the hang-up, to be the process that holds the terminal"]
fn holds_a_terminal_and_drops_it() {
    let told = std::env::var("SCANTLING_STORY_TOLD").expect("run by its story");
    let desk = with_an_edit();
    let text = format!("{} {}", desk.process(), kept(&desk).display());
    std::fs::write(told, text).expect("told");
    // Nothing is cleaned up: every hold on the terminal goes at once.
    std::process::exit(0);
}

/// Each step waits for the shell's own prompt: what is typed before the shell
/// has the terminal back is anybody's.
#[test]
fn stopped_and_called_again_it_goes_on() {
    let mut desk = Desk::shell();
    desk.prompts(1).types(&format!("{} grain-store\r", env!("CARGO_BIN_EXE_scantling")));
    desk.sees("Dimensions").types("m").sees("Scale of the model");
    desk.types("\x15").types("1:64\r").sees("not saved").types("\x1a");
    desk.prompts(2).is_usable();
    desk.types("fg\r");
    desk.until("the program again", |screen| {
        screen.alternate_screen() && screen.contents().contains("not saved")
    });
    desk.types("q").sees("The job is not saved").types("d");
    desk.prompts(3).types("exit\r");
    desk.ends();
    desk.is_usable();
}

/// The guard of the program itself, in a process that panics on purpose.
#[test]
fn a_panic_gives_the_terminal_back_before_its_message() {
    let me = std::env::current_exe().expect("this test");
    let mut desk =
        Desk::other(&me, &["--exact", "ends::panics_on_purpose", "--ignored", "--nocapture"]);
    desk.sees("a fault made on purpose");
    assert!(!desk.ends().success());
    desk.is_usable();
    desk.is_cooked();
}

#[test]
#[ignore = "run by the story of the panic, on a terminal of its own"]
fn panics_on_purpose() {
    use crossterm::{cursor, event, execute, terminal};
    scantling::tui::run::guarded(|| {
        terminal::enable_raw_mode().expect("raw mode");
        execute!(
            std::io::stdout(),
            terminal::EnterAlternateScreen,
            event::EnableMouseCapture,
            event::EnableBracketedPaste,
            cursor::Hide
        )
        .expect("the other screen");
        panic!("a fault made on purpose");
    });
}
