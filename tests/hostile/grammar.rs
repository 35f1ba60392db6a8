//! Jobs with one thing wrong: refused with the line, or told where it was
//! typed; and jobs with anything wrong: an answer or a plain refusal.

use std::time::Instant;

use scantling::catalog::Catalog;
use scantling::job::demo;
use scantling::job::document::Document;
use scantling::job::read::JobError;
use scantling::plan::{Plan, plan};
use scantling::report::{Seen, VIEWS, text};

fn catalog() -> Catalog {
    Catalog::built_in().expect("the built-in data reads")
}

/// A demonstration job with one text in place of another.
fn bent(name: &str, old: &str, new: &str) -> String {
    let text = demo::find(name).expect("a built-in job").text;
    assert!(text.contains(old), "{name} has no {old}");
    text.replacen(old, new, 1)
}

fn refused(text: &str) -> JobError {
    let start = Instant::now();
    let error = Document::read("job.toml", text, &catalog()).expect_err("it should be refused");
    assert!(start.elapsed().as_secs_f64() < 1.0, "{error}");
    assert!(error.to_string().lines().all(|line| line.chars().count() < 400), "{error}");
    error
}

/// Names that stand for nothing, in every place where one can stand.
#[test]
fn misspelt_names_are_refused_with_a_hint() {
    for (old, new) in [
        ("unit = \"24 in\"", "unit = \"sheet_w\""),
        ("lap = \"6 in\"", "lap = \"end_lap\""),
        ("rafters = \"24 in\"", "rafters = \"raft_c\""),
        ("plank = \"10 in\"", "plank = \"plk\""),
        ("foundation = \"4 ft\"", "foundation = \"fnd\""),
        ("width = \"8 ft 4 in\"", "width = \"nonsense\""),
        ("all = [\"wood\"]", "all = [\"wood\"]\nback = [\"wood\"]"),
        ("[look]", "[[stock]]\nmember = \"roof\"\nsize = \"1/8 in\"\n\n[look]"),
        ("features = [\"gap\"", "features = [\"gapp\""),
        ("of = \"main/front\"", "of = \"mian/front\""),
        ("layers = [\"wall-iron\"]", "layers = [\"wall-irn\"]"),
        ("cladding = \"roof-iron\"", "cladding = \"roof-irn\""),
    ] {
        let text = bent("grain-store", old, new);
        let error = refused(&text);
        let word = new.split('"').nth(1).expect("a word");
        assert!(!error.hint.is_empty(), "{error}");
        assert!(error.source.contains(word) || error.source.contains("back"), "{new}: {error}");
    }
}

/// Sizes and counts that no building has.
#[test]
fn what_is_out_of_all_range_is_refused_in_a_moment() {
    for (name, old, new, says) in [
        ("grain-store", "trim = \"5 in\"", "trim = \"-30 in\"", "from 0 in to 5 ft"),
        ("creamery", "exposure = \"4 1/2 in\"", "exposure = \"0 in\"", "0 in"),
        ("creamery", "exposure = \"4 1/2 in\"", "exposure = \"-1 in\"", "-1 in"),
        ("grain-store", "plank = \"10 in\"", "plank = \"0 in\"", "0 in"),
        ("grain-store", "plank = \"10 in\"", "plank = \"10 in\"\nstairs = 4294967295", "50"),
        ("grain-store", "count = 9", "count = 2147483648", "10000"),
        ("grain-store", "kerf = \"15 thou\"", "kerf = \"-15 thou\"", "-15 thou"),
        ("grain-store", "hand = \"10 thou\"", "hand = \"-10 thou\"", "-10 thou"),
        ("creamery", "[site.track]", "[site.track]\nmargin = \"-5 in\"", "-5 in"),
        ("grain-store", "margin = \"1/8 in\"", "margin = \"1000 in\"", "12 in"),
        ("grain-store", "pitch = \"6:12\"", "pitch = \"1000:1\"", "36:12"),
        ("grain-store", "pitch = \"6:12\"", "pitch = \"8\"", "rises 8 ft for each foot"),
        ("grain-store", "unit = \"24 in\"", "unit = \"0.000001 in\"", "0.5 in"),
        ("grain-store", "title = \"Track face\"", "title = \"Track\\rface\"", "U+000D"),
        (
            "grain-store",
            "trim = \"5 in\"",
            "trim = \"5 in\"\ncasting = { frame = [\"6 ft\", \"9 ft\"] }",
            "12 in",
        ),
    ] {
        let mut text = bent(name, old, new);
        if new.contains("[site.track]") {
            text = text.replacen("\nmargin = \"1/8 in\"", "", 1);
        }
        let error = refused(&text);
        assert!(error.message.contains(says), "{new}: {error}");
    }
}

/// A word of 5,000 characters is cut in its echo, and so is its line.
#[test]
fn long_words_are_cut_in_their_echo() {
    let long = "x".repeat(5_000);
    for (old, new) in [
        ("method = \"running-tape\"", format!("method = \"{long}\"")),
        ("method = \"running-tape\"", format!("{long} = 1\nmethod = \"running-tape\"")),
        ("kind = \"gable\"", format!("kind = \"{long}\"")),
        ("depth = \"32 ft\"", format!("depth = \"{long}\"")),
        ("of = \"d1_left\"", format!("of = \"{long}\"")),
    ] {
        let error = refused(&bent("grain-store", old, &new));
        assert!(error.to_string().chars().count() < 900, "{error}");
    }
}

