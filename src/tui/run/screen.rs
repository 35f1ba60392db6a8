//! The terminal: taken, drawn on, given back.

use std::io::{self, BufWriter, IsTerminal as _, Stdout, Write as _};

use crossterm::clipboard::CopyToClipboard;
use crossterm::event::{
    DisableBracketedPaste, DisableMouseCapture, EnableBracketedPaste, EnableMouseCapture,
};
use crossterm::terminal::{
    EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use crossterm::{cursor, execute};
use ratatui::Terminal;
use ratatui::backend::{Backend, ClearType, CrosstermBackend, WindowSize};
use ratatui::buffer::Cell;
use ratatui::layout::{Position, Size};

use crate::tui::pixels::Shown;
use crate::tui::state::State;
use crate::tui::view;

/// Whether there is a terminal to read from and draw on.
pub(super) fn is_there() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}

/// The terminal while the program has it.
pub(super) struct Screen {
    terminal: Terminal<Plain>,
    shown: Shown,
    /// As it was drawn last.
    drawn: Size,
}

impl Screen {
    /// Takes the terminal.
    pub(super) fn open(mouse: bool) -> io::Result<Self> {
        take(mouse)?;
        let terminal = Terminal::new(Plain::new())?;
        Ok(Self { terminal, shown: Shown::default(), drawn: Size::default() })
    }

    /// Columns and rows.
    pub(super) fn size(&self) -> io::Result<(u16, u16)> {
        self.terminal.size().map(|size| (size.width, size.height))
    }

    /// Draws what has changed.
    pub(super) fn draw(&mut self, state: &State) -> io::Result<()> {
        let frame = self.terminal.draw(|frame| {
            let area = frame.area();
            if let Some(cursor) = view::draw(state, area, frame.buffer_mut()) {
                frame.set_cursor_position(cursor);
            }
        })?;
        let size = frame.area.as_size();
        if size != self.drawn {
            // The library clears the terminal when its size changes.
            self.shown.forget();
            self.drawn = size;
        }
        let pictures = self.shown.update(state, frame.buffer);
        if pictures.is_empty() {
            return Ok(());
        }
        let mut out = io::stdout().lock();
        out.write_all(pictures.as_bytes())?;
        out.flush()
    }

    /// Copies to the terminal's clipboard.
    #[allow(clippy::unused_self, reason = "only whoever has the screen may write to it")]
    pub(super) fn copy(&mut self, text: &str) -> io::Result<()> {
        execute!(io::stdout(), CopyToClipboard::to_clipboard_from(text))
    }

    /// Listens to the mouse, or no more.
    #[allow(clippy::unused_self, reason = "only whoever has the screen may write to it")]
    pub(super) fn mouse(&mut self, on: bool) -> io::Result<()> {
        match on {
            true => execute!(io::stdout(), EnableMouseCapture),
            false => execute!(io::stdout(), DisableMouseCapture),
        }
    }

    /// Hands the terminal back and stops; takes it again when continued.
    pub(super) fn suspend(&mut self, mouse: bool) -> io::Result<()> {
        #[cfg(unix)]
        {
            give_back();
            super::signals::stop()?;
            self.take_again(mouse)?;
        }
        #[cfg(not(unix))]
        let _ = mouse;
        Ok(())
    }

    /// Takes the terminal again and draws everything anew.
    #[cfg(unix)]
    pub(super) fn take_again(&mut self, mouse: bool) -> io::Result<()> {
        // The library thinks it still has raw mode, so it is left first.
        let _ = disable_raw_mode();
        take(mouse)?;
        self.terminal = Terminal::new(Plain::new())?;
        self.shown.forget();
        self.terminal.backend_mut().clear()
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        give_back();
    }
}

fn take(mouse: bool) -> io::Result<()> {
    enable_raw_mode()?;
    execute!(io::stdout(), EnterAlternateScreen, EnableBracketedPaste, cursor::Hide)?;
    if mouse {
        execute!(io::stdout(), EnableMouseCapture)?;
    }
    Ok(())
}

/// Gives the terminal back. What fails here cannot be helped: each step is
/// tried, the next is tried all the same.
pub(super) fn give_back() {
    let mut out = io::stdout();
    let _ = execute!(out, DisableMouseCapture, DisableBracketedPaste);
    let _ = execute!(out, LeaveAlternateScreen, cursor::Show);
    let _ = disable_raw_mode();
    let _ = out.flush();
}

/// A backend that never asks the terminal where its cursor is: one that does
/// not answer would hold everything up for two seconds, and the question would
/// swallow keys.
struct Plain {
    inner: CrosstermBackend<BufWriter<Stdout>>,
    cursor: Position,
}

impl Plain {
    fn new() -> Self {
        let inner = CrosstermBackend::new(BufWriter::with_capacity(64 * 1024, io::stdout()));
        Self { inner, cursor: Position::ORIGIN }
    }
}

impl Backend for Plain {
    type Error = io::Error;

    fn draw<'a, I>(&mut self, content: I) -> io::Result<()>
    where
        I: Iterator<Item = (u16, u16, &'a Cell)>,
    {
        self.inner.draw(content)
    }

    fn append_lines(&mut self, count: u16) -> io::Result<()> {
        self.inner.append_lines(count)
    }

    fn hide_cursor(&mut self) -> io::Result<()> {
        self.inner.hide_cursor()
    }

    fn show_cursor(&mut self) -> io::Result<()> {
        self.inner.show_cursor()
    }

    fn get_cursor_position(&mut self) -> io::Result<Position> {
        Ok(self.cursor)
    }

    fn set_cursor_position<P: Into<Position>>(&mut self, position: P) -> io::Result<()> {
        self.cursor = position.into();
        self.inner.set_cursor_position(self.cursor)
    }

    fn clear(&mut self) -> io::Result<()> {
        self.inner.clear()
    }

    fn clear_region(&mut self, region: ClearType) -> io::Result<()> {
        self.inner.clear_region(region)
    }

    fn size(&self) -> io::Result<Size> {
        self.inner.size()
    }

    fn window_size(&mut self) -> io::Result<WindowSize> {
        self.inner.window_size()
    }

    fn flush(&mut self) -> io::Result<()> {
        Backend::flush(&mut self.inner)
    }
}
