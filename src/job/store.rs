//! Job files on disk: opened, saved whole or not at all, with one backup, and
//! never over somebody else's change.

use std::fs;
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};

/// Largest job file that is read: far beyond any building.
const LARGEST: u64 = 16 * 1024 * 1024;

/// Why a job file could not be opened or saved.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The system refused.
    #[error("{doing} {}: {error}", path.display())]
    System {
        /// What was being done.
        doing: &'static str,
        /// To what.
        path: PathBuf,
        /// The system's word.
        error: io::Error,
    },
    /// The file is larger than any job.
    #[error("{} has {size} bytes or more: that is no job file", path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Its size.
        size: u64,
    },
    /// Somebody else changed the file since it was opened.
    #[error("{} was changed by another program since it was opened; save under another name, or open it again", path.display())]
    Changed {
        /// The file.
        path: PathBuf,
    },
    /// A file of that name is already there.
    #[error("{} is already there; nothing was written", path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
}

fn system(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> StoreError {
    let path = path.to_owned();
    move |error| StoreError::System { doing, path, error }
}

/// The text of a job file.
///
/// # Errors
/// When it cannot be read, is too large, or is not UTF-8.
pub fn open(path: &Path) -> Result<String, StoreError> {
    let size = fs::metadata(path).map_err(system("opening", path))?.len();
    if size > LARGEST {
        return Err(StoreError::TooLarge { path: path.to_owned(), size });
    }
    // A device tells no size, and may have no end.
    let file = fs::File::open(path).map_err(system("opening", path))?;
    let mut text = String::new();
    file.take(LARGEST + 1).read_to_string(&mut text).map_err(system("reading", path))?;
    if text.len() as u64 > LARGEST {
        return Err(StoreError::TooLarge { path: path.to_owned(), size: text.len() as u64 });
    }
    Ok(text)
}

/// Saves `text`, provided the file still holds `opened`; the old text stays
/// beside it as `NAME.before`.
///
/// # Errors
/// When the file was changed meanwhile, or the system refuses: then the old
/// file stands untouched.
pub fn save(path: &Path, text: &str, opened: &str) -> Result<(), StoreError> {
    match fs::read_to_string(path) {
        Ok(now) if now != opened && now != text => {
            return Err(StoreError::Changed { path: path.to_owned() });
        }
        Ok(now) => write_whole(&beside(path, ".before"), &now)?,
        Err(error) if error.kind() == io::ErrorKind::NotFound => {}
        Err(error) => return Err(system("reading", path)(error)),
    }
    write_whole(path, text)
}

/// Saves `text` under a new name.
///
/// # Errors
/// When a file of that name is there, or the system refuses.
pub fn save_new(path: &Path, text: &str) -> Result<(), StoreError> {
    if path.exists() {
        return Err(StoreError::Exists { path: path.to_owned() });
    }
    write_whole(path, text)
}

/// Where work that is not saved yet is kept, beside its job.
#[must_use]
pub fn recovery(path: &Path) -> PathBuf {
    beside(path, ".unsaved")
}

/// Keeps work that is not saved yet.
///
/// # Errors
/// When the system refuses.
pub fn keep_recovery(path: &Path, text: &str) -> Result<(), StoreError> {
    write_whole(&recovery(path), text)
}

/// Unsaved work left from an earlier run, if it differs from the job.
#[must_use]
pub fn find_recovery(path: &Path, saved: &str) -> Option<String> {
    open(&recovery(path)).ok().filter(|text| text != saved)
}

/// Forgets kept work; it does not matter if there is none.
pub fn drop_recovery(path: &Path) {
    let _ = fs::remove_file(recovery(path));
}

fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

/// Writes a file whole or not at all: a new file in the same folder, brought
/// to the disk, then given the old one's name.
fn write_whole(path: &Path, text: &str) -> Result<(), StoreError> {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let mut file = tempfile::NamedTempFile::new_in(folder).map_err(system("writing in", folder))?;
    file.write_all(text.as_bytes()).map_err(system("writing", path))?;
    file.as_file().sync_all().map_err(system("writing", path))?;
    if let Ok(old) = fs::metadata(path) {
        // A refusal here costs the file's mode, not its text.
        let _ = file.as_file().set_permissions(old.permissions());
    }
    file.persist(path).map_err(|error| system("replacing", path)(error.error))?;
    Ok(())
}
