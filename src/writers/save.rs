//! Files on disk: whole or not at all, and never over one that is there
//! unless that was asked for.

use std::fs;
use std::path::{Path, PathBuf};

use crate::disk::{self, Change, DiskError};
use crate::finding::Stop;

/// A file to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileOut {
    /// Its name, without a folder.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// Writes files into a folder, which is made when it is not there. Nothing is
/// written when one of them is there already.
///
/// # Errors
/// When a file is there and `over` was not asked for, or the system refuses.
pub fn into_folder(folder: &Path, files: &[FileOut], over: bool) -> Result<Vec<PathBuf>, Stop> {
    let paths: Vec<PathBuf> = files.iter().map(|file| folder.join(&file.name)).collect();
    if let Some(there) = paths.iter().find(|path| path.exists() && !over) {
        return Err(is_there(there));
    }
    fs::create_dir_all(folder).map_err(|error| refused(folder, &error))?;
    for (path, file) in paths.iter().zip(files) {
        one(path, &file.bytes, over)?;
    }
    Ok(paths)
}

/// Writes one file.
///
/// # Errors
/// When it is there and `over` was not asked for, or the system refuses.
pub fn one(path: &Path, bytes: &[u8], over: bool) -> Result<(), Stop> {
    let done = if over {
        Change::begin(path).and_then(|change| change.replace(bytes))
    } else {
        disk::create(path, bytes)
    };
    done.map_err(|error| match error {
        DiskError::Exists { .. } => is_there(path),
        error => refused(path, &error),
    })
}

fn is_there(path: &Path) -> Stop {
    Stop::new(
        "writing files",
        format!("{} is already there; nothing was written", path.display()),
        "choose another folder or name, or say that it may be written over",
    )
}

fn refused(path: &Path, error: &dyn std::fmt::Display) -> Stop {
    Stop::new(format!("writing {}", path.display()), error.to_string(), "")
}

/// A name fit for a file on any system: letters, digits, hyphens.
#[must_use]
pub fn file_stem(text: &str) -> String {
    let mut stem = String::new();
    for character in text.to_lowercase().chars().take(60) {
        match character {
            'a'..='z' | '0'..='9' => stem.push(character),
            _ if stem.ends_with('-') || stem.is_empty() => {}
            _ => stem.push('-'),
        }
    }
    let stem = stem.trim_end_matches('-').to_owned();
    if stem.is_empty() { "building".to_owned() } else { stem }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_written_over_unasked() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = |bytes: &[u8]| vec![FileOut { name: "a.svg".into(), bytes: bytes.to_vec() }];
        into_folder(folder.path(), &file(b"one"), false).expect("a new file");
        let refused = into_folder(folder.path(), &file(b"two"), false);
        assert!(refused.is_err_and(|stop| stop.to_string().contains("already there")));
        let path = folder.path().join("a.svg");
        assert_eq!(fs::read(&path).expect("the file"), b"one");
        assert!(one(&path, b"two", false).is_err());
        into_folder(folder.path(), &file(b"three"), true).expect("asked for");
        assert_eq!(fs::read(&path).expect("the file"), b"three");
    }

    #[test]
    fn file_names_hold_nothing_that_means_harm() {
        assert_eq!(file_stem("../../etc/pass<w>d & \"x\""), "etc-pass-w-d-x");
        assert_eq!(file_stem("\u{202e}"), "building");
        assert_eq!(file_stem(&"x".repeat(500)).len(), 60);
    }
}
