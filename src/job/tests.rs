use super::document::Document;
use super::edit::{Chosen, Edit};
use super::read::read;
use crate::catalog::Catalog;

const DEMOS: [(&str, &str); 3] = [
    ("grain-store.toml", include_str!("../../data/demo/grain-store.toml")),
    ("river-cannery.toml", include_str!("../../data/demo/river-cannery.toml")),
    ("creamery.toml", include_str!("../../data/demo/creamery.toml")),
];

fn catalog() -> Catalog {
    Catalog::built_in().expect("the shipped data is sound")
}

#[test]
fn the_demo_jobs_read() {
    for (name, text) in DEMOS {
        let job = read(name, text, &catalog()).unwrap_or_else(|error| panic!("{error}"));
        assert!(!job.readings.is_empty());
    }
}

/// Each line of the grain store changed, what the error must say, and where.
#[test]
fn errors_name_the_line_and_give_a_hint() {
    let cases = [
        ("id = \"D1-right\"", "idd = \"D1-right\"", "`idd` is not known", "did you mean `id`"),
        (
            "id = \"D1-right\"",
            "id = \"D1-left\"",
            "two readings called \"D1-left\"",
            "another name",
        ),
        (
            "of = \"d1_right\"",
            "of = \"d1_rigth\"",
            "no dimension called \"d1_rigth\"",
            "\"d1_right\"",
        ),
        ("of = \"main/front\"", "of = \"mian/front\"", "no body called \"mian\"", "\"main\""),
        ("of = \"main/front\"", "of = \"main/frnt\"", "\"frnt\" is no side", "front"),
        ("layers = [\"wall-iron\"]", "layers = [\"wall-irn\"]", "\"wall-irn\"", "\"wall-iron\""),
        ("depth = \"32 ft\"", "depth = \"32\"", "32", "in"),
        ("fraction = 16", "fraction = 10", "not a mark on a rule", "16"),
        ("corner = \"left-corner\"", "korner = \"left-corner\"", "`korner`", "corner"),
        ("kind = \"office-door\"", "kind = \"office-dor\"", "no opening called", "office-door"),
        ("scale = \"1:48\"", "scale = \"G\"", "G", "1:"),
        ("year = 1935", "lumber = \"1924-1996\"", "1924-1996", "1924-1969"),
        ("method = \"tape\"", "method = \"taped\"", "no method called \"taped\"", "\"tape\""),
        ("pitch = \"6:12\"\n", "", "neither a pitch nor a ridge", "6:12"),
    ];
    let (name, text) = DEMOS[0];
    for (old, new, says, hints) in cases {
        assert!(text.contains(old), "{old}");
        let broken = text.replacen(old, new, 1);
        let error = read(name, &broken, &catalog()).expect_err(new);
        let shown = error.to_string();
        assert!(shown.contains(says), "{new}: {shown}");
        assert!(shown.contains(hints), "{new}: {shown}");
        let at = text.find(old).expect("found above");
        let line = text[..at].matches('\n').count() + 1;
        if !new.is_empty() {
            assert_eq!(error.line, line, "{shown}");
        }
    }
}

#[test]
fn deep_nesting_is_refused_not_followed() {
    let text = format!("x = {}{}", "[".repeat(10_000), "]".repeat(10_000));
    assert!(read("deep.toml", &text, &catalog()).is_err());
}

#[test]
fn an_edit_keeps_comments_and_order_and_can_be_undone() {
    let (name, text) = DEMOS[0];
    let mut document = Document::read(name, text, &catalog()).expect("the demo reads");
    let edit = Edit::SetReading {
        id: "D3-left".to_owned(),
        value: Some("792.5 in".to_owned()),
        sigma: None,
    };
    document.apply(&edit, &catalog()).expect("the reading is there");
    assert!(document.is_changed());
    assert_eq!(document.text(), text.replacen("804.5 in", "792.5 in", 1));
    assert_eq!(document.undo_name(), Some("change reading D3-left"));
    assert_eq!(document.undo(&catalog()).as_deref(), Some("change reading D3-left"));
    assert_eq!(document.text(), text);
    assert!(!document.is_changed());
    assert!(document.redo(&catalog()).is_some());
    assert!(document.text().contains("792.5 in"));
}

