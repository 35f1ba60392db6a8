//! A job with its text, and every edit undoable.

use toml_edit::DocumentMut;

use super::edit::{Edit, EditError};
use super::model::Job;
use super::read::{JobError, read};
use crate::catalog::Catalog;

/// A job as text and as types, always in step.
///
/// Undo keeps whole texts: a job is some twenty thousand characters, and a
/// text that was there before is an inverse that cannot be wrong.
#[derive(Clone, Debug)]
pub struct Document {
    name: String,
    text: String,
    job: Job,
    saved: String,
    undo: Vec<Before>,
    redo: Vec<Before>,
}

/// A text that an edit replaced.
#[derive(Clone, Debug)]
struct Before {
    edit: String,
    text: String,
}

/// Most steps kept for undo.
const STEPS: usize = 500;

impl Document {
    /// Reads a job from its text. `name` is what errors call the file.
    ///
    /// # Errors
    /// The first thing that is wrong with the text.
    pub fn read(name: &str, text: &str, catalog: &Catalog) -> Result<Self, JobError> {
        Ok(Self {
            name: name.to_owned(),
            text: text.to_owned(),
            job: read(name, text, catalog)?,
            saved: text.to_owned(),
            undo: Vec::new(),
            redo: Vec::new(),
        })
    }

    /// The same for a text that stands in no file yet: there is something to
    /// save from the start.
    ///
    /// # Errors
    /// The first thing that is wrong with the text.
    pub fn unsaved(name: &str, text: &str, catalog: &Catalog) -> Result<Self, JobError> {
        Ok(Self { saved: String::new(), ..Self::read(name, text, catalog)? })
    }

    /// What the person wrote.
    #[must_use]
    pub fn job(&self) -> &Job {
        &self.job
    }

    /// The text as it would be saved.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text as tables, to look at.
    #[must_use]
    pub fn file(&self) -> DocumentMut {
        // The text was read as a job, so it is one.
        self.text.parse().unwrap_or_default()
    }

    /// What errors call the file.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Gives the file another name, after it was saved under one.
    pub fn rename(&mut self, name: &str) {
        name.clone_into(&mut self.name);
    }

    /// Whether there is something to save.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.text != self.saved
    }

    /// Notes that the text as it stands is on disk.
    pub fn mark_saved(&mut self) {
        self.saved.clone_from(&self.text);
    }

    /// Makes an edit. The job is left as it was when the edit cannot be made,
    /// or when its outcome is no job.
    ///
    /// # Errors
    /// What stood in the way, named with the edit.
    pub fn apply(&mut self, edit: &Edit, catalog: &Catalog) -> Result<(), EditError> {
        let fail = |trouble: String| EditError { edit: edit.name(), trouble };
        let mut file: DocumentMut =
            self.text.parse().map_err(|error: toml_edit::TomlError| fail(error.to_string()))?;
        edit.apply(&mut file)?;
        let text = file.to_string();
        let job = read(&self.name, &text, catalog).map_err(|error| {
            fail(if error.hint.is_empty() {
                error.message
            } else {
                format!("{} ({})", error.message, error.hint)
            })
        })?;
        if text == self.text {
            return Ok(());
        }
        let before = Before { edit: edit.name(), text: std::mem::replace(&mut self.text, text) };
        self.job = job;
        self.undo.push(before);
        if self.undo.len() > STEPS {
            self.undo.remove(0);
        }
        self.redo.clear();
        Ok(())
    }

    /// Puts another text in place of this one, as an edit that can be undone:
    /// work that an earlier run left unsaved.
    ///
    /// # Errors
    /// What is wrong with the text; then nothing is changed.
    pub fn take_up(&mut self, text: &str, edit: &str, catalog: &Catalog) -> Result<(), JobError> {
        self.job = read(&self.name, text, catalog)?;
        let old = std::mem::replace(&mut self.text, text.to_owned());
        self.undo.push(Before { edit: edit.to_owned(), text: old });
        self.redo.clear();
        Ok(())
    }

    /// What undo would take back.
    #[must_use]
    pub fn undo_name(&self) -> Option<&str> {
        self.undo.last().map(|before| before.edit.as_str())
    }

    /// What redo would do again.
    #[must_use]
    pub fn redo_name(&self) -> Option<&str> {
        self.redo.last().map(|before| before.edit.as_str())
    }

    /// Takes the last edit back and says which it was.
    pub fn undo(&mut self, catalog: &Catalog) -> Option<String> {
        let before = self.undo.pop()?;
        let (edit, now) = self.step_to(before, catalog);
        self.redo.push(now);
        Some(edit)
    }

    /// Makes the last edit taken back again, and says which it was.
    pub fn redo(&mut self, catalog: &Catalog) -> Option<String> {
        let before = self.redo.pop()?;
        let (edit, now) = self.step_to(before, catalog);
        self.undo.push(now);
        Some(edit)
    }

    fn step_to(&mut self, target: Before, catalog: &Catalog) -> (String, Before) {
        // A text of the history was a job when it was put there.
        if let Ok(job) = read(&self.name, &target.text, catalog) {
            self.job = job;
        }
        let text = std::mem::replace(&mut self.text, target.text);
        (target.edit.clone(), Before { edit: target.edit, text })
    }
}
