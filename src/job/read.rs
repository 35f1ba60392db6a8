//! Reading a job file: text in, a checked job or one error with its place out.

use std::fmt;

use toml_edit::Document;

use super::grammar::{self, Reader, Rule, Value as _, Wrong};
use super::{check, model::Job};
use crate::catalog::Catalog;
use crate::finding::short;

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
            message: short::message(&message.into()),
            hint: short::message(&hint.into()),
        }
    }
}

/// Most characters of a line that are shown.
const SHOWN: usize = 120;

/// The part of a long line round a column, and the column in it.
fn window(line: &str, column: usize) -> (String, usize) {
    let many = line.chars().count();
    if many <= SHOWN {
        return (line.to_owned(), column);
    }
    let from = column.saturating_sub(SHOWN / 3).min(many - SHOWN / 2);
    let part: String = line.chars().skip(from).take(SHOWN).collect();
    let lead = if from > 0 { "..." } else { "" };
    let end = if from + SHOWN < many { "..." } else { "" };
    (format!("{lead}{part}{end}"), column - from + lead.len())
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
        let (source, column) = window(&self.source, self.column);
        writeln!(f, " {number} | {source}")?;
        let lead = " ".repeat(column.saturating_sub(1));
        let room = source.chars().count().saturating_sub(column - 1).max(1);
        let caret = "^".repeat(self.length.min(room));
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
    let reader = Reader::new(text);
    let job = parse(file, text, &reader)?;
    let told = |wrong: Wrong| JobError::at(file, text, wrong.at, wrong.message, wrong.hint);
    grammar::resolve(&reader, catalog).map_err(told)?;
    check::check(&job, catalog).map_err(|trouble| {
        let range = super::locate::range(text, &trouble.place);
        JobError::at(file, text, range, trouble.message, trouble.hint)
    })?;
    Ok(job)
}

/// The text as a job, by the table of keys alone.
fn parse(file: &str, text: &str, reader: &Reader<'_>) -> Result<Job, JobError> {
    let document = Document::parse(text).map_err(|error| {
        JobError::at(file, text, error.span().unwrap_or(0..0), error.message().trim(), "")
    })?;
    let mut job = Job::read(document.as_item().into(), reader, &Rule::NONE).map_err(|wrong| {
        let hint = older(&wrong.message).map_or(wrong.hint, str::to_owned);
        JobError::at(file, text, wrong.at, wrong.message, hint)
    })?;
    job.taken = reader.taken();
    Ok(job)
}

impl std::str::FromStr for Job {
    type Err = JobError;

    /// Reads a job without holding its names against anything.
    fn from_str(text: &str) -> Result<Self, JobError> {
        parse("job", text, &Reader::new(text))
    }
}

/// What stands in place of a key of older jobs, wherever it was written.
fn older(message: &str) -> Option<&'static str> {
    let key = message.strip_prefix("the key `")?.strip_suffix("` is not known here")?;
    Some(match key {
        "eave-overhang" => "in a roof, write `eave` for what it projects at the eaves",
        "rake-overhang" => "in a roof, write `rake` for what it projects beyond the gables",
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
