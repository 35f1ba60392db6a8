//! One file a sheet, and what they share.

pub mod castings;
pub mod cladding;
pub mod core;
pub mod gauge;
pub mod jigs;
pub mod mock_up;
pub mod plans;
pub mod roof;
pub mod story_sticks;

use super::kerf::inside;
use super::shape::{Anchor, Area, Drawing, Layer, Point, mm};
use super::template::Bench;
use super::type_face::{self, short};
use crate::catalog::Catalog;
use crate::elevation::Hole;
use crate::job::building::Opening;
use crate::quantity::{Compressed, CompressedLength, ModelLength, PaperLength};
use crate::takeoff::{Wall, casting};

/// Most characters of a label on a part, and of a line beside a figure: more
/// would be wider than what it stands on.
const LABEL: usize = 48;
const LINE: usize = 96;

/// Size of labels on parts.
pub(super) fn label_size() -> PaperLength {
    mm(2.8)
}

/// Size of headings over figures.
pub(super) fn heading_size() -> PaperLength {
    mm(3.2)
}

/// A wall from outside, its left corner at the foot being the zero.
pub(super) fn wall_outline(bench: &Bench<'_>, wall: &Wall) -> Vec<Point> {
    let on_paper = |(x, y): &(CompressedLength, CompressedLength)| {
        Point::new(bench.paper(*x), bench.paper(*y))
    };
    let mut points: Vec<Point> = wall.foot.iter().map(on_paper).collect();
    let top = wall.top.iter().rev();
    points.extend(top.map(on_paper));
    points
}

/// The rectangle of an opening.
pub(super) fn hole_area(bench: &Bench<'_>, hole: &Hole<Compressed>) -> Area {
    let corner = Point::new(bench.paper(hole.left), bench.paper(hole.foot));
    Area::new(corner, bench.paper(hole.width), bench.paper(hole.height))
}

/// Size of the hole cut for the casting of a kind of opening, if it has one.
pub(super) fn casting_hole(bench: &Bench<'_>, kind: &str) -> Option<(PaperLength, PaperLength)> {
    let opening = bench.job.openings.iter().find(|opening| opening.name == kind)?;
    hole_for_casting(opening, bench.catalog)
}

/// The same, of an opening.
#[must_use]
pub fn hole_for_casting(
    opening: &Opening,
    catalog: &Catalog,
) -> Option<(PaperLength, PaperLength)> {
    let casting = casting(opening, catalog)?;
    let fit = catalog.fits.get("casting");
    let fit = fit.map_or(ModelLength::thou(5.0), |row| row.take.length());
    let (wide, high) = casting.frame;
    let cut = |frame: ModelLength| super::shape::on_paper(frame + fit * 2.0);
    Some((cut(wide), cut(high)))
}

/// The rectangles cut out of a layer of a wall.
pub(super) fn layer_holes(bench: &Bench<'_>, wall: &Wall, layer: &str) -> Vec<Area> {
    let layers = wall.layers.iter().filter(|it| it.id.layer == layer);
    layers.flat_map(|layer| &layer.holes).map(|cut| hole_area(bench, &cut.hole)).collect()
}

/// Writes a heading over what is drawn so far.
pub(super) fn heading(drawing: &mut Drawing, text: &str) {
    let area = drawing.extent().unwrap_or_default();
    let at = Point::new(area.least.x, area.most.y + mm(2.0));
    drawing.text(Layer::Note, at, heading_size(), Anchor::Start, &short(text, LINE));
}

/// Writes lines under what is drawn so far.
pub(super) fn notes(drawing: &mut Drawing, lines: &[String]) {
    let size = label_size();
    for line in lines.iter().filter(|line| !line.is_empty()) {
        let area = drawing.extent().unwrap_or_default();
        let at = Point::new(area.least.x, area.least.y - size * 1.1);
        drawing.text(Layer::Note, at, size, Anchor::Start, &short(line, LINE));
    }
}

/// Where on a part something may be written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Face<'a> {
    /// Its outline.
    pub(super) outline: &'a [Point],
    /// The stretch of it that is cut as one piece.
    pub(super) window: Area,
    /// Holes in it.
    pub(super) holes: &'a [Area],
}

