//! The terminal: every view redrawn whole at two sizes, and what lies between
//! a key and its picture on a job of a thousand parts.

use criterion::{Criterion, criterion_group, criterion_main};
use crossterm::event::KeyCode;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use scantling::job::demo;
use scantling::job::new::{Answers, text};
use scantling::tui::action::{Action, Command, Key};
use scantling::tui::effect::{Effect, is_for_the_loop, perform};
use scantling::tui::state::{Place, State};
use scantling::tui::update::{start, update};
use scantling::tui::view::{self, palette::Look};
use scantling_benches::{catalog, document};
use std::sync::Arc;

/// A job with everything worked out.
fn desk(name: &str, text: &str, size: (u16, u16)) -> State {
    let catalog = Arc::new(catalog());
    let document = document(name, text, &catalog);
    let mut state = State::new(document, Place::default(), catalog, Look::default());
    act(&mut state, Action::Resize(size.0, size.1));
    let effects = start(&mut state);
    work(&mut state, effects);
    state
}

fn act(state: &mut State, action: Action) {
    let effects = update(state, action);
    work(state, effects);
}

fn work(state: &mut State, effects: Vec<Effect>) {
    for effect in effects.into_iter().filter(|effect| !is_for_the_loop(effect)) {
        let catalog = state.catalog.clone();
        if let Some(answer) = perform(effect, &catalog) {
            act(state, Action::Answer(answer));
        }
    }
}

fn draw(terminal: &mut Terminal<TestBackend>, state: &State) {
    let drawn = terminal.draw(|frame| {
        let area = frame.area();
        view::draw(state, area, frame.buffer_mut());
    });
    drawn.expect("drawing on a test terminal");
}

/// Drawn over nothing each time: the dearest picture there is.
fn redraws(c: &mut Criterion) {
    for size in [(80, 24), (200, 60)] {
        let mut group = c.benchmark_group(format!("redraw at {} by {}", size.0, size.1));
        group.sample_size(20);
        let demo = demo::find("grain-store").expect("a built-in job");
        let mut state = desk(demo.name, demo.text, size);
        for stage in 0..state.stages() {
            state.stage = stage;
            act(&mut state, Action::Resize(size.0, size.1));
            let terminal = Terminal::new(TestBackend::new(size.0, size.1));
            let mut terminal = terminal.expect("a test terminal");
            group.bench_function(State::stage_name(stage), |b| {
                b.iter(|| {
                    terminal.clear().expect("cleared");
                    draw(&mut terminal, &state);
                });
            });
        }
    }
}

/// A boarded hall of more than a thousand parts.
fn large() -> String {
    let answers = Answers {
        name: "The long hall".to_owned(),
        scale: "1:48".to_owned(),
        front: "170 ft".to_owned(),
        deep: "60 ft".to_owned(),
        eaves: "14 ft".to_owned(),
        ..Answers::default()
    };
    let text = text(&answers).expect("sizes");
    let boarded = text.replace("layers = [\"core\"]\n", "layers = [\"boards\", \"core\"]\n");
    boarded
        + "\n[[cladding]]\nname = \"boards\"\nkind = \"board-and-batten\"\nunit = \"10 in\"\n\
           batten = \"3 in\"\n"
}

/// Update and picture; what a worker does beside it is not waited for.
fn keys(c: &mut Criterion) {
    let mut state = desk("hall", &large(), (80, 24));
    let takeoff = state.plan.as_ref().and_then(|plan| plan.takeoff.as_ref().ok().cloned());
    let parts: u64 =
        takeoff.map_or(0, |found| found.parts.iter().map(|part| u64::from(part.count)).sum());
    assert!(parts >= 1000, "{parts} parts");
    let stage = (0..state.stages()).find(|at| State::stage_name(*at) == "takeoff");
    state.stage = stage.expect("a stage of that name");
    act(&mut state, Action::Resize(80, 24));
    let mut terminal = Terminal::new(TestBackend::new(80, 24)).expect("a test terminal");
    draw(&mut terminal, &state);
    let mut group = c.benchmark_group("key to picture, 1,000 parts");
    group.sample_size(20);
    for (name, keys) in [
        ("one row down and up", [KeyCode::Down, KeyCode::Up]),
        ("to the last row and back", [KeyCode::End, KeyCode::Home]),
        ("next stage and back", [KeyCode::Tab, KeyCode::BackTab]),
    ] {
        group.bench_function(name, |b| {
            b.iter(|| {
                for key in keys {
                    let _ = update(&mut state, Action::Key(Key::plain(key)));
                    draw(&mut terminal, &state);
                }
            });
        });
    }
    for (name, command) in [("sort", Command::Sort), ("undo and redo", Command::Undo)] {
        if command == Command::Undo {
            let _ = update(&mut state, Action::Do(Command::Tick));
        }
        let second = if command == Command::Undo { Command::Redo } else { command };
        group.bench_function(name, |b| {
            b.iter(|| {
                for command in [command, second] {
                    let _ = update(&mut state, Action::Do(command));
                    draw(&mut terminal, &state);
                }
            });
        });
    }
}

criterion_group!(benches, redraws, keys);
criterion_main!(benches);
