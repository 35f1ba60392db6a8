//! A job on a desk: keys go in, pictures come out, work is done at once.

use std::path::PathBuf;
use std::sync::Arc;

use crossterm::event::KeyCode;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use scantling::catalog::Catalog;
use scantling::job::demo;
use scantling::job::document::Document;
use scantling::job::store::Keep;
use scantling::plan::long::{Kind, Question};
use scantling::solve::watch::Watch;
use scantling::tui::action::{Action, Key};
use scantling::tui::effect::{Answer, Effect, is_for_the_loop, perform};
use scantling::tui::state::{Place, State};
use scantling::tui::update::{start, update};
use scantling::tui::view;
use scantling::tui::view::palette::Look;

/// A job with everything around it.
pub(crate) struct Desk {
    pub(crate) state: State,
    /// Plans are not worked out: for long rows of edits.
    pub(crate) idle: bool,
    /// Effects that only a terminal could have done.
    pub(crate) outside: Vec<Effect>,
}

impl Desk {
    /// A built-in job on a terminal of that size.
    pub(crate) fn demo(name: &str, size: (u16, u16)) -> Self {
        let text = demo::find(name).expect("a built-in job").text;
        Self::of(name, text, None, size)
    }

    /// A job by its text, kept in a file or nowhere.
    pub(crate) fn of(name: &str, text: &str, path: Option<PathBuf>, size: (u16, u16)) -> Self {
        let catalog = Arc::new(Catalog::built_in().expect("the data read"));
        let document = Document::read(name, text, &catalog).expect("the job reads");
        let keep = path.as_deref().map(|path| Keep::of(path, None));
        let place = Place { keep, path, opened: text.to_owned(), ..Place::default() };
        let state = State::new(document, place, catalog, Look::default());
        let mut desk = Self { state, idle: false, outside: Vec::new() };
        desk.size(size);
        let effects = start(&mut desk.state);
        desk.work(effects);
        desk
    }

    fn work(&mut self, effects: Vec<Effect>) {
        for effect in effects {
            if self.idle && matches!(effect, Effect::Plan { .. }) {
                continue;
            }
            if let Effect::Long { question, .. } = &effect
                && question.kind == Kind::Compared
            {
                self.compare(question);
            } else if is_for_the_loop(&effect) {
                self.outside.push(effect);
            } else if let Some(answer) = perform(effect, &self.state.catalog.clone()) {
                self.act(Action::Answer(answer));
            }
        }
    }

    /// What is compared beside the alternatives is quick enough to be done here.
    fn compare(&mut self, question: &Question) {
        let answer = question.work(&mut Watch { stop: &|| false, tell: &mut |_| {} });
        self.act(Action::Answer(Answer::LongDone { input: question.input, answer: Ok(answer) }));
    }

    pub(crate) fn act(&mut self, action: Action) {
        let effects = update(&mut self.state, action);
        self.work(effects);
    }

    pub(crate) fn size(&mut self, (wide, high): (u16, u16)) {
        self.act(Action::Resize(wide, high));
    }

    /// Keys by name, apart by spaces: `Tab Enter q`. Other words are typed.
    pub(crate) fn keys(&mut self, names: &str) -> &mut Self {
        for name in names.split(' ').filter(|name| !name.is_empty()) {
            let code = match name {
                "Enter" => KeyCode::Enter,
                "Tab" => KeyCode::Tab,
                "BackTab" => KeyCode::BackTab,
                "Esc" => KeyCode::Esc,
                "Up" => KeyCode::Up,
                "Down" => KeyCode::Down,
                "Left" => KeyCode::Left,
                "Right" => KeyCode::Right,
                "Home" => KeyCode::Home,
                "End" => KeyCode::End,
                "PageDown" => KeyCode::PageDown,
                "PageUp" => KeyCode::PageUp,
                "Backspace" => KeyCode::Backspace,
                "F1" => KeyCode::F(1),
                "Space" => KeyCode::Char(' '),
                other => {
                    self.text(other);
                    continue;
                }
            };
            self.act(Action::Key(Key::plain(code)));
        }
        self
    }

    /// Letters, one by one.
    pub(crate) fn text(&mut self, text: &str) -> &mut Self {
        for letter in text.chars() {
            self.act(Action::Key(Key::plain(KeyCode::Char(letter))));
        }
        self
    }

    /// Empties the field and types anew.
    pub(crate) fn retype(&mut self, text: &str) -> &mut Self {
        self.act(Action::Key(Key::ctrl('u')));
        self.text(text)
    }

    /// Down or up the pole to a stage.
    pub(crate) fn stage(&mut self, name: &str) -> &mut Self {
        for _ in 0..self.state.stages() {
            if State::stage_name(self.state.stage) == name {
                return self;
            }
            self.keys("Tab");
        }
        panic!("there is no stage {name}");
    }

    /// Marks the row that speaks of `word` in its first cell.
    pub(crate) fn row(&mut self, word: &str) -> &mut Self {
        self.keys("Home");
        let tables = self.state.view().map_or(0, |view| view.shown().len());
        for _ in 0..tables {
            self.keys("Home");
            let spot = self.state.spot().expect("a spot").clone();
            let view = self.state.view().expect("a view");
            let rows = view.shown()[spot.table].rows.len();
            for _ in 0..rows {
                let here = self.state.row().and_then(|row| row.texts.first().cloned());
                if here.as_deref() == Some(word) {
                    return self;
                }
                if self.state.spot().expect("a spot").row + 1 < rows {
                    self.keys("Down");
                }
            }
            self.keys("Right");
        }
        panic!("no row speaks of {word}");
    }

    /// Marks the row of a subject in the view shown.
    pub(crate) fn subject_row(&mut self, subject: &scantling::finding::Subject) -> &mut Self {
        let at = self.state.stage - 1;
        let found =
            self.state.views[at].shown().into_iter().enumerate().find_map(|(table, one)| {
                let row = one.rows.iter().position(|row| row.subject.as_ref() == Some(subject))?;
                Some((table, row))
            });
        let (table, row) = found.expect("a row of that subject");
        self.state.spots[at] = scantling::tui::state::Spot { table, row, ..Default::default() };
        // Any action settles the place and has the alternative laid out.
        let size = self.state.size;
        self.size(size);
        self
    }

    /// The cells as they are drawn.
    pub(crate) fn buffer(&self) -> Buffer {
        let (wide, high) = self.state.size;
        let mut terminal = Terminal::new(TestBackend::new(wide, high)).expect("a test terminal");
        terminal
            .draw(|frame| {
                let area = frame.area();
                if let Some(cursor) = view::draw(&self.state, area, frame.buffer_mut()) {
                    frame.set_cursor_position(cursor);
                }
            })
            .expect("drawing on a test terminal");
        terminal.backend().buffer().clone()
    }

    /// The picture as text, the rows marked shown by `>` at the right edge,
    /// because reverse is lost in text.
    pub(crate) fn picture(&self) -> String {
        let buffer = self.buffer();
        let reversed = ratatui::style::Modifier::REVERSED;
        let mut out = String::new();
        for y in 0..buffer.area.height {
            let mut marked = 0;
            let mut line = String::new();
            for x in 0..buffer.area.width {
                let cell = &buffer[(x, y)];
                marked += usize::from(cell.modifier.contains(reversed));
                line.push_str(cell.symbol());
            }
            out.push_str(line.trim_end());
            out.push_str(if marked > 10 { "   <<<\n" } else { "\n" });
        }
        out
    }

    /// Whether the picture holds a text.
    pub(crate) fn shows(&self, text: &str) -> bool {
        self.picture().contains(text)
    }
}
