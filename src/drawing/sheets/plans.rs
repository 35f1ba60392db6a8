//! Stick and sheet plans: how each piece of stock is cut. Not at true size.

use super::label_size;
use crate::cutting::parts::{SheetGroup, StickGroup};
use crate::cutting::sheets::SheetCut;
use crate::drawing::shape::{Anchor, Area, Drawing, Layer, Point, mm, on_paper};
use crate::drawing::template::Figure;
use crate::drawing::type_face::{clip, printable, width};
use crate::quantity::{ModelLength, Notation, PaperLength};

/// A figure for every way a stick is cut, in a room of some width.
#[must_use]
pub fn sticks(groups: &[StickGroup], notation: Notation, room: PaperLength) -> Vec<Figure> {
    let mut figures = Vec::new();
    for group in groups {
        for (at, cut) in group.layout.cuts.iter().enumerate() {
            let mut drawing = Drawing::default();
            let usable = group.usable_of(cut);
            let share = (room - mm(1.0)) / on_paper(usable.max(group.usable));
            let paper = |model: ModelLength| on_paper(model) * share;
            let high = mm(6.0);
            drawing.part(Area::new(Point::default(), paper(usable), high));
            let mut from = ModelLength::ZERO;
            let mut texts: Vec<String> = Vec::new();
            for &piece in &cut.pieces {
                let part = &group.parts[piece];
                let to = from + part.length;
                let line = Point::new(paper(to), PaperLength::ZERO);
                drawing.line(Layer::Mark, &[line, line.moved(Point::new(mm(0.0), high))]);
                let name = clip(&printable(&part.label), mm(2.3), paper(part.length) - mm(1.0));
                let middle = Point::new(paper(from + part.length / 2.0), mm(2.2));
                if width(&name, mm(2.3)) < paper(part.length) {
                    drawing.text(Layer::Note, middle, mm(2.3), Anchor::Middle, &name);
                }
                texts.push(format!("{} {}", part.label, notation.show(&part.length)));
                from = to + group.kerf;
            }
            let like = if cut.times == 1 { "one stick" } else { "sticks like this" };
            let count = if cut.times == 1 { String::new() } else { format!("{} ", cut.times) };
            let title = format!("{}, plan {}: {count}{like}", group.stock, at + 1);
            let over = Point::new(mm(0.0), high + mm(1.5));
            drawing.text(Layer::Note, over, label_size(), Anchor::Start, &title);
            let left = format!("left over {}", notation.show(&cut.left));
            let list = counted(&texts).join(", ");
            for (line, text) in
                super::type_face::wrap(&format!("{list}; {left}"), mm(2.5), room).iter().enumerate()
            {
                let under = Point::new(mm(0.0), mm(-3.2 - 3.2 * line as f64));
                drawing.text(Layer::Note, under, mm(2.5), Anchor::Start, text);
            }
            let label = format!("{}/{}", group.stock, at + 1);
            figures.push(Figure { true_size: false, ..Figure::new(label, title, drawing) });
        }
    }
    figures
}

/// Equal neighbours counted together: `3 x main/front/batten-1 2.204 in`.
fn counted(texts: &[String]) -> Vec<String> {
    let mut out: Vec<(u32, &String)> = Vec::new();
    for text in texts {
        match out.last_mut() {
            Some((count, last)) if *last == text => *count += 1,
            _ => out.push((1, text)),
        }
    }
    out.into_iter().map(|(count, text)| format!("{count} x {text}")).collect()
}

/// A figure for every sheet, no larger than a room.
#[must_use]
pub fn sheets(
    groups: &[SheetGroup],
    notation: Notation,
    room: (PaperLength, PaperLength),
) -> Vec<Figure> {
    let mut figures = Vec::new();
    for group in groups {
        for (at, cut) in group.layout.sheets.iter().enumerate() {
            figures.push(sheet(group, at, cut, notation, room));
        }
    }
    figures
}

fn sheet(
    group: &SheetGroup,
    at: usize,
    cut: &SheetCut,
    notation: Notation,
    room: (PaperLength, PaperLength),
) -> Figure {
    let stock = &group.sheets[cut.stock];
    // The grain lies level: a sheet is longer along it.
    let (long, wide) = (on_paper(stock.height), on_paper(stock.width));
    let share = ((room.0 - mm(1.0)) / long).min((room.1 - mm(14.0)) / wide).min(0.5);
    let paper = |model: ModelLength| on_paper(model) * share;
    let place = |area: &crate::cutting::sheets::Area| {
        let corner = Point::new(paper(area.y), paper(area.x));
        Area::new(corner, paper(area.height), paper(area.width))
    };
    let mut drawing = Drawing::default();
    drawing.part(Area::new(Point::default(), paper(stock.height), paper(stock.width)));
    for (at, laid) in cut.parts.iter().enumerate() {
        let area = place(&laid.area);
        match cut.outlines.get(at) {
            Some(outline) => {
                for line in std::iter::once(&outline.outer).chain(&outline.openings) {
                    let corners = line.iter().chain(line.first());
                    let round: Vec<Point> =
                        corners.map(|point| Point::new(paper(point.x), paper(point.y))).collect();
                    drawing.line(Layer::Mark, &round);
                }
            }
            None => {
                let mut round = area.corners();
                round.push(area.least);
                drawing.line(Layer::Mark, &round);
            }
        }
        let part = &group.parts[laid.part];
        let name = clip(&printable(&part.label), mm(2.4), area.width() - mm(1.0));
        if area.height() > mm(3.0) && area.width() > mm(6.0) {
            let middle =
                area.least.moved(Point::new(area.width() / 2.0, area.height() / 2.0 - mm(0.8)));
            drawing.text(Layer::Note, middle, mm(2.4), Anchor::Middle, &name);
        }
    }
    let title = format!(
        "{} sheet {}: {} along the grain, {} across; drawn 1:{:.1}, cuts in the cut list",
        group.stock,
        at + 1,
        notation.show(&stock.height),
        notation.show(&stock.width),
        1.0 / share
    );
    let over = Point::new(mm(0.0), paper(stock.width) + mm(1.5));
    drawing.text(Layer::Note, over, label_size(), Anchor::Start, &title);
    let label = format!("{}/sheet-{}", group.stock, at + 1);
    Figure { true_size: false, ..Figure::new(label, title, drawing) }
}