#[test]
fn every_kind_of_edit_goes_there_and_back() {
    let edits = [
        Edit::SwitchReading { id: "D3-left".into(), off: true, reason: "a foot out".into() },
        Edit::SwitchReading { id: "D3-left".into(), off: false, reason: String::new() },
        Edit::AddReadings {
            dimensions: vec!["stove".into()],
            readings: ["d1_left", "stove"]
                .map(|of| super::edit::NewReading {
                    id: format!("extra-{of}"),
                    of: of.into(),
                    method: "tape".into(),
                    value: "96 in".into(),
                    date: "2026-05-17".into(),
                    ..Default::default()
                })
                .into(),
        },
        Edit::BroadenReadings {
            factor: "1.8".into(),
            sigmas: vec![("D3-left".into(), "0.9 in".into())],
        },
        Edit::SwitchReading { id: "B2 door3:width".into(), off: false, reason: String::new() },
        Edit::SwitchReading { id: "B2 door3:width".into(), off: true, reason: "blurred".into() },
        Edit::RemoveReading { id: "sheets".into() },
        Edit::AddDimension { name: "stack".into(), what: "the stack".into() },
        Edit::Adopt {
            dimension: "d1_left".into(),
            figure: Some("8 ft".into()),
            reason: "round".into(),
        },
        Edit::Adopt { dimension: "d1_left".into(), figure: None, reason: String::new() },
        Edit::Choose(Chosen {
            kind: "drop-modules".into(),
            counts: [("module".to_owned(), 1)].into(),
            reason: "room for a wagon scale".into(),
            ..Default::default()
        }),
        Edit::Unchoose,
        Edit::SetAbout { key: "scale".into(), to: "1:64".into() },
        Edit::SetSpace { key: "length".into(), to: "20 in".into() },
        Edit::PickStock {
            member: "canopy-post".into(),
            size: Some("3/16 in".into()),
            reason: "on hand".into(),
        },
        Edit::PickStock { member: "canopy-post".into(), size: None, reason: String::new() },
        Edit::MarkPart { label: "track-batten-1".into(), state: Some("cut".into()) },
        Edit::MarkPart { label: "track-batten-1".into(), state: None },
    ];
    let (name, text) = DEMOS[0];
    let catalog = catalog();
    let mut document = Document::read(name, text, &catalog).expect("the demo reads");
    let mut texts = vec![text.to_owned()];
    for edit in &edits {
        document.apply(edit, &catalog).unwrap_or_else(|error| panic!("{error}"));
        texts.push(document.text().to_owned());
    }
    for before in texts.iter().rev().skip(1) {
        document.undo(&catalog);
        assert_eq!(document.text(), before);
    }
}

#[test]
fn an_edit_that_makes_no_job_leaves_it_alone() {
    let (name, text) = DEMOS[0];
    let catalog = catalog();
    let mut document = Document::read(name, text, &catalog).expect("the demo reads");
    for edit in [
        Edit::SetReading { id: "nobody".into(), value: Some("1 in".into()), sigma: None },
        Edit::SetSpace { key: "length".into(), to: "nineteen".into() },
        Edit::AddDimension { name: "overall".into(), what: String::new() },
    ] {
        assert!(document.apply(&edit, &catalog).is_err(), "{edit:?}");
        assert_eq!(document.text(), text);
    }
}

mod store {
    use super::super::store::{self, Keep, StoreError};
    use crate::disk::DiskError;

