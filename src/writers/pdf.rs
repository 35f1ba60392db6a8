//! Pages as PDF at 1:1.
//!
//! A user unit is 1/72 in (ISO 32000-2, 8.3.2.3). What is drawn is divided by
//! the print check, so that it comes out of the printer at its size. Ink is
//! black; the font is embedded and its texts can be searched and copied.

use std::collections::BTreeMap;

use pdf_writer::types::{
    CidFontType, FontFlags, LineCapStyle, LineJoinStyle, SystemInfo, UnicodeCmap,
};
use pdf_writer::{Content, Filter, Finish as _, Name, Pdf, Rect, Ref, Str, TextStr};

use crate::drawing::page::Format;
use crate::drawing::shape::{Area, Item, Point, Shape};
use crate::drawing::{Anchor, Block, Page, Run, type_face};
use crate::quantity::PaperLength;

/// Points to the inch.
const POINTS: f64 = 72.0;
const FACE: Name<'static> = Name(b"F1");
const SYSTEM: SystemInfo<'static> =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// The glyphs used, each with the character it came from.
type Used = BTreeMap<u16, char>;

/// The pages as the bytes of a PDF file.
#[must_use]
pub fn write(pages: &[Page], title: &str) -> Vec<u8> {
    let (catalog, tree, info) = (Ref::new(1), Ref::new(2), Ref::new(3));
    let first_face = 4;
    let first_page = first_face + 5;
    let page_ref = |at: usize| Ref::new(first_page + 2 * at as i32);
    let mut pdf = Pdf::new();
    pdf.catalog(catalog).pages(tree);
    pdf.document_info(info)
        .title(TextStr(&type_face::printable(title)))
        .creator(TextStr("scantling"));
    pdf.pages(tree).kids((0..pages.len()).map(page_ref)).count(pages.len() as i32);
    let mut used = Used::new();
    for (at, page) in pages.iter().enumerate() {
        let (id, content) = (page_ref(at), Ref::new(page_ref(at).get() + 1));
        let bytes = squeezed(&content_of(page, &mut used));
        let mut out = pdf.page(id);
        let (wide, high) = page.format.media;
        out.media_box(Rect::new(0.0, 0.0, points(wide), points(high)));
        out.parent(tree).contents(content);
        out.resources().fonts().pair(FACE, Ref::new(first_face));
        out.finish();
        pdf.stream(content, &bytes).filter(Filter::FlateDecode);
    }
    embed(&mut pdf, first_face, &used);
    pdf.finish()
}

fn points(length: PaperLength) -> f32 {
    (length.in_inches() * POINTS) as f32
}

fn squeezed(bytes: &[u8]) -> Vec<u8> {
    miniz_oxide::deflate::compress_to_vec_zlib(bytes, 6)
}

/// From the lengths on the print to the points of the file.
#[derive(Clone, Copy)]
struct ToPoints {
    across: f64,
    up: f64,
}

impl ToPoints {
    fn new(format: &Format) -> Self {
        let per = POINTS / 25.4;
        Self { across: per / format.check.across, up: per / format.check.up }
    }

    fn point(self, at: Point) -> (f32, f32) {
        let [x, y] = at.in_mm();
        ((x * self.across) as f32, (y * self.up) as f32)
    }
}

fn content_of(page: &Page, used: &mut Used) -> Vec<u8> {
    let to = ToPoints::new(&page.format);
    let mut content = Content::new();
    content.set_line_cap(LineCapStyle::RoundCap).set_line_join(LineJoinStyle::MiterJoin);
    for block in &page.blocks {
        draw(&mut content, block, to, used);
    }
    content.finish().into_vec()
}

fn draw(content: &mut Content, block: &Block, to: ToPoints, used: &mut Used) {
    content.save_state();
    if let Some(Area { least, most }) = block.clip {
        let ((x, y), (right, top)) = (to.point(least), to.point(most));
        content.rect(x, y, right - x, top - y).clip_nonzero().end_path();
    }
    let seen = |item: &&Item| match (block.clip, item.extent()) {
        (Some(clip), Some(extent)) => meets(clip, extent),
        _ => true,
    };
    for item in block.drawing.items.iter().filter(seen) {
        match &item.shape {
            Shape::Line { points, run, dashed } => {
                content.set_line_width(points_pen(item));
                if *dashed {
                    content.set_dash_pattern([6.0, 3.0], 0.0);
                } else {
                    content.set_dash_pattern([], 0.0);
                }
                path(content, points, *run, to);
            }
            Shape::Text { .. } => text(content, &item.shape, to, used),
        }
    }
    content.restore_state();
}

