//! Lengths of real and rendered walls whose true sizes are known, from marks
//! disturbed at random.
//!
//! Reads `../shared/photos` relative to the manifest when it is there (some of
//! those pictures have no stated licence, so none is copied here) and passes
//! with a printed line when it is not.

#![expect(clippy::unwrap_used, reason = "a marks file that cannot be read fails the test")]

use std::path::PathBuf;

use scantling::photo::edge::Brightness;
use scantling::photo::lengths::{Effort, run};
use scantling::photo::marked::{Marked, Origin, Span};
use scantling::photo::marks_file::{Choice, read};
use scantling::photo::picture;
use scantling::photo::refine::refine;
use scantling::solve::camera::random::Dice;

/// Where the pictures are: beside the project, or where `PHOTOGRAPHS` says.
fn folder() -> PathBuf {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/photos");
    std::env::var_os("PHOTOGRAPHS").map_or_else(beside, PathBuf::from)
}

fn text(name: &str) -> Option<String> {
    let folder = folder();
    let text = std::fs::read_to_string(folder.join(format!("{name}.toml"))).ok();
    if text.is_none() {
        println!("{name}: ../shared/photos is not here; nothing checked");
    }
    text
}

/// True lengths by name of the span: sides from the file's rectangles, or from
/// the places of the points.
pub(crate) struct Truth(toml::Table);

impl Truth {
    fn place(&self, id: &str) -> [f64; 2] {
        let points = self.0["point"].as_array().unwrap();
        let found = points.iter().find(|p| p["id"].as_str() == Some(id)).unwrap();
        let number = |v: &toml::Value| v.as_float().or(v.as_integer().map(|i| i as f64)).unwrap();
        let place = found["plane"].as_array().unwrap();
        [number(&place[0]), number(&place[1])]
    }

    fn between(&self, a: &str, b: &str) -> f64 {
        let (a, b) = (self.place(a), self.place(b));
        (a[0] - b[0]).hypot(a[1] - b[1])
    }

    pub(crate) fn of(&self, marked: &Marked, span: Span) -> f64 {
        let id = |k: usize| marked.marks[k].id.as_str();
        let mean = |[a, b]: [usize; 2], [c, d]: [usize; 2]| {
            0.5 * (self.between(id(a), id(b)) + self.between(id(c), id(d)))
        };
        match span {
            Span::Width(r) => {
                let [tl, tr, br, bl] = marked.rects[r].corners;
                mean([tl, tr], [bl, br])
            }
            Span::Height(r) => {
                let [tl, tr, br, bl] = marked.rects[r].corners;
                mean([tl, bl], [tr, br])
            }
            other => {
                let [a, b] = marked.ends(other);
                self.between(id(a), id(b))
            }
        }
    }
}

/// A picture, the rectangles used, the one whose sides are known, and its origin.
pub(crate) struct Case {
    pub(crate) name: &'static str,
    rects: &'static [&'static str],
    pub(crate) known: &'static str,
    origin: Origin,
}

/// Six two-by-two fields of a chessboard.
const FIELDS: &[&str] = &[
    "a=c00/c20/c22/c02",
    "b=c30/c50/c52/c32",
    "c=c60/c80/c82/c62",
    "d=c03/c23/c25/c05",
    "e=c33/c53/c55/c35",
    "f=c63/c83/c85/c65",
];

pub(crate) const CASES: &[Case] = &[
    Case { name: "castle_a", rects: &[], known: "u2", origin: Origin::Camera },
    Case { name: "castle_a_barrel", rects: &[], known: "u2", origin: Origin::Camera },
    Case { name: "chess_left01", rects: FIELDS, known: "b", origin: Origin::Camera },
    Case { name: "chess_left02", rects: FIELDS, known: "b", origin: Origin::Camera },
    Case { name: "chess_left05", rects: FIELDS, known: "b", origin: Origin::Camera },
    Case { name: "chess_left13", rects: FIELDS, known: "b", origin: Origin::Camera },
    Case { name: "synth_depot_oblique", rects: &[], known: "door1", origin: Origin::Camera },
    Case { name: "synth_depot_headon", rects: &[], known: "door1", origin: Origin::Camera },
    Case { name: "synth_shop_barrel", rects: &[], known: "win2", origin: Origin::Camera },
    Case { name: "synth_shop_print", rects: &[], known: "win2", origin: Origin::Print },
];

/// What a picture is said to be: itself, or what `ORIGIN` says.
fn declared(origin: Origin) -> Origin {
    std::env::var("ORIGIN").ok().and_then(|word| Origin::of(&word)).unwrap_or(origin)
}

