//! Reading, comparing and replacing a file as one step that nobody comes
//! between.

use std::fs::{self, Permissions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::lock::Lock;
use super::{DiskError, beside, folder, read, system};

/// How long one waits for another saver.
const LONGEST: Duration = Duration::from_secs(30);

/// How the names of files begin and end that are still being written.
const UNFINISHED: (&str, &str) = (".scantling-", ".part");

/// How many links one behind the other are followed.
const LINKS: usize = 40;

/// A file that is about to be changed: until this is dropped nobody else who
/// saves through here writes in its folder.
#[derive(Debug)]
pub struct Change {
    file: PathBuf,
    lock: Lock,
}

impl Change {
    /// Begins a change of a file, or of what it is a link to. What a killed
    /// write left in the folder is cleared.
    ///
    /// # Errors
    /// When somebody else saves there and does not end.
    pub fn begin(path: &Path) -> Result<Self, DiskError> {
        let file = target(path);
        let place = folder(&file);
        let busy = || DiskError::Busy { folder: place.to_owned() };
        let lock = Lock::wait(place, LONGEST).ok_or_else(busy)?;
        if lock.holds() {
            clear_held(place);
        }
        Ok(Self { file, lock })
    }

    /// The text the file holds now; nothing when there is none.
    ///
    /// # Errors
    /// As [`read::text`].
    pub fn text(&self) -> Result<Option<String>, DiskError> {
        match read::text(&self.file) {
            Ok(text) => Ok(Some(text)),
            Err(error) if error.is_not_there() => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// Writes the file whole or not at all; its permissions stay.
    ///
    /// # Errors
    /// When it may only be read, or the system refuses: then the old file
    /// stands untouched.
    pub fn replace(&self, bytes: &[u8]) -> Result<(), DiskError> {
        self.write(&self.file, bytes, true)
    }

    /// Writes a file of that ending beside it, whole or not at all.
    ///
    /// # Errors
    /// As [`Self::replace`].
    pub fn write_beside(&self, ending: &str, bytes: &[u8]) -> Result<(), DiskError> {
        self.write(&beside(&self.file, ending), bytes, true)
    }

    /// A new file, brought to the disk, then given its name.
    fn write(&self, path: &Path, bytes: &[u8], over: bool) -> Result<(), DiskError> {
        let place = folder(path);
        let old = fs::metadata(path).ok().filter(fs::Metadata::is_file);
        let old = old.map(|facts| facts.permissions());
        if old.as_ref().is_some_and(Permissions::readonly) {
            return Err(DiskError::ReadOnly { path: path.to_owned() });
        }
        let mut file = unfinished().tempfile_in(place).map_err(system("writing in", place))?;
        if let Some(old) = old {
            // A refusal here costs the file's mode, not its text.
            let _ = file.as_file().set_permissions(old);
        }
        file.write_all(bytes).map_err(system("writing", path))?;
        file.as_file().sync_all().map_err(system("writing", path))?;
        let named = if over { file.persist(path) } else { file.persist_noclobber(path) };
        named.map_err(|error| refused(path, error.error))?;
        self.lock.sync();
        Ok(())
    }
}

fn refused(path: &Path, error: io::Error) -> DiskError {
    match error.kind() {
        io::ErrorKind::AlreadyExists => DiskError::Exists { path: path.to_owned() },
        _ => system("replacing", path)(error),
    }
}

/// Writes a new file whole or not at all.
///
/// # Errors
/// When a file of that name is there, or the system refuses.
pub fn create(path: &Path, bytes: &[u8]) -> Result<(), DiskError> {
    let change = Change::begin(path)?;
    if fs::symlink_metadata(path).is_ok() {
        return Err(DiskError::Exists { path: path.to_owned() });
    }
    change.write(path, bytes, false)
}

/// Files as anybody makes them: the system's own mask says who may read them.
fn unfinished() -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(UNFINISHED.0).suffix(UNFINISHED.1).rand_bytes(8);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        builder.permissions(Permissions::from_mode(0o666));
    }
    builder
}

/// What a path leads to when the links at its end are followed, there or not.
#[must_use]
pub fn target(path: &Path) -> PathBuf {
    let mut path = path.to_owned();
    for _ in 0..LINKS {
        let Ok(next) = fs::read_link(&path) else { break };
        path = folder(&path).join(next);
    }
    path
}

/// Clears what killed writes left in a folder, unless somebody is writing
/// there. What cannot be cleared is left for the next time.
pub fn clear(place: &Path) {
    let place = if place.as_os_str().is_empty() { Path::new(".") } else { place };
    let lock = Lock::wait(place, Duration::ZERO);
    if lock.as_ref().is_some_and(Lock::holds) {
        clear_held(place);
    }
}

/// With the lock held no unfinished file has a living writer.
fn clear_held(place: &Path) {
    let Ok(entries) = fs::read_dir(place) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        if name.starts_with(UNFINISHED.0) && name.ends_with(UNFINISHED.1) {
            let _ = fs::remove_file(entry.path());
        }
    }
}
