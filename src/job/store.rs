//! Job files: opened, saved as one step with one backup, and never over
//! somebody else's change; unsaved work kept apart.

use std::fmt::Write as _;
use std::fs;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::{Path, PathBuf};

use super::beside::beside;
use crate::disk::{self, Change, DiskError, change, read};

/// Why a job file could not be opened or saved.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The file could not be read or written.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// Somebody else changed the file since it was opened.
    #[error("{} was changed by another program since it was opened; nothing was written{}\nhint: save under another name, or open it again", path.display(), differing(mine, theirs))]
    Changed {
        /// The file.
        path: PathBuf,
        /// The text that was to be saved.
        mine: String,
        /// What the file holds now.
        theirs: String,
    },
}

/// Most places where two texts differ that are shown.
const MOST_SHOWN: usize = 8;

/// Both texts where they differ, by the table they stand in.
fn differing(mine: &str, theirs: &str) -> String {
    let hunks = beside(mine, theirs);
    let mut out = String::new();
    for hunk in hunks.iter().take(MOST_SHOWN) {
        let _ = write!(out, "\n{}", hunk.place);
        for (whose, lines) in [("not saved", &hunk.mine), ("in the file", &hunk.theirs)] {
            for line in lines {
                let _ = write!(out, "\n  {whose}: {line}");
            }
        }
    }
    if hunks.len() > MOST_SHOWN {
        let _ = write!(out, "\nand {} places more", hunks.len() - MOST_SHOWN);
    }
    out
}

/// The text of a job file.
///
/// # Errors
/// When it cannot be read, is no regular file, is too large, or is not UTF-8.
pub fn open(path: &Path) -> Result<String, StoreError> {
    Ok(read::text(path)?)
}

/// A job file that is being changed: from here to the save nobody else saves
/// in its folder.
#[derive(Debug)]
pub struct Saving {
    path: PathBuf,
    change: Change,
}

impl Saving {
    /// Begins a change.
    ///
    /// # Errors
    /// When somebody else saves there and does not end.
    pub fn begin(path: &Path) -> Result<Self, StoreError> {
        Ok(Self { path: path.to_owned(), change: Change::begin(path)? })
    }

    /// Saves `text`, provided the file still holds `opened`; the old text stays
    /// beside it as `NAME.before`.
    ///
    /// # Errors
    /// When the file was changed meanwhile, or the system refuses: then the old
    /// file stands untouched.
    pub fn save(&self, text: &str, opened: &str) -> Result<(), StoreError> {
        match self.change.text()? {
            Some(theirs) if theirs != opened && theirs != text => {
                let (path, mine) = (self.path.clone(), text.to_owned());
                return Err(StoreError::Changed { path, mine, theirs });
            }
            Some(now) if now == text => return Ok(()),
            Some(now) => self.change.write_beside(".before", now.as_bytes())?,
            None => {}
        }
        Ok(self.change.replace(text.as_bytes())?)
    }
}

/// Saves `text`, provided the file still holds `opened`, as [`Saving::save`].
///
/// # Errors
/// As there.
pub fn save(path: &Path, text: &str, opened: &str) -> Result<(), StoreError> {
    Saving::begin(path)?.save(text, opened)
}

/// Saves `text` under a new name.
///
/// # Errors
/// When a file of that name is there, or the system refuses.
pub fn save_new(path: &Path, text: &str) -> Result<(), StoreError> {
    Ok(disk::create(path, text.as_bytes())?)
}

/// Where work that is not saved yet is kept, beside its job.
#[must_use]
pub fn recovery(path: &Path) -> PathBuf {
    disk::beside(&change::target(path), ".unsaved")
}

/// Keeps work that is not saved yet beside its job.
///
/// # Errors
/// When the system refuses.
pub fn keep_recovery(path: &Path, text: &str) -> Result<(), StoreError> {
    Ok(Change::begin(&recovery(path))?.replace(text.as_bytes())?)
}

/// Unsaved work left beside a job by an earlier run, if it differs from it.
#[must_use]
pub fn find_recovery(path: &Path, saved: &str) -> Option<String> {
    open(&recovery(path)).ok().filter(|text| text != saved)
}

/// Forgets kept work; it does not matter if there is none.
pub fn drop_recovery(path: &Path) {
    let _ = fs::remove_file(recovery(path));
}

/// Where the unsaved work of a job is kept: beside it, or in the program's own
/// folder when nothing can be written beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Keep {
    path: PathBuf,
    away: Option<PathBuf>,
}

impl Keep {
    /// The places for a job in `path`; `folder` is the program's own.
    #[must_use]
    pub fn of(path: &Path, folder: Option<&Path>) -> Self {
        let away = folder.map(|folder| {
            let mut hash = DefaultHasher::new();
            fs::canonicalize(path).unwrap_or_else(|_| path.to_owned()).hash(&mut hash);
            let name = path.file_stem().unwrap_or_default().to_string_lossy();
            folder.join("unsaved").join(format!("{name}-{:016x}.toml", hash.finish()))
        });
        Self { path: path.to_owned(), away }
    }

    /// The name beside which work is kept.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Keeps work.
    ///
    /// # Errors
    /// When the system refuses in both places.
    pub fn write(&self, text: &str) -> Result<(), StoreError> {
        let made = |path: &Path| {
            if let Some(folder) = path.parent() {
                // Where this fails, the next line says so.
                let _ = fs::create_dir_all(folder);
            }
            keep_recovery(path, text)
        };
        let refused = match made(&self.path) {
            Ok(()) => {
                self.away.as_deref().inspect(|away| drop_recovery(away));
                return Ok(());
            }
            Err(error) => error,
        };
        match &self.away {
            Some(away) => made(away).map_err(|_| refused),
            None => Err(refused),
        }
    }

    /// Work an earlier run left, if it differs from the job. What stands away
    /// is the newer: a write beside the job takes it away.
    #[must_use]
    pub fn find(&self, saved: &str) -> Option<String> {
        let away = self.away.as_deref().and_then(|away| find_recovery(away, saved));
        away.or_else(|| find_recovery(&self.path, saved))
    }

    /// Forgets kept work.
    pub fn forget(&self) {
        drop_recovery(&self.path);
        self.away.as_deref().inspect(|away| drop_recovery(away));
    }
}
