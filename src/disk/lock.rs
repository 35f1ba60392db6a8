//! One saver at a time in a folder.
//!
//! On Unix the lock stands on the folder itself, so that nothing is left lying
//! about and a file that is replaced keeps it; elsewhere on a small file that
//! nobody else can open and that goes away with its process.

use std::fs::File;
use std::io;
use std::path::Path;
use std::time::{Duration, Instant};

/// How long one waits between two tries.
const PAUSE: Duration = Duration::from_millis(2);

/// The lock of a folder, for as long as it lives.
#[derive(Debug)]
pub(super) struct Lock(Option<File>);

impl Lock {
    /// Waits for the lock; nothing when somebody has it all that time. Where
    /// the system keeps no such locks it is had at once and holds nobody off.
    pub(super) fn wait(folder: &Path, longest: Duration) -> Option<Self> {
        let end = Instant::now() + longest;
        loop {
            match tried(folder) {
                Ok(lock) => return lock.map(|file| Self(Some(file))).or(Some(Self(None))),
                Err(Taken) if Instant::now() >= end => return None,
                Err(Taken) => std::thread::sleep(PAUSE),
            }
        }
    }

    /// Whether it holds others off.
    pub(super) fn holds(&self) -> bool {
        self.0.is_some()
    }

    /// Brings the names in the folder to the disk, where the system can.
    pub(super) fn sync(&self) {
        #[cfg(unix)]
        if let Some(folder) = &self.0 {
            // The file's own content is there already.
            let _ = folder.sync_all();
        }
    }
}

/// Somebody else has it.
struct Taken;

#[cfg(unix)]
fn tried(folder: &Path) -> Result<Option<File>, Taken> {
    let Ok(file) = File::open(folder) else { return Ok(None) };
    match file.try_lock() {
        Ok(()) => Ok(Some(file)),
        Err(std::fs::TryLockError::WouldBlock) => Err(Taken),
        Err(std::fs::TryLockError::Error(error)) if is_interrupted(&error) => Err(Taken),
        Err(std::fs::TryLockError::Error(_)) => Ok(None),
    }
}

#[cfg(unix)]
fn is_interrupted(error: &io::Error) -> bool {
    error.kind() == io::ErrorKind::Interrupted
}

/// Opened by one alone, and deleted when it is closed.
#[cfg(windows)]
fn tried(folder: &Path) -> Result<Option<File>, Taken> {
    use std::os::windows::fs::OpenOptionsExt as _;
    const DELETE_ON_CLOSE: u32 = 0x0400_0000;
    const SHARING_VIOLATION: i32 = 32;
    let mut options = File::options();
    options.write(true).create(true).share_mode(0).custom_flags(DELETE_ON_CLOSE);
    match options.open(folder.join(".scantling-lock")) {
        Ok(file) => Ok(Some(file)),
        Err(error) if error.raw_os_error() == Some(SHARING_VIOLATION) => Err(Taken),
        // A file that is just being deleted.
        Err(error) if error.kind() == io::ErrorKind::PermissionDenied && folder.is_dir() => {
            if folder.join(".scantling-lock").exists() {
                Err(Taken)
            } else {
                Ok(None)
            }
        }
        Err(_) => Ok(None),
    }
}

#[cfg(not(any(unix, windows)))]
fn tried(_: &Path) -> Result<Option<File>, Taken> {
    let _ = io::ErrorKind::Unsupported;
    Ok(None)
}
