//! Trials of what is written: a drawing made from bytes is written in every
//! form and read back by readers that know nothing of this program (`lopdf`,
//! `roxmltree`, `dxf`); a rack is read, written and read again.

use scantling::catalog::Catalog;
use scantling::catalog::rack::Rack;
use scantling::drawing::shape::mm;
use scantling::drawing::{
    Anchor, Area, Drawing, Figure, Layer, Paper, Point, PrintCheck, Run, Setup, Template,
    TemplateKind, page,
};
use scantling::writers::dxf::{DxfUnit, Version};
use scantling::writers::{dxf as dxf_file, pdf, svg};

/// Widest part of a trial, millimetres: some stand on one page, some are tiled.
const WIDEST: f64 = 600.0;

/// Numbers and words drawn from bytes; zeros when they run out.
struct Draw<'a>(&'a [u8]);

impl Draw<'_> {
    fn byte(&mut self) -> u8 {
        let Some((first, rest)) = self.0.split_first() else { return 0 };
        self.0 = rest;
        *first
    }

    /// A length up to the widest, in steps of a hundredth of a millimetre.
    fn size(&mut self) -> f64 {
        let steps = u16::from_le_bytes([self.byte(), self.byte()]);
        0.01 + f64::from(steps) / f64::from(u16::MAX) * WIDEST
    }

    /// Any letters at all, ill-formed ones replaced.
    fn words(&mut self) -> String {
        let count = usize::from(self.byte()).min(self.0.len());
        let (words, rest) = self.0.split_at(count);
        self.0 = rest;
        String::from_utf8_lossy(words).into_owned()
    }
}

/// A part somewhere on the bed, with a hole, a scribed line and words on it.
struct Part {
    size: [f64; 2],
    drawing: Drawing,
}

fn part(draw: &mut Draw<'_>) -> Part {
    let size = [draw.size(), draw.size()];
    let at = Point::of_mm([draw.size() - WIDEST / 2.0, draw.size() - WIDEST / 2.0]);
    let mut drawing = Drawing::default();
    drawing.part(Area::new(at, mm(size[0]), mm(size[1])));
    let hole = Area::new(
        at.moved(Point::of_mm([size[0] / 4.0, size[1] / 4.0])),
        mm(size[0] / 2.0),
        mm(size[1] / 2.0),
    );
    drawing.closed(Layer::Through, &hole.corners(), Run::Hole);
    drawing.line(Layer::Scribe, &[at, hole.least]);
    let anchor = [Anchor::Start, Anchor::Middle, Anchor::End][usize::from(draw.byte()) % 3];
    drawing.text(Layer::Mark, at, mm(2.8), anchor, &draw.words());
    Part { size, drawing }
}

/// Any drawing: sound in every form, and its part at its size.
pub(crate) fn drawing_files(bytes: &[u8]) {
    let mut draw = Draw(bytes);
    let part = part(&mut draw);
    let title = draw.words();
    in_svg(&part, &title);
    in_dxf(&part);
    in_pdf(&part, &title);
}

fn is_near(points: &[[f64; 2]], wanted: [f64; 2], slack: f64) -> bool {
    let spread = |axis: usize| {
        let each = points.iter().map(|point| point[axis]);
        each.clone().fold(f64::MIN, f64::max) - each.fold(f64::MAX, f64::min)
    };
    (spread(0) - wanted[0]).abs() <= slack && (spread(1) - wanted[1]).abs() <= slack
}

fn in_svg(part: &Part, title: &str) {
    let text =
        svg::write(&part.drawing, title, &[], &Catalog::built_in().expect("the shipped data").fits);
    let document = roxmltree::Document::parse(&text).expect("an XML parser reads it");
    let group = document.descendants().find(|node| node.attribute("id") == Some("through"));
    let lines = group.expect("a group of what is cut").children();
    let found = lines.filter_map(|node| node.attribute("d")).any(|data| {
        let numbers: Vec<f64> = data
            .split(|one: char| one.is_ascii_alphabetic() || one == ' ')
            .filter_map(|word| word.parse().ok())
            .collect();
        let points: Vec<[f64; 2]> = numbers.chunks_exact(2).map(|at| [at[0], at[1]]).collect();
        is_near(&points, part.size, 0.01)
    });
    assert!(found, "{:?} is not in the SVG", part.size);
}

