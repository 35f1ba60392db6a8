//! A mark that a job is being worked on, so that two windows on one job know
//! of each other.
//!
//! The mark is a lock of the system on a small file of its own, in the folder
//! where unsaved work is kept: it goes away with the process however that
//! ends, and the job file itself, which every save replaces, stays free.

use std::fs::{self, File, TryLockError};
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::Path;
use std::sync::Arc;

/// Whether a job is worked on elsewhere too.
#[derive(Clone, Debug, Default)]
pub enum Hold {
    /// Nobody can say: the job has no file, or the system keeps no such marks.
    #[default]
    Unknown,
    /// By this window alone, as long as the mark is kept.
    Alone(Arc<File>),
    /// By another window as well.
    Shared,
}

impl Hold {
    /// Marks the job in `path` as worked on; the mark lies in `folder`.
    #[must_use]
    pub fn take(folder: Option<&Path>, path: &Path) -> Self {
        let marked = || {
            let folder = folder?.join("open");
            fs::create_dir_all(&folder).ok()?;
            let mut hash = DefaultHasher::new();
            path.canonicalize().ok()?.hash(&mut hash);
            let file = folder.join(format!("{:016x}", hash.finish()));
            File::options().create(true).append(true).open(file).ok()
        };
        let Some(file) = marked() else { return Self::Unknown };
        match file.try_lock() {
            Ok(()) => Self::Alone(Arc::new(file)),
            Err(TryLockError::WouldBlock) => Self::Shared,
            Err(TryLockError::Error(_)) => Self::Unknown,
        }
    }

    /// Whether another window works on the job as well.
    #[must_use]
    pub fn is_shared(&self) -> bool {
        matches!(self, Self::Shared)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_second_of_two_is_told_until_the_first_is_gone() {
        let folder = tempfile::tempdir().expect("a folder");
        let job = folder.path().join("shed.toml");
        fs::write(&job, "").expect("written");
        let first = Hold::take(Some(folder.path()), &job);
        assert!(matches!(first, Hold::Alone(_)));
        assert!(Hold::take(Some(folder.path()), &job).is_shared());
        let other = folder.path().join("barn.toml");
        fs::write(&other, "").expect("written");
        assert!(matches!(Hold::take(Some(folder.path()), &other), Hold::Alone(_)));
        drop(first);
        assert!(matches!(Hold::take(Some(folder.path()), &job), Hold::Alone(_)));
    }

    #[test]
    fn without_a_folder_nobody_can_say() {
        assert!(matches!(Hold::take(None, Path::new("shed.toml")), Hold::Unknown));
    }
}
