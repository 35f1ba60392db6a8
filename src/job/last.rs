//! The jobs worked on last, to be offered at the start: one path a line in a
//! file of the folder for such things, the newest first.

use std::fs;
use std::path::{Path, PathBuf};

use etcetera::BaseStrategy as _;

use crate::disk::{Change, read};

/// How many are kept.
const MOST: usize = 8;

/// Where this program keeps what is neither a job nor a setting; nothing where
/// the system names no home.
#[must_use]
pub fn folder() -> Option<PathBuf> {
    let base = etcetera::choose_base_strategy().ok()?;
    let folder = base.state_dir().unwrap_or_else(|| base.data_dir());
    Some(folder.join("scantling"))
}

fn file(folder: &Path) -> PathBuf {
    folder.join("last-jobs")
}

/// The jobs worked on last that are still there, the newest first.
#[must_use]
pub fn jobs(folder: &Path) -> Vec<PathBuf> {
    of(&read::text(&file(folder)).unwrap_or_default())
}

fn of(text: &str) -> Vec<PathBuf> {
    text.lines().map(PathBuf::from).filter(|path| path.is_file()).take(MOST).collect()
}

/// Notes that a job is worked on. What fails here costs one line of an offer,
/// so nothing is said of it.
pub fn note(folder: &Path, job: &Path) {
    let Ok(job) = job.canonicalize() else { return };
    // A name that is no text cannot stand in a list of lines.
    let Some(name) = job.to_str().filter(|name| !name.contains(['\n', '\r'])) else { return };
    let _ = fs::create_dir_all(folder);
    let Ok(change) = Change::begin(&file(folder)) else { return };
    let others = of(&change.text().ok().flatten().unwrap_or_default());
    let others = others.iter().filter(|path| **path != job).filter_map(|path| path.to_str());
    let lines: Vec<&str> = std::iter::once(name).chain(others).take(MOST).collect();
    let _ = change.replace((lines.join("\n") + "\n").as_bytes());
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_stands_first_and_each_once() {
        let folder = tempfile::tempdir().expect("a folder");
        let folder = folder.path().canonicalize().expect("its name");
        let job = |n: usize| folder.join(format!("job-{n}.toml"));
        for n in 0..12 {
            fs::write(job(n), "").expect("written");
            note(&folder, &job(n));
        }
        note(&folder, &job(9));
        fs::remove_file(job(10)).expect("removed");
        assert_eq!(jobs(&folder), [9, 11, 8, 7, 6, 5, 4].map(job));
    }
}
