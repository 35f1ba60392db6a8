//! A study that takes minutes: the program killed in the middle of its saves
//! again and again. `cargo test --test faults -- --ignored study`

use std::fs;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// Kills of each kind.
fn kills() -> u32 {
    std::env::var("SCANTLING_KILLS").ok().and_then(|text| text.parse().ok()).unwrap_or(700)
}

fn start(home: &Path, words: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_scantling"))
        .args(words)
        .current_dir(home)
        .env("HOME", home)
        .env("XDG_CONFIG_HOME", home.join("config"))
        .env("XDG_STATE_HOME", home.join("state"))
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("it starts")
}

/// Starts the program and kills it after a while drawn between nothing and
/// `most`; after each, `whole` looks at what is there.
fn killed(home: &Path, words: &[&str], most: Duration, whole: &mut dyn FnMut()) -> u32 {
    let mut chance = 20_261_127_u64;
    let mut ended = 0;
    for _ in 0..kills() {
        let mut child = start(home, words);
        chance = chance.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        let share = (chance >> 40) as f64 / f64::from(1 << 24);
        std::thread::sleep(most.mul_f64(share));
        child.kill().expect("killed");
        ended += u32::from(child.wait().expect("gone").success());
        whole();
    }
    ended
}

/// How long an undisturbed run takes.
fn usual(home: &Path, words: &[&str]) -> Duration {
    let begun = std::time::Instant::now();
    assert!(start(home, words).wait().expect("ended").success(), "{words:?}");
    begun.elapsed()
}

fn unfinished(folder: &Path) -> usize {
    let Ok(entries) = fs::read_dir(folder) else { return 0 };
    let names = entries.flatten().map(|entry| entry.file_name().to_string_lossy().into_owned());
    names.filter(|name| name.ends_with(".part")).count()
}

#[test]
#[ignore = "takes minutes: a study"]
fn study_of_kills_in_saves_of_jobs() {
    let home = tempfile::tempdir().expect("a folder");
    let job = home.path().join("job.toml");
    let demo = scantling::job::demo::find("river-cannery").expect("built in").text;
    fs::write(&job, demo).expect("written");
    let measure = |size: &str| format!("depth={size} in");
    let (mut number, mut left) = (0_u32, 0);
    let longest =
        usual(home.path(), &["mockup", "job.toml", "--measure", &measure("4")]).mul_f64(1.2);
    let rounds = kills().div_ceil(20);
    for _ in 0..rounds {
        number += 1;
        let said = measure(&format!("{}/64", 200 + number));
        let mut check = || {
            let text = fs::read_to_string(&job).expect("the job is there");
            assert!(text.parse::<toml::Table>().is_ok(), "the job is torn");
            assert!(text.starts_with(&demo[..200]), "the job is torn");
            left += unfinished(home.path());
        };
        let mut chance = u64::from(number);
        for _ in 0..20 {
            let mut child = start(home.path(), &["mockup", "job.toml", "--measure", &said]);
            chance = chance.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695);
            std::thread::sleep(longest.mul_f64((chance >> 40) as f64 / f64::from(1 << 24)));
            child.kill().expect("killed");
            child.wait().expect("gone");
            check();
        }
    }
    usual(home.path(), &["record", "job.toml"]);
    assert_eq!(unfinished(home.path()), 0, "a start clears what was left");
    println!(
        "{} kills: 0 torn; {left} times something unfinished, 0 after the next start",
        rounds * 20
    );
}

#[test]
#[ignore = "takes minutes: a study"]
fn study_of_kills_in_saves_of_the_rack() {
    let home = tempfile::tempdir().expect("a folder");
    let head = "form,name,material,thickness,width,length\n";
    let rows: String =
        (0..400).map(|at| format!("strip,strip {at},wood,1/32 in,1/16 in,24 in\n")).collect();
    fs::write(home.path().join("new.csv"), format!("{head}{rows}")).expect("written");
    let words = ["rack", "--import", "new.csv"];
    let most = usual(home.path(), &words).mul_f64(1.2);
    let kept = home.path().join("config/scantling/rack.csv");
    let whole = fs::read_to_string(&kept).expect("the rack");
    killed(home.path(), &words, most, &mut || {
        assert_eq!(fs::read_to_string(&kept).expect("the rack"), whole, "the rack is torn");
    });
    usual(home.path(), &["rack"]);
    assert_eq!(unfinished(&home.path().join("config/scantling")), 0);
    println!("{} kills of the rack: 0 torn, 0 left", kills());
}

#[test]
#[ignore = "takes minutes: a study"]
fn study_of_kills_in_writing_templates() {
    let home = tempfile::tempdir().expect("a folder");
    let words = ["templates", "creamery", "--write", "out.pdf", "--sheets", "cladding", "--over"];
    let most = usual(home.path(), &words).mul_f64(1.2);
    let file = home.path().join("out.pdf");
    killed(home.path(), &words, most, &mut || {
        let bytes = fs::read(&file).expect("the pages");
        assert!(bytes.starts_with(b"%PDF-") && bytes.trim_ascii_end().ends_with(b"%%EOF"));
    });
    usual(home.path(), &words);
    assert_eq!(unfinished(home.path()), 0);
    println!("{} kills in writing: 0 torn, 0 left", kills());
}
