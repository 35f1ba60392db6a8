//! What a key costs the line: over a slow one, bytes are time.

use std::cell::Cell;
use std::io::{self, Write};
use std::rc::Rc;

use ratatui::backend::CrosstermBackend;
use ratatui::layout::Rect;
use ratatui::{Terminal, TerminalOptions, Viewport};
use scantling::tui::state::State;
use scantling::tui::view;
use scantling::tui::view::panes::POLE;

use crate::desk::Desk;

/// Counts what is written.
#[derive(Clone, Default)]
struct Counter(Rc<Cell<usize>>);

impl Write for Counter {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.set(self.0.get() + bytes.len());
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// A terminal of 80 by 24 that counts.
struct Line {
    terminal: Terminal<CrosstermBackend<Counter>>,
    counter: Counter,
}

impl Line {
    fn new() -> Self {
        let counter = Counter::default();
        let viewport = Viewport::Fixed(Rect::new(0, 0, 80, 24));
        let backend = CrosstermBackend::new(counter.clone());
        let terminal = Terminal::with_options(backend, TerminalOptions { viewport });
        Self { terminal: terminal.expect("a terminal"), counter }
    }

    /// Bytes to bring the picture up to date.
    fn draw(&mut self, desk: &Desk) -> usize {
        let before = self.counter.0.get();
        self.terminal
            .draw(|frame| {
                let area = frame.area();
                if let Some(cursor) = view::draw(&desk.state, area, frame.buffer_mut()) {
                    frame.set_cursor_position(cursor);
                }
            })
            .expect("drawn");
        self.counter.0.get() - before
    }
}

/// The goal: 500 bytes for one row down, and what changes in the drawing and in
/// what is said of the row and its keys: three bytes a cell of dots, and a few for each
/// stretch of cells.
#[test]
fn one_row_down_costs_at_most_500_bytes() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    let mut line = Line::new();
    for stage in 1..desk.state.stages() {
        desk.state.stage = stage;
        desk.size((80, 24));
        line.draw(&desk);
        // Not yet at the foot of the pane: beyond it every row moves.
        for row in 0..3 {
            let (before, from) = (desk.buffer(), desk.state.spot().cloned());
            desk.keys("Down");
            let after = desk.buffer();
            let bytes = line.draw(&desk);
            let to = desk.state.spot().cloned();
            if from.map(|spot| (spot.table, spot.top)) != to.map(|spot| (spot.table, spot.top)) {
                // Another table, or rows that moved: more than one row down.
                continue;
            }
            let drawing = (1..9).flat_map(|y| (POLE..80).map(move |x| (x, y)));
            let said = (21..24).flat_map(|y| (0..80).map(move |x| (x, y)));
            let changed = drawing.chain(said).filter(|at| before[*at] != after[*at]).count();
            let name = State::stage_name(stage);
            println!("{name}, row {row}: {bytes} bytes, {changed} cells beside the table");
            assert!(bytes <= 500 + 8 * changed, "{name}, row {row}: {bytes}, {changed} cells");
        }
    }
}

#[test]
fn a_picture_that_stays_costs_nothing_but_the_cursor() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    let mut line = Line::new();
    desk.stage("notes");
    line.draw(&desk);
    assert!(line.draw(&desk) < 32, "nothing changed");
}
