//! The PDF read back with `lopdf`.

use lopdf::content::Content;
use lopdf::{Document, Object};
use scantling::drawing::{Paper, TemplateKind};
use scantling::report::templates::{Wish, pages, record_pages};
use scantling::writers::pdf;

use super::{Box2, Made, part_sizes};

/// Millimetres to the point: ISO 32000-2, 8.3.2.3 (READ).
const MM: f64 = 25.4 / 72.0;

/// What a page holds: paths in millimetres, and whether each is closed.
struct Read {
    media: [f64; 2],
    paths: Vec<(Vec<[f64; 2]>, bool)>,
}

fn number(object: &Object) -> f64 {
    f64::from(object.as_float().unwrap())
}

fn read(bytes: &[u8]) -> Vec<Read> {
    let document = Document::load_mem(bytes).unwrap();
    let page = |id| {
        let entries = document.get_dictionary(id).unwrap();
        let media = entries.get(b"MediaBox").unwrap().as_array().unwrap();
        let content = Content::decode(&document.get_page_content(id)).unwrap();
        let mut paths: Vec<(Vec<[f64; 2]>, bool)> = Vec::new();
        for operation in &content.operations {
            let at = || operation.operands.iter().map(|one| number(one) * MM).collect::<Vec<_>>();
            match operation.operator.as_str() {
                "m" => paths.push((vec![[at()[0], at()[1]]], false)),
                "l" => paths.last_mut().unwrap().0.push([at()[0], at()[1]]),
                "h" => paths.last_mut().unwrap().1 = true,
                _ => {}
            }
        }
        Read { media: [number(&media[2]) * MM, number(&media[3]) * MM], paths }
    };
    document.page_iter().map(page).collect()
}

fn written(made: &Made, paper: &str) -> Vec<u8> {
    let wish = Wish { paper: Paper::find(paper).unwrap(), ..Wish::of(made.seen()).unwrap() };
    pdf::write(&pages(made.seen(), &wish).unwrap(), &made.job.about.name)
}

/// The bars of a page: the longest level and upright lines of the two lengths.
fn has_bars(page: &Read, across: f64, up: f64) -> bool {
    let open = |wanted: [f64; 2]| {
        page.paths.iter().any(|(points, closed)| {
            !closed && points.len() == 2 && Box2::of(points).is(wanted, 0.01)
        })
    };
    open([across, 0.0]) && open([0.0, up])
}

#[test]
fn every_page_has_its_two_bars_at_their_length() {
    let made = Made::demo("river-cannery");
    for (paper, sides) in [("letter", [215.9, 279.4]), ("a4", [210.0, 297.0])] {
        let pages = read(&written(&made, paper));
        assert!(pages.len() > 10);
        for page in &pages {
            assert!(has_bars(page, 101.6, 100.0));
            let [wide, high] = page.media;
            let upright = (wide - sides[0]).abs() < 0.01 && (high - sides[1]).abs() < 0.01;
            let turned = (wide - sides[1]).abs() < 0.01 && (high - sides[0]).abs() < 0.01;
            assert!(upright || turned, "{wide} by {high}");
        }
    }
}

#[test]
fn every_part_stands_on_paper_at_its_size() {
    for name in ["river-cannery", "grain-store", "creamery"] {
        let made = Made::demo(name);
        let sizes = part_sizes(&made);
        assert!(!sizes.is_empty());
        for paper in ["letter", "a4", "a2"] {
            let boxes: Vec<Box2> = read(&written(&made, paper))
                .iter()
                .flat_map(|page| &page.paths)
                .filter(|(_, closed)| *closed)
                .map(|(points, _)| Box2::of(points))
                .collect();
            for (label, size) in &sizes {
                assert!(
                    boxes.iter().any(|one| one.is(*size, 0.01)),
                    "{name} {paper} {label} {size:?}"
                );
            }
        }
    }
}

