//! One trial a reader or solver: bytes in, and whatever they are, an answer
//! that holds or a plain refusal. The fuzz targets in `fuzz/` run the same
//! functions, so that a crash found there is a test here.

use scantling::catalog::Catalog;
use scantling::job::document::Document;
use scantling::photo::lengths::{self, Effort};
use scantling::photo::{marked, picture};
use scantling::plan::plan;
use scantling::quantity::{Notation, Prototype, Reading, Unit, parse, parse_stated};
use scantling::report::{Seen, VIEWS, text};
use scantling::solve::{sheets, sticks};
use std::sync::OnceLock;

/// Steps a solver may take in one trial: a few thousandths of a second.
const STEPS: u64 = 20_000;

fn catalog() -> &'static Catalog {
    static BUILT_IN: OnceLock<Catalog> = OnceLock::new();
    BUILT_IN.get_or_init(|| Catalog::built_in().expect("the built-in data reads"))
}

/// Numbers drawn from bytes; zeros when they run out.
struct Draw<'a>(&'a [u8]);

impl Draw<'_> {
    fn byte(&mut self) -> u8 {
        let Some((first, rest)) = self.0.split_first() else { return 0 };
        self.0 = rest;
        *first
    }

    fn wide(&mut self) -> i64 {
        i64::from_le_bytes(std::array::from_fn(|_| self.byte()))
    }

    /// Mostly small; now and then anything at all.
    fn size(&mut self) -> i64 {
        match self.byte() {
            0 => self.wide(),
            1 => 0,
            2 => i64::MAX / 4,
            first => i64::from(first) * 4 + i64::from(self.byte()),
        }
    }

    fn real(&mut self) -> f64 {
        match self.byte() {
            0 => f64::from_bits(self.wide() as u64),
            1 => f64::NAN,
            2 => 0.0,
            first => f64::from(first) * 16.0 + f64::from(self.byte()) / 16.0,
        }
    }

    fn count(&mut self, most: usize) -> usize {
        usize::from(self.byte()) % (most + 1)
    }

    fn list<T>(&mut self, most: usize, mut one: impl FnMut(&mut Self) -> T) -> Vec<T> {
        let count = self.count(most);
        (0..count).map(|_| one(self)).collect()
    }
}

/// Any text as a length: refused, or read back the same from how it is shown.
pub(crate) fn notation(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    for unit in [None, Some(Unit::Inch), Some(Unit::Millimetre)] {
        let reading = Reading { unit, surveyor: None };
        let _ = parse_stated::<Prototype>(&text, &reading);
        let Ok(written) = parse::<Prototype>(&text, &reading) else { continue };
        let shown = Notation::Decimal(Unit::Inch, 4).show(&written.exact());
        let again = parse::<Prototype>(&shown, &Reading::default());
        assert!(again.is_ok(), "{text:?} is shown as {shown:?}, which is not read");
    }
}

/// Any text as a job: refused, or planned.
pub(crate) fn job(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    if let Ok(document) = Document::read("trial.toml", &text, catalog()) {
        let plan = plan(document.job(), catalog());
        assert!(plan.findings.iter().all(|finding| !finding.message.is_empty()));
    }
}

/// A demonstration job with a few bytes changed: closer to a job than any
/// text from nothing, so that the stages are reached.
pub(crate) fn bent_job(bytes: &[u8]) {
    let mut draw = Draw(bytes);
    let demos = scantling::job::demo::DEMOS;
    let mut text = demos[draw.count(demos.len() - 1)].text.as_bytes().to_vec();
    while !draw.0.is_empty() {
        let at = (usize::from(draw.byte()) << 8 | usize::from(draw.byte())) % text.len();
        match draw.byte() % 4 {
            0 => text[at] = draw.byte(),
            1 => drop(text.remove(at)),
            2 => text.insert(at, draw.byte()),
            _ => text[at] = b"0123456789"[usize::from(draw.byte()) % 10],
        }
    }
    job(&text);
}

