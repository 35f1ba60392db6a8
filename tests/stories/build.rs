//! A building described from nothing: in the tables of the job, and by verbs.
//! No other program touches the file.

use std::path::Path;
use std::process::Command;

use scantling::job::slot::{Holds, Slot, lines, text};
use toml_edit::DocumentMut;

use crate::desk::Desk;

/// A person who counts: keys pressed, and characters of values and names.
struct Typist {
    desk: Desk,
    keys: usize,
    said: usize,
}

impl Typist {
    /// Keys that say nothing by themselves.
    fn keys(&mut self, keys: &[&str]) -> &mut Self {
        for key in keys {
            self.desk.types(key);
            // The keys of the arrows are three characters of one key.
            self.keys += if key.starts_with('\x1b') { 1 } else { key.chars().count() };
        }
        self
    }

    /// A value or name, taken with Enter.
    fn says(&mut self, value: &str) -> &mut Self {
        self.said += value.chars().count();
        self.keys(&[value, "\r"])
    }

    /// A word or name of a list, of which the first letters are typed.
    fn picks(&mut self, letters: &str, word: &str) -> &mut Self {
        self.said += word.chars().count();
        self.keys(&[letters, "\r"])
    }

    fn sees(&mut self, text: &str) -> &mut Self {
        self.desk.sees(text);
        self
    }

    /// Goes to a table of the job.
    fn table(&mut self, letters: &str) -> &mut Self {
        self.keys(&["D", "/", letters, "\r"])
    }
}

/// A shed with a door and what carries its walls, from the start to its parts.
fn shed(typist: &mut Typist) {
    typist.sees("which building?").keys(&["\r"]).sees("What is it called?").says("Shed");
    typist.sees("not saved").keys(&["\t", "\t", "\t"]).sees("Enter describes the body");
    typist.keys(&["\r"]).sees("a new row of body").says("main");
    // What else must be there is asked for as it turns out.
    typist.sees("has no eave").says("9 ft").sees("add main to body");
    // Without a depth it would be one wall alone.
    typist.keys(&["/", "depth", "\r"]).says("12 ft").keys(&["\x1b[F", "\r"]);
    typist.sees("a new body.main.roof").picks("", "gable").sees("neither a pitch").says("6:12");
    typist.table("op").sees("a new row of opening").says("door").picks("", "door");
    typist.says("3 ft").says("7 ft").sees("opening.door");
    typist.table("lay").sees("a new row of layer").says("core").sees("layer.core");
    typist.table("walls").keys(&["\r"]).says("core").sees("core");
    typist.table("wall").sees("a new row of wall").picks("", "main/front");
    typist.sees("wall.main/front").keys(&["/", "row", "\r"]).sees("which kind");
    typist.picks("p", "plain").says("a").says("4 ft").sees("row.a");
    typist.keys(&["a"]).picks("o", "opening").says("D1").picks("", "door").sees("row.D1");
    typist.keys(&["a"]).picks("p", "plain").says("b").says("5 ft").sees("row.b");
    typist.keys(&["q"]).sees("12'-0\"");
}

/// The same by verbs.
const VERBS: &[&[&str]] = &[
    &["new", "by-verbs.toml", "--name", "Shed", "--scale", "1:48"],
    &[
        "add",
        "by-verbs.toml",
        "body",
        "name=main",
        "depth=12 ft",
        "eave=9 ft",
        "roof.kind=gable",
        "roof.pitch=6:12",
    ],
    &["add", "by-verbs.toml", "opening", "name=door", "what=door", "width=3 ft", "height=7 ft"],
    &["add", "by-verbs.toml", "layer", "name=core"],
    &["set", "by-verbs.toml", "walls.layers", "core"],
    &["add", "by-verbs.toml", "wall", "of=main/front"],
    &["add", "by-verbs.toml", "wall.main/front.row", "plain=a", "width=4 ft"],
    &["add", "by-verbs.toml", "wall.main/front.row", "opening=D1", "kind=door"],
    &["add", "by-verbs.toml", "wall.main/front.row", "plain=b", "width=6 ft"],
    &["set", "by-verbs.toml", "wall.main/front.row.b.width", "5", "ft"],
    &["set", "by-verbs.toml", "body.main.roof.rake", "1 ft"],
    &["remove", "by-verbs.toml", "body.main.roof.rake"],
];

fn run(home: &Path, words: &[&str]) -> (bool, String) {
    let out = Command::new(env!("CARGO_BIN_EXE_scantling"))
        .args(words)
        .current_dir(home)
        .env("HOME", home)
        .env_remove("XDG_CONFIG_HOME")
        .env_remove("XDG_STATE_HOME")
        .output()
        .expect("it runs");
    let said = [out.stdout, out.stderr].map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
    (out.status.success(), said.concat())
}

