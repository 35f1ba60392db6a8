//! Names that mean harm: escaped or put right in every format.

use scantling::drawing::TemplateKind;
use scantling::report::record;
use scantling::report::templates::Wish;
use scantling::report::templates::files::{Format, files};

use super::Made;

/// Names as TOML writes them.
fn names() -> Vec<String> {
    [
        "a <script>alert(1)</script> & b",
        "quotes ' \\\" `x` ]]> --> <!--",
        "bell\\u0007 null\\u0001 tab\\t line\\nbreak\\r end",
        "\\u202egnorw\\u202c \\u05d0\\u05d1\\u05d2 \\u0627\\u0644",
        "=HYPERLINK(\\\"x\\\")|%%c^J\\\\U+0041",
        "(paren \\\\) Tj ET Q",
    ]
    .into_iter()
    .map(str::to_owned)
    .chain(["x".repeat(500), "long words ".repeat(45)])
    .collect()
}

/// The cannery with a name in every place where one can stand.
///
/// Names with control characters may be refused by the reader: then nothing
/// is written at all.
fn job(name: &str) -> Option<Made> {
    let text = scantling::job::demo::find("river-cannery").unwrap().text;
    let text = text.replacen("name = \"The river cannery\"", &format!("name = \"{name}\""), 1);
    let text = text.replacen("title = \"Land face\"", &format!("title = \"{name}\""), 1);
    // A slash parts a body from its side: no body has one in its name.
    let body = name.replace('/', "");
    let text = text.replacen("name = \"main\"", &format!("name = \"{body}\""), 1);
    let text = text.replace("\"main/front\"", &format!("\"{body}/front\""));
    let text = text.replace("\"canopy-post\"", &format!("\"{name} post\""));
    match Made::read(&text) {
        Ok(made) => Some(made),
        Err(refused) => {
            assert!(name.contains("\\u0007") || name.contains("\\u202e"), "{refused}");
            None
        }
    }
}

#[test]
fn every_file_stays_sound() {
    for name in names() {
        let Some(made) = job(&name) else { continue };
        let wish = Wish::of(made.seen()).unwrap();
        for format in Format::ALL {
            let kinds = match format {
                Format::Png => vec![TemplateKind::Contents],
                _ => Vec::new(),
            };
            let wish = Wish { kinds, ..wish.clone() };
            let written =
                files(made.seen(), &wish, *format).unwrap_or_else(|stop| panic!("{stop}"));
            assert!(!written.is_empty(), "{format:?}");
            for file in written {
                let plain = |one: char| one.is_ascii_alphanumeric() || "-.".contains(one);
                assert!(file.name.chars().all(plain), "{}", file.name);
                sound(*format, &file.bytes);
            }
        }
    }
}

fn sound(format: Format, bytes: &[u8]) {
    match format {
        Format::Pdf => {
            let document = lopdf::Document::load_mem(bytes).unwrap();
            let pages = document.get_pages().len();
            // A body's name of 500 letters stands in the name of each of its
            // parts, so that the contents run over many pages.
            assert!((10..160).contains(&pages), "{pages} pages");
            for id in document.page_iter() {
                let content = document.get_page_content(id);
                lopdf::content::Content::decode(&content).unwrap();
            }
        }
        Format::Svg => {
            let text = std::str::from_utf8(bytes).unwrap();
            assert!(text.chars().all(|one| one == '\n' || !one.is_control()));
            let document = roxmltree::Document::parse(text).unwrap();
            let known = ["svg", "g", "path", "title", "desc"];
            for node in document.descendants().filter(roxmltree::Node::is_element) {
                assert!(known.contains(&node.tag_name().name()), "{:?}", node.tag_name());
            }
        }
        Format::Dxf | Format::Dxf2000 => {
            let text = std::str::from_utf8(bytes).unwrap();
            assert!(text.is_ascii() && !text.contains('\u{7}'));
            assert!(!text.contains("%%") && !text.contains("^J"));
            dxf::Drawing::load(&mut &*bytes).unwrap();
        }
        Format::Png => {
            let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
            let mut dots = vec![0; reader.output_buffer_size().unwrap()];
            reader.next_frame(&mut dots).unwrap();
        }
        Format::Csv => {
            for row in csv::Reader::from_reader(bytes).records() {
                for cell in &row.unwrap() {
                    let first = cell.trim_start().chars().next().unwrap_or('0');
                    assert!(!"=+@|%\t\r".contains(first), "{cell}");
                    assert!(first != '-' || cell.parse::<f64>().is_ok(), "{cell}");
                }
            }
        }
    }
}

#[test]
fn markdown_stays_text() {
    for name in names() {
        let Some(made) = job(&name) else { continue };
        let text = record::markdown(made.seen());
        assert!(!text.contains("<script") && !text.contains("<!--"), "{text}");
        assert!(text.chars().all(|one| one == '\n' || !one.is_control()));
        assert!(!text.contains('\u{202e}'));
    }
}