/// The chessboards a second time, with the straight lines of the file as level
/// and plumb ones: what a wall gives on which edges can be followed.
fn with_lines() -> impl Iterator<Item = (&'static Case, bool)> {
    let boards = CASES.iter().filter(|case| case.name.starts_with("chess"));
    CASES.iter().map(|case| (case, false)).chain(boards.map(|case| (case, true)))
}

pub(crate) fn load(case: &Case, lengths: usize, lines: bool) -> Option<(Marked, Truth)> {
    let text = text(case.name)?;
    let truth = Truth(text.parse().unwrap());
    let rects: Vec<String> = case.rects.iter().map(|r| (*r).to_owned()).collect();
    let choice = Choice { rects, lines, known_sigma: 0.001, ..Choice::default() };
    let mut marked = read(&text, &choice).unwrap();
    marked.origin = declared(case.origin);
    let rect = marked.rect(case.known).unwrap_or(0);
    for span in [Span::Width(rect), Span::Height(rect)].into_iter().take(lengths) {
        let value = truth.of(&marked, span);
        marked.known.push(scantling::photo::marked::Known { span, value, sigma: 0.001 * value });
    }
    Some((marked, truth))
}

#[derive(Default)]
struct Tally {
    errors: Vec<f64>,
    inside: usize,
    refused: usize,
}

impl Tally {
    fn add(&mut self, marked: &Marked, truth: &Truth, draws: usize) {
        let tried = run(marked, Effort { draws, seed: 5 });
        if let Err(stop) = &tried {
            println!("refused: {stop}");
        }
        let Ok(outcome) = tried else {
            self.refused += 1;
            return;
        };
        for length in outcome.value.lengths.iter().filter(|l| !l.known) {
            let want = truth.of(marked, length.span);
            self.errors.push(100.0 * (length.value / want - 1.0).abs());
            let inside = length.interval.low <= want && want <= length.interval.high;
            self.inside += usize::from(inside);
        }
    }

    fn at(&mut self, part: f64) -> f64 {
        self.errors.sort_by(f64::total_cmp);
        let last = self.errors.len().saturating_sub(1);
        self.errors.get((part * last as f64) as usize).copied().unwrap_or(f64::NAN)
    }

    fn coverage(&self) -> f64 {
        100.0 * self.inside as f64 / self.errors.len().max(1) as f64
    }
}

pub(crate) fn disturb(marked: &Marked, pixels: f64, dice: &mut Dice) -> Marked {
    let mut other = marked.clone();
    other.click = pixels;
    for mark in &mut other.marks {
        mark.at = mark.at.map(|p| p + pixels * dice.normal());
    }
    other
}

