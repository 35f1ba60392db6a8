use super::RowEdit;
use crate::catalog::Catalog;
use crate::job::document::Document;
use crate::job::edit::Edit;
use crate::job::slot::{Slot, lines, text};

const JOB: &str = r#"# A shed.

[job]
name = "Shed"
scale = "1:48"

[[dimension]]
name = "front" # end to end

[[dimension]]
name = "front_door"

[[tie]]
id = "T"
says = "front = 2 front_door"

# ---- What it is ----

# the shed itself
[[body]]
name = "main"
depth = "12 ft"
eave = "9 ft" # to the underside

[body.roof]
kind = "gable"
pitch = "6:12"

# behind it
[[body]]
name = "lean"
stands = { against = "main/back" }
length = "8 ft"
depth = "6 ft"
eave = "7 ft"

[[opening]]
name = "door"
what = "door"
width = "3 ft"
height = "7 ft"

[[wall]]
of = "main/front"
row = [
    { corner = "left", width = "6 in" }, # a pier
    # plain wall
    { plain = "wall", width = "7 ft" },
    { opening = "D1", kind = "door" },
]

[done]
"main/front/board-1" = "cut"
# the end
"#;

struct Bench(Document, Catalog);

impl Bench {
    fn new() -> Self {
        let catalog = Catalog::built_in().unwrap();
        let document = Document::read("shed", JOB, &catalog);
        Self(document.unwrap_or_else(|error| panic!("{error}")), catalog)
    }

    fn slot(&self, path: &str) -> Slot {
        Slot::find(&self.0.text().parse().unwrap(), path).unwrap()
    }

    fn make(&mut self, edit: RowEdit) -> Result<(), String> {
        let before = self.0.text().to_owned();
        self.0.apply(&Edit::Row(edit), &self.1).map_err(|error| error.trouble)?;
        let after = self.0.text().to_owned();
        self.0.undo(&self.1);
        assert_eq!(self.0.text(), before, "one step takes it back");
        self.0.redo(&self.1);
        assert_eq!(self.0.text(), after);
        Ok(())
    }

    fn set(&mut self, path: &str, to: &str) -> Result<(), String> {
        let slot = self.slot(path);
        self.make(RowEdit::Set { slot, to: to.to_owned() })
    }

    fn add(&mut self, path: &str, keys: &[(&str, &str)]) -> Result<(), String> {
        let keys = keys.iter().map(|(key, to)| ((*key).to_owned(), (*to).to_owned())).collect();
        let slot = self.slot(path);
        self.make(RowEdit::Add { slot, keys })
    }

    /// The lines that the text has and the job at first had not, and those that
    /// went.
    fn changes(&self) -> (Vec<&str>, Vec<&'static str>) {
        let new = self.0.text().lines().filter(|line| !JOB.lines().any(|old| old == *line));
        let gone = JOB.lines().filter(|line| !self.0.text().lines().any(|new| new == *line));
        (new.collect(), gone.collect())
    }
}

#[test]
fn a_value_keeps_the_comment_behind_it() {
    let mut bench = Bench::new();
    bench.set("body.main.eave", "10 ft").unwrap();
    bench.set("wall.main/front.row.wall.width", "7 ft 6 in").unwrap();
    bench.set("body.main.roof.rake", "12 in").unwrap();
    bench.set("body.main.layers", "").unwrap_err();
    let (new, gone) = bench.changes();
    assert_eq!(
        new,
        [
            "eave = \"10 ft\" # to the underside",
            "rake = \"12 in\"",
            "    { plain = \"wall\", width = \"7 ft 6 in\" },",
        ]
    );
    assert_eq!(gone.len(), 2);
    assert!(bench.0.text().contains("pitch = \"6:12\"\nrake"));
}

