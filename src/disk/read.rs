//! The one reader of files that somebody else may have made.

use std::fs::{File, OpenOptions};
use std::io::{self, Read as _};
use std::path::Path;

use super::{DiskError, system};

/// The most bytes of a text that is read: far beyond any job, rack or problem.
pub const MOST_TEXT: u64 = 16 * 1024 * 1024;

/// The text of a file of at most [`MOST_TEXT`] bytes.
///
/// # Errors
/// As [`bytes`], and when it is not UTF-8.
pub fn text(path: &Path) -> Result<String, DiskError> {
    let bytes = bytes(path, MOST_TEXT)?;
    String::from_utf8(bytes).map_err(|_| DiskError::NotText { path: path.to_owned() })
}

/// The bytes of a regular file of at most `most`.
///
/// # Errors
/// When it is not there, is a folder, a pipe or a device, or is larger.
pub fn bytes(path: &Path, most: u64) -> Result<Vec<u8>, DiskError> {
    let file = open(path).map_err(system("opening", path))?;
    let facts = file.metadata().map_err(system("opening", path))?;
    if !facts.is_file() {
        return Err(DiskError::NoFile { path: path.to_owned() });
    }
    let too_large = || DiskError::TooLarge { path: path.to_owned(), most };
    if facts.len() > most {
        return Err(too_large());
    }
    let mut bytes = Vec::with_capacity(usize::try_from(facts.len()).unwrap_or(0));
    // What it says of its length may be wrong, or change.
    file.take(most + 1).read_to_end(&mut bytes).map_err(system("reading", path))?;
    if bytes.len() as u64 > most { Err(too_large()) } else { Ok(bytes) }
}

/// Opens without waiting for the other end of a pipe.
fn open(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.read(true);
    #[cfg(unix)]
    {
        use rustix::fs::OFlags;
        use std::os::unix::fs::OpenOptionsExt as _;
        let flags = OFlags::NONBLOCK | OFlags::NOCTTY;
        options.custom_flags(i32::try_from(flags.bits()).unwrap_or(0));
    }
    options.open(path)
}
