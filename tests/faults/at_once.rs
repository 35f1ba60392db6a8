//! Several at one file at the same moment: by the library and by the program.

use std::fs;
use std::path::Path;
use std::process::{Child, Command, Stdio};

use scantling::job::store::{self, Saving};

fn start(home: &Path, words: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_scantling"))
        .args(words)
        .env("HOME", home)
        .env("XDG_CONFIG_HOME", home.join("config"))
        .env("XDG_STATE_HOME", home.join("state"))
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts")
}

/// Each takes part in two hundred saves: none is lost.
#[test]
fn two_hundred_saves_at_once_lose_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed.toml");
    fs::write(&path, "").expect("written");
    std::thread::scope(|scope| {
        for number in 0..200 {
            let path = &path;
            scope.spawn(move || {
                let saving = Saving::begin(path).expect("begun");
                let opened = store::open(path).expect("read");
                saving.save(&format!("{opened}# {number}\n"), &opened).expect("saved");
            });
        }
    });
    let text = store::open(&path).expect("read");
    let mut numbers: Vec<u32> =
        text.lines().map(|line| line[2..].parse().expect("a whole line")).collect();
    numbers.sort_unstable();
    assert!(numbers.into_iter().eq(0..200), "a save was lost");
    let left = fs::read_dir(folder.path()).expect("a folder").count();
    assert_eq!(left, 2, "only the job and the text before");
}

/// Of two that opened the same text one is told what the other wrote.
#[test]
fn pairs_at_once_are_one_saved_and_one_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed.toml");
    for round in 0..100 {
        let opened = format!("# {round}\n");
        fs::write(&path, &opened).expect("written");
        let save = |who: char| store::save(&path, &format!("{opened}# {who}\n"), &opened);
        let (a, b) = std::thread::scope(|scope| {
            let one = scope.spawn(|| save('a'));
            let other = scope.spawn(|| save('b'));
            (one.join().expect("ended"), other.join().expect("ended"))
        });
        let (won, lost) = if a.is_ok() { ('a', b) } else { ('b', a) };
        let told = lost.expect_err("only one may save").to_string();
        assert!(
            told.contains("not saved: #") && told.contains(&format!("in the file: # {won}")),
            "{told}"
        );
        assert_eq!(store::open(&path).expect("read"), format!("{opened}# {won}\n"));
    }
}

#[test]
fn sizes_measured_at_once_are_all_kept() {
    let home = tempfile::tempdir().expect("a folder");
    let job = home.path().join("job.toml");
    let demo = scantling::job::demo::find("river-cannery").expect("built in").text;
    fs::write(&job, demo).expect("written");
    let named = job.display().to_string();
    let said = ["depth=4 1/4 in", "length=19 in", "eave=3 in", "ridge=5 in"];
    let running = said.map(|said| start(home.path(), &["mockup", &named, "--measure", said]));
    let mut kept = 0;
    for (said, child) in said.iter().zip(running) {
        let out = child.wait_with_output().expect("ended");
        let text = fs::read_to_string(&job).expect("read");
        let (_, size) = said.split_once('=').expect("a size");
        if out.status.success() {
            kept += 1;
            assert!(text.contains(size), "{said} was taken and is gone");
        } else {
            assert_eq!(out.status.code(), Some(1));
        }
    }
    assert!(kept >= 2, "sizes that the job has are taken");
}

#[test]
fn six_racks_taken_in_at_once_are_all_there() {
    let home = tempfile::tempdir().expect("a folder");
    let running: Vec<Child> = (0..6)
        .map(|number| {
            let file = home.path().join(format!("rack-{number}.csv"));
            let row = format!("strip,strip {number},wood,1/32 in,1/16 in,24 in\n");
            fs::write(&file, format!("form,name,material,thickness,width,length\n{row}"))
                .expect("written");
            start(home.path(), &["rack", "--import", &file.display().to_string()])
        })
        .collect();
    for child in running {
        let out = child.wait_with_output().expect("ended");
        assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    }
    let out = start(home.path(), &["rack", "--export"]).wait_with_output().expect("ended");
    let text = String::from_utf8_lossy(&out.stdout).into_owned();
    for number in 0..6 {
        assert!(text.contains(&format!("strip {number}")), "{number} is lost:\n{text}");
    }
}

/// Devices, pipes and counts without end are refused before memory is taken.
#[cfg(unix)]
#[test]
fn what_never_ends_is_refused_at_once() {
    let home = tempfile::tempdir().expect("a folder");
    let at = |name: &str| home.path().join(name).display().to_string();
    let demo = scantling::job::demo::find("river-cannery").expect("built in").text;
    fs::write(at("rack.toml"), demo.replacen("[job]\n", "[job]\nrack = \"/dev/zero\"\n", 1))
        .expect("written");
    let many = demo.replacen("count = 15", "count = 2147483648", 1);
    fs::write(at("many.toml"), many).expect("written");
    let made = Command::new("mkfifo").arg(at("pipe.toml")).status();
    let pipe = made.is_ok_and(|made| made.success());
    let no_file = "no regular file";
    let mut trials = vec![
        (vec!["record".to_owned(), at("rack.toml")], no_file),
        (["layout", "--problem", "/dev/zero"].map(str::to_owned).to_vec(), no_file),
        (["rack", "--import", "/dev/zero"].map(str::to_owned).to_vec(), no_file),
        (vec!["record".to_owned(), at("many.toml")], "must be from 0 to"),
    ];
    if pipe {
        trials.push((vec!["record".to_owned(), at("pipe.toml")], no_file));
    }
    for (words, why) in trials {
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let begun = std::time::Instant::now();
        let out = start(home.path(), &words).wait_with_output().expect("ended");
        assert_eq!(out.status.code(), Some(1), "{words:?}");
        assert!(begun.elapsed().as_secs() < 5, "{words:?}");
        let told = String::from_utf8_lossy(&out.stderr).into_owned();
        assert!(told.contains(why), "{told}");
    }
}
