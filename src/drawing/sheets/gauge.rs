//! The clearance gauge: the outline that must pass at the tightest place.

use super::{heading, label_size, notes};
use crate::clearance::Clearance;
use crate::drawing::shape::{Anchor, Drawing, Layer, Point, Run, mm, on_paper};
use crate::drawing::template::{Bench, Figure};
use crate::quantity::{ModelLength, PaperLength};

/// The gauge, where the job has a track and something beside it.
#[must_use]
pub fn figures(bench: &Bench<'_>) -> Vec<Figure> {
    let Some(found) = bench.clearance else { return Vec::new() };
    let outline = outline(&found.gauge);
    if outline.len() < 4 {
        return Vec::new();
    }
    let mut drawing = Drawing::default();
    drawing.closed(Layer::Through, &outline, Run::Outside);
    let top = outline.iter().map(|point| point.y).fold(PaperLength::ZERO, PaperLength::max);
    let centre = [Point::default(), Point::new(PaperLength::ZERO, top)];
    drawing.dashed(Layer::Mark, &centre);
    let size = label_size();
    let beside = |x: PaperLength| Point::new(x, mm(1.2));
    drawing.text(Layer::Mark, beside(mm(-1.5)), size, Anchor::End, "left");
    drawing.text(Layer::Mark, beside(mm(1.5)), size, Anchor::Start, "right");
    heading(&mut drawing, &format!("gauge for {}", place(found)));
    notes(&mut drawing, &words(bench, found));
    vec![Figure::new("gauge", "clearance gauge", drawing)]
}

/// The place it is made for.
fn place(found: &Clearance) -> String {
    let cut = found.picture.section.as_ref();
    let thing = cut.and_then(|cut| found.checked.get(cut.thing));
    thing.map_or_else(|| "the track".to_owned(), |thing| thing.name.clone())
}

fn words(bench: &Bench<'_>, found: &Clearance) -> Vec<String> {
    let notation = bench.job.about.model_notation();
    let kept: ModelLength = found.margin.iter().copied().sum();
    vec![
        format!("the cars at this place, and {} on all sides", notation.show(&kept)),
        "seen along the track; its foot stands on the rail heads, the dashed line is the middle"
            .to_owned(),
        "stand it square to the track here and push it along: what it touches is too near"
            .to_owned(),
    ]
}

/// Up the left side, over the top and down the right, from the rail head.
fn outline(gauge: &[[ModelLength; 3]]) -> Vec<Point> {
    let left = gauge.iter().map(|[left, _, high]| (-on_paper(*left), on_paper(*high)));
    let right = gauge.iter().rev().map(|[_, right, high]| (on_paper(*right), on_paper(*high)));
    let foot = gauge.first().map(|[left, right, _]| [-on_paper(*left), on_paper(*right)]);
    let feet = |at: usize| foot.map(|foot| (foot[at], PaperLength::ZERO)).into_iter();
    let mut points: Vec<Point> =
        feet(0).chain(left).chain(right).chain(feet(1)).map(|(x, y)| Point::new(x, y)).collect();
    let hair = mm(1e-4);
    points.dedup_by(|a, b| a.x.agrees(b.x, hair) && a.y.agrees(b.y, hair));
    // Against the clock, as outlines of parts go.
    points.reverse();
    points
}
