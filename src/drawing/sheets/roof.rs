//! Roof planes at their true size, with the lines of their covering.

use super::{heading, label_beside, notes};
use crate::drawing::shape::{Area, Drawing, Layer, Point, Run, mm};
use crate::drawing::template::{Bench, Figure};
use crate::quantity::{CompressedLength, PaperLength};
use crate::takeoff::{Kind, RoofPlane};

/// A plane of a roof on paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plane<'a>(pub(super) &'a RoofPlane);

impl std::ops::Deref for Plane<'_> {
    type Target = RoofPlane;

    fn deref(&self) -> &RoofPlane {
        self.0
    }
}

impl Plane<'_> {
    /// Its corners, the eave at the foot.
    pub(super) fn corners(&self, bench: &Bench<'_>) -> Vec<Point> {
        let outer = self.outline.outer.iter();
        outer.map(|at| Point::new(bench.paper(at.x), bench.paper(at.y))).collect()
    }

    /// The stretch of its width that lies under it at a distance from the eave.
    fn across(&self, bench: &Bench<'_>, y: PaperLength) -> (PaperLength, PaperLength) {
        let corners = self.corners(bench);
        let next = corners.iter().cycle().skip(1);
        let crossed = corners.iter().zip(next).filter(|(a, b)| (a.y > y) != (b.y > y));
        let at = crossed.map(|(a, b)| a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y)));
        let ends = at.fold(None, |ends: Option<(PaperLength, PaperLength)>, x| {
            Some(ends.map_or((x, x), |(low, high)| (low.min(x), high.max(x))))
        });
        ends.unwrap_or((PaperLength::ZERO, bench.paper(self.eave)))
    }
}

/// The planes of the roofs as the take-off has them.
pub(super) fn planes<'a>(bench: &Bench<'a>) -> Vec<Plane<'a>> {
    let takeoff: &'a crate::takeoff::Takeoff = bench.takeoff;
    takeoff.planes.iter().map(Plane).collect()
}

/// A figure for every plane that differs.
#[must_use]
pub fn figures(bench: &Bench<'_>) -> Vec<Figure> {
    planes(bench).iter().map(|plane| figure(bench, plane)).collect()
}

fn figure(bench: &Bench<'_>, plane: &Plane<'_>) -> Figure {
    let corners = plane.corners(bench);
    let mut drawing = Drawing::default();
    drawing.closed(Layer::Through, &corners, Run::Outside);
    covering(&mut drawing, bench, plane);
    for strip in 1..plane.strips {
        let y = bench.paper(plane.slope / f64::from(plane.strips)) * f64::from(strip);
        let (left, right) = plane.across(bench, y);
        drawing.dashed(Layer::Mark, &[Point::new(left, y), Point::new(right, y)]);
    }
    let whole = Area::new(Point::default(), bench.paper(plane.eave), bench.paper(plane.slope));
    // The face will be seen, or covered in courses: nothing is marked on it.
    label_beside(
        &mut drawing,
        whole,
        &format!("{}, eave at the foot, grain along it", plane.label),
    );
    let title = format!("{}: {} of these", plane.label, plane.count);
    heading(&mut drawing, &title);
    let size = format!(
        "{} along the eave, {} up the slope",
        bench.both(plane.eave),
        bench.both(plane.slope)
    );
    notes(&mut drawing, &[size, plane.note.clone()]);
    Figure { copies: plane.count, ..Figure::new(plane.label.clone(), "Roof plane", drawing) }
}

/// Courses up the slope, or the joints of sheets along it.
fn covering(drawing: &mut Drawing, bench: &Bench<'_>, plane: &Plane<'_>) {
    let on_roof = || bench.takeoff.parts.iter().filter(|part| is_roof(bench, &part.face));
    let slope = bench.paper(plane.slope);
    let hair = mm(0.05);
    if let Some(course) = exposure(bench) {
        let course = bench.paper(course);
        let mut y = course;
        while course > hair && y < slope - hair {
            let (left, right) = plane.across(bench, y);
            drawing.line(Layer::Scribe, &[Point::new(left, y), Point::new(right, y)]);
            y += course;
        }
        return;
    }
    let iron = on_roof().filter(|part| part.kind == Kind::Iron).map(|part| bench.paper(part.width));
    let Some(cover) = iron.reduce(PaperLength::max).filter(|cover| *cover > hair) else { return };
    let mut x = cover;
    while x < bench.paper(plane.eave) - hair {
        drawing.line(Layer::Scribe, &[Point::new(x, mm(0.0)), Point::new(x, slope)]);
        x += cover;
    }
}

/// What each course of the roof shows, where it is laid in courses.
pub(super) fn exposure(bench: &Bench<'_>) -> Option<CompressedLength> {
    let courses = bench.takeoff.parts.iter().filter(|part| {
        is_roof(bench, &part.face)
            && part.kind == Kind::Shingle
            && part.covers.in_square_inches() > 0.0
    });
    courses.map(|part| part.width).next().filter(|width| *width > CompressedLength::ZERO)
}

/// Whether parts of that group are of the main roof.
fn is_roof(bench: &Bench<'_>, group: &str) -> bool {
    bench.job.main().is_some_and(|main| group == format!("{}/roof", main.name))
}