fn planned(text: &str) -> (Document, Plan) {
    let catalog = catalog();
    let document =
        Document::read("job.toml", text, &catalog).unwrap_or_else(|error| panic!("{error}"));
    let plan = plan(document.job(), &catalog);
    (document, plan)
}

/// What a view tells of a job.
fn shown(text: &str, view: &str) -> String {
    let (document, plan) = planned(text);
    let catalog = catalog();
    let seen = Seen { job: document.job(), catalog: &catalog, plan: &plan };
    let kind = VIEWS.iter().find(|kind| kind.name == view).expect("a view");
    text::view(&kind.shown(seen))
}

/// Two things of a job that cannot both be: told where they were typed, and
/// once more beside the cut list.
#[test]
fn contradictions_are_told_where_they_are_typed_and_where_it_is_cut() {
    let casting = "trim = \"5 in\"\ncasting = { frame = [\"1.5 in\", \"2.25 in\"] }";
    for (name, old, new, view, says) in [
        (
            "grain-store",
            "adopt = \"96 ft\"",
            "adopt = \"98 ft\"",
            "notes",
            "standard deviations away",
        ),
        ("creamery", "adopt = \"6 ft 6 in\"", "adopt = \"6 ft\"", "notes", "break the tie C1"),
        ("creamery", "count = 7, at-least", "count = 6, at-least", "faces", "the tie C1 counts 7"),
        (
            "grain-store",
            "width = \"7 ft 6 in\"",
            "width = \"9 ft 6 in\"",
            "faces",
            "adds up to 98'-0\"",
        ),
        ("grain-store", "trim = \"5 in\"", casting, "takeoff", "the casting of freight-door"),
        ("grain-store", "length = \"10 ft\"\nlap", "length = \"10 in\"\nlap", "takeoff", "swapped"),
    ] {
        let text = bent(name, old, new);
        let typed = shown(&text, view);
        assert!(typed.contains(says), "{new}:\n{typed}");
        let cut = shown(&text, "layout");
        assert!(cut.contains(says), "{new}:\n{cut}");
    }
}

#[test]
fn a_pitch_and_a_ridge_that_disagree_are_refused() {
    let text = bent("grain-store", "pitch = \"6:12\"", "pitch = \"6:12\"\nridge = \"31 ft\"");
    let (_, plan) = planned(&text);
    let stop = plan.faces.expect_err("26 ft by the pitch");
    assert!(stop.trouble.contains("26'-0\"") && stop.trouble.contains("31'-0\""), "{stop}");
    let slope = bent("grain-store", "pitch = \"6:12\"", "pitch = \"33.7 deg\"");
    let faces = planned(&slope).1.faces.expect("a slope is a pitch");
    assert!((faces.body.pitch - 33.7_f64.to_radians().tan()).abs() < 1e-5);
}

/// What the job leaves open is told: the era of lumber above all.
#[test]
fn what_is_taken_and_not_given_is_told() {
    let text = bent("grain-store", "year = 1935\n", "");
    let text = text.replacen(
        "[[deck]]",
        "[[member]]\nname = \"stud\"\nlumber = \"2x4\"\nlength = \"8 ft\"\ncount = 3\n\n[[deck]]",
        1,
    );
    for view in ["stock", "takeoff", "record"] {
        let told = shown(&text, view);
        assert!(told.contains("Taken, not given"), "{told}");
        assert!(told.contains("full-dimension"), "{told}");
    }
}

/// The grain store with the overall misread: `end` alone is to blame, since
/// without it the others agree; without `two-pulls` 8.7 sigma are left.
#[test]
fn the_reading_without_which_the_rest_agrees_is_set_aside() {
    let text = bent("grain-store", "value = \"1152.5 in\"", "value = \"1125.5 in\"");
    let (_, plan) = planned(&text);
    let ids: Vec<&str> = plan.survey.rejected.iter().map(|it| it.id.as_str()).collect();
    assert_eq!(ids, ["D3-left", "end"]);
    assert!(plan.survey.rejected[1].alike.is_empty());
}

/// A front of battens a half inch wide and two thousand feet long is refused
/// before the work, with its key.
#[test]
fn a_plan_of_too_many_parts_is_refused_before_the_work() {
    let text = "[job]\nname = \"endless\"\nscale = \"1:1\"\n[[body]]\nname = \"main\"\n\
        depth = \"1500 ft\"\neave = \"40 ft\"\n[body.roof]\nkind = \"flat\"\npitch = \"0\"\n\
        [[cladding]]\nname = \"boards\"\nkind = \"boards\"\nunit = \"1/2 in\"\n\
        [[wall]]\nof = \"main/front\"\nlayers = [\"boards\"]\n\
        row = [{ plain = \"wall\", width = \"1900 ft\" }]\n";
    let start = Instant::now();
    let (_, plan) = planned(text);
    let stop = plan.takeoff.expect_err("too many");
    assert!(stop.trouble.contains("`unit` of the cladding \"boards\""), "{stop}");
    assert!(start.elapsed().as_secs() < 20);
}

/// Every sentence of the built-in jobs is short enough to read.
#[test]
fn no_message_is_longer_than_three_hundred_characters() {
    for one in demo::DEMOS {
        let (_, plan) = planned(one.text);
        for finding in &plan.findings {
            assert!(finding.message.chars().count() <= 300, "{}", finding.message);
            assert!(!finding.message.ends_with("..."), "cut: {}", finding.message);
        }
    }
}