/// Hundredths of a second of processor time; no job takes more, all its verbs
/// together.
const SLOWEST: u64 = 2_000;

/// What this process has taken of the processor, where the system says it:
/// fields 14 and 15 of `/proc/self/stat`.
fn processor() -> Option<u64> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    let mut fields = stat.rsplit(')').next()?.split_whitespace().skip(11);
    let mut field = || fields.next()?.parse::<u64>().ok();
    Some(field()? + field()?)
}

/// Values that slip in: of the wrong sign, kind, size, or of another thing.
const SLIPS: [&str; 24] = [
    "\"-1 in\"",
    "\"0 in\"",
    "\"1e9 ft\"",
    "\"1000000 ft\"",
    "\"12.6\"",
    "\"nonsense\"",
    "\"\"",
    "0",
    "-1",
    "4294967295",
    "1e308",
    "nan",
    "true",
    "[]",
    "{}",
    "\"100 ft\"",
    "\"1 mm\"",
    "\"2000 ft\"",
    "\"8\"",
    "\"36:12\"",
    "\"90 deg\"",
    "\"1/64 in\"",
    "500",
    "\"24 in\"",
];

/// A demonstration job with whole values changed, lines doubled, left out or
/// put under another key: refused in a few words, or planned without a part
/// that cannot be.
pub(crate) fn mutated_job(bytes: &[u8]) {
    let begun = processor();
    let mut draw = Draw(bytes);
    let demos = scantling::job::demo::DEMOS;
    let text = demos[draw.count(demos.len() - 1)].text;
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for _ in 0..=draw.count(2) {
        let keyed: Vec<usize> = (0..lines.len()).filter(|at| lines[*at].contains(" = ")).collect();
        let place = usize::from(draw.byte()) << 8 | usize::from(draw.byte());
        let at = keyed[place % keyed.len()];
        let (key, value) = lines[at].split_once(" = ").expect("kept above");
        lines[at] = match draw.byte() % 8 {
            0 => String::new(),
            1 => format!("{key} = {value}\n{key} = {value}"),
            2 => {
                let other = keyed[usize::from(draw.byte()) * 7 % keyed.len()];
                let (_, other) = lines[other].split_once(" = ").expect("kept above");
                format!("{key} = {other}")
            }
            _ => format!("{key} = {}", SLIPS[draw.count(SLIPS.len() - 1)]),
        };
    }
    match Document::read("trial.toml", &lines.join("\n"), catalog()) {
        Err(error) => {
            assert!(error.message.chars().count() <= 300, "{error}");
            assert!(!error.message.is_empty());
        }
        Ok(document) => {
            let plan = plan(document.job(), catalog());
            judged(&plan);
            let seen = Seen { job: document.job(), catalog: catalog(), plan: &plan };
            VIEWS.iter().for_each(|kind| told(kind, seen));
        }
    }
    let taken = begun.zip(processor()).map_or(0, |(begun, now)| now - begun);
    assert!(taken < SLOWEST, "{taken} hundredths of a second for\n{}", lines.join("\n"));
}

/// What a verb prints of a job is a text without what is no number.
fn told(kind: &scantling::report::ViewKind, seen: Seen<'_>) {
    let shown = text::view(&kind.shown(seen));
    assert!(!shown.trim().is_empty(), "{}", kind.name);
    let is_no_number = |word: &str| matches!(word, "NaN" | "inf" | "-inf");
    assert!(!shown.split_whitespace().any(is_no_number), "{}\n{shown}", kind.name);
    assert!(!kind.told(seen).is_null());
}

