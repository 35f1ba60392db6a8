//! The look's cost where it was once wrong, each worked out here by another way.

use scantling::catalog::Catalog;
use scantling::compress::{Alternative, Compression, Shape};
use scantling::finding::Stop;
use scantling::job::Job;
use scantling::job::face::{Element, ElementKind};
use scantling::plan::plan;

fn demo(name: &str, more: &str) -> Job {
    let path = format!("{}/data/demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap() + more;
    text.parse().unwrap_or_else(|error| panic!("{error}"))
}

fn compress(job: &Job) -> Result<Compression, Stop> {
    plan(job, &Catalog::built_in().unwrap()).compress
}

fn shortened(job: &Job) -> Compression {
    compress(job).unwrap_or_else(|stop| panic!("{stop}"))
}

/// The least that was found, before widths were rounded.
fn least(compression: &Compression) -> f64 {
    let exact = |it: &Alternative| it.exact.as_ref().map_or(it.cost(), |exact| Some(exact.cost));
    let offered = compression.alternatives.iter().filter(|it| it.is_offered());
    offered.filter_map(exact).fold(f64::INFINITY, f64::min)
}

fn cost(z: f64, weight: f64) -> f64 {
    weight * ((1.0 + z * z).sqrt() - 1.0)
}

/// Three quarters of the blank wall go; the wall beside the door may grow fourfold
/// and `void`, weighed heavily, wants it back. The cost of a wall that grows far
/// turns downwards: its best width lies where no tangent from the original says.
#[test]
fn a_wall_that_grows_far_is_proven_at_its_best() {
    let job: Job = r#"
[job]
name = "a wall that may grow"
scale = "1:48"
[[opening]]
name = "door"
what = "door"
width = "48 in"
height = "96 in"
[[body]]
name = "main"
depth = "200 in"
eave = "144 in"
[look]
features = ["gap", "void"]
weigh = [{ feature = "void", tau = 0.05, weight = 6.0 }, { feature = "gap", tau = 0.1, weight = 1.0 }]
[[wall]]
of = "main/front"
row = [
  { opening = "d", kind = "door" },
  { plain = "a", width = "100 in", most = "400 in" },
  { repeat = "blank", count = 4, at-least = 1, at-most = 1, row = [{ plain = "b", width = "60 in", fixed = true }] },
]
"#
    .parse()
    .unwrap_or_else(|error| panic!("{error}"));
    let compression = shortened(&job);
    assert!(compression.is_proven());
    let full = 48.0 + 100.0 + 4.0 * 60.0;
    let widths = (0..=2_200_000).map(|step| 60.0 + f64::from(step) / 10_000.0);
    let of = |a: f64| {
        let length = 48.0 + a + 60.0;
        cost((a / 100.0_f64).ln() / 0.1, 1.0) + cost((full / length).ln() / 0.05, 6.0)
    };
    let best = widths.map(of).fold(f64::INFINITY, f64::min);
    let found = least(&compression);
    assert!((found - best).abs() < 1e-6, "{found}, where {best} exists");
}

/// No bay in whole inches that a person may type undercuts what is offered by what
/// the printed tenth shows.
#[test]
fn no_typed_wedge_is_better_than_the_one_shown() {
    let wedge = |it: &&Alternative| {
        it.decision.as_ref().is_some_and(|it| it.shape == Shape::Wedge && it.counts["bay"] == 7)
    };
    let shown = shortened(&demo("creamery", ""));
    let shown = shown.alternatives.iter().find(wedge).and_then(Alternative::cost).unwrap();
    for inches in 70..=78 {
        let more = format!("\n[choice]\nkind = \"wedge\"\nwidths = {{ bay = \"{inches} in\" }}\n");
        let typed = shortened(&demo("creamery", &more));
        let typed = typed.chosen();
        assert!(!typed.is_offered(), "a wedge is shown only");
        if typed.standing.word() == "shown only" {
            let cost = typed.cost().unwrap();
            assert!(cost > shown - 0.05, "{inches} in: {cost}, where {shown} is shown");
        }
    }
}

fn mirrored(row: &mut Vec<Element>) {
    row.reverse();
    for element in row {
        if let ElementKind::Repeat { row, .. } = &mut element.kind {
            mirrored(row);
        }
    }
}

/// 4.108 by hand: gaps as they were; void 0.02, aspect 1.93, openings 5 to 3 1.99,
/// ridge 0.02, gable 0.07, pitch kept, and the mirror image no less.
#[test]
fn a_mirrored_row_costs_what_the_row_costs() {
    let job = demo("grain-store", "");
    let mut turned = job.clone();
    let front = turned.walls.iter_mut().find(|wall| wall.of.to_string() == "main/front");
    mirrored(&mut front.unwrap().row);
    let (one, two) = (shortened(&job), shortened(&turned));
    let costs = |it: &Compression| it.chosen().cost().unwrap();
    assert!((costs(&one) - 4.108).abs() < 0.001, "{}", costs(&one));
    assert!((costs(&one) - costs(&two)).abs() < 1e-9, "{} and {}", costs(&one), costs(&two));
    for line in &one.chosen().lines.0 {
        let other = two.chosen().lines.0.iter().find(|it| it.what == line.what).unwrap();
        assert!((line.cost - other.cost).abs() < 1e-9, "{}", line.what);
    }
}

/// What goes beyond a bound is built as it was written, and said.
#[test]
fn a_bound_passed_by_hand_is_said() {
    for (choice, word) in [
        ("widths = { bay = \"15 ft\" }\ncounts = { bay = 7 }", "stretched too far"),
        ("widths = { bay = \"5 ft\" }\ncounts = { bay = 9 }", "squeezed too far"),
        ("counts = { bay = 2 }", "too few or too many"),
        ("counts = { bay = 16 }", "too few or too many"),
    ] {
        let job = demo("river-cannery", &format!("\n[choice]\nkind = \"mine\"\n{choice}\n"));
        let plan = plan(&job, &Catalog::built_in().unwrap());
        let compression = plan.compress.as_ref().unwrap();
        assert_eq!(compression.chosen().standing.word(), word, "{choice}");
        let said = plan.findings.iter().any(|it| it.message.starts_with("what is built "));
        assert!(said, "{choice}: {:?}", plan.findings);
    }
}

/// What is shown and never built is refused; a wedge is laid out square and said.
#[test]
fn a_kind_that_is_shown_only_is_not_built_in_silence() {
    for kind in ["full/scene-edge", "drop/smaller-behind", "uniform"] {
        let job = demo("river-cannery", &format!("\n[choice]\nkind = \"{kind}\"\n"));
        let stop = compress(&job).unwrap_err();
        assert!(stop.trouble.contains("never built"), "{kind}: {stop}");
    }
    let job = demo("creamery", "\n[choice]\nkind = \"wedge\"\nwidths = { bay = \"77 in\" }\n");
    let plan = plan(&job, &Catalog::built_in().unwrap());
    let said = plan.findings.iter().any(|it| it.message.contains("shown only"));
    assert!(said, "{:?}", plan.findings);
}
