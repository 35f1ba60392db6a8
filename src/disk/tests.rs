use std::fs;
use std::path::Path;

use super::change::clear;
use super::{Change, DiskError, create, read};

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder")
}

fn replaced(path: &Path, text: &str) -> Result<(), DiskError> {
    Change::begin(path)?.replace(text.as_bytes())
}

#[test]
fn only_regular_files_up_to_a_size_are_read() {
    let folder = folder();
    let path = folder.path().join("a");
    fs::write(&path, "four").expect("written");
    assert_eq!(read::bytes(&path, 4).expect("read"), b"four");
    assert!(matches!(read::bytes(&path, 3), Err(DiskError::TooLarge { most: 3, .. })));
    assert!(read::text(&folder.path().join("none")).expect_err("none").is_not_there());
    fs::write(&path, [0xff]).expect("written");
    assert!(matches!(read::text(&path), Err(DiskError::NotText { .. })));
}

#[cfg(unix)]
#[test]
fn what_never_ends_is_refused_at_once() {
    for path in ["/dev/zero", "/"] {
        assert!(matches!(read::text(Path::new(path)), Err(DiskError::NoFile { .. })), "{path}");
    }
    let folder = folder();
    let pipe = folder.path().join("pipe");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    if made.is_ok_and(|made| made.success()) {
        assert!(matches!(read::text(&pipe), Err(DiskError::NoFile { .. })));
    }
}

#[cfg(unix)]
#[test]
fn the_real_file_is_written_and_keeps_its_mode() {
    use std::os::unix::fs::{PermissionsExt as _, symlink};
    let (home, away) = (folder(), folder());
    let real = away.path().join("real");
    fs::write(&real, "old").expect("written");
    fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).expect("set");
    symlink(&real, home.path().join("one")).expect("linked");
    symlink("one", home.path().join("two")).expect("linked");
    replaced(&home.path().join("two"), "new").expect("written");
    assert_eq!(fs::read_to_string(&real).expect("read"), "new");
    assert_eq!(fs::metadata(&real).expect("there").permissions().mode() & 0o777, 0o640);
    assert!(fs::symlink_metadata(home.path().join("one")).expect("there").is_symlink());
    assert_eq!(fs::read_dir(away.path()).expect("a folder").count(), 1);
}

#[cfg(unix)]
#[test]
fn a_file_that_may_only_be_read_is_not_replaced() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = folder();
    let path = folder.path().join("a");
    fs::write(&path, "old").expect("written");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).expect("set");
    assert!(matches!(replaced(&path, "new"), Err(DiskError::ReadOnly { .. })));
    assert_eq!(fs::read_to_string(&path).expect("read"), "old");
}

#[test]
fn what_killed_writes_left_is_cleared() {
    let folder = folder();
    let part = folder.path().join(".scantling-12345678.part");
    fs::write(&part, "half").expect("written");
    let change = Change::begin(&folder.path().join("a")).expect("begun");
    assert!(!part.exists());
    fs::write(&part, "somebody's").expect("written");
    if cfg!(unix) {
        clear(folder.path());
        assert!(part.exists(), "a living writer's file stays");
    }
    drop(change);
    clear(folder.path());
    assert!(!part.exists());
}

#[test]
fn a_new_file_is_not_written_over_another() {
    let folder = folder();
    let path = folder.path().join("a");
    create(&path, b"one").expect("new");
    assert!(matches!(create(&path, b"two"), Err(DiskError::Exists { .. })));
    assert_eq!(read::text(&path).expect("read"), "one");
}

/// Each adds one line to what it finds there: none may be lost.
#[test]
fn changes_at_once_lose_nothing() {
    let folder = folder();
    let path = folder.path().join("a");
    let add = |number: usize| {
        let change = Change::begin(&path).expect("begun");
        let text = change.text().expect("read").unwrap_or_default();
        change.replace(format!("{text}{number}\n").as_bytes()).expect("written");
    };
    std::thread::scope(|scope| {
        for first in 0..8 {
            scope.spawn(move || (0..5).for_each(|next| add(first * 5 + next)));
        }
    });
    let text = read::text(&path).expect("read");
    let mut lines: Vec<usize> = text.lines().map(|line| line.parse().expect("whole")).collect();
    lines.sort_unstable();
    assert!(lines.into_iter().eq(0..40));
}