#[test]
fn rows_are_added_behind_their_like() {
    let mut bench = Bench::new();
    let keys = [("plain", "end"), ("width", "1 ft")];
    bench.add("wall.main/front.row", &keys).unwrap();
    let window = [("name", "window"), ("what", "window"), ("width", "3 ft"), ("height", "4 ft")];
    bench.add("opening", &window).unwrap();
    let keys = [("name", "core"), ("thick", "1/16 in")];
    bench.add("layer", &keys).unwrap();
    bench.add("body.lean", &[("roof.kind", "shed"), ("roof.pitch", "3:12")]).unwrap();
    let text = bench.0.text();
    let at = |part: &str| text.find(part).unwrap_or_else(|| panic!("{part} in {text}"));
    assert!(text.contains("kind = \"door\" },\n    { plain = \"end\", width = \"1 ft\" },\n]"));
    assert!(at("height = \"7 ft\"\n\n[[opening]]\nname = \"window\"") < at("[[wall]]"));
    assert!(at("[[body]]\nname = \"lean\"") < at("[body.roof]\nkind = \"shed\""));
    assert!(at("kind = \"shed\"") < at("[[opening]]"));
    assert!(at("[[layer]]\nname = \"core\"") > at("[done]"));
    assert!(text.ends_with("# the end\n"));
    let (_, gone) = bench.changes();
    assert!(gone.is_empty(), "{gone:?}");
}

#[test]
fn rows_go_with_their_own_comments_only() {
    let mut bench = Bench::new();
    let slot = bench.slot("wall.main/front.row.wall");
    bench.make(RowEdit::Remove { slot }).unwrap();
    let (new, gone) = bench.changes();
    assert!(new.is_empty(), "{new:?}");
    assert_eq!(gone, ["    # plain wall", "    { plain = \"wall\", width = \"7 ft\" },"]);
    // The main body goes: what is said of all stays.
    let mut bench = Bench::new();
    let slot = bench.slot("wall");
    bench.make(RowEdit::Remove { slot }).unwrap();
    bench.set("body.lean.stands", "").unwrap_err();
    let slot = bench.slot("body.lean");
    bench.make(RowEdit::Remove { slot }).unwrap();
    assert!(bench.0.text().contains("# ---- What it is ----\n\n# the shed itself\n[[body]]"));
}

#[test]
fn rows_change_places_with_what_belongs_to_them() {
    let mut bench = Bench::new();
    let slot = bench.slot("wall.main/front.row.wall");
    bench.make(RowEdit::Move { slot, down: false }).unwrap();
    let text = bench.0.text();
    let row = "row = [\n    # plain wall\n    { plain = \"wall\", width = \"7 ft\" },\n    \
               { corner = \"left\", width = \"6 in\" }, # a pier\n    { opening";
    assert!(text.contains(row), "{text}");
    let slot = bench.slot("dimension.front");
    bench.make(RowEdit::Move { slot, down: true }).unwrap();
    let text = bench.0.text();
    assert!(text.contains("name = \"front_door\"\n\n[[dimension]]\nname = \"front\" # end to end"));
    let slot = bench.slot("dimension.front");
    assert!(bench.make(RowEdit::Move { slot, down: true }).unwrap_err().contains("last"));
}

#[test]
fn a_copy_stands_behind_its_like_with_all_that_is_in_it() {
    let mut bench = Bench::new();
    bench.add("body.lean", &[("roof.kind", "shed"), ("roof.pitch", "3:12")]).unwrap();
    let slot = bench.slot("body.lean");
    bench.make(RowEdit::Copy { slot, name: "other".to_owned() }).unwrap();
    let copy = bench.slot("body.other");
    let file = bench.0.text().parse().unwrap();
    let said = |path: &str| text(bench.slot(path).node(&file));
    assert_eq!(said("body.other.roof.pitch"), "3:12");
    assert_eq!(said("body.main.roof.kind"), "gable");
    assert_eq!(said("body.lean.roof.kind"), "shed");
    assert!(lines(&file, &copy).iter().any(|line| line.text.as_deref() == Some("8 ft")));
    let slot = bench.slot("opening.door");
    let trouble = bench.make(RowEdit::Copy { slot, name: "door".to_owned() }).unwrap_err();
    assert!(trouble.contains("two openings"), "{trouble}");
    let slot = bench.slot("wall.main/front.row.D1");
    bench.make(RowEdit::Copy { slot, name: "D2".to_owned() }).unwrap();
    assert!(bench.0.text().contains("    { opening = \"D2\", kind = \"door\" },\n]"));
}

