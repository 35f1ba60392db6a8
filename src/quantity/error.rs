//! Why a text was not a length, with the place and a hint.

use std::fmt;
use std::ops::Range;

use unicode_width::UnicodeWidthChar;

/// A text that does not say what it should, the place, and what to write.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotationError {
    /// The whole text.
    pub text: String,
    /// The place, in bytes of `text`; empty where something is missing.
    pub span: Range<usize>,
    /// What is wrong there.
    pub message: String,
    /// What to write; may be empty.
    pub hint: String,
}

impl NotationError {
    pub(super) fn new(
        text: &str,
        span: Range<usize>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self { text: text.to_owned(), span, message: message.into(), hint: hint.into() }
    }

    /// The columns, in terminal cells, before the place and under it.
    fn columns(&self) -> (usize, usize) {
        let cells = |text: Option<&str>| {
            text.unwrap_or_default().chars().map(|c| c.width().unwrap_or(1)).sum::<usize>()
        };
        (cells(self.text.get(..self.span.start)), cells(self.text.get(self.span.clone())).max(1))
    }
}

impl fmt::Display for NotationError {
    /// The message, the text with carets under the place, and the hint.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // A control character would move the caret, or the terminal.
        let text: String =
            self.text.chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect();
        let (before, under) = self.columns();
        write!(f, "{}\n  {text}\n  {}{}", self.message, " ".repeat(before), "^".repeat(under))?;
        if !self.hint.is_empty() {
            write!(f, "\nhint: {}", self.hint)?;
        }
        Ok(())
    }
}

impl std::error::Error for NotationError {}
