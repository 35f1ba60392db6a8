//! The pairs a DXF file is made of: a code, and a value on the next line.

use std::fmt::Write as _;

/// A file being written.
#[derive(Debug, Default)]
pub(super) struct Groups {
    text: String,
    handle: u32,
}

impl Groups {
    /// A code with a text.
    pub(super) fn text(&mut self, code: u16, value: &str) -> &mut Self {
        debug_assert!(!value.contains(['\n', '\r']), "a value is one line");
        // Writing to a String cannot fail.
        let _ = writeln!(self.text, "{code:>3}\n{value}");
        self
    }

    /// A code with a whole number.
    pub(super) fn whole(&mut self, code: u16, value: i32) -> &mut Self {
        self.text(code, &value.to_string())
    }

    /// A code with a number.
    pub(super) fn number(&mut self, code: u16, value: f64) -> &mut Self {
        self.text(code, &format!("{value:.9}"))
    }

    /// Several codes with texts.
    pub(super) fn all(&mut self, pairs: &[(u16, &str)]) -> &mut Self {
        for (code, value) in pairs {
            self.text(*code, value);
        }
        self
    }

    /// A handle that no other object has.
    pub(super) fn handle(&mut self) -> String {
        self.handle += 1;
        // Handles below are given by hand to tables and dictionaries.
        format!("{:X}", 0x100 + self.handle)
    }

    /// The handle after the last one given.
    pub(super) fn next_handle(&self) -> String {
        format!("{:X}", 0x101 + self.handle)
    }

    /// The file.
    pub(super) fn finish(mut self) -> String {
        self.all(&[(0, "EOF")]);
        self.text
    }

    /// Adds what another has written.
    pub(super) fn append(&mut self, other: &Self) {
        self.text.push_str(&other.text);
    }
}
