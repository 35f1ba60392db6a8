//! Killed at random moments; changed by others; clocks set back.

use std::fs::{self, File};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, SystemTime};

use scantling::job::store::{self, StoreError};

/// Saves that must have been made, at least, before the trial is over.
const SAVES: u64 = 1_000;
/// Where the child finds the file it saves.
const TARGET: &str = "SCANTLING_FAULTS_FILE";

/// The text of one version, as long as a large job.
fn version(number: u64) -> String {
    let mut text = format!("# version {number}\n");
    for line in 0..400 {
        text.push_str(&format!("# {number} {line} a line that must not be mixed with another\n"));
    }
    text
}

fn number(text: &str) -> u64 {
    let first = text.lines().next().unwrap_or_default();
    first.trim_start_matches("# version ").parse().expect("a whole first line")
}

/// A version that is whole, by its number.
fn whole(path: &Path) -> u64 {
    let text = fs::read_to_string(path).expect("the file is there");
    let number = number(&text);
    assert_eq!(text, version(number), "{} is torn", path.display());
    number
}

/// Saves one version after the other until it is killed.
#[test]
#[ignore = "run by the trial that kills it"]
fn saves_without_end() {
    let Ok(path) = std::env::var(TARGET) else { return };
    let path = Path::new(&path);
    let mut opened = store::open(path).expect("the file is there");
    for next in number(&opened) + 1.. {
        let text = version(next);
        store::keep_recovery(path, &text).expect("kept");
        store::save(path, &text, &opened).expect("saved");
        opened = text;
    }
}

fn start(path: &Path) -> Child {
    Command::new(std::env::current_exe().expect("this program"))
        .args(["--ignored", "--exact", "saves::saves_without_end"])
        .env(TARGET, path)
        .stdout(Stdio::null())
        .spawn()
        .expect("it starts")
}

#[test]
fn killed_at_any_moment_the_job_is_whole() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed.toml");
    fs::write(&path, version(0)).expect("written");
    let (mut kills, mut saved, mut chance) = (0_u64, 0, 12_345_u64);
    while saved < SAVES || kills < 40 {
        let mut child = start(&path);
        chance = chance.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        std::thread::sleep(Duration::from_micros(5_000 + (chance >> 33) % 120_000));
        child.kill().expect("killed");
        child.wait().expect("gone");
        kills += 1;
        let now = whole(&path);
        assert!(now >= saved, "{now} after {saved}: a save was lost");
        saved = now;
        for beside in ["shed.toml.before", "shed.toml.unsaved"] {
            let beside = folder.path().join(beside);
            if beside.exists() {
                // The backup is one behind, what is kept at most one ahead.
                assert!(whole(&beside).abs_diff(saved) <= 1);
            }
        }
        assert!(kills < 5_000, "{saved} saves after {kills} kills");
    }
}

#[test]
fn a_file_changed_meanwhile_is_not_overwritten() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed.toml");
    fs::write(&path, version(1)).expect("written");
    let (first, second) = (store::open(&path).expect("read"), store::open(&path).expect("read"));
    store::save(&path, &version(2), &first).expect("the first of two may save");
    let refused = store::save(&path, &version(3), &second).expect_err("the second may not");
    assert!(matches!(refused, StoreError::Changed { .. }));
    assert!(refused.to_string().contains("changed by another program"));
    assert_eq!(whole(&path), 2);
}

#[test]
fn a_clock_set_back_changes_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed.toml");
    fs::write(&path, version(1)).expect("written");
    let opened = store::open(&path).expect("read");
    for time in [SystemTime::UNIX_EPOCH, SystemTime::now() + Duration::from_secs(1 << 30)] {
        let file = File::options().write(true).open(&path).expect("opened");
        file.set_modified(time).expect("the time is set");
        store::save(&path, &opened, &opened).expect("saved whatever the clock says");
    }
    fs::write(&path, version(2)).expect("written");
    let file = File::options().write(true).open(&path).expect("opened");
    file.set_modified(SystemTime::UNIX_EPOCH).expect("the time is set");
    assert!(store::save(&path, &version(3), &opened).is_err(), "an old time hides a change");
}

#[test]
fn a_file_that_went_away_is_written_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed.toml");
    fs::write(&path, version(1)).expect("written");
    let opened = store::open(&path).expect("read");
    fs::remove_file(&path).expect("removed");
    store::save(&path, &version(2), &opened).expect("saved");
    assert_eq!(whole(&path), 2);
}
