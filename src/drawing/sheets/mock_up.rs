//! The mock-up in card: plain walls and roof, to prove the bulk on the table.
//!
//! The outside of the card stands where the faces of the building stand. The
//! ends go between front and back, so they are two cards narrower; walls end
//! under the roof card, so they are lower by its thickness measured upright.
//! Tabs fold inwards and are glued to the inside.

use super::core::mark_openings;
use super::roof::{self, Plane};
use super::{Face, heading, label, notes, wall_outline};
use crate::drawing::outline::cut;
use crate::drawing::shape::{Area, Drawing, Layer, Point, Run, mm, on_paper};
use crate::drawing::template::{Bench, Figure};
use crate::quantity::{CompressedLength, PaperLength};
use crate::takeoff::Wall;

/// Width of a tab, and how far its ends lean in.
const TAB_MM: f64 = 8.0;
const LEAN_MM: f64 = 4.0;

/// Walls, roof and decks.
#[must_use]
pub fn figures(bench: &Bench<'_>) -> Vec<Figure> {
    let walls = bench.walls();
    let mut figures: Vec<Figure> =
        walls.iter().filter_map(|wall| wall_figure(bench, wall)).collect();
    let planes = roof::planes(bench);
    figures.extend(roof_figures(bench, &planes));
    figures.extend(bench.job.decks.iter().filter_map(|deck| {
        let width = deck.width.take.as_ref()?.length();
        let said = deck.length.as_ref().and_then(|length| length.take.as_ref());
        let length =
            said.map_or(bench.built.body.length, |said| CompressedLength::kept(said.length()));
        Some(deck_figure(bench, &deck.name, length, CompressedLength::kept(width)))
    }));
    figures
}

fn is_end(wall: &Wall) -> bool {
    wall.id.side.is_end()
}

/// Thickness of the roof card, measured upright.
fn drop_of(bench: &Bench<'_>) -> PaperLength {
    on_paper(bench.card) * bench.built.body.pitch.hypot(1.0)
}

fn wall_figure(bench: &Bench<'_>, wall: &Wall) -> Option<Figure> {
    let lowered: Vec<Point> = wall_outline(bench, wall)
        .into_iter()
        .map(|at| if at.y > mm(0.0) { Point::new(at.x, at.y - drop_of(bench)) } else { at })
        .collect();
    let inset = if is_end(wall) { on_paper(bench.card) } else { mm(0.0) };
    let window = Area {
        least: Point::new(inset, mm(0.0)),
        most: Point::new(bench.paper(wall.width) - inset, bench.paper(wall.height())),
    };
    let face = cut(&lowered, window, &[]).into_iter().next()?.outside;
    let mut drawing = Drawing::default();
    let outline = with_tabs(&mut drawing, &face, is_end(wall));
    drawing.closed(Layer::Through, &outline, Run::Outside);
    mark_openings(&mut drawing, bench, wall, Point::default());
    let name = format!("{}/card", wall.name);
    let holes = opened(bench, wall);
    label(&mut drawing, Face { outline: &face, window, holes: &holes }, &name);
    heading(&mut drawing, &format!("{name}: {}, outside up", wall.title));
    let card = bench.job.about.model_notation().show(&bench.card);
    notes(
        &mut drawing,
        &[format!(
            "card {card}; {}",
            if is_end(wall) {
                "stands between front and back; fold the tabs inwards"
            } else {
                "runs past the ends; fold the tab inwards, under the roof"
            }
        )],
    );
    Some(Figure::new(name, wall.title.clone(), drawing))
}

fn opened(bench: &Bench<'_>, wall: &Wall) -> Vec<Area> {
    wall.holes.iter().map(|hole| super::hole_area(bench, hole)).collect()
}

/// The outline with its tabs: at the sides of an end, along the top of the
/// other walls. The folds are scored.
fn with_tabs(drawing: &mut Drawing, face: &[Point], end: bool) -> Vec<Point> {
    let count = face.len();
    let turned = {
        let corners: Vec<[f64; 2]> = face.iter().map(|point| point.in_mm()).collect();
        crate::drawing::kerf::signed_area(&corners) < 0.0
    };
    let mut outline = Vec::new();
    for at in 0..count {
        let (from, to) = (face[at], face[(at + 1) % count]);
        outline.push(from);
        let upright = (from.x - to.x).abs() < mm(0.01);
        let level = (from.y - to.y).abs() < mm(0.01) && from.y > mm(0.01);
        if (end && upright) || (!end && level) {
            outline.extend(tab(from, to, turned));
            drawing.dashed(Layer::Scribe, &[from, to]);
        }
    }
    outline
}

/// The two outer corners of a tab on an edge.
fn tab(from: Point, to: Point, turned: bool) -> [Point; 2] {
    let ([x0, y0], [x1, y1]) = (from.in_mm(), to.in_mm());
    let length = (x1 - x0).hypot(y1 - y0).max(1e-9);
    let (along, side) = (((x1 - x0) / length, (y1 - y0) / length), if turned { -1.0 } else { 1.0 });
    let lean = LEAN_MM.min(length / 4.0);
    let out = (along.1 * TAB_MM * side, -along.0 * TAB_MM * side);
    [
        Point::of_mm([x0 + along.0 * lean + out.0, y0 + along.1 * lean + out.1]),
        Point::of_mm([x1 - along.0 * lean + out.0, y1 - along.1 * lean + out.1]),
    ]
}

/// Two planes alike in one piece with a fold along the ridge; others one by
/// one.
fn roof_figures(bench: &Bench<'_>, planes: &[Plane<'_>]) -> Vec<Figure> {
    planes
        .iter()
        .map(|plane| {
            let square = (plane.eave - plane.ridge).abs() < CompressedLength::inches(0.1);
            let folded = square && plane.count == 2;
            let mut drawing = Drawing::default();
            let (eave, slope) = (bench.paper(plane.eave), bench.paper(plane.slope));
            let high = if folded { slope * 2.0 } else { slope };
            let whole = Area::new(Point::default(), eave, high);
            if folded {
                drawing.part(whole);
                let fold = [Point::new(mm(0.0), slope), Point::new(eave, slope)];
                drawing.dashed(Layer::Scribe, &fold);
            } else {
                drawing.closed(Layer::Through, &plane.corners(bench), Run::Outside);
            }
            let name = format!("{}/card", plane.label);
            let outline = if folded { whole.corners() } else { plane.corners(bench) };
            label(&mut drawing, Face { outline: &outline, window: whole, holes: &[] }, &name);
            let times = if folded { 1 } else { plane.count };
            heading(&mut drawing, &format!("{name}: {times} of these, outside up"));
            let words =
                if folded { "score the ridge outside and fold" } else { "eave at the foot" };
            notes(&mut drawing, &[format!("{words}; eaves and rakes are counted in")]);
            Figure { copies: times, ..Figure::new(name, "Roof", drawing) }
        })
        .collect()
}

fn deck_figure(
    bench: &Bench<'_>,
    name: &str,
    length: CompressedLength,
    width: CompressedLength,
) -> Figure {
    let mut drawing = Drawing::default();
    let whole = Area::new(Point::default(), bench.paper(length), bench.paper(width));
    drawing.part(whole);
    let label_text = format!("deck/{name}");
    let outline = whole.corners();
    label(&mut drawing, Face { outline: &outline, window: whole, holes: &[] }, &label_text);
    heading(
        &mut drawing,
        &format!("{label_text}: {} by {}", bench.both(length), bench.both(width)),
    );
    Figure::new(label_text, "Deck", drawing)
}