/// What no plan may hold, whatever the job.
fn judged(plan: &scantling::plan::Plan) {
    for finding in &plan.findings {
        assert!(finding.message.chars().count() <= 300, "{}", finding.message);
    }
    let Ok(takeoff) = &plan.takeoff else { return };
    let many: u64 = takeoff.parts.iter().map(|part| u64::from(part.count)).sum();
    assert!(many <= 400_000, "{many} parts");
    for part in &takeoff.parts {
        let sizes = [part.model_length, part.model_width].map(|size| size.in_inches());
        assert!(sizes[0].is_finite() && sizes[0] > 0.0 && sizes[1] >= 0.0, "{part:?}");
    }
    if let Ok(Some(clearance)) = &plan.clearance {
        let held = clearance.checked.iter().flat_map(|checked| checked.held.iter().flatten());
        held.for_each(|held| assert!(held.clear.is_finite(), "{held:?}"));
    }
}

/// Any text as a problem file: refused or read.
pub(crate) fn problem_file(bytes: &[u8]) {
    let _ = scantling::cutting::problem::read(&String::from_utf8_lossy(bytes));
}

/// Any bytes as a picture: its head, then the whole where the head is small.
pub(crate) fn picture_file(bytes: &[u8]) {
    if let Ok(facts) = picture::look("trial", bytes) {
        let pixels = u64::from(facts.size[0]) * u64::from(facts.size[1]);
        if pixels < 1 << 20 {
            let _ = picture::open("trial", bytes);
        }
    }
}

/// A small sound picture of each form.
fn pictures() -> &'static [Vec<u8>; 3] {
    static MADE: OnceLock<[Vec<u8>; 3]> = OnceLock::new();
    MADE.get_or_init(|| {
        let dots: Vec<u8> = (0..192).collect();
        let mut png = Vec::new();
        let mut encoder = png::Encoder::new(&mut png, 8, 8);
        encoder.set_color(png::ColorType::Rgb);
        let mut writer = encoder.write_header().expect("a header");
        writer.write_image_data(&dots).expect("dots");
        writer.finish().expect("an end");
        let mut scan = std::io::Cursor::new(Vec::new());
        let mut encoder = tiff::encoder::TiffEncoder::new(&mut scan).expect("a header");
        encoder.write_image::<tiff::encoder::colortype::RGB8>(8, 8, &dots).expect("dots");
        let mut web = Vec::new();
        let encoder = image_webp::WebPEncoder::new(&mut web);
        encoder.encode(&dots, 8, 8, image_webp::ColorType::Rgb8).expect("dots");
        [png, scan.into_inner(), web]
    })
}

/// A sound picture with a few bytes changed, or cut off: read or refused.
pub(crate) fn bent_picture(bytes: &[u8]) {
    let mut draw = Draw(bytes);
    let mut picture = pictures()[draw.count(2)].clone();
    if draw.byte() % 4 == 0 {
        picture.truncate(usize::from(draw.byte()) % picture.len().max(1));
    }
    while !draw.0.is_empty() && !picture.is_empty() {
        let at = (usize::from(draw.byte()) << 8 | usize::from(draw.byte())) % picture.len();
        picture[at] = draw.byte();
    }
    picture_file(&picture);
}

/// Any sticks: refused, or a plan that the checker takes.
pub(crate) fn cut_sticks(bytes: &[u8]) {
    let mut draw = Draw(bytes);
    let problem = sticks::Problem {
        kerf: draw.size(),
        stock: draw.list(4, |draw| sticks::Stock {
            length: draw.size(),
            cost: draw.size(),
            supply: (draw.byte() % 2 == 0).then(|| u32::from(draw.byte())),
        }),
        parts: draw.list(12, |draw| sticks::Part {
            length: draw.size(),
            quantity: u32::from(draw.byte()),
        }),
    };
    let mut go_on = |_: &sticks::Progress| sticks::Control::Continue;
    if let Ok(solution) = sticks::solve(&problem, &sticks::Budget::steps(STEPS), &mut go_on) {
        assert_eq!(sticks::check(&problem, &solution), Ok(()), "{problem:?}");
        assert!(solution.bound <= solution.cost, "{problem:?}");
    }
}