    #[test]
    fn a_save_keeps_one_backup_and_refuses_a_foreign_change() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("job.toml");
        store::save_new(&path, "one").expect("a new file");
        assert!(matches!(
            store::save_new(&path, "x"),
            Err(StoreError::Disk(DiskError::Exists { .. }))
        ));
        store::save(&path, "two", "one").expect("a save");
        assert_eq!(store::open(&path).expect("it opens"), "two");
        let before = folder.path().join("job.toml.before");
        assert_eq!(std::fs::read_to_string(before).expect("the backup"), "one");
        assert!(matches!(store::save(&path, "three", "one"), Err(StoreError::Changed { .. })));
        assert_eq!(store::open(&path).expect("it opens"), "two");
    }

    #[test]
    fn unsaved_work_is_found_again_once() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("job.toml");
        store::save_new(&path, "saved").expect("a new file");
        assert_eq!(store::find_recovery(&path, "saved"), None);
        store::keep_recovery(&path, "newer").expect("kept");
        assert_eq!(store::find_recovery(&path, "saved").as_deref(), Some("newer"));
        store::drop_recovery(&path);
        assert_eq!(store::find_recovery(&path, "saved"), None);
    }

    /// Nothing can be written beside the job: here because its folder is gone.
    #[test]
    fn work_that_cannot_be_kept_beside_the_job_is_kept_in_the_programs_folder() {
        let (folder, own) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let blocked = folder.path().join("blocked");
        std::fs::write(&blocked, "a file where a folder should be").unwrap();
        let keep = Keep::of(&blocked.join("job.toml"), Some(own.path()));
        keep.write("newer").expect("kept away");
        assert_eq!(keep.find("saved").as_deref(), Some("newer"));
        // Where it can be kept beside the job again, that is the newest.
        std::fs::remove_file(&blocked).unwrap();
        keep.write("newest").expect("kept beside");
        assert_eq!(keep.find("saved").as_deref(), Some("newest"));
        assert!(blocked.join("job.toml.unsaved").exists());
        keep.forget();
        assert_eq!(keep.find("saved"), None);
    }

    #[test]
    fn a_refused_save_shows_both_texts() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("job.toml");
        store::save_new(&path, "[job]\nscale = \"1:48\"\n").unwrap();
        let told =
            store::save(&path, "[job]\nscale = \"1:64\"\n", "[job]\n").unwrap_err().to_string();
        assert!(told.contains("[job]\n  not saved: scale = \"1:64\""), "{told}");
        assert!(told.contains("  in the file: scale = \"1:48\""), "{told}");
    }
}

/// Bodies, walls and what older jobs said: refused with what to write.
#[test]
fn bodies_and_walls_that_cannot_be_are_refused_with_what_to_write() {
    let main = "[job]\nname = \"shed\"\nscale = \"1:48\"\n\
                [[body]]\nname = \"main\"\nlength = \"30 ft\"\ndepth = \"20 ft\"\neave = \"12 ft\"\n";
    let on = |name: &str, stands: &str| {
        format!(
            "[[body]]\nname = \"{name}\"\nlength = \"8 ft\"\ndepth = \"8 ft\"\neave = \"8 ft\"\n\
             stands = {{ {stands} }}\n"
        )
    };
    let ring = on("a", "against = \"b/front\"") + &on("b", "against = \"a/front\"");
    let cases: [(&str, &str, &str); 18] = [
        ("[building]\nfront = \"a\"\n", "`building`", "[[body]]"),
        ("[[face]]\nname = \"a\"\n", "`face`", "main/front"),
        ("[core]\nthickness = \"1/16 in\"\n", "`core`", "[[layer]]"),
        ("[[attached]]\nname = \"a\"\n", "`attached`", "stands"),
        ("[space]\noverhangs = true\n", "`overhangs`", "eaves"),
        ("[body.roof]\neave-overhang = \"1 ft\"\n", "`eave-overhang`", "`eave`"),
        ("[[wall]]\nof = \"main/left\"\ngable = true\n", "`gable`", "roof"),
        ("[[wall]]\nof = \"main\"\n", "no wall", "main/front"),
        ("[[wall]]\nof = \"main/left\"\n[[wall]]\nof = \"main/left\"\n", "described twice", "one"),
        ("[[wall]]\nof = \"main/left\"\nlayers = [\"cor\"]\n", "\"cor\"", "no layer"),
        (
            "[[wall]]\nof = \"main/left\"\nopenings = [{ kind = \"d\", at = \"1 ft\" }]\n",
            "\"d\"",
            "opening",
        ),
        ("[body.roof]\nkind = \"gambrel\"\npitch = \"20:12\"\n", "upper slope", "`lower-run`"),
        ("[[corner]]\nof = \"main/front-left\"\ncore = \"back\"\n", "does not meet", "front"),
        (&on("a", "against = \"mian/left\""), "no body called \"mian\"", "\"main\""),
        (&on("a", "on = \"main/ridge\""), "no roof to stand on", "roof"),
        (
            &(on("a", "against = \"main/left\"") + &on("b", "against = \"a/back\"")),
            "no back wall",
            "front",
        ),
        (&ring, "on itself", "main one"),
        ("[[body]]\nname = \"a\"\ndepth = \"8 ft\"\n", "where \"a\" stands", "against"),
    ];
    for (more, says, hints) in cases {
        let error = read("shed", &format!("{main}{more}"), &catalog()).expect_err(more);
        let shown = error.to_string();
        assert!(shown.contains(says), "{more}: {shown}");
        assert!(shown.contains(hints), "{more}: {shown}");
    }
    read("shed", &format!("{main}{}", on("a", "against = \"main/left\"")), &catalog())
        .expect("sound");
}
