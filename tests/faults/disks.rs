//! Disks that are full or may only be read: on small file systems made for
//! the trial. Where the system lets nobody mount one, the trial says so and
//! passes.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use scantling::job::store;

/// A file system in memory, mounted for as long as this lives.
struct Disk {
    at: PathBuf,
    _folder: tempfile::TempDir,
}

fn mount(arguments: &[&str], at: &Path) -> bool {
    let outcome = Command::new("mount").args(arguments).arg(at).output();
    outcome.is_ok_and(|outcome| outcome.status.success())
}

impl Disk {
    fn of_64_kilobytes() -> Option<Self> {
        let folder = tempfile::tempdir().expect("a folder");
        let at = folder.path().to_owned();
        if !mount(&["-t", "tmpfs", "-o", "size=64k", "none"], &at) {
            eprintln!("skipped: no small file system can be mounted here");
            return None;
        }
        Some(Self { at, _folder: folder })
    }

    fn read_only(&self) -> bool {
        mount(&["-o", "remount,ro"], &self.at)
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.at).output();
    }
}

/// Files a save left behind that belong to nobody.
fn left_behind(at: &Path) -> usize {
    let names = fs::read_dir(at).expect("a folder").flatten().map(|entry| entry.file_name());
    names.filter(|name| !name.to_string_lossy().starts_with("shed.toml")).count()
}

#[test]
fn a_full_disk_is_said_and_the_job_stands() {
    let Some(disk) = Disk::of_64_kilobytes() else { return };
    let path = disk.at.join("shed.toml");
    fs::write(&path, "old").expect("written");
    let refused = store::save(&path, &"x".repeat(100_000), "old").expect_err("there is no room");
    let told = refused.to_string();
    assert!(told.contains("shed.toml") && told.contains("space"), "{told}");
    assert_eq!(fs::read_to_string(&path).expect("still there"), "old");
    assert_eq!(left_behind(&disk.at), 0, "half a file was left");
    store::save(&path, "smaller", "old").expect("what fits is saved");
}

#[test]
fn a_disk_that_may_only_be_read_is_said_and_the_job_stands() {
    let Some(disk) = Disk::of_64_kilobytes() else { return };
    let path = disk.at.join("shed.toml");
    fs::write(&path, "old").expect("written");
    assert!(disk.read_only(), "the disk can be made read-only");
    let told = store::save(&path, "new", "old").expect_err("nothing may be written").to_string();
    assert!(told.contains("Read-only"), "{told}");
    assert_eq!(fs::read_to_string(&path).expect("still there"), "old");
    assert!(store::keep_recovery(&path, "new").is_err());
    // Unsaved work goes to the program's own folder, and is found again.
    let own = tempfile::tempdir().expect("a folder");
    let keep = store::Keep::of(&path, Some(own.path()));
    keep.write("new").expect("kept elsewhere");
    assert_eq!(store::Keep::of(&path, Some(own.path())).find("old").as_deref(), Some("new"));
}

#[test]
fn a_folder_that_is_not_there_is_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let told = store::save_new(&folder.path().join("gone/shed.toml"), "new");
    assert!(told.expect_err("no such folder").to_string().contains("gone"));
}
