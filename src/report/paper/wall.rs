//! Pages for the wall above the bench: tables, with a rule of each scale along
//! the edge at 1:1.

use super::flow;
use crate::bench::Look;
use crate::drawing::page::Format;
use crate::drawing::shape::{mm, on_paper};
use crate::drawing::{Anchor, Block, Drawing, Layer, Page, Point, Setup, furniture};
use crate::quantity::{PaperLength, PrototypeLength, Scale};
use crate::report::table::View;

/// Width of one rule.
const RULE_MM: f64 = 11.0;
/// Most rules a page has room for.
const MOST: usize = 4;
/// Ticks nearer than this run together.
const LEAST_TICK_MM: f64 = 0.7;
const LEAST_LABEL_MM: f64 = 4.5;

/// The views set in type, each page with the rules along its right edge.
#[must_use]
pub fn pages(views: &[View], scales: &[Scale], look: Look, setup: &Setup) -> Vec<Page> {
    let format = setup.format(false);
    let scales = &scales[..scales.len().min(MOST)];
    let strip = mm(RULE_MM) * scales.len() as f64;
    let room = format.room;
    let text = (room.width() - strip - mm(4.0), room.height() - mm(2.0));
    let rules = rules(scales, look, &format, strip);
    let mut pages: Vec<Page> = Vec::new();
    for view in views {
        for figure in flow::view(view, "table", text) {
            let area = figure.area();
            let by = Point::new(room.least.x - area.least.x, room.most.y - area.most.y);
            let block =
                |labels: Vec<String>, drawing| Block { labels, drawing, clip: None, tile: None };
            pages.push(Page {
                number: 0,
                title: view.title.clone(),
                format,
                blocks: vec![
                    block(vec![figure.label.clone()], figure.drawing.moved(by)),
                    block(vec!["rules".to_owned()], rules.clone()),
                ],
            });
        }
    }
    let count = pages.len();
    for (at, page) in pages.iter_mut().enumerate() {
        page.number = at + 1;
        let title = page.title.clone();
        let words = furniture::Words {
            job: &setup.job,
            scale: &setup.scale,
            title: &title,
            page: (at + 1, count),
            tile: None,
        };
        let drawing = furniture::draw(&format, &words);
        page.blocks.push(Block { labels: Vec::new(), drawing, clip: None, tile: None });
    }
    pages
}

fn rules(scales: &[Scale], look: Look, format: &Format, strip: PaperLength) -> Drawing {
    let mut drawing = Drawing::default();
    let room = format.room;
    for (at, scale) in scales.iter().enumerate() {
        let x = room.most.x - strip + mm(RULE_MM) * (at as f64 + 1.0);
        let foot = Point::new(x, room.least.y);
        rule(&mut drawing, scale, look, foot, room.height() - mm(6.0));
    }
    drawing
}

/// How a rule of a scale is divided.
struct Division {
    /// What one numbered step is, full size.
    step: PrototypeLength,
    /// Ticks to a step.
    parts: u32,
    /// Steps from one number to the next.
    every: u32,
    unit: &'static str,
}

impl Division {
    fn of(scale: &Scale, look: Look) -> Self {
        let metric = look.is_metric();
        let step = if metric { PrototypeLength::metres(1.0) } else { PrototypeLength::feet(1.0) };
        let long = scale.reduce(step).in_millimetres();
        let fine: &[u32] = if metric { &[20, 10, 5, 2, 1] } else { &[12, 4, 2, 1] };
        let parts = fine.iter().copied().find(|parts| long / f64::from(*parts) >= LEAST_TICK_MM);
        let every =
            [1, 2, 5, 10, 20, 50, 100].into_iter().find(|n| long * f64::from(*n) >= LEAST_LABEL_MM);
        Self {
            step,
            parts: parts.unwrap_or(1),
            every: every.unwrap_or(100),
            unit: if metric { "m" } else { "ft" },
        }
    }
}

/// One rule upwards from its foot, its edge at the right.
fn rule(drawing: &mut Drawing, scale: &Scale, look: Look, foot: Point, high: PaperLength) {
    let division = Division::of(scale, look);
    let tick = on_paper(scale.reduce(division.step)) / f64::from(division.parts);
    // A rule too fine to divide is left to its numbers.
    let thin = if tick < mm(LEAST_TICK_MM) { division.every } else { 1 };
    let count = (high / tick).floor() as u32;
    let whole = count / division.parts;
    let top = foot.y + tick * f64::from(whole * division.parts);
    drawing.line(Layer::Note, &[foot, Point::new(foot.x, top)]);
    for n in (0..=whole * division.parts).step_by(thin as usize) {
        let y = foot.y + tick * f64::from(n);
        let step = n / division.parts;
        let on_step = n % division.parts == 0;
        let numbered = on_step && step.is_multiple_of(division.every);
        let half = division.parts.is_multiple_of(2) && n % division.parts == division.parts / 2;
        let long = if numbered {
            4.5
        } else if on_step {
            3.2
        } else if half {
            2.2
        } else {
            1.3
        };
        drawing.line(Layer::Note, &[Point::new(foot.x - mm(long), y), Point::new(foot.x, y)]);
        if numbered {
            let at = Point::new(foot.x - mm(4.9), y - mm(0.8));
            drawing.text(Layer::Note, at, mm(2.3), Anchor::End, &step.to_string());
        }
    }
    let head = Point::new(foot.x, foot.y + high + mm(2.0));
    let words = format!("{scale}, {}", division.unit);
    drawing.text(Layer::Note, head, mm(2.3), Anchor::End, &words);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::drawing::{Paper, PrintCheck, Shape};
    use crate::report::bench_tables::{TABLES, view};

    /// A tick of the rule stands at each scale foot: 1/4 in at O, 3.5 mm in HO.
    #[test]
    fn the_rules_are_true_to_their_scale() {
        let catalog = Catalog::built_in().unwrap();
        let scales: Vec<Scale> =
            ["O", "HO"].iter().map(|name| catalog.scales.find(name).unwrap()).collect();
        let views = [view(&TABLES[2], &scales, &catalog, None, Look::default())];
        let setup = Setup {
            paper: Paper::ALL[0],
            check: PrintCheck::default(),
            job: "bench".to_owned(),
            scale: "O, HO".to_owned(),
        };
        let pages = pages(&views, &scales, Look::default(), &setup);
        assert_eq!(pages.len(), 1);
        let drawing = &pages[0].blocks[1].drawing;
        let mut ends: Vec<(f64, f64)> = Vec::new();
        for item in &drawing.items {
            if let Shape::Line { points, .. } = &item.shape {
                let [a, b] = [points[0].in_mm(), points[1].in_mm()];
                if (a[1] - b[1]).abs() < 1e-9 && (b[0] - a[0] - 4.5).abs() < 1e-6 {
                    ends.push((b[0], b[1]));
                }
            }
        }
        for (at, step) in [(0, 6.35), (1, 7.0)] {
            let x = ends.iter().map(|end| end.0).fold(f64::NEG_INFINITY, f64::max)
                - RULE_MM * (1 - at) as f64;
            let on: Vec<f64> =
                ends.iter().filter(|end| (end.0 - x).abs() < 0.1).map(|end| end.1).collect();
            assert!(on.len() > 10, "{at}: {on:?}");
            assert!(on.windows(2).all(|pair| (pair[1] - pair[0] - step).abs() < 1e-6), "{step}");
        }
    }
}