pub(crate) fn from_environment(name: &str, usual: usize) -> usize {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

#[test]
#[ignore = "prints the table of errors and coverage; minutes in release"]
fn prints_the_table() {
    let repeats = from_environment("REPEATS", 200);
    let draws = from_environment("DRAWS", 400);
    println!("{repeats} disturbed sets of marks each, {draws} draws for the intervals");
    println!("picture              lengths px  median  p95   coverage  refused");
    let mut pooled: [Tally; 4] = Default::default();
    for (case, lines) in with_lines() {
        for (lengths, pixels) in [(2, 1.0), (2, 2.0), (1, 1.0), (1, 2.0)] {
            let Some((marked, truth)) = load(case, lengths, lines) else { continue };
            let mut dice = Dice::new(20);
            let mut tally = Tally::default();
            for _ in 0..repeats {
                tally.add(&disturb(&marked, pixels, &mut dice), &truth, draws);
            }
            let (median, high) = (tally.at(0.5), tally.at(0.95));
            println!(
                "{:20} {lengths:7} {pixels:2}  {median:6.2} {high:6.2}  {:6.1}   {:4}",
                format!("{}{}", case.name, if lines { ", lines" } else { "" }),
                tally.coverage(),
                tally.refused
            );
            let goal = case.name == "castle_a" || case.name.starts_with("synth");
            if goal && !case.name.ends_with("print") {
                let all = &mut pooled[2 * (2 - lengths) + pixels as usize - 1];
                all.inside += tally.inside;
                all.errors.append(&mut tally.errors);
            }
        }
    }
    for (all, what) in pooled.iter_mut().zip([
        "2 lengths 1 px",
        "2 lengths 2 px",
        "1 length 1 px",
        "1 length 2 px",
    ]) {
        let (median, high) = (all.at(0.5), all.at(0.95));
        println!(
            "castle_a and camera renders, {what}: {median:.2} {high:.2} {:.1}",
            all.coverage()
        );
    }
}

fn brightness(case: &Case) -> Option<Brightness> {
    let folder = folder();
    let bytes = std::fs::read(folder.join(format!("{}.jpg", case.name))).ok()?;
    Some(Brightness::of(&picture::open(case.name, &bytes).unwrap().0))
}

/// Marks disturbed by 2 px, refined and gated, two known lengths.
fn refined(case: &Case, repeats: usize, draws: usize) -> Option<(Tally, f64, f64)> {
    let ((marked, truth), light) = (load(case, 2, false)?, brightness(case)?);
    let (mut dice, mut tally) = (Dice::new(20), Tally::default());
    let (mut moved, mut off) = (0, Vec::new());
    for _ in 0..repeats {
        let refined = refine(&disturb(&marked, 2.0, &mut dice), &light);
        moved += refined.count();
        for (mark, m) in marked.marks.iter().zip(&refined.moves) {
            off.extend(m.new.ok().map(|[x, y]| (x - mark.at[0]).hypot(y - mark.at[1])));
        }
        tally.add(&refined.marked, &truth, draws);
    }
    off.sort_by(f64::total_cmp);
    let middle = off.get(off.len() / 2).copied().unwrap_or(f64::NAN);
    Some((tally, moved as f64 / (repeats * marked.marks.len()) as f64, middle))
}

#[test]
#[ignore = "prints the table of refined marks; minutes in release"]
fn prints_refined() {
    let (repeats, draws) = (from_environment("REPEATS", 200), from_environment("DRAWS", 0));
    println!("picture               moved   off px  median  p95   coverage  refused");
    let mut pooled = Tally::default();
    for case in CASES {
        let Some((mut tally, moved, off)) = refined(case, repeats, draws) else { continue };
        println!(
            "{:20} {:6.1}%  {off:6.2}  {:6.2} {:6.2}  {:6.1}  {:4}",
            case.name,
            100.0 * moved,
            tally.at(0.5),
            tally.at(0.95),
            tally.coverage(),
            tally.refused
        );
        if case.name == "castle_a" || case.name.starts_with("synth") {
            pooled.inside += tally.inside;
            pooled.errors.append(&mut tally.errors);
        }
    }
    let (median, high) = (pooled.at(0.5), pooled.at(0.95));
    println!("castle_a and renders: {median:.2} {high:.2} {:.1}", pooled.coverage());
}

/// The renders are exact: without disturbance the error is that of the method.
#[test]
fn exact_marks_give_the_true_lengths() {
    for (name, limit) in [
        ("synth_depot_oblique", 1e-3),
        ("synth_depot_headon", 1e-3),
        ("synth_shop_print", 1e-3),
        ("synth_shop_barrel", 0.1),
    ] {
        let case = CASES.iter().find(|case| case.name == name).unwrap();
        let Some((mut marked, truth)) = load(case, 2, false) else { continue };
        (marked.click, marked.floor) = (0.01, 0.0);
        marked.distortion = name.ends_with("barrel");
        for known in &mut marked.known {
            known.sigma = 1e-6 * known.value;
        }
        let mut tally = Tally::default();
        tally.add(&marked, &truth, 0);
        let (median, most) = (tally.at(0.5), tally.at(1.0));
        println!("{name}: median {median:.6} percent, most {most:.6}");
        assert_eq!(tally.refused, 0);
        assert!(median < limit, "{name}: {median} percent");
    }
}

/// A quick look at every picture: nothing refused, errors of the right order.
#[test]
fn every_picture_can_be_measured() {
    for case in CASES {
        let Some((marked, truth)) = load(case, 2, false) else { continue };
        let mut dice = Dice::new(3);
        let mut tally = Tally::default();
        for _ in 0..8 {
            tally.add(&disturb(&marked, 1.0, &mut dice), &truth, 100);
        }
        assert_eq!(tally.refused, 0, "{}", case.name);
        assert!(tally.at(0.5) < 3.0, "{}: {}", case.name, tally.at(0.5));
        assert!(tally.coverage() > 75.0, "{}: {}", case.name, tally.coverage());
    }
}

/// Refinement brings marks of 2 px to a fraction of their error.
#[test]
fn refined_marks_give_better_lengths() {
    let mut pooled = Tally::default();
    for name in ["synth_depot_oblique", "synth_shop_barrel", "synth_shop_print"] {
        let case = CASES.iter().find(|case| case.name == name).unwrap();
        let Some((mut tally, moved, off)) = refined(case, 3, 0) else { return };
        assert!(moved > 0.8 && off < 0.5, "{name}: {moved} moved, {off} px off");
        pooled.errors.append(&mut tally.errors);
    }
    let (median, high) = (pooled.at(0.5), pooled.at(0.95));
    assert!(median < 0.5 && high < 2.0, "{median} {high}");
}