#[test]
fn a_shed_is_built_on_the_screen_and_by_verbs() {
    let mut typist = Typist { desk: Desk::start(&[]), keys: 0, said: 0 };
    shed(&mut typist);
    let (keys, said) = (typist.keys, typist.said);
    #[allow(clippy::cast_precision_loss, reason = "both are small")]
    let each = keys as f64 / said as f64;
    println!("{keys} keys for {said} characters of values and names: {each:.2}");
    assert!(each < 2.0, "{keys} keys for {said} characters");
    let mut desk = typist.desk;
    desk.stage("takeoff", "main/front");
    desk.types("s").sees("Save as").types("\r").sees("saved: ").types("q");
    assert!(desk.ends().success());
    for words in VERBS {
        let (done, said) = run(&desk.home, words);
        assert!(done, "{words:?}: {said}");
    }
    let parts = |job: &str| run(&desk.home, &["takeoff", job]);
    let (typed, by_verbs) = (parts("shed.toml"), parts("by-verbs.toml"));
    assert!(typed.0 && typed.1.contains("main/front"), "{}", typed.1);
    assert_eq!(typed, by_verbs);
}

/// Every table and row of a building by `add`, one command each.
#[test]
fn a_worked_building_is_described_by_verbs_alone() {
    let wanted: DocumentMut =
        include_str!("../scenarios/worked/worked-1.toml").parse().expect("it is TOML");
    let home = tempfile::tempdir().expect("a folder");
    let job = "packing.toml";
    std::fs::write(home.path().join(job), "[job]\nname = \"A\"\nscale = \"1:48\"\n")
        .expect("a job");
    let pairs = |slot: &Slot| -> Vec<String> {
        let written = lines(&wanted, slot).into_iter().filter(|line| line.text.is_some());
        written
            .map(|line| format!("{}={}", line.slot.word(), text(line.slot.node(&wanted))))
            .collect()
    };
    let mut many = 0;
    let mut add = |place: &str, keys: Vec<String>| {
        let mut words = vec!["add", job, place];
        words.extend(keys.iter().map(String::as_str));
        let (done, said) = run(home.path(), &words);
        assert!(done, "{words:?}: {said}");
        many += 1;
    };
    let mut order: Vec<Slot> = wanted.iter().map(|(key, _)| Slot::root().key(key)).collect();
    // A car of one's own comes before the track that names it.
    order.sort_by_key(|slot| slot.word() == "track");
    for slot in order {
        match slot.holds() {
            Holds::Rows(_) => (0..slot.node(&wanted).rows())
                .for_each(|at| add(slot.word(), pairs(&slot.row(&wanted, at)))),
            _ => add(slot.word(), pairs(&slot)),
        }
    }
    println!("{many} commands");
    let hand = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/scenarios/worked/worked-1.toml");
    let hand = hand.display().to_string();
    for view in ["takeoff", "layout", "clearance"] {
        let (by_verbs, by_hand) =
            (run(home.path(), &[view, job]), run(home.path(), &[view, &hand]));
        assert!(by_hand.1.len() > 100 && by_verbs == by_hand, "{view}: {}", by_verbs.1);
    }
}

#[test]
fn verbs_say_what_they_did_and_what_stood_in_the_way() {
    let home = tempfile::tempdir().expect("a folder");
    let run = |words: &[&str]| run(home.path(), words);
    for words in VERBS {
        run(words);
    }
    let job = "by-verbs.toml";
    let text = || std::fs::read_to_string(home.path().join(job)).expect("the job");
    assert_eq!(
        run(&["set", job, "body.main.eave", "10 ft"]),
        (true, "set body.main.eave to 10 ft: saved\n".into())
    );
    assert!(text().contains("eave = \"10 ft\""));
    let (_, shown) = run(&["set", job, "body.main.eave"]);
    assert!(shown.starts_with("body.main.eave = 10 ft\n"), "{shown}");
    let (_, shown) = run(&["set", job, "job.hand"]);
    assert!(shown.contains("without it 5 thou (judgement)"), "{shown}");
    let (_, shown) = run(&["set", job, "wall.main/front.row"]);
    assert!(shown.contains("D1") && shown.contains("kind door"), "{shown}");
    let before = text();
    for (words, hint) in [
        (&["set", job, "body.main.eave", "10"][..], "write 10 ft"),
        (&["set", job, "bodi.main.eave", "10 ft"], "did you mean body?"),
        (&["remove", job, "opening.door"], "there is no opening called \"door\""),
        (&["add", job, "opening", "name=window"], "write what = \"door\""),
        (&["add", job, "opening", "name=window", "wide=3 ft"], "did you mean width?"),
        (&["set", "grain-store", "job.name", "Mine"], "copy it with"),
    ] {
        let (done, said) = run(words);
        assert!(!done && said.contains(hint), "{words:?}: {said}");
    }
    assert_eq!(text(), before, "what is refused changes nothing");
}