fn in_dxf(part: &Part) {
    for version in [Version::R12, Version::R2000] {
        let text = dxf_file::write(&part.drawing, version, DxfUnit::Millimetres, &[]);
        assert!(text.is_ascii());
        let read = dxf::Drawing::load(&mut text.as_bytes()).expect("a DXF reader reads it");
        let found = read.entities().any(|entity| {
            use dxf::entities::EntityType;
            let points: Vec<[f64; 2]> = match &entity.specific {
                EntityType::Polyline(line) => {
                    line.vertices().map(|one| [one.location.x, one.location.y]).collect()
                }
                EntityType::LwPolyline(line) => {
                    line.vertices.iter().map(|one| [one.x, one.y]).collect()
                }
                _ => return false,
            };
            is_near(&points, part.size, 0.001)
        });
        assert!(found, "{:?} is not in the DXF", part.size);
    }
}

fn in_pdf(part: &Part, title: &str) {
    let figure = Figure::new(title.to_owned(), title.to_owned(), part.drawing.clone());
    let template = Template { kind: TemplateKind::Core, figures: vec![figure] };
    let setup = Setup {
        paper: Paper::ALL[0],
        check: PrintCheck::default(),
        job: title.to_owned(),
        scale: "1:48".to_owned(),
    };
    let pages = page::lay_out(&[template], &setup);
    let bytes = pdf::write(&pages, title);
    let document = lopdf::Document::load_mem(&bytes).expect("a PDF reader reads it");
    assert_eq!(document.get_pages().len(), pages.len());
    let mut found = pages.len() > 1;
    for id in document.page_iter() {
        let content = lopdf::content::Content::decode(&document.get_page_content(id));
        let content = content.expect("the page's content reads");
        let mut path: Vec<[f64; 2]> = Vec::new();
        for operation in &content.operations {
            let at: Vec<f64> = operation
                .operands
                .iter()
                .filter_map(|one| one.as_float().ok())
                .map(|points| f64::from(points) * 25.4 / 72.0)
                .collect();
            match operation.operator.as_str() {
                "m" => path = vec![[at[0], at[1]]],
                "l" => path.push([at[0], at[1]]),
                "h" => found |= is_near(&path, part.size, 0.01),
                _ => {}
            }
        }
    }
    assert!(found, "{:?} is not on its page", part.size);
}

/// Any text as a rack: refused with its place, or the same when it is written
/// and read again; no cell begins a formula.
pub(crate) fn rack_file(bytes: &[u8]) {
    let heads = "form,name,material,thickness,width,length,count,note\n";
    kept(&format!("{heads}{}", String::from_utf8_lossy(bytes)));
    // A row that is sound but for its words.
    let mut draw = Draw(bytes);
    let (name, note) = (draw.words(), draw.words());
    let mut writer = csv::Writer::from_writer(heads.as_bytes().to_vec());
    let row = ["strip", &name, "wood", "1/16 in", "1/8 in", "24 in", "3", &note];
    writer.write_record(row).expect("a row is written");
    let text = writer.into_inner().expect("to memory");
    kept(&String::from_utf8(text).expect("it is text"));
}

fn kept(text: &str) {
    let Ok(rack) = Rack::read(text) else { return };
    let written = rack.write().expect("what was read is written");
    for record in csv::Reader::from_reader(written.as_bytes()).records() {
        for cell in &record.expect("what is written reads") {
            assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{cell:?}");
        }
    }
    let again = Rack::read(&written).unwrap_or_else(|error| panic!("{written:?}: {error}"));
    assert_eq!(again, rack, "{written:?}");
}