fn points_pen(item: &Item) -> f32 {
    points(item.layer.pen())
}

/// Whether two rectangles have anything in common.
fn meets(a: Area, b: Area) -> bool {
    a.least.x <= b.most.x && b.least.x <= a.most.x && a.least.y <= b.most.y && b.least.y <= a.most.y
}

fn path(content: &mut Content, line: &[Point], run: Run, to: ToPoints) {
    for (at, point) in line.iter().enumerate() {
        let (x, y) = to.point(*point);
        if at == 0 {
            content.move_to(x, y);
        } else {
            content.line_to(x, y);
        }
    }
    if run != Run::Open {
        content.close_path();
    }
    content.stroke();
}

fn text(content: &mut Content, shape: &Shape, to: ToPoints, used: &mut Used) {
    let Shape::Text { at, size, turn, anchor, text } = shape else { return };
    let wide = type_face::width(text, *size);
    let back = match anchor {
        Anchor::Start => PaperLength::ZERO,
        Anchor::Middle => wide / 2.0,
        Anchor::End => wide,
    };
    let (sin, cos) = turn.in_radians().sin_cos();
    let start = at.moved(Point::new(-back * cos, -back * sin));
    let (x, y) = to.point(start);
    let matrix = [cos * to.across, sin * to.up, -sin * to.across, cos * to.up];
    let [a, b, c, d] = matrix.map(|value| value as f32);
    let mut glyphs = Vec::with_capacity(text.len() * 2);
    for character in text.chars() {
        let glyph = type_face::glyph(character).0;
        used.entry(glyph).or_insert(character);
        glyphs.extend(glyph.to_be_bytes());
    }
    content.begin_text();
    content.set_font(FACE, size.in_millimetres() as f32);
    content.set_text_matrix([a, b, c, d, x, y]);
    content.show(Str(&glyphs));
    content.end_text();
}

/// The font as five objects from a number on.
fn embed(pdf: &mut Pdf, first: i32, used: &Used) {
    let [face, cid, descriptor, file, cmap] = [0, 1, 2, 3, 4].map(|n| Ref::new(first + n));
    let name = Name(type_face::NAME.as_bytes());
    pdf.type0_font(face)
        .base_font(name)
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(cid)
        .to_unicode(cmap);
    let mut font = pdf.cid_font(cid);
    font.subtype(CidFontType::Type2).base_font(name).system_info(SYSTEM);
    font.font_descriptor(descriptor)
        .default_width(0.0)
        .cid_to_gid_map_predefined(Name(b"Identity"));
    let mut widths = font.widths();
    for glyph in used.keys() {
        let advance = type_face::advance(ab_glyph::GlyphId(*glyph)) * 1000.0;
        widths.consecutive(*glyph, [advance as f32]);
    }
    widths.finish();
    font.finish();
    // Figures of the font's own head and OS/2 tables, in thousandths.
    pdf.font_descriptor(descriptor)
        .name(name)
        .flags(FontFlags::SYMBOLIC)
        .bbox(Rect::new(-1000.0, -400.0, 1500.0, 1200.0))
        .italic_angle(0.0)
        .ascent(928.0)
        .descent(-236.0)
        .cap_height(729.0)
        .stem_v(80.0)
        .font_file2(file);
    let bytes = squeezed(type_face::FILE);
    let mut stream = pdf.stream(file, &bytes);
    stream.filter(Filter::FlateDecode);
    stream.pair(Name(b"Length1"), type_face::FILE.len() as i32);
    stream.finish();
    let mut map = UnicodeCmap::new(Name(b"Custom"), SYSTEM);
    for (glyph, character) in used {
        map.pair(*glyph, *character);
    }
    pdf.stream(cmap, &map.finish());
}