#[test]
fn what_speaks_of_a_row_follows_its_name() {
    let mut bench = Bench::new();
    let mut call = |path: &str, to: &str| {
        let slot = bench.slot(path);
        bench.make(RowEdit::Rename { slot, to: to.to_owned() }).unwrap();
    };
    call("dimension.front", "street");
    call("body.main", "depot");
    call("opening.door", "wide.door");
    let (new, _) = bench.changes();
    assert_eq!(
        new,
        [
            "name = \"street\" # end to end",
            "says = \"street = 2 front_door\"",
            "name = \"depot\"",
            "stands = { against = \"depot/back\" }",
            "name = \"wide.door\"",
            "of = \"depot/front\"",
            "    { opening = \"D1\", kind = \"wide.door\" },",
            "\"depot/front/board-1\" = \"cut\"",
        ]
    );
    assert_eq!(bench.slot("opening.wide.door.what").path(), "opening.\"wide.door\".what");
    let slot = bench.slot("dimension.street");
    let to = "front_door".to_owned();
    assert!(bench.make(RowEdit::Rename { slot, to }).unwrap_err().contains("already"));
}

#[test]
fn the_kind_of_a_row_decides_which_keys_stay() {
    let mut bench = Bench::new();
    bench.add("cladding", &[("name", "b"), ("kind", "boards"), ("gap", "1/8 in")]).unwrap();
    bench.set("cladding.b.kind", "clapboard").unwrap();
    assert!(bench.0.text().contains("[[cladding]]\nname = \"b\"\nkind = \"clapboard\"\n"));
    assert!(!bench.0.text().contains("gap"));
    bench.set("wall.main/front.row.wall.corner", "wall").unwrap();
    assert!(bench.0.text().contains("    { corner = \"wall\", width = \"7 ft\" },"));
}

#[test]
fn sizes_and_lists_are_typed_without_quotes() {
    let mut bench = Bench::new();
    bench.set("opening.door.width", "{ take = 3 ft, measured = front_door }").unwrap();
    bench.set("body.lean.walls", "front, left").unwrap();
    bench.set("base", "along = -1 ft, 20 ft, back = -2 ft, 14 ft").unwrap();
    bench.set("job.compare", "1:64,1:87.1").unwrap();
    bench.set("terrace", "{ name = t, foot = 0 ft, 20 ft; 9 ft, 20 ft, rise = 3 ft }").unwrap();
    let (new, _) = bench.changes();
    for line in [
        "width = { take = \"3 ft\", measured = \"front_door\" }",
        "walls = [\"front\", \"left\"]",
        "compare = [\"1:64\", \"1:87.1\"]",
        "along = [\"-1 ft\", \"20 ft\"]",
    ] {
        assert!(new.contains(&line), "{line} in {new:?}");
    }
    let trouble = bench.set("body.main.eave", "9").unwrap_err();
    assert!(trouble.contains("no unit"), "{trouble}");
}

#[test]
fn a_stray_place_names_what_is_near() {
    let bench = Bench::new();
    let file = bench.0.text().parse().unwrap();
    let stray = |path: &str| Slot::find(&file, path).unwrap_err().told();
    assert!(stray("boddy").contains("did you mean body?"));
    assert!(stray("body.mai.eave").contains("did you mean main?"));
    assert!(stray("body.main.eve").contains("did you mean eave?"));
    assert!(stray("body.main.eave.x").contains("is a value"));
    assert!(stray("layer.core").contains("none is written yet"));
    assert_eq!(bench.slot("wall.1.row.2.width").path(), "wall.main/front.row.wall.width");
}
