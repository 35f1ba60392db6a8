//! However it ends, the terminal is usable and the work is kept.

use crate::desk::Desk;

/// Where work on the built-in job is kept.
fn kept(desk: &Desk) -> std::path::PathBuf {
    desk.home.join(".local/state/scantling/grain-store.toml.unsaved")
}

/// The demo with one reading changed and not saved.
fn with_an_edit() -> Desk {
    let mut desk = Desk::start(&[]);
    desk.sees("Dimensions").types("m").sees("Scale of the model");
    desk.types("\x15").types("1:64\r").sees("not saved");
    let path = kept(&desk);
    // Kept by a worker, in its own time.
    desk.until("unsaved work on disk", |_| path.exists());
    desk
}

#[test]
fn quit_gives_the_terminal_back() {
    let mut desk = Desk::start(&[]);
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

#[test]
#[ignore = "the reader of this harness holds the terminal open, so that it never goes away"]
fn a_terminal_that_goes_away_ends_the_program_and_keeps_the_work() {
    let mut desk = with_an_edit();
    desk.hang_up();
    desk.ends();
    assert!(kept(&desk).exists());
}

#[test]
#[ignore = "what is typed to the shell right after the program is now and then lost"]
fn stopped_and_called_again_it_goes_on() {
    let mut desk = Desk::shell();
    desk.sees("ready>").types(&format!("{}\r", env!("CARGO_BIN_EXE_scantling")));
    desk.sees("Dimensions").types("\x1a");
    desk.until("the shell", |screen| !screen.alternate_screen());
    desk.sees("ready>");
    desk.is_usable();
    desk.types("fg\r");
    desk.until("the program again", |screen| {
        screen.alternate_screen() && screen.contents().contains("Dimensions")
    });
    desk.types("q");
    desk.until("the shell", |screen| !screen.alternate_screen());
    desk.types("exit\r");
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
