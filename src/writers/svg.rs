//! A drawing as SVG in real units: width and height in millimetres, one user
//! unit a millimetre, a group for each layer in the order of the work, in the
//! pens that the person's machine wants.
//!
//! Letters are written as curves, so that a laser needs no font; what they say
//! stands in a `title` beside them. Nothing a person wrote stands in an
//! attribute.

use svg::Document;
use svg::node::Text;
use svg::node::element::{Description, Group, Path, Title};

use super::glyphs::{Stroke, strokes};
use crate::catalog::fits::Fits;
use crate::drawing::shape::{Item, Shape, on_paper};
use crate::drawing::{Drawing, Layer, Point, Run, type_face};
use crate::quantity::PaperLength;

/// The drawing as the text of an SVG file. What is for paper alone is left
/// out; `words` travel with it unseen by the beam.
#[must_use]
pub fn write(drawing: &Drawing, title: &str, words: &[String], pens: &Fits) -> String {
    let area = drawing.extent_of(&Layer::CUT).unwrap_or_default();
    let to = |at: Point| {
        let [x, y] = Point::new(at.x - area.least.x, area.most.y - at.y).in_mm();
        (x, y)
    };
    let [wide, high] = [area.width(), area.height()].map(PaperLength::in_millimetres);
    let mut document = Document::new()
        .set("width", format!("{wide:.6}mm"))
        .set("height", format!("{high:.6}mm"))
        .set("viewBox", format!("0 0 {wide:.6} {high:.6}"))
        .add(Title::new(type_face::printable(title)));
    if !words.is_empty() {
        let words = Text::new(type_face::printable(&words.join(" ")));
        document = document.add(Description::new().add(words));
    }
    let items = drawing.in_cutting_order();
    for layer in Layer::CUT {
        let pen = pens.pen(layer.word());
        let colour = pen.map_or("black", |pen| pen.colour.as_str());
        let width = pen.map_or(layer.pen(), |pen| on_paper(pen.width.length()));
        let mut group = Group::new()
            .set("id", layer.word())
            .set("fill", "none")
            .set("stroke", colour)
            .set("stroke-width", format!("{:.3}", width.in_millimetres()));
        for item in items.iter().filter(|item| item.layer == layer) {
            group = add(group, item, &to);
        }
        document = document.add(group);
    }
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{document}\n")
}

fn add(group: Group, item: &Item, to: &impl Fn(Point) -> (f64, f64)) -> Group {
    match &item.shape {
        Shape::Line { points, run, dashed } => {
            let path = Path::new().set("d", line(points, *run, to));
            group.add(if *dashed { path.set("stroke-dasharray", "2 1") } else { path })
        }
        Shape::Text { text, .. } => {
            let letters = Path::new().set("d", curves(&strokes(&item.shape), to));
            let words = Title::new("").add(Text::new(type_face::printable(text)));
            group.add(Group::new().set("class", "text").add(words).add(letters))
        }
    }
}

fn line(points: &[Point], run: Run, to: &impl Fn(Point) -> (f64, f64)) -> String {
    let mut data = String::new();
    for (at, point) in points.iter().enumerate() {
        let (x, y) = to(*point);
        let letter = if at == 0 { 'M' } else { 'L' };
        data.push_str(&format!("{letter}{x:.6} {y:.6}"));
    }
    if run != Run::Open {
        data.push('Z');
    }
    data
}

fn curves(strokes: &[Stroke], to: &impl Fn(Point) -> (f64, f64)) -> String {
    let mut data = String::new();
    let mut pen: Option<Point> = None;
    for stroke in strokes {
        let (from, end) = match stroke {
            Stroke::Line(a, b) => (*a, *b),
            Stroke::Curve(a, _, c) => (*a, *c),
        };
        if pen != Some(from) {
            let (x, y) = to(from);
            data.push_str(&format!("M{x:.3} {y:.3}"));
        }
        let (x, y) = to(end);
        match stroke {
            Stroke::Line(..) => data.push_str(&format!("L{x:.3} {y:.3}")),
            Stroke::Curve(_, by, _) => {
                let (bx, by) = to(*by);
                data.push_str(&format!("Q{bx:.3} {by:.3} {x:.3} {y:.3}"));
            }
        }
        pen = Some(end);
    }
    data
}
