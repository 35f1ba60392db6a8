//! Reading a job file: text in, a checked job or one error with its place out.

use std::fmt;

use super::{check, model::Job};
use crate::catalog::Catalog;

/// Why a job file cannot be used: where, what, and a hint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobError {
    /// The file's name, as the person gave it.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The line's text.
    pub source: String,
    /// How many characters are meant, at least 1.
    pub length: usize,
    /// What is wrong.
    pub message: String,
    /// What to do; may be empty.
    pub hint: String,
}

impl JobError {
    /// An error about a byte range of the text.
    pub(super) fn at(
        file: &str,
        text: &str,
        range: std::ops::Range<usize>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        let start = floor(text, range.start);
        let end = floor(text, range.end).max(start);
        let line_start = text[..start].rfind('\n').map_or(0, |at| at + 1);
        let line_end = text[start..].find('\n').map_or(text.len(), |at| start + at);
        Self {
            file: file.to_owned(),
            line: text[..start].matches('\n').count() + 1,
            column: text[line_start..start].chars().count() + 1,
            source: text[line_start..line_end].trim_end().to_owned(),
            length: text[start..end.min(line_end).max(start)].chars().count().max(1),
            message: message.into(),
            hint: hint.into(),
        }
    }
}

/// The byte offset, moved back to the start of a character.
fn floor(text: &str, mut at: usize) -> usize {
    at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

impl fmt::Display for JobError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = self.line.to_string();
        let gutter = " ".repeat(number.len());
        writeln!(f, "{}:{}:{}: {}", self.file, self.line, self.column, self.message)?;
        writeln!(f, " {number} | {}", self.source)?;
        let lead = " ".repeat(self.column.saturating_sub(1));
        let caret = "^".repeat(self.length.min(self.source.chars().count().max(1)));
        write!(f, " {gutter} | {lead}{caret}")?;
        if !self.hint.is_empty() {
            write!(f, "\nhint: {}", self.hint)?;
        }
        Ok(())
    }
}

impl std::error::Error for JobError {}

/// Reads a job file and checks that every name in it stands for something.
///
/// # Errors
/// The first thing that is wrong, with its line.
pub fn read(file: &str, text: &str, catalog: &Catalog) -> Result<Job, JobError> {
    super::unseen::refuse(file, text)?;
    let job: Job = toml::from_str(text).map_err(|error| from_toml(file, text, &error))?;
    check::check(&job, catalog).map_err(|trouble| {
        let range = super::locate::range(text, &trouble.place);
        JobError::at(file, text, range, trouble.message, trouble.hint)
    })?;
    Ok(job)
}

fn from_toml(file: &str, text: &str, error: &toml::de::Error) -> JobError {
    let range = error.span().unwrap_or(0..0);
    let message = error.message().trim();
    let (message, hint) = match message.split_once(super::said::HINT) {
        Some((message, hint)) => (message.to_owned(), hint.to_owned()),
        None => explain(message),
    };
    JobError::at(file, text, range, message, hint)
}

/// The deserializer's words in ours, with the key most likely meant.
fn explain(message: &str) -> (String, String) {
    let quoted: Vec<&str> = message.split('`').skip(1).step_by(2).collect();
    match (message, quoted.as_slice()) {
        (text, [key, ..]) if text.starts_with("unknown field") && now(key).is_some() => {
            (format!("the key `{key}` is not known here"), now(key).unwrap_or_default().to_owned())
        }
        (text, [key, known @ ..]) if text.starts_with("unknown field") => {
            let hint = match nearest(key, known.iter().copied()) {
                Some(meant) => format!("did you mean `{meant}`?"),
                None => format!("the keys here are {}", known.join(", ")),
            };
            (format!("the key `{key}` is not known here"), hint)
        }
        (text, [value, known @ ..]) if text.starts_with("unknown variant") => {
            let hint = format!("one of {}", known.join(", "));
            (format!("\"{value}\" is not one of the words known here"), hint)
        }
        (text, [key, ..]) if text.starts_with("missing field") => {
            (format!("the key `{key}` is missing here"), String::new())
        }
        _ => (message.to_owned(), String::new()),
    }
}

/// What stands in place of a table or key of older jobs.
fn now(key: &str) -> Option<&'static str> {
    Some(match key {
        "building" => {
            "the building is a list of [[body]], the main one first: name = \"main\", depth, eave; \
             its front is the wall main/front"
        }
        "roof" => "a roof belongs to its body: write it as [body.roof] behind the [[body]]",
        "face" => {
            "a face is a [[wall]] of a body and side: of = \"main/front\", main/left, main/back"
        }
        "core" => {
            "the core is a [[layer]] with does = \"core\" and thick, named in the layers of \
             [walls]; `corners` stands in the [[body]]"
        }
        "attached" => {
            "it is a [[body]] of its own: stands = { against = \"main/front\", at = \"4 ft\" }, \
             eave for its height, and its roof as roof = { kind = \"shed\", pitch = \"3:12\" }"
        }
        "eave-overhang" => "in a roof, write `eave` for what it projects at the eaves",
        "rake-overhang" => "in a roof, write `rake` for what it projects beyond the gables",
        "overhangs" => "write counts = \"walls\", \"eaves\" or \"all\"",
        "gable" => "leave it out: the roof of the body says where its gables are",
        _ => return None,
    })
}

/// The known word nearest to the one written, when one is near.
#[must_use]
pub fn nearest<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    known
        .map(|candidate| (strsim::levenshtein(word, candidate), candidate))
        .min()
        .filter(|(distance, candidate)| *distance <= (candidate.chars().count() / 2).clamp(1, 3))
        .map(|(_, candidate)| candidate)
}