/// Any sheets: refused, or a plan that the checker takes.
pub(crate) fn cut_sheets(bytes: &[u8]) {
    let mut draw = Draw(bytes);
    let method = match draw.byte() % 3 {
        0 => sheets::Method::Laser,
        1 => sheets::Method::Knife { stages: None },
        _ => sheets::Method::Knife { stages: Some(u32::from(draw.byte() % 6)) },
    };
    let problem = sheets::Problem {
        gap: draw.size() % 64,
        margin: draw.size() % 64,
        sheets: draw.list(3, |draw| sheets::Sheet {
            width: draw.size(),
            height: draw.size(),
            cost: draw.size(),
            supply: (draw.byte() % 2 == 0).then(|| u64::from(draw.byte())),
        }),
        parts: draw.list(8, |draw| sheets::Part {
            width: draw.size(),
            height: draw.size(),
            quantity: u64::from(draw.byte() % 8),
            may_turn: draw.byte() % 2 == 0,
        }),
    };
    let budget = sheets::Budget::steps(STEPS);
    let mut go_on = |_: &sheets::Progress| sheets::Control::Continue;
    if let Ok(solution) = sheets::solve(&problem, method, &budget, &mut go_on) {
        let told = sheets::check::check(&problem, method, &solution);
        assert_eq!(told, Ok(()), "{problem:?} {method:?}");
    }
}

/// Any marks: refused by name, or lengths whose intervals hold their values.
pub(crate) fn measure_marks(bytes: &[u8]) {
    let mut draw = Draw(bytes);
    let mut picture = marked::Marked::bare("trial", [4096, 3072]);
    picture.distortion = draw.byte() % 2 == 0;
    for index in 0..1 + draw.count(3) {
        let first = picture.marks.len();
        for corner in 0..4 {
            let at = [draw.real(), draw.real()];
            picture.marks.push(marked::Mark::new(&format!("{index}.{corner}"), at));
        }
        let corners = std::array::from_fn(|corner| first + corner);
        picture.rects.push(marked::Rect { id: format!("r{index}"), corners });
    }
    let known = draw.list(2, |draw| marked::Known {
        span: if draw.byte() % 2 == 0 { marked::Span::Width(0) } else { marked::Span::Height(0) },
        value: draw.real(),
        sigma: draw.real(),
    });
    picture.known = known;
    if let Ok(outcome) = lengths::run(&picture, Effort { draws: 20, seed: 1 }) {
        for found in outcome.value.lengths {
            assert!(found.withheld.is_some() || found.value.is_finite(), "{picture:?}");
        }
    }
}

/// A line asked at the bench: bytes as text, and a good question bent by them.
pub(crate) fn desk_line(bytes: &[u8]) {
    use scantling::bench::{Desk, Found, Look, SUMS, ask};
    let catalog = catalog();
    let mut draw = Draw(bytes);
    let sum = &SUMS[draw.count(SUMS.len() - 1)];
    let mut bent: Vec<char> = sum.example.chars().collect();
    for _ in 0..draw.count(4) {
        let at = draw.count(bent.len().saturating_sub(1));
        let signs = ['0', '9', '-', '/', 'x', ':', ' ', '.', ',', '\'', '%', 'e', '\u{b1}', '('];
        let sign = signs[draw.count(signs.len() - 1)];
        match draw.count(2) {
            0 if !bent.is_empty() => bent[at] = sign,
            1 => bent.insert(at.min(bent.len()), sign),
            _ if !bent.is_empty() => drop(bent.remove(at)),
            _ => {}
        }
    }
    let desk = Desk {
        scale: catalog.scales.find("HO").expect("HO"),
        catalog,
        to: None,
        year: None,
        model: false,
        unit: None,
        look: Look::default(),
    };
    for text in [String::from_utf8_lossy(bytes).into_owned(), bent.into_iter().collect()] {
        match ask(&text, &desk) {
            Ok(Found::Sum(answer)) => {
                assert!(answer.figures.iter().all(|figure| figure.value.is_finite()), "{text}");
            }
            Ok(Found::Length(..)) => {}
            Err(stop) => assert!(!stop.told().contains("is no unit of length"), "{text}"),
        }
    }
}
