//! A stage runs on what it needs, through the real program: one wall, track, a
//! list of parts, lamps, each without the rest of a building.

use std::process::Command;

/// What a verb says of a job, and whether it succeeded.
fn said(verb: &[&str], file: &str, text: &str) -> (String, bool) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join(file);
    std::fs::write(&path, text).expect("written");
    let output = Command::new(env!("CARGO_BIN_EXE_scantling"))
        .args(verb)
        .arg(&path)
        .env("HOME", folder.path())
        .env("XDG_CONFIG_HOME", folder.path())
        .env("XDG_STATE_HOME", folder.path())
        .output()
        .expect("the program runs");
    let told = [output.stdout, output.stderr].concat();
    (String::from_utf8_lossy(&told).into_owned(), output.status.success())
}

fn holds(verb: &[&str], file: &str, text: &str, wanted: &[&str]) {
    let (told, well) = said(verb, file, text);
    assert!(well, "{verb:?}\n{told}");
    for words in wanted {
        assert!(told.contains(words), "{verb:?} says nothing of {words}\n{told}");
    }
    assert!(!told.contains("NaN") && !told.contains("inf "), "{told}");
}

const HEAD: &str = "[job]\nname = \"alone\"\nscale = \"HO\"\n";

/// A wall of 30 ft by 12 ft with two windows of 3 ft by 5 ft in castings, boards
/// of 10 in, and a core.
const WALL: &str = r#"
[[body]]
name = "main"
eave = "12 ft"
[[layer]]
name = "core"
thick = "1/16 in"
[[cladding]]
name = "boards"
kind = "boards"
unit = "10 in"
[[opening]]
name = "window"
what = "window"
width = "3 ft"
height = "5 ft"
sill = "3 ft"
casting = { frame = ["0.45 in", "0.75 in"] }
[[wall]]
of = "main/front"
layers = ["boards", "core"]
row = [
    { plain = "left", width = "6 ft" },
    { opening = "first", kind = "window" },
    { plain = "middle", width = "12 ft" },
    { opening = "second", kind = "window" },
    { plain = "right", width = "6 ft" },
]
"#;

/// 30 ft in HO is 105 mm, 4.134 in; 12 ft is 42 mm, 1.654 in; 360 in of boards of
/// 10 in are 36, or more where openings part them; the castings stand at 6 ft and
/// 21 ft, and are cut 5 thou a side larger than their frame (worked by hand).
#[test]
fn one_wall_without_depth_and_roof() {
    let job = format!("{HEAD}{WALL}");
    let faces = ["30'-0\" long, 4.134 in", "one wall alone, 12'-0\" high", "21'-0\"  2.894 in"];
    holds(&["faces"], "wall.toml", &job, &faces);
    let parts = ["main/front/core-1", "4.134 in", "1.654 in", "cut the opening 0.460 x 0.760 in"];
    holds(&["takeoff"], "wall.toml", &job, &parts);
    holds(&["layout"], "wall.toml", &job, &["window casting", "main/front/core-1", "needed"]);
    for verb in ["compress", "stock", "templates", "mockup", "record", "notes", "clearance"] {
        holds(&[verb], "wall.toml", &job, &["alone: "]);
    }
    let (told, _) = said(&["takeoff"], "wall.toml", &job);
    for absent in ["main/roof", "main/left", "main/floor", "Look here", "Square:"] {
        assert!(!told.contains(absent), "{absent}\n{told}");
    }
}

/// What a wall alone cannot have is refused where it is typed, with the way out.
#[test]
fn one_wall_has_no_roof_and_nothing_against_it() {
    let eave = "eave = \"12 ft\"";
    for (more, says) in [
        ("roof = { kind = \"gable\", pitch = \"6:12\" }", "one wall alone and has no roof"),
        ("walls = [\"front\", \"left\"]", "one wall alone: its front"),
    ] {
        let job = format!("{HEAD}{}", WALL.replacen(eave, &format!("{eave}\n{more}"), 1));
        let (told, well) = said(&["faces"], "wall.toml", &job);
        assert!(!well && told.contains(says) && told.contains("give `depth`"), "{told}");
    }
    let job = format!("{HEAD}{}", WALL.replacen(eave, "", 1));
    let (told, _) = said(&["faces"], "wall.toml", &job);
    assert!(told.contains("has no eave"), "{told}");
}

/// A wall 1 1/2 in from straight track: the box car of 10 ft reaches 17.5 mm in HO
/// (worked by hand: 120 in / 2 / 87.0857).
#[test]
fn track_and_an_obstacle() {
    let job = format!(
        "{HEAD}[track]\ncars = [\"40 ft box car\"]\nat = [\"0 in\", \"-1.5 in\"]\n\
         [[track.piece]]\nstraight = \"40 in\"\n[[obstacle]]\nname = \"fence\"\n\
         from = [\"15 in\", \"0 in\", \"1 in\"]\nto = [\"25 in\", \"0 in\", \"1 in\"]\nsolid = true\n"
    );
    holds(&["clearance"], "track.toml", &job, &["fence", "40 ft box car"]);
}

/// 12 V and three white lamps of 3.2 V at 5 mA: 480 ohm (worked by hand).
#[test]
fn lamps() {
    let job = format!(
        "{HEAD}[[lamps.supply]]\nname = \"table\"\nvolts = \"12 V\"\namperes = \"500 mA\"\n\
         [[lamps.string]]\nname = \"dock\"\nlamp = \"white\"\nlamps = 3\ncurrent = \"5 mA\"\n"
    );
    holds(&["lamps"], "lamps.toml", &job, &["dock", "480"]);
}

/// Four pieces of 5 in and 15 thou of kerf go once into 24 in and not a fifth time
/// (worked by hand); two rectangles go on one sheet.
#[test]
fn a_list_of_parts() {
    let list = "part,length,width,count,stock\nstud,5 in,,5,strip 1/16\nwall,6 in,2 in,2,card\n";
    let verb = ["layout", "--kerf", "15 thou", "--parts"];
    holds(&verb, "parts.csv", list, &["strip 1/16", "card", "stud", "wall"]);
}

/// What is missing is named: the building, the track, the lamps or a width.
#[test]
fn what_is_missing_is_named() {
    for (verb, more, says) in [
        ("takeoff", "", "the job has no [[body]]"),
        ("takeoff", "", "name and eave is one wall alone"),
        ("layout", "", "the job has no [[body]]"),
        ("clearance", "", "No track in this job"),
        ("lamps", "", "No lamps in this job"),
        (
            "takeoff",
            "[[dimension]]\nname = \"w\"\n[[body]]\nname = \"main\"\neave = \"12 ft\"\n\
             [[wall]]\nof = \"main/front\"\nrow = [{ plain = \"wall\", width = \"w\" }]\n",
            "finding w: no reading fixes it",
        ),
    ] {
        let (told, _) = said(&[verb], "job.toml", &format!("{HEAD}{more}"));
        assert!(told.contains(says), "{verb}\n{told}");
        assert!(!told.contains("nothing is built"), "{told}");
    }
}