/// A printer that makes 97.1 percent across and 97.3 up: what is written is
/// larger by so much, so that what comes out is right.
#[test]
fn the_print_check_is_applied_each_way() {
    let text = scantling::job::demo::find("river-cannery").unwrap().text;
    let with = format!("{text}\n[paper]\nacross = \"3.884 in\"\nup = \"97.3 mm\"\n");
    let made = Made::of(&with);
    let pages = read(&written(&made, "a4"));
    let (sizes, mut found) = (part_sizes(&made), 0);
    for page in &pages {
        let turned = page.media[0] > page.media[1];
        let (across, up) = if turned { (0.973, 0.971) } else { (0.971, 0.973) };
        assert!(has_bars(page, 101.6 / across, 100.0 / up));
        for (_, [wide, high]) in &sizes {
            let wanted = [wide / across, high / up];
            let here = page.paths.iter().any(|(points, _)| Box2::of(points).is(wanted, 0.01));
            found += usize::from(here);
        }
        // Nothing but what a clip cuts off lies outside the paper.
        let [wide, high] = page.media;
        let bars = page.paths.iter().rev().take(30).map(|(points, _)| Box2::of(points));
        for one in bars {
            assert!(one.0[0] > 0.0 && one.0[1] > 0.0 && one.1[0] < wide && one.1[1] < high);
        }
    }
    assert!(found >= sizes.len());
}

/// Every text can be read out of the file, 64ths and primes among them.
#[test]
fn texts_can_be_read_back() {
    let text = scantling::job::demo::find("grain-store").unwrap().text;
    let made = Made::of(
        &text.replace("name = \"The grain store\"", "name = \"Shed 12' 6 33/64\\\" ′ ″ ±½\""),
    );
    let wish = Wish { kinds: vec![TemplateKind::Contents], ..Wish::of(made.seen()).unwrap() };
    let bytes = pdf::write(&pages(made.seen(), &wish).unwrap(), &made.job.about.name);
    let document = Document::load_mem(&bytes).unwrap();
    let said = document.extract_text(&[1]).unwrap();
    for wanted in ["12' 6 33/64\"", "′ ″ ±½", "What must survive", "Measure both bars"] {
        assert!(said.contains(wanted), "{wanted} is not in: {said}");
    }
}

#[test]
fn the_record_is_a_pdf_that_can_be_read() {
    let made = Made::demo("creamery");
    let bytes = pdf::write(&record_pages(made.seen()).unwrap(), "record");
    let document = Document::load_mem(&bytes).unwrap();
    let numbers: Vec<u32> = (1..=document.get_pages().len() as u32).collect();
    let said = document.extract_text(&numbers).unwrap();
    for wanted in ["build record", "Sources", "Cautions", "Never cut vinyl", "as built:"] {
        assert!(said.contains(wanted), "{wanted}");
    }
}

/// A casting of 0.72 by 1.2 in behind its flange wants 5 thou more on each side
/// (judgement, `data/fits.toml`): 0.730 by 1.210 in, not the size of its flange.
#[test]
fn an_opening_for_a_casting_is_cut_to_its_frame_and_fit() {
    let text = scantling::job::demo::find("grain-store").unwrap().text;
    let window = "width = \"3 ft\"\nheight = \"5 ft\"\n";
    assert!(text.contains(window));
    let bought = "casting = { frame = [\"0.72 in\", \"1.2 in\"] }\n";
    let made = Made::of(&text.replacen(window, &format!("{window}{bought}"), 1));
    let wish = Wish { kinds: vec![TemplateKind::Castings], ..Wish::of(made.seen()).unwrap() };
    let pages = read(&pdf::write(&pages(made.seen(), &wish).unwrap(), "castings"));
    let wanted = [0.730 * 25.4, 1.210 * 25.4];
    let found = pages.iter().flat_map(|page| &page.paths);
    assert_eq!(
        found.filter(|(path, closed)| *closed && Box2::of(path).is(wanted, 0.01)).count(),
        1
    );
}