/// Writes a label on a part where none of the holes is, or under the part
/// where there is no such place; beside it an arrow to the top.
pub(super) fn label(drawing: &mut Drawing, face: Face<'_>, text: &str) {
    let text = short(text, LABEL);
    let size = label_size();
    let wide = type_face::width(&text, size) + mm(6.0);
    match face.places((wide, size * 1.6)).next() {
        Some(at) => {
            let base = at.moved(Point::new(mm(4.5), size * 0.5));
            drawing.text(Layer::Mark, base, size, Anchor::Start, &text);
            let foot = at.moved(Point::new(mm(2.2), size * 0.3));
            drawing.arrow(Layer::Mark, foot, foot.moved(Point::new(mm(0.0), size * 1.2)));
        }
        None => label_beside(drawing, face.window, &text),
    }
}

/// Writes a label under a part, where its face is to stay clean.
pub(super) fn label_beside(drawing: &mut Drawing, window: Area, text: &str) {
    let size = label_size();
    let at = Point::new(window.least.x, window.least.y - size * 1.1);
    drawing.text(Layer::Mark, at, size, Anchor::Start, &short(text, LABEL));
}

impl Face<'_> {
    /// Lower left corners of boxes that lie on the part and clear of its
    /// holes, from the foot upwards.
    fn places(self, (wide, high): (PaperLength, PaperLength)) -> impl Iterator<Item = Point> {
        const STEPS: u32 = 24;
        let window = self.window;
        let (room_x, room_y) = (window.width() - wide, window.height() - high);
        let steps =
            if room_x < PaperLength::ZERO || room_y < PaperLength::ZERO { 0 } else { STEPS + 1 };
        let share = |step: u32| f64::from(step) / f64::from(STEPS);
        let place = move |n: u32| {
            let (row, column) = (n / (STEPS + 1), n % (STEPS + 1));
            window.least.moved(Point::new(room_x * share(column), room_y * share(row)))
        };
        (0..steps * (STEPS + 1))
            .map(place)
            .filter(move |at| self.is_clear(Area::new(*at, wide, high)))
    }

    fn is_clear(&self, area: Area) -> bool {
        let apart = |hole: &Area| {
            area.most.x <= hole.least.x
                || hole.most.x <= area.least.x
                || area.most.y <= hole.least.y
                || hole.most.y <= area.least.y
        };
        let inset = Area {
            least: area.least.moved(Point::of_mm([0.01, 0.01])),
            most: area.most.moved(Point::of_mm([-0.01, -0.01])),
        };
        self.holes.iter().all(apart)
            && inset.corners().into_iter().all(|corner| inside(self.outline, corner))
    }
}

/// An arrow with two heads along the grain, and the word, as near the middle
/// of the part as there is room.
pub(super) fn grain(drawing: &mut Drawing, face: Face<'_>, level: bool) {
    let (size, reach) = (label_size(), mm(7.0));
    let (wide, high) = if level { (reach * 2.6, size * 2.0) } else { (mm(12.0), reach * 2.6) };
    let centre = |area: Area| {
        Point::new((area.least.x + area.most.x) / 2.0, (area.least.y + area.most.y) / 2.0)
    };
    let [x, y] = centre(face.window).in_mm();
    let from_middle = |at: &Point| {
        let [ax, ay] = centre(Area::new(*at, wide, high)).in_mm();
        (ax - x).hypot(ay - y)
    };
    let best = face.places((wide, high)).min_by(|a, b| from_middle(a).total_cmp(&from_middle(b)));
    let Some(at) = best else { return };
    let middle = Point::new(at.x + wide / 2.0, at.y + if level { size * 0.6 } else { high / 2.0 });
    let arm = if level { Point::new(reach, mm(0.0)) } else { Point::new(mm(0.0), reach) };
    drawing.arrow(Layer::Mark, middle, middle.moved(arm));
    drawing.arrow(Layer::Mark, middle, middle.moved(Point::new(-arm.x, -arm.y)));
    let beside = if level { Point::new(mm(0.0), mm(1.0)) } else { Point::new(mm(1.0), mm(0.0)) };
    let anchor = if level { Anchor::Middle } else { Anchor::Start };
    drawing.text(Layer::Mark, middle.moved(beside), size, anchor, "grain");
}

/// What is left of a stretch when others are taken out of it.
pub(super) fn stretches(
    (from, to): (PaperLength, PaperLength),
    out: impl IntoIterator<Item = (PaperLength, PaperLength)>,
) -> Vec<(PaperLength, PaperLength)> {
    let mut out: Vec<_> = out.into_iter().collect();
    out.sort_by(|a, b| a.0.total_cmp(&b.0));
    let hair = mm(0.01);
    let mut left = Vec::new();
    let mut at = from;
    for (low, high) in out.into_iter().chain([(to, to)]) {
        if low.min(to) > at + hair {
            left.push((at, low.min(to)));
        }
        at = at.max(high);
    }
    left
}
