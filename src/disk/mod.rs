//! Files on disk: read with a limit and without waiting, changed under a lock,
//! saved whole or not at all.
//!
//! | file | what |
//! |---|---|
//! | `read` | the one reader: regular files up to a size |
//! | `change` | read, compare and replace as one step |
//! | `lock` | the lock that makes it one |
//! | `unseen` | characters that no text needs |

pub mod change;
mod lock;
pub mod read;
pub(crate) mod unseen;

use std::io;
use std::path::{Path, PathBuf};

pub use change::{Change, create};

/// Why a file could not be read or written.
#[derive(Debug, thiserror::Error)]
pub enum DiskError {
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
    /// A folder, a pipe or a device.
    #[error("{} is no regular file\nhint: a folder, a pipe or a device is not read; write its content to a file first", path.display())]
    NoFile {
        /// What it is called.
        path: PathBuf,
    },
    /// The file is larger than anything of its kind.
    #[error("{} has more than {most} bytes: that is no such file", path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// The most that is read.
        most: u64,
    },
    /// The file is no text.
    #[error("{} is no text in UTF-8", path.display())]
    NotText {
        /// The file.
        path: PathBuf,
    },
    /// The file may not be written.
    #[error("{} may only be read\nhint: save under another name, or let it be written", path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// A file of that name is already there.
    #[error("{} is already there; nothing was written", path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// Somebody else saves there and does not end.
    #[error("another program has been saving in {} for long; nothing was written\nhint: try again when it has ended", folder.display())]
    Busy {
        /// The folder.
        folder: PathBuf,
    },
}

impl DiskError {
    /// Whether the file is not there.
    #[must_use]
    pub fn is_not_there(&self) -> bool {
        matches!(self, Self::System { error, .. } if error.kind() == io::ErrorKind::NotFound)
    }
}

fn system(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> DiskError {
    let path = path.to_owned();
    move |error| DiskError::System { doing, path, error }
}

/// The folder a file is in.
fn folder(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// A name with something added, in the same folder.
#[must_use]
pub fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

#[cfg(test)]
mod tests;
